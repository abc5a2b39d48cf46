"""Terraces and undercut passes: what is left on a leaning wall, and that an undercutting bit never rises under wood."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.cutting import Stock, a_bit, centre_ways, feeds_over, low_rapids
from support.programs import a_machine

from jigcam.errors import InputError, Refused
from jigcam.geometry import Region, rectangle, slot
from jigcam.kit import load_kit
from jigcam.toolpath import Move, choose
from jigcam.toolpath.planned import in_turn
from jigcam.toolpath.pocket import Air
from jigcam.toolpath.terrace import terrace_height, terrace_levels, terraces
from jigcam.toolpath.track import Cutter
from jigcam.toolpath.undercut import undercut_runs

MACHINE = a_machine()


@settings(max_examples=4)
@given(st.floats(2, 14), st.floats(0.03, 0.2))
def test_a_leaning_socket_is_cut_within_its_scallop(lean_deg: float, scallop: float) -> None:
    lean, depth, bit = math.radians(lean_deg), 12.0, a_bit(6.35)
    tan = math.tan(lean)

    def section(z: float) -> Region:
        return rectangle(-20 - z * tan, -30, 20 + z * tan, 15)

    board = rectangle(-40, -15, 40, 60)
    cutter = Cutter(bit, choose(bit, "black cherry", MACHINE, depth), MACHINE)
    work = terraces(section, depth, lean, scallop, cutter, air=lambda p: -board.signed_distance(p) - bit.radius)
    moves = [*in_turn("", cutter, work.rough).moves, *in_turn("", cutter, work.finish).moves]
    stock = Stock((-40, -15, 40, 30), bit.radius, spacing=0.5)
    stock.cut(moves)
    assert not stock.plunges
    assert not stock.rapids
    assert not feeds_over(moves, MACHINE)
    assert not low_rapids(moves)
    ways = list(centre_ways(moves))
    for z in np.linspace(-0.05, -depth + 0.01, 14):
        ends = np.array([(b.real, b.imag) for _, b, _, z0, z1, _ in ways if min(z0, z1) < z])
        reach = float((np.abs(ends[ends[:, 1] > -10.0, 0])).max()) + bit.radius
        wall = 20 + z * tan
        assert reach <= wall + 0.005
        assert (wall - reach) * math.cos(lean) <= scallop + 0.005


def test_heights_of_terraces() -> None:
    # h sin α (derived).
    assert terrace_height(math.radians(8.13), 0.1) == pytest.approx(0.7071, abs=1e-3)
    floors = terrace_levels(12.0, 0.7)
    assert floors[-1] == -12.0
    assert all(a - b <= 0.7 + 1e-9 for a, b in pairwise([0.0, *floors]))
    with pytest.raises(InputError):
        terrace_height(0.1, 0.0)


def rises(moves: list[Move], air: Air) -> list[float]:
    """Heights of changes of height below the face under wood."""
    return [b.z for a, b in pairwise(moves)
            if a.z != b.z and min(a.z, b.z) < 0.0 and air(np.array([(b.x, b.y)]))[0] < 0.0]  # fmt: skip


@pytest.mark.parametrize("width", [12.7, 13.0, 16.0, 20.0, 30.0])
@pytest.mark.parametrize("open_both", [False, True])
def test_a_dovetail_bit_comes_and_goes_through_air(width: float, open_both: bool) -> None:
    bit = load_kit("inch-shop").bit("dovetail 1/2 x 8")
    cutter = Cutter(bit, choose(bit, "black cherry", MACHINE, 12.0), MACHINE)
    board = rectangle(-100.0, 0.0, 100.0, 120.0)
    far = 160.0 if open_both else 90.0
    region = slot((0.0, -40.0), (0.0, far), width)

    def air(points: np.ndarray) -> np.ndarray:
        return -board.signed_distance(points) - bit.radius

    runs = undercut_runs(region, cutter, 12.0, air, "sliding dovetail")
    moves = [move for run in runs for move in run.moves]
    assert not rises(moves, air)
    assert {m.z for m in moves if m.z < 0.0} == {-12.0}  # the full depth at once
    stock = Stock((-16.0, 0.0, 16.0, 120.0), bit.radius, spacing=0.5)
    stock.cut(moves)
    x, y = np.meshgrid(stock.xs, stock.ys)
    wanted = region.signed_distance(np.column_stack([x.ravel(), y.ravel()])).reshape(x.shape) > 0.02
    assert (stock.top[wanted] == -12.0).all()


def test_a_closed_undercut_is_refused() -> None:
    bit = load_kit("inch-shop").bit("dovetail 1/2 x 8")
    cutter = Cutter(bit, choose(bit, "black cherry", MACHINE, 12.0), MACHINE)
    board = rectangle(-100.0, 0.0, 100.0, 120.0)
    with pytest.raises(Refused) as refused:
        undercut_runs(slot((0, 30), (0, 90), 20), cutter, 12.0, lambda p: -board.signed_distance(p) - bit.radius, "it")
    assert refused.value.findings[0].rule == "undercut-closed"
