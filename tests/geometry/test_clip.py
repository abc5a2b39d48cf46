"""What of a region lies in a rectangle: the booleans' answer, to the order of loops and vertices."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.geometry import Region, clip, disc, intersection, polygon, rectangle, within

BOX = (0.0, 0.0, 100.0, 60.0)


def convex(x: float, y: float, radii: list[float], turn: float) -> Region:
    """Corners on an ellipse: convex whatever the angles are."""
    angles = turn + np.cumsum(radii) / sum(radii) * 2.0 * math.pi
    return polygon([(x + 14.0 * math.cos(a), y + 9.0 * math.sin(a)) for a in angles])


def assert_as_booleans(region: Region) -> None:
    got, wanted = within(region, *BOX), intersection(region, rectangle(*BOX))
    assert len(got.loops) == len(wanted.loops)
    for one, other in zip(got.loops, wanted.loops, strict=True):
        assert one.vertices.shape == other.vertices.shape
        assert np.abs(one.vertices - other.vertices).max() < 1e-9


@given(
    st.lists(st.tuples(st.floats(-10.0, 110.0), st.floats(-8.0, 68.0)), min_size=1, max_size=4),
    st.lists(st.floats(1.0, 3.0), min_size=3, max_size=7),
    st.floats(0.0, 6.0),
)
def test_convex_outlines_are_cut_as_the_booleans_cut_them(
    places: list[tuple[float, float]], radii: list[float], turn: float
) -> None:
    loops = [loop for x, y in places for loop in convex(x, y, radii, turn).loops]
    assert_as_booleans(Region(tuple(loops)))


def test_strips_across_a_board_with_corners_on_its_sides_and_beyond_them() -> None:
    strips = [
        [(10.0, -25.0), (20.0, -25.0), (24.0, 85.0), (8.0, 85.0)],
        [(40.0, 0.0), (50.0, 0.0), (55.0, 60.0), (38.0, 60.0)],
        [(70.0, 0.0), (95.0, 30.0), (70.0, 60.0)],
        [(100.0, 10.0), (120.0, 10.0), (120.0, 50.0), (100.0, 50.0)],
        [(-30.0, 20.0), (-1.0, 20.0), (-1.0, 40.0)],
    ]
    region = Region(tuple(loop for strip in strips for loop in polygon(strip).loops))
    assert clip._clipped(region, *BOX) is not None, "these want no booleans"
    assert len(within(region, *BOX).loops) == 3
    assert_as_booleans(region)


@pytest.mark.parametrize(
    "region",
    [
        disc(0.0, 30.0, 10.0),
        polygon([(-5.0, 0.0), (20.0, 10.0), (-5.0, 20.0), (2.0, 10.0)]),
        Region((rectangle(-10.0, 10.0, 10.0, 50.0).loops[0], rectangle(-5.0, 20.0, 5.0, 40.0).loops[0].reversed())),
        Region((*rectangle(-10.0, 10.0, 10.0, 30.0).loops, *rectangle(0.0, 20.0, 20.0, 40.0).loops)),
        polygon([(-1e-8, 10.0), (20.0, 10.0), (20.0, 20.0)]),
        polygon([(-10.0, 10.0), (5.0, 10.0), (20.0, 10.0), (5.0, 30.0)]),
    ],
    ids=["an arc", "a notch", "a hole", "two that overlap", "a hair beyond a side", "a corner on a straight side"],
)
def test_all_others_are_left_to_the_booleans(region: Region) -> None:
    assert clip._clipped(region, *BOX) is None
    assert_as_booleans(region)


def test_a_star_that_turns_left_everywhere_goes_round_twice_and_is_not_convex() -> None:
    star = polygon(
        [(30.0 + 20.0 * math.cos(0.8 * math.pi * k), 30.0 + 20.0 * math.sin(0.8 * math.pi * k)) for k in range(5)]
    )
    assert clip._clipped(star, *BOX) is None
