"""Pockets on a zoo of shapes, judged by plain distances, pyclipper and a grid of heights."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from support.cutting import Stock, a_bit, feeds_over, gouge, left_over, low_rapids
from support.programs import a_machine
from support.shapes import ZOO, regions

from jigcam.geometry import Path, Region, bar, difference, disc, polygon, rectangle, slot, union
from jigcam.kit import Bit
from jigcam.toolpath import Move, choose
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.operations import operation
from jigcam.toolpath.pocket import ALLOWANCE, pocket
from jigcam.toolpath.rings import rings, stretches
from jigcam.toolpath.time import shared_seconds
from jigcam.toolpath.track import Cutter

MACHINE = a_machine()
JOINERY = {
    "template opening": slot((0.0, 0.0), (120.0, 40.0), 19.2),
    "wide dado": bar((0.0, 0.0), (100.0, 0.0), 18.4),
    "mortise": slot((0.0, 0.0), (50.0, 0.0), 12.7),
    "tee": union(slot((0.0, 0.0), (80.0, 0.0), 12.0), slot((40.0, 0.0), (40.0, 60.0), 9.0)),
    "recess round bosses": difference(rectangle(0, 0, 100, 60), union(disc(25, 30, 8), rectangle(60, 10, 72, 50))),
    "two at once": union(rectangle(0, 0, 30, 30), rectangle(50, 0, 90, 20)),
    "narrow waist": union(disc(0, 0, 16), disc(50, 0, 16), bar((0, 0), (50, 0), 8.5)),
    "waist as wide as the bit": union(disc(0, 0, 16), disc(50, 0, 16), bar((0, 0), (50, 0), 6.35)),
    "thin ring": difference(disc(0, 0, 30), disc(0, 0, 22.5)),
    "barely wider than the bit": rectangle(0, 0, 6.4, 30),
}


def cutter(bit: Bit, depth: float) -> Cutter:
    return Cutter(bit, choose(bit, "mdf", MACHINE, depth), MACHINE)


def planned(region: Region, bit: Bit, depth: float) -> tuple[list[Move], list[Move], list[float], float]:
    """Rough moves, finishing moves, levels, allowance."""
    tool = cutter(bit, depth)
    levels = even_levels(depth, tool.feeds.depth_per_pass)
    work = pocket(region, tool, levels)
    rough, finish = (operation("", tool, runs).moves for runs in (work.rough, work.finish))
    return list(rough), list(finish), levels, work.allowance


def judge(region: Region, bit: Bit, depth: float) -> None:
    rough, finish, levels, allowance = planned(region, bit, depth)
    if not finish:
        return
    moves = [*rough, *finish]
    x0, y0, x1, y1 = region.bounds
    stock = Stock((x0 - 3, y0 - 3, x1 + 3, y1 + 3), bit.radius, spacing=max(0.4, (x1 - x0 + y1 - y0) / 300))
    stock.cut(moves, steepest=math.tan(math.radians(8.5 if bit.plunges else 5.5)))
    assert gouge(moves, region, bit.radius) <= 0.005
    assert left_over(moves, region, bit.radius, -depth) <= 0.01
    for level in levels:
        # No posts and no slivers at any level: the finishing pass at full depth meets the allowance and nothing else.
        assert left_over(rough, region, bit.radius, level, short=allowance) <= 0.05
    assert not stock.rapids
    assert not stock.plunges
    assert not feeds_over(moves, MACHINE)
    assert not low_rapids(moves)
    assert moves[0].kind == "rapid"
    assert moves[0].z == moves[-1].z == 5.0


@pytest.mark.parametrize("name", JOINERY)
def test_cuts_of_joinery(name: str) -> None:
    judge(JOINERY[name], a_bit(6.35), 5.0)


@pytest.mark.parametrize("name", ZOO)
def test_zoo(name: str) -> None:
    judge(ZOO[name], a_bit(3.175), 2.5)


@settings(max_examples=12)
@given(regions(), st.sampled_from([1.5, 3.175, 6.35]), st.booleans())
def test_any_region(region: Region, diameter: float, plunges: bool) -> None:
    assume(not region.is_empty)
    judge(region, a_bit(diameter, plunges=plunges), 0.9 * diameter)


def test_a_narrow_opening_is_cleared_by_three_passes() -> None:
    # Two along the walls and one down the middle: a ring there and back would go twice through the same ground.
    (tree,) = rings(slot((0.0, 0.0), (200.0, 0.0), 18.0), 3.175, ALLOWANCE)
    assert [path.closed for node in tree.walk() for path in node.paths] == [False, True]


def test_nothing_is_lifted_in_a_plain_pocket() -> None:
    rough, *_ = planned(rectangle(0, 0, 80, 50), a_bit(6.35), 5.0)
    assert sum(move.kind == "rapid" for move in rough) == 3


def test_climb_all_the_way_in_the_finishing_pass() -> None:
    # Within an opening anti-clockwise is climb, round an island clockwise (trade practice: cutter left of its wall).
    region = difference(disc(0, 0, 30), disc(0, 0, 15))
    _, finish, *_ = planned(region, a_bit(6.35), 5.0)
    whole = [m for m in finish if m.kind == "arc" and math.hypot(m.cx, m.cy) < 1e-6]
    assert {m.ccw for m in whole if math.hypot(m.x, m.y) > 20} == {True}
    assert {m.ccw for m in whole if math.hypot(m.x, m.y) < 20} == {False}


def test_the_finishing_pass_comes_in_along_the_wall() -> None:
    _, finish, *_ = planned(rectangle(0, 0, 80, 50), a_bit(6.35), 5.0)
    first_cut = next(m for m in finish if m.kind != "rapid" and m.z < 0.0 and m.kind == "arc")
    assert first_cut is finish[3]


def test_little_time_is_spent_in_the_air() -> None:
    for region in (JOINERY["template opening"], JOINERY["recess round bosses"]):
        tool = cutter(a_bit(6.35), 5.0)
        work = pocket(region, tool, even_levels(5.0, tool.feeds.depth_per_pass))
        feeding, travelling = shared_seconds([operation("", tool, work.rough)], MACHINE)
        assert travelling < 0.15 * (feeding + travelling)


def test_corners_are_entered_slower() -> None:
    rough, *_ = planned(rectangle(0, 0, 80, 50), a_bit(6.35), 3.0)
    feeds = {m.feed for m in rough if m.kind == "line" and m.z < -2.9}
    assert min(feeds) == pytest.approx(0.6 * max(feeds), rel=0.01)


@pytest.mark.parametrize("turn", [math.radians(degrees) for degrees in range(0, 90, 5)])
def test_corners_a_radius_apart_leave_no_piece_of_nothing(turn: float) -> None:
    """A ring whose corners are as far apart as the stretch before each is long: rounding decides what is between."""
    reach, at, points = 3.175, 0j, [0j]
    for number in range(12):
        at += reach * cmath.exp(1j * (turn + 1.3 * number))
        points.append(at)
    path = Path.through([(z.real, z.imag) for z in points])
    pieces = list(stretches(path, reach))
    assert [path.substring(start, end).length for start, end, _ in pieces[:-1]] == pytest.approx([reach] * 11)
    assert all(corner for *_, corner in pieces[:-1])


def test_a_ring_whose_last_piece_is_a_rounding_error_is_cut_all_the_same() -> None:
    """A triangle had a ring with a segment of 7e-15 mm at its end, of which no part could be taken."""
    path = Path.through([(0.0, 0.0), (9.0, 0.0), (9.0, 4e-15)])
    assert [(start, end) for start, end, _ in stretches(path, 3.0)] == [(0.0, 6.0), (6.0, 9.0)]
    triangle = polygon([(0.0, 0.0), (72.2505281842682, 0.0), (7.22505281842682, 53.94310945136383)])
    assert pocket(triangle, cutter(a_bit(6.35, plunges=True), 6.35), [-6.35]).rough
