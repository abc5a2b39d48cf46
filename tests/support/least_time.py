"""The least time in which a cut can be made, however it is planned: nothing of the program's own planner.

Clearing: a path has to sweep the wood, and takes no more at once than the machine takes in a full cut, at no more than
the feed. It stops where it goes down to a level, it slows down in every sharp corner that it has to fill, and where
wood is no longer than a line, it turns round at the end of each. Finishing: the way along the walls itself, with every
corner of it. Formulas of even acceleration (derived here); mm, s, mm/s.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from jigcam.geometry import Path, Region, arc_of, intersection, offset, rectangle
from jigcam.kit import Machine
from jigcam.making.gcode_file import GcodeFile
from jigcam.toolpath import Move
from jigcam.toolpath.time import JUMP_TIME, move_seconds


@dataclass(frozen=True)
class Pace:
    """A feed and the acceleration along it, of the slower level axis, mm/s and mm/s²."""

    feed: float
    acceleration: float

    @classmethod
    def of(cls, feed: float, machine: Machine) -> Pace:
        """feed: mm/min, or what the machine reaches where that is less."""
        return cls(min(feed, *machine.max_feed[:2]) / 60.0, min(machine.acceleration[:2]))

    @property
    def turning(self) -> float:
        """Seconds lost by coming to rest and away again, as against going on: v/2a each way."""
        return self.feed / self.acceleration

    def over(self, length: float) -> float:
        """Seconds for a straight way from rest to rest."""
        if length <= self.feed**2 / self.acceleration:
            return 2.0 * math.sqrt(length / self.acceleration)
        return length / self.feed + self.turning

    def cornering(self, angle: float) -> float:
        """Seconds lost in a sharp turn of the path by an angle (rad): no axis jumps by more than it can at once, and a
        turn by φ changes the velocity v by 2v·sin(φ/2), the larger axis by at least that over √2."""
        change = 2.0 * math.sin(0.5 * angle) / math.sqrt(2.0)
        through = min(self.feed, self.acceleration * JUMP_TIME / change) if change > 1e-9 else self.feed
        return (self.feed - through) ** 2 / (self.acceleration * self.feed)


def pocket_seconds(
    region: Region, radius: float, section: float, depth: float, levels: int, feed: float, machine: Machine, rest: float
) -> float:
    """Least seconds for a pocket with upright walls.

    radius: of the bit; section: width times depth of the most that is before it at once, mm²; levels: how often it goes
    down; rest: allowance that finishing takes in one pass. feed: mm/min.
    """
    pace = Pace.of(feed, machine)
    inner = offset(region, -(radius + rest))
    swept = offset(inner, radius).area if inner.loops else 0.0
    # Sharp corners of the ground of the bit's middle are filled only by being there, at each level.
    corners = sum(pace.cornering(turn) for loop in inner.loops for turn in _sharp(loop))
    clearing = swept * depth / section / pace.feed + levels * (pace.turning + corners)
    walls = sum(move_seconds_of(loop, pace, machine) for loop in offset(region, -radius).loops)
    return clearing + walls


def socket_seconds(
    outlines: Sequence[tuple[float, float, float]],
    radius: float,
    section: float,
    depth: float,
    feed: float,
    machine: Machine,
    *,
    apart: float,
    above: float,
) -> float:
    """Least seconds for sockets between two walls, right through a board that stands upright, finished with one pass
    along each wall.

    outlines: of each, its area (mm²), its greatest width along the board and the board's thickness; apart: way from one
    to the next, above: height at which that is gone, mm.
    """
    pace = Pace.of(feed, machine)
    upward = Pace(machine.max_feed[2] / 60.0, machine.acceleration[2])
    total = 0.0
    for area, width, thick in outlines:
        path = area * depth / section
        longest = max(math.hypot(max(0.0, width - 2.0 * radius), thick), thick)
        # At the end of the longest line that there is the way along it has to turn round.
        total += path / pace.feed + path / longest * pace.turning
        total += 2.0 * pace.over(thick) + 2.0 * upward.over(depth + above)
    return total + (len(outlines) - 1) * pace.over(apart)


def sockets_of_file(file: GcodeFile, machine: Machine, rest: float) -> float:
    """Least seconds for a file of sockets upright. rest: allowance that finishing takes at each wall, mm."""
    (step,), (wide, thick, _) = file.steps, file.setup.stock
    (waste,), bit = step.wastes, step.cutter.bit
    depth = waste.may.depth
    taken = intersection(waste.may.section(-0.5 * depth), rectangle(0.0, 0.0, wide, thick))
    boxes = sorted(Region((loop,)).bounds for loop in taken.loops)
    outlines = [
        (Region((loop,)).area - 2.0 * rest * thick, box[2] - box[0], thick)
        for loop, box in ((loop, Region((loop,)).bounds) for loop in taken.loops)
    ]
    apart = min(after[0] - before[2] for before, after in pairwise(boxes)) + bit.diameter
    section = bit.diameter**2 * machine.deepest_pass
    # Narrow cuts may be fed faster, up to what the machine does.
    feed = min(machine.max_feed[:2])
    return socket_seconds(outlines, bit.radius, section, depth, feed, machine, apart=apart, above=step.cutter.approach)


def move_seconds_of(loop: Path, pace: Pace, machine: Machine) -> float:
    """Seconds once round a closed path, corners and arcs as the machine takes them, from rest to rest."""
    x, y = loop.start
    moves = [Move("line", float(x), float(y), 0.0, pace.feed * 60.0)]
    for x0, y0, x1, y1, bulge in loop.segments().tolist():
        if abs(bulge) < 1e-9:
            moves.append(Move("line", x1, y1, 0.0, pace.feed * 60.0))
        else:
            cx, cy, *_ = arc_of((x0, y0), (x1, y1), bulge)
            moves.append(Move("arc", x1, y1, 0.0, pace.feed * 60.0, cx, cy, bulge > 0.0))
    return sum(move_seconds(moves, machine, moves[0].point))


def _sharp(loop: Path) -> list[float]:
    """Angles (rad) by which a path turns at the convex corners of the ground on its left."""
    rows = loop.segments().tolist()
    ways = []
    for x0, y0, x1, y1, bulge in rows:
        chord, half = math.atan2(y1 - y0, x1 - x0), 2.0 * math.atan(bulge)
        ways.append((chord - half, chord + half))
    turns = [(after[0] - before[1] + math.pi) % math.tau - math.pi for before, after in pairwise([*ways, ways[0]])]
    return [turn for turn in turns if turn > math.radians(5.0)]
