"""The least time in which a cut can be made, however it is planned: nothing of the program's own planner.

Clearing: a path has to sweep the wood, and takes no more at once than the machine takes in a full cut, at no more than
the feed. It stops where it goes down to a level, it slows down in every sharp corner that it has to fill, and where
wood is no longer than a line, it turns round at the end of each. Finishing: the way along the walls itself, with every
corner of it. Formulas of even acceleration (derived here); mm, s, mm/s.

What they do not know, and why a plan cannot reach them: `pocket_seconds` lets a path go at the full feed but in the
corners of its outline, and lie beside its neighbours without an overlap. At corners of 90° nothing is left uncut only
with steps of at most (1 + √½)/2 = 0.853 diameters (`toolpath.rings`), and a path that keeps the wood on one side turns
by 2π on each round, within a room as small as what is left. No formula of that is known here that holds for any path.
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
from jigcam.toolpath.track import SHORT_HOP, round_limit


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

    def over(self, length: float, through: float = 0.0) -> float:
        """Seconds for a straight way from rest to rest. through: the speed with which it begins and ends, mm/s."""
        u, v, a = min(through, self.feed), self.feed, self.acceleration
        if length <= (v * v - u * u) / a:
            return 2.0 * (math.sqrt(u * u + a * length) - u) / a
        return length / v + (v - u) ** 2 / (v * a)

    def aslant(self, dx: float, dy: float, through: float = 0.0) -> float:
        """Seconds for a straight way by dx and dy (mm): both axes help to speed up along it."""
        length, most = math.hypot(dx, dy), max(dx, dy)
        return Pace(self.feed, self.acceleration * length / most).over(length, through) if most > 0.0 else 0.0

    def cornering(self, angle: float, room: float) -> tuple[float, float]:
        """Seconds lost in a sharp turn of the path by an angle (rad), on so much (mm) of it on either side; and on how
        much of it in all the path is slower.

        No axis jumps by more than it can at once, and a turn by φ changes the velocity v by 2v·sin(φ/2), the larger
        axis by at least that over √2; and whichever way the path goes from there, both axes together speed up by √2
        times what one can.
        """
        change = 2.0 * math.sin(0.5 * angle) / math.sqrt(2.0)
        through = min(self.feed, self.acceleration * JUMP_TIME / change) if change > 1e-9 else self.feed
        both = math.sqrt(2.0) * self.acceleration
        reached = min(self.feed, math.sqrt(through * through + 2.0 * both * room))
        gone = (reached * reached - through * through) / (2.0 * both)
        return 2.0 * ((reached - through) / both - gone / self.feed), 2.0 * gone

    def rounding(self, radius: float, machine: Machine) -> float:
        """Seconds lost on a mm of an arc, as against the feed: v² = a·r, of which speeding up has its half."""
        return max(0.0, 60.0 / round_limit(machine, radius) - 1.0 / self.feed)


def pocket_seconds(
    region: Region, radius: float, section: float, depth: float, levels: int, feed: float, machine: Machine, rest: float
) -> float:
    """Least seconds for a pocket with upright walls.

    radius: of the bit; section: width times depth of the most that is before it at once, mm²; levels: how often it goes
    down; rest: allowance that finishing takes in one pass. feed: mm/min.

    At each level the ground that is swept has to be swept at no more than section · feed. What lies at its rim is only
    swept by a bit whose middle is on the rim of the ground of its middle: so the middle has to go along all of that
    rim, in whichever order and direction. On its arcs it goes no faster than the machine can, and in its sharp corners
    it all but stops. What a corner costs counts on the path as far as half the way to the nearest other one, so that
    these parts do not overlap; and as they may lie on arcs, as much is taken off the arcs, of the tightest of them.

    To a new level the bit goes straight down from a stop. On a slope it would all but stop at both ends of it, as it
    turns downward and level again, and take half a cut between them: that is longer.
    """
    pace = Pace.of(feed, machine)
    inner = offset(region, -(radius + rest))
    swept = offset(inner, radius).area if inner.loops else 0.0
    corners = [pace.cornering(turn, room) for turn, room in _corners(inner.loops)]
    arcs = [(length, pace.rounding(arc, machine)) for loop in inner.loops for length, arc in _arcs(loop)]
    on_arcs = math.fsum(length * lost for length, lost in arcs)
    on_arcs -= math.fsum(gone for _, gone in corners) * max((lost for _, lost in arcs), default=0.0)
    slow = math.fsum(lost for lost, _ in corners) + max(0.0, on_arcs)
    clearing = swept * depth / section / pace.feed + levels * (pace.turning + slow)
    walls = sum(move_seconds_of(loop, pace, machine) for loop in offset(region, -radius).loops)
    return clearing + walls


@dataclass(frozen=True)
class Outline:
    """A socket between two walls, right through a board of some thickness: its area (mm²) and its greatest and least
    width along the board (mm)."""

    area: float
    width: float
    least: float
    thick: float


def socket_seconds(
    outlines: Sequence[Outline],
    radius: float,
    section: float,
    depth: float,
    feed: float,
    machine: Machine,
    *,
    apart: float = 0.0,
    above: float,
) -> float:
    """Least seconds for sockets right through a board that stands upright, in straight lines, the walls by one pass.

    apart: way along the board from the middle of the bit in one to that in the next, above: height at which the bit
    goes over, mm. Of all plans that go in straight lines, which meet in turns of 90° and more, and that cut the walls
    inward, from the mouth, so that nothing breaks out of the show face, with the bit lifted straight up and down
    between the sockets:

    A line of length L in the wood takes away no more than section · L, whichever way it goes, and is no longer than the
    longest that there is between walls and faces, as what lies before the mouth or behind the board is no wood. To
    clear the wood, lines of P = volume / section in all are needed. At a turn of 90° or more no axis changes its speed
    by more than it can at once, so that a line begins and ends with that speed at the most. Seconds for a line grow
    slower than its length (a concave function), so that of all ways to part P into lines the longest ones take least.

    Each wall is cut from rest to rest; from the inner end of one the bit goes back to the mouth of the other; and from
    the inner end of the last, over the board, to where it stands before the mouth of the next socket.
    """
    pace = Pace.of(feed, machine)
    upward = Pace(machine.max_feed[2] / 60.0, machine.acceleration[2])
    through = pace.acceleration * JUMP_TIME
    total = 0.0
    for each in outlines:
        across, back = (max(0.0, width - 2.0 * radius) for width in (each.width, each.least))
        longest = math.hypot(across, each.thick)
        total += each.area * depth / section / longest * pace.aslant(across, each.thick, through)
        total += 2.0 * pace.over(each.thick, through) + 2.0 * upward.over(depth + above)
        total += pace.aslant(back, each.thick, through)
    return total + sum(pace.aslant(apart, each.thick + radius) for each in outlines[1:])


def sockets_of_file(file: GcodeFile, machine: Machine, rest: float) -> float:
    """Least seconds for a file of sockets upright. rest: allowance that finishing takes at each wall, mm."""
    (step,), (wide, thick, _) = file.steps, file.setup.stock
    (waste,), bit = step.wastes, step.cutter.bit
    depth = waste.may.depth
    taken = intersection(waste.may.section(-0.5 * depth), rectangle(0.0, 0.0, wide, thick))
    boxes = sorted(Region((loop,)).bounds for loop in taken.loops)
    outlines = []
    for loop, box in ((loop, Region((loop,)).bounds) for loop in taken.loops):
        area, width = Region((loop,)).area, box[2] - box[0]
        # Between straight walls: (greatest + least) / 2 · thickness.
        outlines.append(Outline(area - 2.0 * rest * thick, width, 2.0 * area / thick - width, thick))
    apart = min(after[0] - before[2] for before, after in pairwise(boxes)) + bit.diameter
    # Clamps may be as high as that; only over a short way the bit stays lower (`SHORT_HOP`, a rule of safety).
    above = step.cutter.approach if math.hypot(apart, thick + bit.radius) <= SHORT_HOP else step.cutter.clear
    section = bit.diameter**2 * machine.deepest_pass
    # Narrow cuts may be fed faster, up to what the machine does.
    feed = min(machine.max_feed[:2])
    return socket_seconds(outlines, bit.radius, section, depth, feed, machine, apart=apart, above=above)


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


def _corners(loops: Sequence[Path]) -> list[tuple[float, float]]:
    """The convex corners of the ground on the left of its outlines: by how much the path turns there (rad), and half
    of the way to the nearest other one (mm)."""
    found = [corner for loop in loops for corner in _sharp(loop)]
    return [
        (turn, 0.5 * min((abs(place - other) for n, (_, other) in enumerate(found) if n != number), default=math.inf))
        for number, (turn, place) in enumerate(found)
    ]


def _sharp(loop: Path) -> list[tuple[float, complex]]:
    """Angles (rad) by which a path turns at the convex corners of the ground on its left, and where they are."""
    rows = loop.segments().tolist()
    ways = []
    for x0, y0, x1, y1, bulge in rows:
        chord, half = math.atan2(y1 - y0, x1 - x0), 2.0 * math.atan(bulge)
        ways.append((chord - half, chord + half, complex(x1, y1)))
    turns = [
        ((after[0] - before[1] + math.pi) % math.tau - math.pi, before[2])
        for before, after in pairwise([*ways, ways[0]])
    ]
    return [turn for turn in turns if turn[0] > math.radians(5.0)]


def _arcs(loop: Path) -> list[tuple[float, float]]:
    """Length and radius of each arc of a path, mm."""
    segments = loop.as_segments()
    table = zip(segments.length.tolist(), segments.radius.tolist(), strict=True)
    return [(length, radius) for length, radius in table if math.isfinite(radius)]
