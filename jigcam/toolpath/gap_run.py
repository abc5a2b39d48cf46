"""Runs that cut gaps: clearing in lanes, finishing along the walls, terraces on walls that slope in depth.

The bit goes down in the air before the mouth, cuts inward, and comes back by the way it went: nothing is lifted inside
a gap, so a bit that undercuts can do all of this too.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from jigcam.toolpath.feeds import deeper
from jigcam.toolpath.gap import Gap, Line, Mouth
from jigcam.toolpath.track import Cutter, Run, Track

ON_WALL = 1e-3
"""mm; a lane this near to a wall's line runs along it."""
OFF_THE_WALL = 0.1
"""How far the bit leaves a finished wall before it comes back along it, mm, where there is room."""
CLEAR_OF_REST = 1.0
"""How far the bit stays off what clearing left at a wall where it goes across a gap, at the board's face, mm."""


class Side(NamedTuple):
    """One side of a gap: its line, its wall or the board's edge, and the way into the gap, +1 toward growing t."""

    line: Line
    edge: float | None
    into: float


@dataclass(slots=True)
class Trail:
    """A track in the terms of a gap: places are (e, t)."""

    track: Track
    mouth: Mouth

    @classmethod
    def starting(cls, cutter: Cutter, mouth: Mouth, e: float, t: float) -> Trail:
        """At the approach height over a place."""
        return cls(Track(cutter, *mouth.at(e, t)), mouth)

    @property
    def radius(self) -> float:
        """Of the bit."""
        return self.track.cutter.radius

    def cut(self, e: float, t: float) -> None:
        """To a place at the cutting feed."""
        self.to(e, t, self.track.cutter.feeds.feed)

    def go(self, e: float, t: float) -> None:
        """To a place through air or ground already cut, as fast as the machine feeds."""
        self.to(e, t, min(self.track.cutter.machine.max_feed[:2]))

    def to(self, e: float, t: float, feed: float) -> None:
        """To a place at a feed in mm/min."""
        x, y = self.mouth.at(e, t)
        self.track.line(x, y, self.track.z, feed)


Ending = Callable[[Trail], None]
"""What is cut at the end of a run, from where its trail is."""


class Pass(NamedTuple):
    """One level of clearing: z in mm, the gap there, its lanes from low to high, and the feed in mm/min, where it is
    not that of the bit at full width."""

    level: float
    gap: Gap
    lanes: Sequence[Line]
    feed: float | None = None


def lane_passes(
    gap: Gap, cutter: Cutter, mouth: Mouth, levels: Sequence[float], step: float, *, alike: bool = False
) -> list[Pass]:
    """The passes that clear a gap in lanes at most `step` apart: the first lane, which is as wide as the bit, at each
    of the levels, those beside it at as few as their width allows. alike: all of them at each level."""
    lanes = gap.lanes(step)
    if alike or len(lanes) < 2:
        return [Pass(level, gap, lanes) for level in levels]
    first, beside = (lanes[:1], lanes[1:]) if mouth.rising else (lanes[-1:], lanes[:-1])
    deep, feed = deeper(cutter.feeds, cutter.bit, gap.width / len(beside), cutter.machine)
    drop = levels[0] - levels[1] if len(levels) > 1 else deep
    every = max(1, math.floor(deep / drop + 1e-9))
    if every == 1:
        return [Pass(level, gap, lanes) for level in levels]
    passes = []
    for number, level in enumerate(levels, start=1):
        passes.append(Pass(level, gap, first))
        if number % every == 0 or number == len(levels):
            passes.append(Pass(level, gap, beside, feed))
    return passes


def clearing_run(
    passes: Sequence[Pass], cutter: Cutter, mouth: Mouth, *, relieve: bool = False, then: Ending | None = None
) -> Run:
    """Cuts the lanes of each pass, in descending order of levels, each lane inward and left the same way.

    Lanes are taken in the order in which all but the first cut by climb milling. relieve: go on into the corners at
    the floor at each level, so that the finishing pass finds hardly any wood in them at its full depth. then: what is
    cut next without a lift, at the last level, from the mouth.
    """
    way = 1 if mouth.rising else -1
    gap, first = passes[0].gap, passes[0].lanes[::way][0]
    trail = Trail.starting(cutter, mouth, gap.first, first.at(gap.first))
    for level, gap, lanes, feed in passes:
        for number, lane in enumerate(lanes[::way]):
            trail.go(gap.first, lane.at(gap.first))
            if number == 0:
                trail.track.sink(level)
            trail.to(gap.last, lane.at(gap.last), feed or cutter.feeds.feed)
            if relieve and gap.floor:
                _dip_beside(trail, gap, lane)
            trail.go(gap.first, lane.at(gap.first))
    if then:
        then(trail)
    return trail.track.finished()


def wall_run(
    gap: Gap, cutter: Cutter, mouth: Mouth, level: float, *, relieve: bool = False, rises: bool = False
) -> Run:
    """Finishes the walls of a gap, and its floor if it has one, at one level.

    relieve: go on into the corners at the floor until the rim of the bit passes them. rises: the bit is straight and
    the gap was cleared before: so it goes straight over to the next wall, and up where the last one ends.
    """
    trail = Trail.starting(cutter, mouth, gap.first, gap.low.at(gap.first))
    trail.track.sink(level)
    along_walls(trail, gap, relieve=relieve, rises=rises)
    return trail.track.finished()


