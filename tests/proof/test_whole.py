"""Parts that one stroke clears as a whole, and the side of an outline that its nearest stroke tells."""

from __future__ import annotations

import numpy as np
import pytest

from jigcam.geometry import Region, bar, difference, disc, polygon, rectangle, slot
from jigcam.proof.outline import Outline
from jigcam.proof.strokes import Strokes
from jigcam.proof.whole import Swept, not_whole

SLOTS = [slot((0, 10 * k), (20, 10 * k), 6.0) for k in range(4)]
LINES = Strokes.lines(np.array([(3.0, 10.0 * k) for k in range(4)]), np.array([(17.0, 10.0 * k) for k in range(4)]))


def joined(*regions: Region) -> Region:
    return Region(tuple(loop for region in regions for loop in region.loops))


def test_slots_one_bit_wide_are_settled_at_once() -> None:
    assert not_whole(Outline(joined(*SLOTS)), [Swept(LINES, 3.0)], 5e-4).is_empty


def test_a_slot_whose_stroke_stops_short_is_looked_at() -> None:
    ends = LINES.b.copy()
    ends[2, 0] -= 0.002
    rest = not_whole(Outline(joined(*SLOTS)), [Swept(Strokes.lines(LINES.a, ends), 3.0)], 5e-4)
    assert [loop.bounds for loop in rest.region.loops] == [SLOTS[2].bounds]


def test_a_part_with_a_hole_is_looked_at() -> None:
    ring = difference(disc(50, 0, 3.0), disc(50, 0, 1.0))
    point = Strokes.lines(np.array([(50.0, 0.0)]), np.array([(50.0, 0.0)]))
    rest = not_whole(Outline(joined(SLOTS[0], ring)), [Swept(Strokes.joined([LINES, point]), 3.0)], 5e-4)
    assert len(rest.region.loops) == 2


REGIONS = {
    "ring": difference(disc(0, 0, 9.0), disc(1, 0, 5.0)),
    "notched": difference(rectangle(-9, -6, 9, 6), disc(9, 0, 4.0)),
    "spike": polygon([(-9, -5), (9, -4.9), (-9, 2)]),
    "shared side": joined(rectangle(-9, -5, 0, 5), rectangle(0, -5, 9, 5)),
    "bar": bar((-8, -6), (8, 6), 0.3),
}


@pytest.mark.parametrize("name", REGIONS)
def test_the_nearest_stroke_tells_the_side(name: str) -> None:
    outline = Outline(REGIONS[name])
    points = np.random.default_rng(3).uniform(-10, 10, (3000, 2))
    near = outline.near(points, np.full(len(points), 50.0))
    assert np.array_equal(outline.inside_by(points, near), outline.inside(points))


def turns(*circles: tuple[float, float, float], turned: float = 2.0 * np.pi) -> Strokes:
    """Each circle (x, y, radius) in two halves, somewhat more or less than a full turn."""
    table = np.repeat(np.array(circles), 2, axis=0)
    angle = 0.3 + np.tile([0.0, turned / 2.0], len(circles))

    def places(angle: np.ndarray) -> np.ndarray:
        return table[:, :2] + table[:, 2:] * np.column_stack([np.cos(angle), np.sin(angle)])

    sweep = np.full(len(table), turned / 2.0)
    return Strokes.turns(places(angle), places(angle + sweep), table[:, :2], sweep)


def test_holes_bored_round_are_settled_at_once() -> None:
    holes = Outline(joined(disc(0, 0, 5.0), disc(20, 0, 5.0)))
    assert not_whole(holes, [Swept(turns((0, 0, 2.0), (20, 0, 2.0)), 3.0)], 5e-4).is_empty
    rest = not_whole(holes, [Swept(turns((0, 0, 2.0), (20, 0, 1.999)), 3.0)], 5e-4)
    assert [loop.bounds for loop in rest.region.loops] == [disc(20, 0, 5.0).loops[0].bounds]


def test_a_turn_that_is_not_full_is_looked_at() -> None:
    short = turns((0, 0, 2.0), turned=2.0 * np.pi - 1e-3)
    assert not not_whole(Outline(disc(0, 0, 5.0)), [Swept(short, 3.0)], 5e-4).is_empty


@pytest.mark.parametrize(
    ("radii", "settled"),
    [((2.0, 8.0), True), ((1.99, 8.0), False), ((3.01, 8.0), False), ((2.0, 7.99), False), ((2.0, 8.0, 15.0), True)],
)
def test_rings_settle_a_hole_only_where_they_leave_nothing_between_them(
    radii: tuple[float, ...], settled: bool
) -> None:
    strokes = turns(*((0.0, 0.0, radius) for radius in radii))
    assert not_whole(Outline(disc(0, 0, 11.0)), [Swept(strokes, 3.0)], 5e-4).is_empty == settled


def test_what_is_settled_by_turns_is_swept() -> None:
    """Holes and turns at random: every place of a hole that is taken out is as near to a stroke as is said."""
    random = np.random.default_rng(8)
    settled = 0
    for _ in range(60):
        holes = joined(*(disc(30.0 * k, 0.0, random.uniform(3.0, 9.0)) for k in range(4)))
        circles = [(30.0 * k + random.normal(0, 0.05), 0.0, r) for k in range(4) for r in random.uniform(0.5, 7.0, 3)]
        circles += [(x, y, r + random.uniform(1.0, 6.0)) for x, y, r in circles]
        strokes = turns(*circles, turned=2.0 * np.pi + random.uniform(-0.5, 0.5))
        slack = random.uniform(1e-4, 1.0)
        rest = not_whole(Outline(holes), [Swept(strokes, 3.0)], slack)
        gone = Outline(difference(holes, rest.region))
        points = random.uniform((-10, -10), (100, 10), (4000, 2))
        points = points[gone.inside(points)]
        settled += len(points)
        far = np.min([strokes.distance(points, np.full(len(points), k)) for k in range(len(strokes))], axis=0)
        assert (far <= 3.0 + slack + 1e-9).all()
    assert settled > 1000
