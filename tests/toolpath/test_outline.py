"""Outlines: climb round a piece, arcs in and out, tabs that stand as drawn and nothing beside them."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.cutting import Stock, a_bit, centre_ways, feeds_over, gouge, low_rapids
from support.programs import a_machine

from jigcam.geometry import Path, Region, difference, disc, offset, rectangle
from jigcam.kit import Bit
from jigcam.template import Tab
from jigcam.toolpath import choose
from jigcam.toolpath.humps import Hump, humps_over, raised
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.outline import around, finish_ring, finishing_note, rough_ring, within
from jigcam.toolpath.track import Cutter, Run
from jigcam.units import MM

MACHINE = a_machine()
SHEET = rectangle(20.0, 20.0, 160.0, 110.0)
THICK, BELOW = 12.7, 0.25
TABS = [Tab(70.0, 20.0, 16.0, 3.0, 0.0), Tab(160.0, 65.0, 16.0, 3.0, math.pi / 2), Tab(90.0, 110.0, 16.0, 3.0, 0.0)]


def cut_out(bit: Bit, direction: str = "climb") -> tuple[Run, Run]:
    """The sheet cut from its blank: roughing and finishing."""
    machine = a_machine(roughing=direction, finishing=direction)
    cutter = Cutter(bit, choose(bit, "mdf", machine, THICK + BELOW), machine)
    levels = even_levels(THICK + BELOW, cutter.feeds.depth_per_pass)
    ramp = None if bit.plunges else cutter.feeds.ramp_angle

    def loop(grown: float) -> Path:
        return offset(SHEET, grown).loops[0].reversed()

    def humps(path: Path) -> list[Hump]:
        return humps_over(TABS, path, -THICK, -THICK - BELOW, ramp)

    wide, close = loop(bit.radius + 0.2), loop(bit.radius)
    rough = rough_ring(wide, cutter, levels, humps(wide))
    waste = around(offset(SHEET, bit.radius))
    return rough, finish_ring(close, cutter, levels[-1:], waste, (0.2, 0.2), humps(close))


@pytest.mark.parametrize("direction", ["climb", "conventional"])
@pytest.mark.parametrize("plunges", [True, False])
def test_a_sheet_is_cut_free_but_for_its_tabs(plunges: bool, direction: str) -> None:
    bit = a_bit(6.35, plunges=plunges)
    rough, finish = cut_out(bit, direction)
    moves = [*rough.moves, *finish.moves]
    outside = difference(rectangle(-50, -50, 250, 200), SHEET)
    assert gouge(moves, outside, bit.radius) <= 0.005
    stock = Stock((10, 10, 170, 120), bit.radius, spacing=0.25)
    stock.cut(moves, steepest=math.tan(math.radians(46 if plunges else 6)))
    assert not stock.plunges
    assert not stock.rapids
    assert not feeds_over(moves, MACHINE)
    assert not low_rapids(moves)
    x, y = np.meshgrid(stock.xs, stock.ys)
    points = np.column_stack([x.ravel(), y.ravel()])
    gap = -SHEET.signed_distance(points)
    beside = ((gap > 0.05) & (gap < 1.0)).reshape(x.shape)
    tabs = np.zeros(x.shape, dtype=bool)
    for tab in TABS:
        tabs |= tab.region(2.0).contains(points).reshape(x.shape)
    assert (stock.top[beside & ~tabs] <= -THICK - BELOW + 1e-9).all()
    # In the middle of the kerf, where it is thinnest, a tab still has its height over 3 mm or so.
    row = int(abs(stock.ys - (20.0 - 3.2)).argmin())
    standing = stock.xs[(stock.top[row] > -THICK + 2.9) & (abs(stock.xs - 70.0) < 15.0)]
    assert 2.0 <= len(standing) * 0.25 <= 8.0


@pytest.mark.parametrize("plunges", [True, False])
def test_over_its_tabs_the_bit_goes_up_and_down_no_faster_than_it_plunges(plunges: bool) -> None:
    """It went down their 45° flanks at the full feed, so at 0.7 of it, where a third of it was promised."""
    bit = a_bit(6.35, plunges=plunges)
    plunge = choose(bit, "mdf", MACHINE, THICK + BELOW).plunge
    steep = 0
    for run in cut_out(bit):
        for a, b in pairwise(run.moves):
            length, drop = math.dist(a.point, b.point), abs(a.z - b.z)
            if b.kind == "line" and a.point[:2] != b.point[:2] and drop > 0.0:
                assert b.feed * drop / length <= plunge + 0.2
                steep += drop / length > 0.7
    assert steep >= 6


def test_the_note_of_a_finishing_pass_says_the_feed_that_it_has() -> None:
    """Where no arc had room it was ramped into at the feed of any cut, and a faster one was told."""
    bit, slow = a_bit(6.35), a_machine(spindle=(8_000.0, 10_000.0))
    cutter = Cutter(bit, choose(bit, "mdf", slow, 5.0), slow)
    centres = offset(rectangle(0, 0, 40, 30), -3.175)
    arced = finish_ring(centres.loops[0], cutter, [-5.0], within(centres), (0.2, math.inf))
    ramped = finish_ring(centres.loops[0], cutter, [-5.0], within(centres), (50.0, math.inf))  # no arc reaches so far
    for run, faster in ((arced, True), (ramped, False)):
        most = max(b.feed for a, b in pairwise(run.moves) if a.point[:2] != b.point[:2])
        note = finishing_note(cutter, [run], MM)
        assert (most > 1.02 * cutter.feeds.feed) is faster
        assert (f"at {most:.0f} mm a minute for its thin chips" in note) is faster


def test_round_a_piece_clockwise_is_climb() -> None:
    # Spindle clockwise, cutter left of its wall: climb (derived; common practice).
    for run in cut_out(a_bit(6.35)):
        area = sum((a * b.conjugate()).imag for a, b, *_ in centre_ways(run.moves)) / 2.0
        assert area > 0.0  # Σ Im(a·conj b) is positive for a clockwise way


def test_the_way_in_and_out_is_along_the_path() -> None:
    *_, finish = cut_out(a_bit(6.35))
    cuts = [m for m in finish.moves if m.kind != "rapid"]
    first, last = cuts[1], cuts[-1]
    assert first.kind == last.kind == "arc"
    spoke = np.array([first.x - first.cx, first.y - first.cy])
    along = np.array([cuts[2].x - first.x, cuts[2].y - first.y])
    assert abs(spoke @ along) < 1e-3 * np.hypot(*spoke) * np.hypot(*along)


def test_arcs_in_keep_within_the_ground_that_is_cleared() -> None:
    centres = offset(rectangle(0, 0, 40, 30), -3.175)
    bit = a_bit(6.35)
    cutter = Cutter(bit, choose(bit, "mdf", MACHINE, 5.0), MACHINE)
    run = finish_ring(centres.loops[0], cutter, [-5.0], within(centres), (0.2, math.inf))
    start = np.array([run.start])
    assert centres.signed_distance(start)[0] >= 0.2 - 1e-6
    assert gouge(run.moves, rectangle(0, 0, 40, 30), 3.175) <= 0.005


def test_without_room_for_an_arc_the_ring_is_ramped_into() -> None:
    loop = disc(0, 0, 0.3).loops[0]
    bit = a_bit(6.35)
    cutter = Cutter(bit, choose(bit, "mdf", MACHINE, 1.0), MACHINE)
    run = finish_ring(loop, cutter, [-1.0], within(Region((loop,))), (1.0, math.inf))
    assert all(a.z - b.z < 0.2 for a, b in pairwise(run.moves[3:-1]))


@settings(max_examples=60)
@given(
    st.lists(st.tuples(st.floats(0, 400), st.floats(8, 30), st.floats(0.5, 6)), max_size=4),
    st.floats(0, 400),
    st.booleans(),
)
def test_profiles_ride_over_every_hump(tabs: list[tuple[float, float, float]], first: float, ramped: bool) -> None:
    low, round_length = -10.0, 400.0
    ramp = math.radians(4) if ramped else None
    humps = [Hump(s - w / 2, s + w / 2, low + h, low, ramp) for s, w, h in tabs]
    profile = [(0.0, -7.0), (40.0, low), (440.0, low)]
    out = raised(profile, humps, first, round_length)
    assert out[0][0] == 0.0
    assert out[-1][0] == pytest.approx(440.0)
    stations = np.array([s for s, _ in out])
    heights = np.array([z for _, z in out])
    for hump in humps:
        for turn in (-1, 0, 1, 2):
            middle = 0.5 * (hump.start + hump.end) - first + turn * round_length
            if 0.0 <= middle <= 440.0 and not ramped:
                assert np.interp(middle, stations, heights) >= hump.top - 1e-6
    if not ramped:
        assert (np.diff(stations) >= 0).all()
    assert (heights >= low - 1e-9).all()
