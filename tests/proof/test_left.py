"""The thickest wood left, against brute force over fine grids and against the other geometry."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pyclipper
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.geometry import Region, bar, difference, disc, polygon, rectangle, slot, union
from jigcam.proof import left
from jigcam.proof.covers import convex_bound
from jigcam.proof.left import KNOWN, Swept, thickest_left
from jigcam.proof.outline import Outline
from jigcam.proof.strokes import Strokes


def path_of(points: list[tuple[float, float]]) -> Strokes:
    table = np.array(points, float)
    return Strokes.lines(table[:-1], table[1:])


def brute(region: Region, strokes: Strokes, radius: float, step: float) -> float:
    x0, y0, x1, y1 = region.bounds
    gx, gy = np.meshgrid(np.arange(x0, x1 + step, step), np.arange(y0, y1 + step, step))
    points = np.column_stack([gx.ravel(), gy.ravel()])
    points = points[region.contains(points)]
    best = np.full(len(points), np.inf)
    for k in range(len(strokes)):
        best = np.minimum(best, strokes.distance(points, np.full(len(points), k)))
    return max(0.0, float(best.max()) - radius)


REGIONS = {
    "rectangle": rectangle(0, 0, 30, 20),
    "slot": slot((0, 0), (40, 12), 9.0),
    "ring": difference(disc(10, 10, 15.0), disc(10, 10, 6.0)),
    "cross": union(bar((-15, 0), (15, 0), 8.0), bar((0, -15), (0, 15), 8.0)),
    "thin": bar((0, 0), (25, 9), 0.4),
    "notched": difference(rectangle(0, 0, 30, 20), disc(30, 10, 5.0)),
}


@pytest.mark.parametrize("name", REGIONS)
@pytest.mark.parametrize("seed", range(4))
def test_against_a_fine_grid(name: str, seed: int) -> None:
    region = REGIONS[name]
    rng = np.random.default_rng(seed)
    x0, y0, x1, y1 = region.bounds
    points = rng.uniform([x0 - 2, y0 - 2], [x1 + 2, y1 + 2], (6 + 4 * seed, 2))
    strokes = Strokes.lines(points[:-1], points[1:])
    found = thickest_left(Outline(region), [Swept(strokes, 3.0)])
    step = 0.05
    plain = brute(region, strokes, 3.0, step)
    assert plain - 1e-3 <= found.size + 0.0021 * found.size
    assert found.size <= plain + 1.5 * step  # the grid may miss a corner by a diagonal


def test_a_true_wall_is_known_to_be_true() -> None:
    r = 3.175
    for region, path in (
        (rectangle(0, 0, 60, 2 * r), path_of([(0, r), (60, r)])),
        (slot((0, 0), (60, 0), 2 * r), path_of([(r, 0), (60 - r, 0)])),
        (disc(0, 0, 6.0), Strokes.along(disc(0, 0, 6.0 - r).loops)),
        (difference(disc(0, 0, 8.0 + 2 * r), disc(0, 0, 8.0)), Strokes.along(disc(0, 0, 8.0 + r).loops)),
    ):
        assert thickest_left(Outline(region), [Swept(path, r)]).size < 6e-4


@pytest.mark.parametrize("short", [0.0, 0.004, 0.02, 0.3])
def test_a_path_too_far_from_a_wall(short: float) -> None:
    region = slot((0, 0), (60, 0), 12.0)
    inner = slot((3 + short, 0), (57 - short, 0), 12.0 - 2 * 3.0 - 2 * short)
    found = thickest_left(Outline(region), [Swept(Strokes.along(inner.loops), 3.0)])
    assert found.size == pytest.approx(short, abs=6e-4)


def test_a_corner_keeps_what_a_round_leaves() -> None:
    r = 3.0
    path = Strokes.along(rectangle(r, r, 40 - r, 12 - r).loops)
    found = thickest_left(Outline(rectangle(0, 0, 40, 12)), [Swept(path, r)])
    assert found.size == pytest.approx(r * (math.sqrt(2) - 1), abs=1e-3)


def test_an_island_left_in_the_middle() -> None:
    r = 3.0
    path = Strokes.along(rectangle(r, r, 37.0, 17.0).loops)
    found = thickest_left(Outline(rectangle(0, 0, 40, 20)), [Swept(path, r)])
    assert found.size == pytest.approx(10.0 - r - r, rel=3e-3)


def test_a_pin_hole_between_three_passes() -> None:
    # Three discs about the corners of a triangle leave a small hole in their midst, far from every wall.
    side, r = 6.0, 3.4641
    height = side * math.sqrt(3) / 2
    points = np.array([(0.0, 0.0), (side, 0.0), (side / 2, height)])
    dots = Strokes.lines(points, points)
    middle = polygon([(2.5, 1.2), (3.5, 1.2), (3.5, 2.3), (2.5, 2.3)])
    found = thickest_left(Outline(middle), [Swept(dots, r - 0.02)])
    assert found.size == pytest.approx(side / math.sqrt(3) - r + 0.02, abs=6e-4)


def test_two_bits_share_the_ground() -> None:
    region = rectangle(0, 0, 40, 10)
    wide, narrow = path_of([(0, 5), (20, 5)]), path_of([(20, 2.5), (40, 2.5)])
    both = [Swept(wide, 5.0), Swept(narrow, 2.5)]
    assert thickest_left(Outline(region), both).size == pytest.approx(5.0, abs=0.02)
    assert thickest_left(Outline(rectangle(0, 0, 40, 5)), both).size < 6e-4


def test_nothing_swept_and_nothing_asked() -> None:
    assert thickest_left(Outline(rectangle(0, 0, 40, 10)), []).size == 40.0
    assert thickest_left(Outline(Region.empty()), []).size == 0.0


coordinate = st.integers(0, 400).map(lambda v: v / 10)


@given(st.lists(st.tuples(coordinate, coordinate), min_size=2, max_size=12), st.integers(20, 60))
def test_all_is_swept_where_the_other_geometry_leaves_nothing(points: list[tuple[float, float]], tenths: int) -> None:
    """Uncovered ground by pyclipper (arcs within 0.5 µm) and our distance tell the same story."""
    radius, scale = tenths / 10.0, 10_000
    table = np.array(points, float)
    strokes = Strokes.lines(table[:-1], table[1:])
    region = rectangle(10, 10, 30, 25)
    found = thickest_left(Outline(region), [Swept(strokes, radius)])
    offset = pyclipper.PyclipperOffset(2.0, 5.0)
    whole = [(round(x * scale), round(y * scale)) for x, y in points]
    moving = [whole[0]] + [b for a, b in pairwise(whole) if a != b]
    if len(moving) < 2:
        return
    offset.AddPath(moving, pyclipper.JT_ROUND, pyclipper.ET_OPENROUND)
    clipper = pyclipper.Pyclipper()
    corners = [(10, 10), (30, 10), (30, 25), (10, 25)]
    clipper.AddPath([(x * scale, y * scale) for x, y in corners], pyclipper.PT_SUBJECT, True)
    clipper.AddPaths(offset.Execute(radius * scale), pyclipper.PT_CLIP, True)
    rest = clipper.Execute(pyclipper.CT_DIFFERENCE, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    far = [
        strokes.distance(np.tile(np.array(p) / scale, (len(strokes), 1)), np.arange(len(strokes))).min() - radius
        for loop in rest
        for p in loop
    ]
    if not rest:
        assert found.size < 2e-3
    # The farthest place is inside or at a corner of what the other leaves.
    assert found.size >= max(far, default=0.0) * 0.997 - 2e-3


place = st.tuples(coordinate, coordinate)


@given(st.lists(st.tuples(place, place, st.floats(-1.0, 1.0)), min_size=2, max_size=2), place, st.floats(0.01, 20.0))
def test_no_place_of_a_square_is_farther_than_its_bounds(
    two: list[tuple[tuple[float, float], tuple[float, float], float]], middle: tuple[float, float], half: float
) -> None:
    """Bounds of one stroke and of the mean of two hold everywhere in a square: tried on a grid of its places."""
    rows = np.array([[*a, *b, bulge] for a, b, bulge in two if math.dist(a, b) > 0.1 and abs(bulge) > 1e-3])
    if len(rows) < 2:
        return
    strokes = Strokes.of_rows(rows)
    at = np.linspace(-half, half, 21)
    grid = np.array(middle) + np.stack(np.meshgrid(at, at), axis=-1).reshape(-1, 2)
    corners = np.full((1, 13, 2), np.nan)
    corners[0, :4] = np.array(middle) + half * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    real = np.isfinite(corners).all(axis=2)
    one, other = (convex_bound(corners, real, strokes, np.array([k])) for k in (0, 1))
    near, far = (strokes.distance(grid, np.full(len(grid), k)) for k in (0, 1))
    for bound, truly in ((one, near), (other, far), ((one + other) / 2.0, np.minimum(near, far))):
        assert truly.max() <= bound.max() + 1e-9


@given(st.sampled_from(sorted(REGIONS)), st.integers(0, 2**32 - 1))
def test_the_mean_of_two_strokes_only_saves_squares(name: str, seed: int) -> None:
    """The oracle is the search without it: both know the answer within what is allowed."""
    region = REGIONS[name]
    rng = np.random.default_rng(seed)
    x0, y0, x1, y1 = region.bounds
    rows = np.column_stack([rng.uniform([x0, y0] * 2, [x1, y1] * 2, (8, 4)), rng.choice([0.0, 0.4, -1.0], 8)])
    swept = [Swept(Strokes.of_rows(rows[:5]), 3.0), Swept(Strokes.of_rows(rows[5:]), 1.5)]
    quick = thickest_left(Outline(region), swept)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(left._Search, "_by_two", lambda _, corners, *__: np.full(len(corners), np.inf))
        slow = thickest_left(Outline(region), swept)
    assert quick.size == pytest.approx(slow.size, abs=KNOWN, rel=2.1e-3)


@pytest.mark.parametrize("shape", ["passes", "rings"])
def test_passes_side_by_side_are_settled_by_few_squares(shape: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Between two passes neither alone reaches all: squares were quartered to a tenth of a millimetre along each."""
    if shape == "passes":
        region = rectangle(0, 0, 90, 33)
        strokes = Strokes.joined([path_of([(0, y), (90, y)]) for y in np.arange(3.0, 31.0, 5.4)])
    else:
        region = disc(0, 0, 30.0)
        strokes = Strokes.joined([Strokes.along(disc(0, 0, r).loops) for r in np.arange(27.0, 0.0, -5.9)])
    looked = []
    unsettled = left._Search._unsettled

    def counted(search: left._Search, squares: left._Squares) -> left._Squares:
        looked.append(len(squares))
        return unsettled(search, squares)

    monkeypatch.setattr(left._Search, "_unsettled", counted)
    found = thickest_left(Outline(region), [Swept(strokes, 3.0)])
    quick = sum(looked)
    looked.clear()
    monkeypatch.setattr(left._Search, "_by_two", lambda _, corners, *__: np.full(len(corners), np.inf))
    slow = thickest_left(Outline(region), [Swept(strokes, 3.0)])
    assert found.size == pytest.approx(slow.size, abs=KNOWN)
    assert quick < sum(looked) / 3.0
