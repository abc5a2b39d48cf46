"""Undercut passes: a bit that is wider at its tip comes and goes through air and never rises under wood."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from support.cutting import Stock
from support.programs import a_machine

from jigcam.errors import Refused
from jigcam.geometry import Path, rectangle, slot
from jigcam.kit import load_kit
from jigcam.toolpath import Move, choose
from jigcam.toolpath.pocket import Air
from jigcam.toolpath.track import Cutter
from jigcam.toolpath.undercut import undercut_runs, undercut_slot

MACHINE = a_machine()


def rises(moves: list[Move], air: Air) -> list[float]:
    """Heights of changes of height below the face under wood."""
    return [
        b.z for a, b in pairwise(moves) if a.z != b.z and min(a.z, b.z) < 0.0 and air(np.array([(b.x, b.y)]))[0] < 0.0
    ]


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


def test_a_socket_as_wide_as_the_bit_is_cut_in_one_pass_in_and_back() -> None:
    bit = load_kit("inch-shop").bit("dovetail 1/2 x 8")
    cutter = Cutter(bit, choose(bit, "black cherry", MACHINE, 12.0), MACHINE)
    run = undercut_slot(Path.through([(0.0, -20.0), (0.0, 90.0)]), cutter, 12.0)
    cut = [(m.y, m.z) for m in run.moves if m.z < 0.0]
    assert cut == [(-20.0, -12.0), (90.0, -12.0), (-20.0, -12.0)]
    assert {m.x for m in run.moves} == {0.0}
    assert run.end == run.start
