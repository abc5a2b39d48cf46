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
