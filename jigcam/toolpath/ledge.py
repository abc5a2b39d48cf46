"""A ledge: ground lowered along the edge of a board, as a rabbet is. It is cut from the air beside the edge.

Words: *e* is the distance from the edge into the board, *t* the place along it; the *shoulder* is the wall at the far
side of the ledge. An end of the ledge is open, where it runs off the board, or stopped by a wall. Lanes run along the
edge, from the outermost to the shoulder, all in the direction that the machine wants: the ledge is seen from the end
from which this is the way along. At the end at which they arrive the ground is opened before, inward: so no pass leaves
the board through uncut wood, and none ends in cusps.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from jigcam.kit.machine import Direction
from jigcam.toolpath.gap import Mouth
from jigcam.toolpath.gap_run import OFF_THE_WALL, Trail
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.operations import operation
from jigcam.toolpath.outline import finishing_feed, finishing_note
from jigcam.toolpath.pocket import ALLOWANCE
from jigcam.toolpath.program import Operation
from jigcam.toolpath.track import Cutter, Run
from jigcam.units import Voice

LANE = 0.6
"""Most that a lane takes, in bit diameters (common practice, no source)."""
LEAD = 2.0
"""How far the rim of the bit stays off the board where a pass begins or ends outside it, mm."""
BITE = 1.0
"""How far an open end is opened inward before the lanes arrive there, in bit diameters."""


@dataclass(frozen=True, slots=True)
class Ledge:
    """A ledge along an edge, mm. mouth: from (e, t) to the frame of the moves.

    width: along e. low, high: where it begins and ends along t. open_low, open_high: whether it runs off the board
    there.
    """

    mouth: Mouth
    width: float
    low: float
    high: float
    open_low: bool
    open_high: bool

    def seen_for(self, direction: Direction) -> Ledge:
        """The same, with t turned round where that makes milling toward growing t go in the direction wanted.

        Climbing, the wood is on the right of the way: where t grows to the left of the way inward.
        """
        if self.mouth.rising == (direction == "conventional"):
            return self
        (a, b, c), (d, e, f) = self.mouth.matrix
        mouth = Mouth(((a, -b, c), (d, -e, f)))
        return Ledge(mouth, self.width, -self.high, -self.low, self.open_high, self.open_low)

    def centres(self, radius: float, allowance: float) -> tuple[float, float]:
        """t of the bit's middle at both ends: off the board at open ones, the allowance within stopped ones."""
        room = max(0.0, 0.5 * (self.high - self.low) - radius)
        inset = radius + min(allowance, room)
        off = radius + LEAD
        return (
            self.low - off if self.open_low else self.low + inset,
            self.high + off if self.open_high else self.high - inset,
        )


def ledge_operations(ledge: Ledge, depth: float, cutter: Cutter, voice: Voice) -> tuple[Operation, ...]:
    """Clears a ledge `depth` mm deep in lanes, then finishes its shoulder and stopped ends in one pass."""
    machine = cutter.machine
    levels = even_levels(depth, cutter.feeds.depth_per_pass)
    quick = replace(cutter, feeds=replace(cutter.feeds, feed=finishing_feed(cutter, ALLOWANCE)))
    finish = _finishing_run(ledge.seen_for(machine.finishing), -depth, quick)
    done = operation("finish the shoulder", cutter, [finish], finishing_note(cutter, [finish], voice))
    rough = ledge.seen_for(machine.roughing)
    lanes = lanes_of(ledge.width, cutter)
    if not lanes:
        return (done,)
    passes = f"{len(levels)} passes" if len(levels) > 1 else "One pass"
    beside = f"{', each' * (len(levels) > 1)} in {len(lanes)} lanes side by side" if len(lanes) > 1 else ""
    note = f"{passes}{beside}, {machine.roughing}; {_inward(ledge)}"
    return operation("clear the step", cutter, [_clearing_run(rough, lanes, levels, cutter)], note), done


def lanes_of(width: float, cutter: Cutter) -> list[float]:
    """e of the bit's middle in each lane, ascending, each taking as much, up to the allowance at the shoulder."""
    waste = width - ALLOWANCE
    count = math.ceil(waste / (LANE * cutter.bit.diameter) - 1e-9)
    return [number / count * waste - cutter.radius for number in range(1, count + 1)]


def _inward(ledge: Ledge) -> str:
    ends = [ledge.open_low, ledge.open_high]
    if all(ends):
        return "both ends are met from outside, so that neither breaks out."
    if any(ends):
        return "the open end is met from outside, so that it does not break out."
    return "in from the edge at both ends."


def _clearing_run(ledge: Ledge, lanes: Sequence[float], levels: Sequence[float], cutter: Cutter) -> Run:
    """All lanes at each level (z, mm, descending)."""
    first, last = ledge.centres(cutter.radius, ALLOWANCE)
    outside = -(cutter.radius + LEAD)
    trail: Trail | None = None
    for level in levels:
        inner = lanes[-1]
        trail = _down(trail, ledge, cutter, level, lanes[0] if ledge.open_high else outside, last)
        if ledge.open_high:
            for lane in lanes:
                trail.go(lane, last)
                trail.cut(lane, _bitten(ledge, cutter))
                trail.go(lane, last)
        else:
            trail.cut(inner, last)
        reached = outside
        for lane in lanes:
            trail = _down(trail, ledge, cutter, level, lane if ledge.open_low else outside, first)
            if not ledge.open_low:
                trail.go(reached, first)
                trail.cut(lane, first)
            trail.cut(lane, last)
            reached = lane
    assert trail is not None, "there is a level"
    return trail.track.finished()


def _finishing_run(ledge: Ledge, level: float, cutter: Cutter) -> Run:
    """Along the walls at one level: the end at which it arrives first, inward, then the other end and the shoulder."""
    first, last = ledge.centres(cutter.radius, 0.0)
    outside = -(cutter.radius + LEAD)
    shoulder = ledge.width - cutter.radius
    trail = _down(None, ledge, cutter, level, shoulder if ledge.open_high else outside, last)
    trail.cut(shoulder, _bitten(ledge, cutter) if ledge.open_high else last)
    _off_the_walls(trail, ledge, cutter)
    trail = _down(trail, ledge, cutter, level, shoulder if ledge.open_low else outside, first)
    if not ledge.open_low:
        trail.cut(shoulder, first)
    trail.cut(shoulder, last)
    if not ledge.open_high:
        _off_the_walls(trail, ledge, cutter)
    return trail.track.finished()


def _down(trail: Trail | None, ledge: Ledge, cutter: Cutter, level: float, e: float, t: float) -> Trail:
    """Over to a place in air or in ground that is cut, and down to a level there."""
    if trail is None:
        trail = Trail.starting(cutter, ledge.mouth, e, t)
    else:
        trail.track.hop(*ledge.mouth.at(e, t))
    trail.track.sink(level)
    return trail


def _bitten(ledge: Ledge, cutter: Cutter) -> float:
    """t of the bit's middle where the bite into the open end at high t stops."""
    return ledge.high - min(BITE * cutter.bit.diameter, 0.5 * (ledge.high - ledge.low))


def _off_the_walls(trail: Trail, ledge: Ledge, cutter: Cutter) -> None:
    """A little away from shoulder and stopped end before the bit is lifted, where there is room."""
    first, last = ledge.centres(cutter.radius, 0.0)
    away = ledge.width - cutter.radius - OFF_THE_WALL
    trail.go(away, _bitten(ledge, cutter) if ledge.open_high else max(first, last - OFF_THE_WALL))
