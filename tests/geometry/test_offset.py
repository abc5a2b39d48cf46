"""Offsets, openings, sweeps: against the distance of the boundary to the source, formulas, the second geometry."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from support.regions import (
    assert_at_distance,
    assert_regions_equal,
    assert_valid,
    clipper_difference_area,
    clipper_offset,
    roughened,
)
from support.shapes import ZOO, outlines, regions

from jigcam.errors import InputError
from jigcam.geometry import (
    Path,
    Region,
    capsule,
    difference,
    disc,
    intersection,
    offset,
    opening,
    polygon,
    rectangle,
    slot,
    swept,
    translation,
    union,
)

zoo = pytest.mark.parametrize("region", ZOO.values(), ids=ZOO)
distances = st.one_of(st.sampled_from([0.5, 1.0, 2.0, 3.175, 6.35]), st.floats(0.01, 12.0))


def assert_offset(source: Region, d: float) -> Region:
    """Check an offset in every independent way there is, and return it."""
    result = offset(source, d)
    assert_valid(result)
    assert_at_distance(result, source, d)
    # The second geometry errs by its arcs' tolerance, 0.1 µm, at a convex corner; ours by less.
    slack = 2.5e-4 * (source.length + result.length)
    assert clipper_difference_area(clipper_offset(source, d), result) <= slack
    # Every point is on the right side; this finds missing pieces, whose boundary is not there to be measured.
    if not source.is_empty:
        x0, y0, x1, y1 = source.bounds
        reach = max(d, 0.0) + 1.0
        points = np.random.default_rng(3).uniform((x0 - reach, y0 - reach), (x1 + reach, y1 + reach), (300, 2))
        depth = source.signed_distance(points) + d
        clear = np.abs(depth) > 1e-5
        assert np.array_equal(result.contains(points)[clear], (depth > 0)[clear])
    return result


def test_the_offset_of_a_slot_is_two_lines_and_two_arcs() -> None:
    # Bit 1/2 in and bushing 3/4 in for a groove of 0.506 in: the opening is 0.756 in wide, ends of radius 0.378 in.
    inch = 25.4
    groove = slot((101.6, 38.1), (140.0, 236.0), 0.506 * inch)
    grown = offset(groove, (0.75 - 0.5) / 2 * inch)
    (loop,) = grown.loops
    curve = loop.as_segments()
    assert sorted(np.abs(curve.bulge).tolist()) == pytest.approx([0, 0, 1, 1], abs=1e-9)
    assert curve.radius[curve.bulge != 0] == pytest.approx([0.378 * inch] * 2, abs=1e-9)
    assert_regions_equal(offset(grown, -(0.75 - 0.5) / 2 * inch), groove)


@pytest.mark.parametrize("turn", np.linspace(0.0, 6.2, 23))
def test_the_offset_of_a_slot_at_any_angle_has_four_segments(turn: float) -> None:
    far = (40.0 * math.cos(turn), 40.0 * math.sin(turn))
    for d in (3.175, -3.175):
        assert len(offset(slot((0.0, 0.0), far, 9.525), d).loops[0].vertices) == 4


@zoo
@pytest.mark.parametrize("d", [0.5, 3.0, 6.35, -0.5, -3.0, -6.35])
def test_the_zoo(region: Region, d: float) -> None:
    assert_offset(region, d)


@zoo
def test_the_zoo_with_rounded_vertices(region: Region) -> None:
    for d in (1.0, -1.0):
        assert_offset(union(roughened(region)), d)


@given(regions(), distances, st.booleans())
@settings(max_examples=80)
def test_shapes_made_of_shapes(region: Region, d: float, inward: bool) -> None:
    assert_offset(region, -d if inward else d)


@given(outlines(), distances, st.booleans())
def test_stars_with_arcs_and_needles(region: Region, d: float, inward: bool) -> None:
    assert_offset(region, -d if inward else d)


@given(outlines(), st.floats(0.1, 3.0))
@settings(max_examples=25)
def test_offset_of_an_offset(region: Region, d: float) -> None:
    """Second offsets meet micro-segments and joints that are tangent but for rounding."""
    shrunk = assert_offset(region, -d)
    assert_offset(shrunk, d)
    grown = assert_offset(region, d)
    assert_offset(union(roughened(grown)), -0.9 * d)


@given(regions(), st.floats(0.1, 4.0), st.floats(0.1, 4.0))
@settings(max_examples=40)
def test_growing_twice_is_growing_by_the_sum(region: Region, a: float, b: float) -> None:
    assert_regions_equal(offset(offset(region, a), b), offset(region, a + b), tol=1e-4)


@given(st.lists(st.tuples(st.integers(-20, 20), st.integers(-20, 20)), min_size=3, max_size=9), st.floats(0.1, 15.0))
def test_steiners_formula_for_convex_outlines(points: list[tuple[int, int]], r: float) -> None:
    # J. Steiner, 1840 (from memory): a convex set of area A and perimeter P grown by r has area A + P·r + π·r².
    import shapely

    hull = shapely.MultiPoint(points).convex_hull
    assume(hull.geom_type == "Polygon")
    convex = polygon(shapely.get_coordinates(hull)[:-1])
    grown = offset(convex, r)
    assert grown.area == pytest.approx(convex.area + convex.length * r + math.pi * r * r, rel=1e-12, abs=1e-6)
    assert grown.length == pytest.approx(convex.length + 2 * math.pi * r, rel=1e-12)


def test_a_slot_shrunk_by_half_its_width_is_gone() -> None:
    groove = slot((0, 0), (100, 0), 10)
    assert offset(groove, -5.0).is_empty
    assert offset(groove, -6.0).is_empty
    sliver = offset(groove, -4.9999)
    assert sliver.area == pytest.approx(90 * 2e-4 + math.pi * 1e-8, rel=1e-6)
    assert offset(disc(0, 0, 5), -5.0).is_empty
    assert offset(rectangle(0, 0, 10, 10), -5.0).is_empty


def test_a_hole_filled_up_is_gone() -> None:
    ring = difference(disc(0, 0, 20), disc(3, 0, 5))
    assert len(offset(ring, 4.999).loops) == 2
    for d in (5.0, 5.001, 7.0, 12.0, 30.0):
        assert_regions_equal(offset(ring, d), disc(0, 0, 20 + d))


@pytest.mark.parametrize("d", [2.0, 2.4, 2.5, 2.6, 2.9, 3.4, 3.6, 8.0])
def test_a_hole_that_fits_into_the_disc_but_is_no_disc(d: float) -> None:
    """Where the disc swallows a hole whole, the winding number of the raw offset curve is one too low."""
    triangle = polygon([(7, 7), (13, 8), (10, 13)])
    for hole in (rectangle(8, 8, 13, 13), rectangle(7, 9, 14, 12), triangle, slot((7, 7), (13, 11), 3)):
        assert_offset(difference(rectangle(0, 0, 22, 20), hole), d)
        assert_offset(hole, -d)


def test_an_offset_by_nothing_and_of_nothing() -> None:
    region = ZOO["ell"]
    assert offset(region, 0.0) is region
    assert offset(Region.empty(), 3.0).is_empty
    for bad in (math.nan, math.inf):
        with pytest.raises(InputError):
            offset(region, bad)


@given(regions(), st.floats(0.1, 5.0))
def test_an_opening_lies_inside_and_holds_every_disc(region: Region, r: float) -> None:
    opened = opening(region, r)
    assert_valid(opened)
    spill = difference(opened, region)
    assert spill.area <= 4e-6 * (region.length + 1.0)
    assert_regions_equal(opening(opened, r * 0.999), opened, tol=1e-4)
    centres = offset(region, -r)
    for loop in centres.loops:
        x, y = loop.start
        points = np.array([x, y]) + 0.99999 * r * np.column_stack([np.cos(range(12)), np.sin(range(12))])
        assert (opened.signed_distance(points) > -1e-5).all()


def test_an_opening_rounds_corners_and_nothing_else() -> None:
    opened = opening(rectangle(0, 0, 30, 20), 3.0)
    assert opened.area == pytest.approx(600 - (4 - math.pi) * 9, abs=1e-6)
    assert len(opened.loops[0].vertices) == 8
    assert opening(rectangle(0, 0, 30, 5.9), 3.0).is_empty
    groove = slot((0, 0), (50, 30), 8)
    assert_regions_equal(opening(groove, 3.9), groove)
    assert opening(groove, 0.0) is groove
    with pytest.raises(InputError):
        opening(groove, -1.0)


def test_what_a_cutter_sweeps() -> None:
    assert_regions_equal(swept(Path.through([(0, 0), (30, 40)]), 3.0), capsule((0, 0), (30, 40), 3.0))
    assert_regions_equal(swept(Path.through([(5, 5), (5, 5)]), 3.0), disc(5, 5, 3.0))
    half = Path(np.array([(10.0, 0.0, 1.0), (-10.0, 0.0, 0.0)]))
    bow = intersection(difference(disc(0, 0, 12), disc(0, 0, 8)), rectangle(-20, 0, 20, 20))
    wanted = union(bow, disc(10, 0, 2), disc(-10, 0, 2))
    assert_regions_equal(swept(half, 2.0), wanted)
    round_ = disc(0, 0, 10).loops[0]
    assert_regions_equal(swept(round_, 2.0), difference(disc(0, 0, 12), disc(0, 0, 8)))
    assert_regions_equal(swept(round_, 10.0), disc(0, 0, 20))
    with pytest.raises(InputError):
        swept(half, 0.0)


@given(
    st.lists(st.tuples(st.integers(-15, 15), st.integers(-15, 15)), min_size=2, max_size=40),
    st.lists(st.sampled_from([0.0, 0.0, 0.5, -1.0, 0.2]), min_size=40, max_size=40),
    st.floats(0.1, 6.0),
    st.booleans(),
)
def test_sweeps_lie_at_the_radius_from_the_path(
    points: list[tuple[int, int]], bulges: list[float], r: float, closed: bool
) -> None:
    """Paths that cross themselves, turn back on themselves and pass a point more than once."""
    assume(len(set(points)) > 1)
    path = Path(np.column_stack([points, bulges[: len(points)]]), closed)
    result = swept(path, r)
    assert_valid(result)
    edge = np.vstack([loop.points(1e-2) for loop in result.loops])
    assert np.abs(path.distance(edge) - r).max() < 1e-5
    scattered = np.random.default_rng(2).uniform(-40, 40, (500, 2))
    gap = path.distance(scattered)
    clear = np.abs(gap - r) > 1e-5
    assert np.array_equal(result.contains(scattered)[clear], (gap < r)[clear])


@pytest.mark.parametrize(("r", "count"), [(1.0, 400), (3.175, 2000), (6.0, 400)])
def test_offsets_of_what_many_rough_moves_cut(r: float, count: int) -> None:
    """A slot's outline in short chords, as read from a file with four decimals; at 6 mm the sides just meet."""
    loop = slot((0.0, 0.0), (80.0, 20.0), 12.0).loops[0]
    chain, _ = loop.at(np.linspace(0.0, loop.length, count + 1))
    cut = swept(Path.through(np.round(chain, 4)), r)
    assert_valid(cut)
    for d in (0.5, -0.5, 0.02 - r, r):
        result = offset(cut, d)
        assert_at_distance(result, cut, d, each=2)
        assert_valid(result)


