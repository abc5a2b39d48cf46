"""Union, difference, intersection: against areas by hand, the second geometry, shapely, and membership of points."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import numpy as np
import pyclipper
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from support.regions import (
    assert_regions_equal,
    assert_valid,
    clipper_boolean,
    clipper_difference_area,
    roughened,
)
from support.shapes import ZOO, primitives, regions

from jigcam.geometry import (
    Path,
    Region,
    capsule,
    difference,
    disc,
    faceted,
    intersection,
    offset,
    polygon,
    rectangle,
    rotation,
    slot,
    translation,
    union,
)

SQUARE = rectangle(0, 0, 10, 10)

CLEAN = {name: region for name, region in ZOO.items() if name not in ("far away", "self-touching outline")}


@pytest.mark.parametrize(
    ("other", "joined", "common"),
    [
        (rectangle(5, 5, 15, 15), 175, 25),
        (rectangle(10, 0, 20, 10), 200, 0),  # a whole edge in common
        (rectangle(10, 2, 20, 8), 160, 0),  # part of an edge
        (rectangle(10, 10, 20, 20), 200, 0),  # a corner
        (rectangle(0, 0, 10, 10), 100, 100),
        (rectangle(2, 2, 8, 8), 100, 36),
        (rectangle(0, 2, 5, 8), 100, 30),  # inside, against an edge
        (disc(5, 5, 5), 100, 25 * math.pi),  # touches all four edges from inside
        (disc(10, 10, 4), 100 + 12 * math.pi, 4 * math.pi),
        (disc(15, 5, 5), 100 + 25 * math.pi, 0),  # touches an edge from outside
        (disc(5, 5, 20), 400 * math.pi, 100),
    ],
)
def test_areas_by_hand(other: Region, joined: float, common: float) -> None:
    assert union(SQUARE, other).area == pytest.approx(joined, abs=1e-6)
    assert intersection(SQUARE, other).area == pytest.approx(common, abs=1e-6)
    assert difference(SQUARE, other).area == pytest.approx(100 - common, abs=1e-6)


def test_the_lens_of_two_discs_has_the_area_of_its_formula() -> None:
    # Equal circles r at distance d: 2r²·acos(d/2r) − (d/2)·√(4r² − d²); elementary.
    r, d = 5.0, 6.0
    lens = intersection(disc(0, 0, r), disc(d, 0, r))
    formula = 2 * r * r * math.acos(d / 2 / r) - d / 2 * math.sqrt(4 * r * r - d * d)
    assert lens.area == pytest.approx(formula, rel=1e-12)
    assert len(lens.loops[0].vertices) == 2


def test_given_vertices_keep_their_exact_coordinates() -> None:
    joined = union(rectangle(0.1, 0.2, 10.3, 10.7), rectangle(5.3, 5.1, 15.9, 15.4))
    vertices = {tuple(v[:2]) for v in joined.loops[0].vertices}
    assert {(0.1, 0.2), (10.3, 0.2), (15.9, 5.1), (15.9, 15.4), (5.3, 15.4), (0.1, 10.7)} < vertices


def test_collinear_edges_and_arcs_of_one_circle_come_out_in_one_piece() -> None:
    assert len(union(rectangle(0, 0, 10, 10), rectangle(10, 0, 30, 10)).loops[0].vertices) == 4
    halves = [intersection(disc(0, 0, 5), box) for box in (rectangle(-9, -9, 9, 1), rectangle(-9, 1, 9, 9))]
    whole = union(*halves)
    assert len(whole.loops[0].vertices) == 2
    assert np.abs(whole.loops[0].vertices[:, 2]) == pytest.approx(1.0)
    rows = [slot((i, 0), (i + 20, 0), 8) for i in range(0, 60, 7)]
    assert len(union(*rows).loops[0].vertices) == 4


def test_nothing_with_nothing() -> None:
    nothing = Region.empty()
    assert union().is_empty
    assert union(nothing, nothing).is_empty
    assert_regions_equal(union(nothing, SQUARE), SQUARE)
    assert_regions_equal(difference(SQUARE, nothing), SQUARE)
    assert difference(nothing, SQUARE).is_empty
    assert intersection(SQUARE, nothing).is_empty
    assert difference(SQUARE, SQUARE).is_empty


def test_loops_that_touch_at_a_point_stay_apart() -> None:
    corners = union(rectangle(0, 0, 10, 10), rectangle(10, 10, 20, 20))
    assert [loop.area for loop in corners.loops] == pytest.approx([100, 100])
    pinched = difference(SQUARE, polygon([(5, 0), (7, 5), (3, 5)]))
    assert sorted(loop.area for loop in pinched.loops) == pytest.approx([-10, 100])


def test_union_of_one_region_clears_overlaps_and_doubled_edges() -> None:
    overlapping = Region((*rectangle(0, 0, 10, 10).loops, *rectangle(5, 0, 15, 10).loops))
    assert union(overlapping).area == pytest.approx(150)
    touching = union(ZOO["self-touching outline"])
    assert len(touching.loops) == 2
    assert touching.area == pytest.approx(ZOO["self-touching outline"].area)


@pytest.mark.parametrize(("a", "b"), list(combinations(CLEAN, 2))[::4])
def test_the_zoo_against_the_second_geometry(a: str, b: str) -> None:
    one, other = CLEAN[a], CLEAN[b]
    slack = 2.5e-4 * (one.length + other.length)
    for kind, operation in (
        (pyclipper.CT_UNION, union),
        (pyclipper.CT_INTERSECTION, intersection),
        (pyclipper.CT_DIFFERENCE, difference),
    ):
        result = operation(one, other)
        assert_valid(result)
        assert clipper_difference_area(clipper_boolean(kind, one, other), result) <= slack


@given(regions(), regions())
def test_areas_add_up_and_agree_with_shapely(a: Region, b: Region) -> None:
    joined, common, rest = union(a, b), intersection(a, b), difference(a, b)
    slack = 4e-6 * (a.length + b.length + 1.0)
    assert joined.area + common.area == pytest.approx(a.area + b.area, abs=slack)
    assert rest.area + common.area == pytest.approx(a.area, abs=slack)
    chords = faceted(a, 1e-3).difference(faceted(b, 1e-3))
    assert rest.area == pytest.approx(chords.area, abs=2e-3 * (a.length + b.length + 1.0))


def assert_members(result: Region, wanted: np.ndarray, points: np.ndarray, *operands: Region) -> None:
    """The result holds the wanted points, those within 10 nm·1000 of an operand's boundary aside."""
    clear = np.ones(len(points), dtype=bool)
    for operand in operands:
        clear &= operand.distance(points) > 1e-5
    assert np.array_equal(result.contains(points)[clear], wanted[clear])


