"""Climb and conventional: both cut the same, and each turns the way it says."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
from support.cutting import Stock, a_bit, centre_ways, feeds_over, gouge, left_over, low_rapids
from support.programs import a_machine
from support.shapes import ZOO

from jigcam.geometry import Region, difference, disc, offset, rectangle
from jigcam.kit import Machine
from jigcam.toolpath import Move, choose
from jigcam.toolpath.hole import hole_run
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.operations import operation
from jigcam.toolpath.outline import around, finish_ring, finishing_note, rough_ring
from jigcam.toolpath.pocket import pocket
from jigcam.toolpath.track import Cutter
from jigcam.units import MM

DIRECTIONS = ("climb", "conventional")


def cutter(diameter: float, depth: float, **machine: str) -> Cutter:
    made: Machine = a_machine(**machine)
    bit = a_bit(diameter)
    return Cutter(bit, choose(bit, "mdf", made, depth), made)


def turned(moves: list[Move] | tuple[Move, ...]) -> float:
    """Twice the area that a way goes round, mm²: positive anticlockwise."""
    return sum((a.conjugate() * b).imag for a, b, *_ in centre_ways(moves))


def both() -> Iterator[dict[str, str]]:
    for roughing in DIRECTIONS:
        for finishing in DIRECTIONS:
            if (roughing, finishing) != ("climb", "climb"):
                yield {"roughing": roughing, "finishing": finishing}


@pytest.mark.parametrize("name", ZOO)
def test_conventional_cuts_the_zoo(name: str) -> None:
    region, tool = ZOO[name], cutter(3.175, 2.5, roughing="conventional", finishing="conventional")
    levels = even_levels(2.5, tool.feeds.depth_per_pass)
    work = pocket(region, tool, levels)
    rough, finish = (list(operation("", tool, runs).moves) for runs in (work.rough, work.finish))
    if not finish:
        return
    x0, y0, x1, y1 = region.bounds
    stock = Stock((x0 - 3, y0 - 3, x1 + 3, y1 + 3), tool.radius, spacing=max(0.4, (x1 - x0 + y1 - y0) / 300))
    stock.cut([*rough, *finish], steepest=math.tan(math.radians(8.5)))
    assert gouge([*rough, *finish], region, tool.radius) <= 0.005
    assert left_over([*rough, *finish], region, tool.radius, -2.5) <= 0.01
    assert not stock.rapids
    assert not stock.plunges
    assert not feeds_over([*rough, *finish], tool.machine)
    assert not low_rapids([*rough, *finish])


@pytest.mark.parametrize("wanted", list(both()))
def test_each_pass_turns_as_its_machine_wants(wanted: dict[str, str]) -> None:
    # Within an opening anticlockwise is climb, round an island clockwise (derived: cutter left of its wall).
    tool = cutter(6.35, 5.0, **wanted)
    work = pocket(difference(disc(0, 0, 30), disc(0, 0, 15)), tool, [-5.0])
    for runs, direction in ((work.rough, wanted["roughing"]), (work.finish, wanted["finishing"])):
        moves = [move for run in runs for move in run.moves]
        arcs = [move for move in moves if move.kind == "arc" and math.hypot(move.cx, move.cy) < 1e-6]
        for move in arcs:
            outer = math.hypot(move.x, move.y) > 22.5
            assert move.ccw == (outer == (direction == "climb"))
        assert arcs


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_round_a_piece(direction: str) -> None:
    tool = cutter(6.35, 5.0, roughing=direction, finishing=direction)
    piece = rectangle(0, 0, 40, 30)
    levels = even_levels(5.0, tool.feeds.depth_per_pass)
    rough = [rough_ring(loop.reversed(), tool, levels) for loop in offset(piece, tool.radius + 0.2).loops]
    centres = offset(piece, tool.radius)
    finish = [finish_ring(loop.reversed(), tool, [-5.0], around(centres), (0.2, 0.2)) for loop in centres.loops]
    for run in (*rough, *finish):
        assert (turned(run.moves) < 0.0) == (direction == "climb")
    ground = difference(rectangle(-40, -40, 80, 70), piece)
    assert gouge([move for run in (*rough, *finish) for move in run.moves], ground, tool.radius) <= 0.005


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_holes(direction: str) -> None:
    tool = cutter(6.35, 13.0, roughing=direction, finishing=direction)
    run = hole_run(10.0, 20.0, 9.0, tool, -13.0)
    assert {move.ccw for move in run.moves if move.kind == "arc"} == {direction == "climb"}
    hole: Region = disc(10.0, 20.0, 4.5)
    assert gouge(run.moves, hole, tool.radius) <= 0.005
    assert left_over(run.moves, hole, tool.radius, -13.0) <= 0.01


def test_an_open_end_is_left_climbing_and_the_note_says_so() -> None:
    tool = cutter(6.35, 5.0, roughing="conventional", finishing="conventional")
    board = rectangle(0, 0, 80, 100)
    work = pocket(rectangle(20, -20, 50, 60), tool, [-5.0], air=lambda p: -board.signed_distance(p) - tool.radius)
    assert all(turned(run.moves) > 0.0 for run in (*work.rough, *work.finish))
    assert "break out the edge" in finishing_note(tool, work.finish, MM, open_end=True)
    assert "conventional" in finishing_note(tool, work.finish, MM)