def test_far_from_the_origin_nothing_changes() -> None:
    near = ZOO["scallops"]
    there = translation(3000.0, -5000.0)
    for d in (1.0, -1.0):
        assert_regions_equal(offset(near.transformed(there), d), offset(near, d).transformed(there))


# Regressions, each named for its cause.


def test_half_a_turn_and_a_hair_is_joined_without_changing_its_circle() -> None:
    """A half turn followed by a segment of tolerance length once became two equal arcs 1 µm to 1 mm off.

    The comparison only asked whether the old points lay on the new curve, and only at vertices and middles.
    """
    r = 2.5
    tiny = 1.3e-6
    loop = np.array([(-r, 0.0, 1.0), (r, 0.0, 0.0), (r + 0.1 * tiny, tiny, 0.3), (0.0, 6.0, 0.0)])
    source = union(Region((Path(loop, closed=True),)))
    for d in (0.5, -0.5):
        assert_at_distance(offset(source, d), source, d)


def test_a_needle_whose_sides_cross_within_the_tolerance() -> None:
    """Rounding may turn a needle inside out; the disc about its tip was then taken away instead of added."""
    for hair in (4e-7, -4e-7, 0.0):
        corners = [(0, 0), (20, 0), (20, 10), (40, 10 + hair), (60, 10), (40, 10 - hair), (0, 10)]
        source = Region((Path.through(corners, closed=True),))
        grown = offset(source, 3.0)
        wanted = union(
            rectangle(-3, 0, 23, 10),
            rectangle(0, -3, 20, 13),
            capsule((20, 10), (60, 10), 3.0),
            *(disc(x, y, 3.0) for x in (0, 20) for y in (0, 10)),
        )
        assert_regions_equal(grown, wanted, tol=1e-5)


def test_an_arc_offset_onto_its_own_centre() -> None:
    """It has no direction left; its ends must still meet those of its neighbours exactly."""
    for r in (3.0, 3.0 + 1e-9, 3.0 - 1e-9, 3.0 + 1e-12):
        shape = difference(rectangle(0, 0, 30, 20), disc(15, 20, r))
        assert_offset(shape, 3.0)
        assert_offset(shape, -3.0)


def test_swept_path_that_goes_back_the_way_it_came_keeps_its_ends() -> None:
    """A stub of 0.02 mm before a long way back: rounding to 1e-4 mm decided on which side the cusp was."""
    rows = np.array(
        [
            [-250.9975696296, 77.2928261037, 0.0],
            [-251.0155, 77.2863, 0.0],
            [-137.6435, 118.5503, 0.0],
            [-166.108, 108.1901, 0.0],
            [-137.6435, 118.5503, 0.0],
            [-251.0155, 77.2863, 0.0],
        ]
    )
    length = float(np.hypot(*(rows[2, :2] - rows[1, :2])))
    region = swept(Path(rows, closed=False), 3.175)
    assert len(region.loops) == 1
    assert region.area == pytest.approx(2 * 3.175 * length + np.pi * 3.175**2, abs=0.002)
