"""Arcs as chords, for machines that know no G2 and G3."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from jigcam.toolpath.program import Move, Operation, Program

Place = tuple[float, float, float]


def facet_arcs(program: Program, tol: float) -> Program:
    """The program with each arc replaced by chords within `tol` mm of it, their ends on the arc."""
    return replace(program, operations=tuple(_faceted(each, tol) for each in program.operations))


def _faceted(operation: Operation, tol: float) -> Operation:
    moves: list[Move] = []
    at: Place = operation.moves[0].point if operation.moves else (0.0, 0.0, 0.0)
    for move in operation.moves:
        if move.kind == "arc":
            moves += chords(at, move, tol)
        else:
            moves.append(move)
        at = move.point
    return replace(operation, moves=tuple(moves))


def chords(at: Place, arc: Move, tol: float) -> Iterator[Move]:
    """Lines from the start of an arc move at `at` to its end; sagitta r(1 − cos(φ/2)) ≤ tol."""
    rx, ry = at[0] - arc.cx, at[1] - arc.cy
    radius, start = math.hypot(rx, ry), math.atan2(ry, rx)
    sweep = (math.atan2(arc.y - arc.cy, arc.x - arc.cx) - start) % math.tau
    sweep = sweep if arc.ccw else sweep - math.tau
    step = 2.0 * math.acos(max(-1.0, 1.0 - tol / radius))
    count = max(1, math.ceil(abs(sweep) / step - 1e-9))
    for number in range(1, count):
        t = number / count
        angle = start + t * sweep
        yield Move(
            "line",
            arc.cx + radius * math.cos(angle),
            arc.cy + radius * math.sin(angle),
            at[2] + t * (arc.z - at[2]),
            arc.feed,
        )
    yield Move("line", arc.x, arc.y, arc.z, arc.feed)
