"""Regions: inside and outside, distances, parts, motions."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from support.regions import assert_valid
from support.shapes import ZOO, regions

from jigcam.errors import InputError
from jigcam.geometry import Path, Region, compose, disc, faceted, mirror_x, rectangle, rotation

zoo = pytest.mark.parametrize("region", ZOO.values(), ids=ZOO)


def scattered(region: Region, count: int = 2000) -> np.ndarray:
    """Points on and round a region."""
    x0, y0, x1, y1 = region.bounds
    random = np.random.default_rng(7)
    return random.uniform((x0 - 3.0, y0 - 3.0), (x1 + 3.0, y1 + 3.0), (count, 2))


@zoo
def test_signed_distance_agrees_with_shapely_on_chords(region: Region) -> None:
    points = scattered(region)
    chords = faceted(region, 1e-3)
    mine = region.signed_distance(points)
    inside = shapely.contains_xy(chords, points)
    theirs = shapely.distance(shapely.points(points), chords.boundary) * np.where(inside, 1.0, -1.0)
    assert np.abs(mine - theirs).max() <= 1.1e-3


@zoo
def test_area_agrees_with_shapely_on_chords(region: Region) -> None:
    assert faceted(region, 1e-4).area == pytest.approx(region.area, abs=1e-4 * region.length)


@zoo
def test_the_zoo_is_clean(region: Region) -> None:
    if region is not ZOO["self-touching outline"]:
        assert_valid(region)


@given(regions())
def test_what_operations_give_is_clean(region: Region) -> None:
    assert_valid(region)


@zoo
def test_a_mirrored_region_keeps_its_inside(region: Region) -> None:
    motion = compose(mirror_x(50.0), rotation(0.4))
    moved = region.transformed(motion)
    points = scattered(region, 500)
    assert moved.area == pytest.approx(region.area)
    there = points @ motion[:, :2].T + motion[:, 2]
    assert moved.signed_distance(there) == pytest.approx(region.signed_distance(points), abs=1e-8)


@zoo
def test_parts_make_up_the_whole(region: Region) -> None:
    parts = region.parts
    assert sum(part.area for part in parts) == pytest.approx(region.area)
    assert sum(len(part.loops) for part in parts) == len(region.loops)
    assert all(len(part.outlines) == 1 for part in parts)


def test_an_island_in_a_hole_is_a_part_of_its_own() -> None:
    outer, island = ZOO["island in a hole"].parts
    assert len(outer.loops) == 2
    assert island.area == pytest.approx(math.pi * 36)


def test_nothing_is_empty_everywhere() -> None:
    nothing = Region.empty()
    assert nothing.is_empty
    assert nothing.area == 0.0
    assert nothing.parts == ()
    assert not nothing.contains([(0.0, 0.0)]).any()
    assert nothing.signed_distance([(0.0, 0.0)]).tolist() == [-math.inf]
    assert faceted(nothing).is_empty
    with pytest.raises(InputError, match="no bounds"):
        _ = nothing.bounds


def test_an_open_path_bounds_no_region() -> None:
    with pytest.raises(InputError, match="closed"):
        Region((Path.through([(0, 0), (1, 0), (1, 1)]),))


@given(st.lists(st.tuples(st.integers(-3, 13), st.integers(-3, 13)), min_size=1, max_size=40))
def test_points_level_with_vertices_are_told_apart(points: list[tuple[int, int]]) -> None:
    """Every ray here runs through vertices, along edges, or touches a circle."""
    region = Region((*rectangle(0, 0, 10, 10).loops, *(loop.reversed() for loop in disc(5, 5, 3).loops)))
    for (x, y), inside in zip(points, region.contains(points), strict=True):
        on_edge = (x in (0, 10) and 0 <= y <= 10) or (y in (0, 10) and 0 <= x <= 10) or math.hypot(x - 5, y - 5) == 3
        if not on_edge:
            assert inside == (0 < x < 10 and 0 < y < 10 and math.hypot(x - 5, y - 5) > 3)


@pytest.mark.parametrize("x", [-4.0, 0.0, 0.3])
def test_beside_a_line_that_rises_by_a_rounding_a_point_is_outside(x: float) -> None:
    """At its height the line's extension runs through the point, and rounding put it inside."""
    level = -0.5000000000000001
    corners = [
        (2.0, -0.5, 0.0),
        (0.5, level, 0.0),
        (0.5, -0.6, 0.0),
        (3.0, -0.6, 0.0),
        (3.0, 1.0, 0.0),
        (2.0, 1.0, 0.0),
    ]
    region = Region((Path(np.array(corners), closed=True),))
    assert region.signed_distance([(x, level)]) == pytest.approx([x - 0.5])
    assert region.signed_distance([(x, level)] * 2) == pytest.approx([x - 0.5] * 2)
