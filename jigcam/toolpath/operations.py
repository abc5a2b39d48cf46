"""Operations: runs of one bit put into the order that travels least."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from jigcam.toolpath.order import ordered
from jigcam.toolpath.program import Move, Operation
from jigcam.toolpath.track import SHORT_HOP, Cutter, Run


def operation(name: str, cutter: Cutter, runs: Sequence[Run], note: str = "", *, hops: bool = True) -> Operation:
    """An operation of the runs, in the order that travels least. hops: whether short ways over are made low."""
    return in_turn(name, cutter, [runs], note, hops=hops)


def in_turn(
    name: str, cutter: Cutter, groups: Iterable[Sequence[Run]], note: str = "", *, hops: bool = True
) -> Operation:
    """An operation of groups of runs, one group after the other, the runs of each in the order that travels least."""
    runs: list[Run] = []
    for group in groups:
        runs += ordered(group, runs[-1].end if runs else (0.0, 0.0))
    moves: list[Move] = []
    for run in runs:
        if hops and moves and math.dist(moves[-1].point[:2], run.start) <= SHORT_HOP:
            # Both runs pass the approach height: the way over is made there.
            x, y = moves.pop().point[:2]
            moves.append(Move("rapid", x, y, cutter.approach))
            moves.append(Move("rapid", *run.start, cutter.approach))
            moves += run.moves[2:]
        else:
            moves += run.moves
    return Operation(name, cutter.bit, cutter.feeds.rpm, tuple(moves), note)
