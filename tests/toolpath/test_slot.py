"""Grooves one bit wide: ramps, open ends, and no exit through wood that has nothing behind it."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from support.cutting import Stock, a_bit, feeds_over, gouge, left_over, low_rapids
from support.programs import a_machine

from jigcam.geometry import Path, rectangle, slot
from jigcam.toolpath import Move, choose
from jigcam.toolpath.slot import slot_run
from jigcam.toolpath.track import Cutter

MACHINE = a_machine()
BIT = a_bit(6.35)
CUTTER = Cutter(BIT, choose(BIT, "black cherry", MACHINE, 8.0), MACHINE)
LEVELS = [-2.0, -4.0, -6.0, -8.0]
AXIS = Path.through([(0.0, 0.0), (120.0, 30.0)])
BOARD = rectangle(0.0, -60.0, 120.0, 90.0)


def length_below(moves: tuple[Move, ...], z: float) -> float:
    return sum(math.dist(a.point, b.point) for a, b in pairwise(moves) if max(a.z, b.z) <= z)


def test_stopped_at_both_ends() -> None:
    run = slot_run(AXIS, CUTTER, LEVELS)
    region = slot((-3.175 * 0.9701425, -3.175 * 0.2425356), (120 + 3.175 * 0.9701425, 30 + 3.175 * 0.2425356), 6.35)
    assert gouge(run.moves, region, BIT.radius) <= 0.005
    assert left_over(run.moves, region, BIT.radius, -8.0) <= 0.01
    stock = Stock((-5, -5, 125, 35), BIT.radius)
    stock.cut(run.moves)
    assert not stock.plunges
    assert not stock.rapids
    assert not feeds_over(run.moves, MACHINE)
    assert not low_rapids(run.moves)
    assert sum(move.kind == "rapid" for move in run.moves) == 3  # in, down to the stock, and out


@pytest.mark.parametrize("first", [True, False])
def test_one_open_end_is_the_way_in(first: bool) -> None:
    air = (12.0, 0.0) if first else (0.0, 12.0)
    run = slot_run(AXIS, CUTTER, LEVELS, air)
    entry = AXIS.start if first else AXIS.end
    assert run.start == pytest.approx(entry)
    for a, b in pairwise(run.moves):
        if b.z < a.z - 1e-9:
            assert (b.x, b.y) == pytest.approx(entry)  # down in air alone


def test_both_open_ends_are_entered_and_none_is_left_through_uncut_wood() -> None:
    axis = Path.through([(-12.0, 0.0), (132.0, 0.0)])
    run = slot_run(axis, CUTTER, LEVELS, (8.0, 8.0))
    stock = Stock((0, -5, 120, 5), BIT.radius)
    at = run.moves[0]
    for move in run.moves[1:]:
        leaves = 0.0 <= at.x <= 120.0 and not 0.0 <= move.x <= 120.0 and move.z < 0.0
        if leaves:
            edge = 0.0 if move.x < 0.0 else 120.0
            column = int(abs(stock.xs - edge).argmin())
            row = int(abs(stock.ys).argmin())
            near = stock.top[row, max(0, column - 4) : column + 4]
            assert (near <= move.z + 1e-6).all()
        stock.cut([at, move])
        at = move
    assert (stock.top[abs(stock.ys) < 2.5] <= -8.0 + 1e-9).all()
    assert not stock.plunges
    assert not stock.rapids


def test_ramping_costs_little_on_a_long_groove() -> None:
    axis = Path.through([(0.0, 0.0), (400.0, 0.0)])
    run = slot_run(axis, CUTTER, LEVELS)
    assert length_below(run.moves, 0.0) < 4 * 400.0 * 1.15
