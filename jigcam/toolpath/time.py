"""How long a program runs: each axis has its acceleration, and corners slow it down.

A move speeds up and slows down evenly (a trapezoid of speed over time) with the acceleration that the slowest axis
allows along its direction. Where two moves meet, the speed is such that no axis has to change its own by more than a
small jump; on an arc it is also limited by the acceleration toward the centre, v² / r. The limits of all junctions are
made consistent by one pass backward and one forward.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from jigcam.kit import Machine
from jigcam.toolpath.program import Move, Operation, Program
from jigcam.toolpath.track import Run, feed_limit, round_limit

JUMP_TIME = 0.004
"""s; an axis may jump by what its acceleration gives it in this time (common practice, no source)."""
TOOL_CHANGE = {"automatic": 10.0, "pause": 120.0, "file-per-bit": 0.0}
"""s for changing a bit within a file (common practice, no source)."""
Vector = tuple[float, float, float]


def seconds(program: Program, machine: Machine) -> float:
    """Running time of a program, s, from the file's zero at the clear height, changes of bits included."""
    changes = sum(a.bit != b.bit for a, b in pairwise(program.operations))
    return sum(operation_seconds(program, machine)) + changes * TOOL_CHANGE[machine.tool_change]


@lru_cache(maxsize=32)
def operation_seconds(program: Program, machine: Machine) -> tuple[float, ...]:
    """Running time of each operation, s, the way to its start included. Sheet and manifest both ask, so it is kept."""
    at: Vector = (0.0, 0.0, program.clear_height)
    out = []
    for operation in program.operations:
        out.append(sum(move_seconds(operation.moves, machine, at)))
        at = operation.moves[-1].point if operation.moves else at
    return tuple(out)


def shared_seconds(operations: Iterable[Operation], machine: Machine) -> tuple[float, float]:
    """Seconds at feed and seconds at rapid rate, the ways between operations left out."""
    feeding = travelling = 0.0
    for operation in operations:
        if not operation.moves:
            continue
        times = move_seconds(operation.moves, machine, operation.moves[0].point)
        for move, time in zip(operation.moves, times, strict=True):
            if move.kind == "rapid":
                travelling += time
            else:
                feeding += time
    return feeding, travelling


def runs_seconds(runs: Iterable[Run], machine: Machine) -> float:
    """Seconds of runs, the ways between them left out."""
    return sum(sum(move_seconds(run.moves, machine, run.moves[0].point)) for run in runs)


def move_seconds(moves: Sequence[Move], machine: Machine, start: Vector) -> list[float]:
    """Seconds of each move, from rest at `start` to rest at the end."""
    motions, at = [], start
    for move in moves:
        motions.append(_Motion.of(move, at, machine))
        at = move.point
    live = [motion for motion in motions if motion.length > 0.0]
    speeds = [0.0] * (len(live) + 1)
    for k, (before, after) in enumerate(pairwise(live), start=1):
        speeds[k] = min(before.top, after.top, _junction(before.last, after.first, machine))
    for k in range(len(live) - 1, 0, -1):
        speeds[k] = min(speeds[k], live[k].reached(speeds[k + 1]))
    times = iter(_timed(live, speeds))
    return [next(times) if motion.length > 0.0 else 0.0 for motion in motions]


class _Motion(NamedTuple):
    """A move as the machine feels it: length mm, unit directions at both ends, top speed mm/s, acceleration mm/s²."""

    length: float
    first: Vector
    last: Vector
    top: float
    acceleration: float

    @classmethod
    def of(cls, move: Move, at: Vector, machine: Machine) -> _Motion:
        dx, dy, dz = (b - a for a, b in zip(at, move.point, strict=True))
        if move.kind == "arc":
            return cls._round(move, at, machine)
        length = math.sqrt(dx * dx + dy * dy + dz * dz)
        if length == 0.0:
            return cls(0.0, (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), 0.0, 0.0)
        way = (dx / length, dy / length, dz / length)
        limit = feed_limit(machine.max_feed, dx, dy, dz)
        feed = limit if move.kind == "rapid" else min(move.feed, limit)
        return cls(length, way, way, feed / 60.0, feed_limit(machine.acceleration, dx, dy, dz))

    @classmethod
    def _round(cls, move: Move, at: Vector, machine: Machine) -> _Motion:
        rx, ry = at[0] - move.cx, at[1] - move.cy
        qx, qy = move.x - move.cx, move.y - move.cy
        radius = math.hypot(rx, ry)
        sweep = (math.atan2(qy, qx) - math.atan2(ry, rx)) % math.tau
        sweep = sweep if move.ccw else math.tau - sweep
        flat, dz = radius * sweep, move.z - at[2]
        length = math.hypot(flat, dz)
        turn = 1.0 if move.ccw else -1.0
        level, rise = flat / length, dz / length
        first = (-turn * ry / radius * level, turn * rx / radius * level, rise)
        last = (-turn * qy / radius * level, turn * qx / radius * level, rise)
        slower = min(machine.acceleration[0], machine.acceleration[1])
        acceleration = feed_limit((slower, slower, machine.acceleration[2]), flat, 0.0, dz)
        # The pull to the centre uses up what the axes have to give: both share it evenly.
        inward = round_limit(machine, radius) / 60.0 / level if level else math.inf
        return cls(length, first, last, min(move.feed / 60.0, inward), math.sqrt(0.5) * acceleration)

    def reached(self, speed: float) -> float:
        """Speed at the far end of the move for a speed at the near end, at full acceleration."""
        return math.sqrt(speed * speed + 2.0 * self.acceleration * self.length)


def _junction(before: Vector, after: Vector, machine: Machine) -> float:
    """Highest speed (mm/s) at which no axis jumps by more than its acceleration gives it in `JUMP_TIME`."""
    jumps = (abs(b - a) for a, b in zip(before, after, strict=True))
    shares = [JUMP_TIME * most / jump for most, jump in zip(machine.acceleration, jumps, strict=True) if jump > 1e-9]
    return min(shares, default=math.inf)


def _timed(live: list[_Motion], speeds: list[float]) -> Iterator[float]:
    """Seconds of each motion between the speeds at its ends, which are lowered on the way to what can be reached."""
    for k, motion in enumerate(live):
        v0 = speeds[k]
        v1 = speeds[k + 1] = min(speeds[k + 1], motion.reached(v0))
        a = motion.acceleration
        peak = min(motion.top, math.sqrt(a * motion.length + 0.5 * (v0 * v0 + v1 * v1)))
        steady = max(0.0, motion.length - (2.0 * peak * peak - v0 * v0 - v1 * v1) / (2.0 * a))
        yield (2.0 * peak - v0 - v1) / a + steady / peak
