"""Gaps: where the middle of a bit may go between two walls, in lanes and along the walls."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.toolpath.gap import Gap, Line, Mouth, Wall, blind_gap, through_gap

LEAD = 2.0


@st.composite
def walls(draw: st.DrawFn) -> tuple[Wall, Wall]:
    """Two walls that lean by up to 1:4 either way, each of them perhaps the board's edge."""
    low, width = draw(st.floats(-5, 50)), draw(st.floats(20, 60))
    slopes = [draw(st.floats(-0.25, 0.25)) for _ in range(2)]
    edges = draw(st.sampled_from([(False, False), (True, False), (False, True)]))
    made = [
        Wall(Line(t, 0.0 if edge else slope), edge)
        for t, slope, edge in zip((low, low + width), slopes, edges, strict=True)
    ]
    return made[0], made[1]


def distance(wall: Wall, e: float, t: float) -> float:
    return abs(t - wall.line.at(e)) / math.hypot(1.0, wall.line.slope)


@given(walls(), st.floats(1, 6))
def test_the_bit_touches_the_walls(pair: tuple[Wall, Wall], radius: float) -> None:
    gap = through_gap(*pair, radius, 20.0, cover=radius, lead=LEAD, over=0.5)
    for wall, line, free in ((pair[0], gap.low, not gap.low_wall), (pair[1], gap.high, not gap.high_wall)):
        if free:
            # An open side is overlapped, so that nothing is left at the board's edge.
            assert abs(line.at(0.0) - wall.line.t0) < radius
        else:
            assert distance(wall, 7.0, line.at(7.0)) == pytest.approx(radius)


@given(walls(), st.floats(1, 6))
def test_a_through_gap_goes_on_until_the_walls_are_cut_to_the_back(pair: tuple[Wall, Wall], radius: float) -> None:
    gap = through_gap(*pair, radius, 20.0, cover=radius, lead=LEAD, over=0.5)
    for wall in pair:
        # Where the bit at its last place touches the wall: its middle less the radius square to the wall.
        touch = gap.last - radius * abs(wall.line.slope) / math.hypot(1.0, wall.line.slope)
        assert touch >= 20.0 + 0.5 - 1e-9
    assert gap.first == pytest.approx(-(radius + LEAD))
    assert not gap.floor


@given(walls(), st.floats(1, 6))
def test_a_blind_gap_ends_at_its_floor(pair: tuple[Wall, Wall], radius: float) -> None:
    gap = blind_gap(*pair, radius, 15.0, lead=LEAD)
    assert gap.last == pytest.approx(15.0 - radius)
    assert gap.floor


@given(walls(), st.floats(1, 6), st.floats(0.5, 8))
def test_lanes_are_near_enough_to_each_other_and_end_at_the_walls(
    pair: tuple[Wall, Wall], radius: float, step: float
) -> None:
    gap = through_gap(*pair, radius, 20.0, cover=radius, lead=LEAD, over=0.5)
    if gap.least_width <= 0.0:
        return
    lanes = gap.lanes(step)
    for e in (0.0, 20.0, gap.last):
        at = [lane.at(e) for lane in lanes]
        assert at == sorted(at)
        assert all(b - a <= step + 1e-9 for a, b in pairwise(at))
        assert (at[0], at[-1]) == pytest.approx((gap.low.at(e), gap.high.at(e)))


@given(walls(), st.floats(1, 6), st.floats(0.05, 0.5))
def test_an_allowance_is_left_at_walls_and_floor_and_the_bit_still_passes(
    pair: tuple[Wall, Wall], radius: float, allowance: float
) -> None:
    gap = blind_gap(*pair, radius, 20.0, lead=LEAD)
    if gap.least_width <= 0.0:
        return
    inset = gap.inset(allowance)
    assert gap.last - inset.last == pytest.approx(allowance)
    assert inset.least_width >= -1e-9
    if gap.least_width > 4.0 * allowance:
        for wall, line in ((pair[0], inset.low), (pair[1], inset.high)):
            if not wall.edge:
                assert distance(wall, 5.0, line.at(5.0)) == pytest.approx(radius + allowance)


def test_a_gap_as_wide_as_the_bit_has_one_lane() -> None:
    gap = through_gap(Wall(Line(10.0)), Wall(Line(16.0)), 3.0, 20.0, cover=3.0, lead=LEAD, over=0.5)
    assert gap.lanes(2.0) == [Line(13.0)]
    assert gap.inset(0.2).lanes(2.0) == [Line(13.0)]


def test_a_narrow_edge_gap_is_one_pass_along_its_wall() -> None:
    gap = through_gap(Wall(Line(0.0), edge=True), Wall(Line(5.0)), 3.0, 20.0, cover=3.0, lead=LEAD, over=0.5)
    assert isinstance(gap, Gap)
    assert (gap.low, gap.high) == (Line(2.0), Line(2.0))
    assert gap.low_edge == 0.0


@pytest.mark.parametrize(
    ("matrix", "rising"),
    [
        (((0.0, 1.0, 0.0), (1.0, 0.0, 0.0)), True),  # upright, left end: inward is +y, t is x, the wood on the right
        (((0.0, -1.0, 90.0), (1.0, 0.0, 0.0)), False),
        (((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)), False),  # flat, from the left end: inward is +x, right of it is −y
        (((-1.0, 0.0, 300.0), (0.0, 1.0, 0.0)), True),
    ],
)
def test_climb_milling_has_the_wood_on_the_right(
    matrix: tuple[tuple[float, float, float], tuple[float, float, float]], rising: bool
) -> None:
    """With a clockwise spindle a cutter left of its wall climbs (derived from the sense of turning)."""
    mouth = Mouth(matrix)
    assert mouth.rising is rising
    (x0, y0), (x1, y1), (xt, yt) = mouth.at(0.0, 0.0), mouth.at(1.0, 0.0), mouth.at(0.0, 1.0)
    to_the_right = (x1 - x0) * (yt - y0) - (y1 - y0) * (xt - x0) < 0.0
    assert to_the_right is rising