def assert_operations(a: Region, b: Region) -> None:
    """All operations hold the points that they should, and nothing else."""
    points = np.random.default_rng(11).uniform(-32.0, 32.0, (400, 2))
    in_a, in_b = a.contains(points), b.contains(points)
    assert_members(union(a, b), in_a | in_b, points, a, b)
    assert_members(intersection(a, b), in_a & in_b, points, a, b)
    assert_members(difference(a, b), in_a & ~in_b, points, a, b)


@given(regions(), regions())
def test_points_are_where_they_belong(a: Region, b: Region) -> None:
    assert_operations(a, b)


@st.composite
def nearly_the_same(draw: st.DrawFn) -> tuple[Region, Region]:
    """A region and itself moved, turned, offset or rounded by anything from a picometre to a hundredth."""
    region = draw(regions())
    hair = 10.0 ** -draw(st.integers(2, 12))
    how = draw(st.sampled_from(["moved", "turned", "grown", "shrunk", "rounded"]))
    if how == "moved":
        return region, region.transformed(translation(hair, -hair / 3))
    if how == "turned":
        return region, region.transformed(rotation(hair))
    if how == "rounded":
        return region, union(roughened(region, draw(st.integers(3, 8))))
    return region, offset(region, hair if how == "grown" else -hair)


@given(nearly_the_same())
@settings(max_examples=80)
def test_curves_that_nearly_coincide(pair: tuple[Region, Region]) -> None:
    a, b = pair
    assert_operations(a, b)
    slack = 5e-6 * (a.length + b.length + 1.0)
    assert union(a, b).area + intersection(a, b).area == pytest.approx(a.area + b.area, abs=slack)


@given(st.lists(primitives(), min_size=2, max_size=30))
@settings(max_examples=25)
def test_union_of_many_does_not_depend_on_their_order(shapes: list[Region]) -> None:
    assert_regions_equal(union(*shapes), union(*shapes[::-1]), tol=5e-6)


def walk(count: int, step: float) -> np.ndarray:
    """A winding tool path, its points rounded as a file rounds them."""
    random = np.random.default_rng(1)
    heading = np.cumsum(random.normal(0.0, 0.3, count + 1))
    return np.round(np.cumsum(np.column_stack([np.cos(heading), np.sin(heading)]) * step, axis=0), 4)


@pytest.mark.parametrize(("count", "step"), [(2000, 0.1), (500, 1.0), (300, 5.0)])
def test_thousands_of_capsules_along_a_rough_path(count: int, step: float) -> None:
    path, r = walk(count, step), 3.175
    result = union(*(capsule(p, q, r) for p, q in pairwise(path)))
    assert_valid(result)
    # Independent of the engine: the boundary is at r from the path, and no point within r of it is left out.
    chain = Path.through(path)
    points = np.vstack([loop.points(1e-3) for loop in result.loops])
    assert np.abs(chain.distance(points) - r).max() < 1e-5
    scattered = np.random.default_rng(2).uniform(path.min(axis=0) - r, path.max(axis=0) + r, (3000, 2))
    gap = chain.distance(scattered)
    clear = np.abs(gap - r) > 1e-5
    assert np.array_equal(result.contains(scattered)[clear], (gap < r)[clear])


def test_chains_of_capsules_agree_with_shapely_on_chords() -> None:
    path = walk(200, 2.0)
    result = union(*(capsule(p, q, 2.0) for p, q in pairwise(path)))
    single = [shapely.LineString(pair).buffer(2.0, quad_segs=64) for pair in pairwise(path)]
    assert shapely.union_all(single).area == pytest.approx(result.area, rel=2e-4)