def along_walls(trail: Trail, gap: Gap, *, relieve: bool = False, rises: bool = False, turned: bool = False) -> None:
    """Finishes walls and floor as `wall_run` does, at the height of the trail, which is at the mouth.

    turned: the wall at high t comes first, and that at low t last.
    """
    sides = sides_of(gap)[::-1] if turned else sides_of(gap)
    walls = [side for side in sides if side.edge is None]
    for number, side in enumerate(walls):
        trail.go(gap.first, side.line.at(gap.first))
        trail.cut(gap.last, side.line.at(gap.last))
        if rises and not gap.floor and (side is walls[-1] or crosses(gap)):
            trail.go(gap.last, side.line.at(gap.last) + _off(gap, side))
            continue
        if relieve and gap.floor:
            _dip(trail, gap, side)
        if gap.floor and number == 0 and len(walls) == 2:
            trail.cut(gap.last, walls[1].line.at(gap.last))
            _leave(trail, gap, walls[1])
        else:
            _leave(trail, gap, side)
    if gap.floor:
        for wall, edge in (sides[::-1], sides):
            if edge.edge is not None and wall.edge is None:
                _floor_from_the_edge(trail, gap, wall, edge.edge)


def terrace_run(
    gap_at: Callable[[float], Gap], cutter: Cutter, mouth: Mouth, levels: Sequence[float], *, relieve: bool = False
) -> Run:
    """Goes round the walls and the floor of a gap between two walls at each level, to and fro.

    gap_at: the gap at a level; it narrows with depth, so each terrace is cut to its own bottom. The chips are thin, so
    the way out along a wall breaks nothing out.
    """
    first = gap_at(levels[0])
    trail = Trail.starting(cutter, mouth, first.first, first.low.at(first.first))
    for number, level in enumerate(levels):
        gap = gap_at(level)
        sides = sides_of(gap)[:: 1 if number % 2 == 0 else -1]
        trail.go(gap.first, sides[0].line.at(gap.first))
        trail.track.sink(level)
        for side in sides:
            trail.cut(gap.last, side.line.at(gap.last))
            if relieve:
                _dip(trail, gap, side)
        trail.cut(gap.first, sides[1].line.at(gap.first))
    return trail.track.finished()


def crossing_run(
    cutter: Cutter, mouth: Mouth, lanes: Sequence[float], width: float, levels: Sequence[float], lead: float
) -> Run:
    """Clears a strip along the mouth, right across the board: lanes at fixed e, each cut from both edges to the middle.

    width: of the board along t, mm. lead: from an edge to the rim of the bit outside it. Both edges are met from
    outside, so that neither breaks out.
    """
    outside = cutter.radius + lead
    trail = Trail.starting(cutter, mouth, lanes[0], -outside)
    for level in levels:
        for start in (-outside, width + outside):
            if (start, level) != (-outside, levels[0]):
                trail.track.hop(*mouth.at(lanes[0], start))
            trail.track.sink(level)
            for e in lanes:
                trail.go(e, start)
                trail.cut(e, 0.5 * width)
                trail.go(e, start)
    return trail.track.finished()


def sides_of(gap: Gap) -> tuple[Side, Side]:
    """The sides at low and at high t."""
    return Side(gap.low, gap.low_edge, 1.0), Side(gap.high, gap.high_edge, -1.0)


def _leave(trail: Trail, gap: Gap, side: Side) -> None:
    """Off the wall a little, where there is room, and out to the mouth."""
    off = _off(gap, side)
    back = gap.last - (OFF_THE_WALL if gap.floor else 0.0)
    trail.go(back, side.line.at(back) + off)
    trail.go(gap.first, side.line.at(gap.first) + off)


def _off(gap: Gap, side: Side) -> float:
    return side.into * max(0.0, min(OFF_THE_WALL, gap.least_width))


def crosses(gap: Gap) -> bool:
    """Whether the way from the end of one wall to the mouth of the other is clear of what is left there."""
    return gap.least_width * -gap.first / (gap.last - gap.first) >= CLEAR_OF_REST


def _floor_from_the_edge(trail: Trail, gap: Gap, wall: Side, edge: float) -> None:
    """Along the floor from outside the board's edge to the corner, and out along the wall."""
    # Beside a narrow half pin the middle of the bit stays outside the edge all the way: its side says where that is.
    outside = edge + wall.into * -gap.first
    trail.go(gap.first, outside)
    trail.go(gap.last, outside)
    trail.cut(gap.last, wall.line.at(gap.last))
    _leave(trail, gap, wall)


def _dip_beside(trail: Trail, gap: Gap, lane: Line) -> None:
    """Into the corners of the walls along which a lane runs, and back to its end."""
    for side in sides_of(gap):
        if side.edge is None and abs(lane.at(gap.last) - side.line.at(gap.last)) < ON_WALL:
            _dip(trail, gap, side)


def _dip(trail: Trail, gap: Gap, side: Side) -> None:
    """From where the bit touches wall and floor along the bisector until its rim passes the corner, and back."""
    norm = math.hypot(1.0, side.line.slope)
    along_wall, along_floor = (-1.0 / norm, -side.line.slope / norm), (0.0, side.into)
    bx, by = along_wall[0] + along_floor[0], along_wall[1] + along_floor[1]
    length = math.hypot(bx, by)
    half_angle = 0.5 * math.acos(along_wall[0] * along_floor[0] + along_wall[1] * along_floor[1])
    deeper = trail.radius * (1.0 / math.sin(half_angle) - 1.0) / length
    e, t = gap.last, side.line.at(gap.last)
    trail.cut(e - deeper * bx, t - deeper * by)
    trail.cut(e, t)
