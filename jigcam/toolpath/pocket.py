"""Pockets: a region cleared ring by ring from the inside out, in passes, then finished along its walls at full depth.

Rings run anticlockwise along outlines and clockwise round islands, with the wall on the right of the way: climb
milling; conventional roughing is planned in the mirror. From ring to ring the bit steps sideways without lifting; to
another piece of the region it goes through cleared ground where the straight way stays in it, and over the stock where
it does not.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence

import numpy as np

from jigcam.geometry import Path, Region, offset
from jigcam.toolpath.direction import MIRROR, mirrored
from jigcam.toolpath.entry import fits_ramp, helix, ramp_round, zigzag
from jigcam.toolpath.links import smooth_link
from jigcam.toolpath.loops import Point, calm_station, heading, nearest_on, place, round_from, station, way_is_inside
from jigcam.toolpath.outline import finish_ring, within
from jigcam.toolpath.rings import SLOWER, Node, centres_of, rings, stretches
from jigcam.toolpath.slot import Air
from jigcam.toolpath.track import AIR_GAP, Cutter, Run, Track
from jigcam.values import dataclass

ALLOWANCE = 0.2
"""mm left at the walls for the finishing pass (common practice, no source)."""
CLEAR_OF_STOCK = 1.0
"""mm between the bit's edge and the stock at which it counts as in air."""
SAME = 1e-6
"""mm; two places nearer than this are one."""
SLOTTED = 60.0
"""mm; over less than this the bit cuts its way to the next piece of a pocket rather than lift and ramp in anew."""
CRAWL = 2.0 * math.pi
"""Length of a loop, in bit radii, under which the bit is slow on it: one as tight as the bit itself."""
UNUSED = 2
"""Moves of a track that has not begun to cut: over and down to the approach height."""
SHORTEST_ZIGZAG = 0.5
"""Length of a line, in bit radii, under which a helix is the better way down."""


@dataclass(frozen=True, slots=True)
class Pocket:
    """What clearing and finishing a region amounts to: runs in any order, but the rough ones first."""

    rough: tuple[Run, ...]
    finish: tuple[Run, ...]
    allowance: float


def pocket(
    region: Region,
    cutter: Cutter,
    levels: Sequence[float],
    *,
    finish_levels: Sequence[float] | None = None,
    allowance: float = ALLOWANCE,
    air: Air | None = None,
) -> Pocket:
    """Clears a region at each level (z, mm, descending) and goes round its walls at the finishing levels.

    finish_levels: by default the last level alone, the full depth. Where the allowance would close a way through the
    region, there is none. air: where the region runs off the stock; runs start there if they can, and climb whatever
    the machine wants: conventional milling would break out the edge by which it leaves.
    """
    radius = cutter.radius
    centres = centres_of(region, radius)
    if allowance > 0.0 and _closes(centres, allowance, radius):
        allowance = 0.0
    if air is None and cutter.machine.roughing == "conventional":
        trees = rings(region.transformed(MIRROR), radius, allowance)
        rough = tuple(mirrored(_cleared(tree, cutter, levels, air)) for tree in trees)
    else:
        rough = tuple(_cleared(tree, cutter, levels, air) for tree in rings(region, radius, allowance))
    last = levels[-1:] if finish_levels is None else finish_levels
    finish = tuple(
        finish_ring(loop, cutter, last, within(centres), (allowance, math.inf), start=in_air(loop, air))
        for loop in centres.loops
    )
    return Pocket(rough, finish, allowance)


def _closes(centres: Region, allowance: float, radius: float) -> bool:
    """Whether roughing with that allowance leaves a part of the centres so far off that finishing would be a full cut.

    Sharp corners, which every allowance leaves a little fuller, do not count.
    """
    roughed = offset(offset(centres, -allowance), allowance + 0.5 * radius)
    if roughed.is_empty:
        return True
    points = np.vstack([loop.points(0.01) for loop in centres.loops])
    return bool((roughed.signed_distance(points) < 0.0).any())


def in_air(loop: Path, air: Air | None) -> float | None:
    """The station of a loop that is furthest out in air, if the bit is clear of the stock there."""
    if air is None:
        return None
    stations = np.linspace(0.0, loop.length, max(64, math.ceil(loop.length)), endpoint=False)
    clear = air(loop.at(stations)[0])
    best = int(np.argmax(clear))
    return float(stations[best]) if clear[best] >= CLEAR_OF_STOCK else None


def _cleared(tree: Node, cutter: Cutter, levels: Sequence[float], air: Air | None) -> Run:
    """One run that clears one connected piece at each level."""
    work = _Clearing(tree, cutter, levels[0], air)
    for level in levels:
        work.node(tree, level)
        work.floor = level
    return work.track.finished()


class _Clearing:
    """The state of clearing one piece: where the bit is, and how deep the floor is that all of the piece has."""

    def __init__(self, tree: Node, cutter: Cutter, first_level: float, air: Air | None) -> None:
        self.tree, self.cutter, self.air = tree, cutter, air
        self.floor = 0.0
        self.feed = cutter.feeds.feed
        self.fast = min(cutter.machine.max_feed[:2])
        first = next(tree.walk()).paths[0]
        in_the_air = in_air(first, air) if first.closed else None
        calm = calm_station(first) if first.closed else 0.0
        start = place(first, calm if in_the_air is None else in_the_air)
        way_in = self._way_in(first, calm, first_level, start) if in_the_air is None else None
        self.track = Track(cutter, *(start if way_in is None else way_in.start))

    def node(self, node: Node, level: float) -> None:
        """Everything within the node's ring, nearest first, then the ring."""
        done: list[Node] = []
        left = [*node.children, *node.extras]
        while left:
            # An extra lies beside a child and is reached from there, so a child comes first.
            ready = left if done else list(node.children)
            each = min(ready, key=lambda one: nearest_on(one.paths, self.track.point)[2])
            left.remove(each)
            if each in node.children:
                self.node(each, level)
                done.append(each)
            else:
                self._extra(node, each, done, level)
        rings_left = list(range(len(node.paths)))
        if not node.children:
            self._first(node, level)
            del rings_left[0]
        while rings_left:
            self._next_ring(node, rings_left, level)

    def _first(self, node: Node, level: float) -> None:
        """Onto the first path of a node without children, where it is nearest, and along it."""
        path = node.paths[0]
        if not path.closed and self._is_better_turned(path, level):
            node = node.turned()
            path = node.paths[0]
        s = 0.0
        if path.closed:
            fresh = len(self.track.moves) == UNUSED
            s = calm_station(path) if fresh else nearest_on([path], self.track.point)[1]
        if not (self._is_down(level) and self._slotted(place(path, s), self.tree.centres, level)):
            s = self._go_down(path, s, level)
        follow_with_spurs(self.track, node, 0, s)

    def _is_better_turned(self, path: Path, level: float) -> bool:
        """Whether the bit had better run an open path backward: from air if only one end lies there, else from near."""
        starts = [path.start, path.end]
        from_air = [self._is_in_air(start) for start in starts]
        if from_air[0] != from_air[1]:
            return from_air[1]
        if not self._is_down(level):
            ways = [self._way_in(each, 0.0, level, self.track.point) for each in (path, path.reversed())]
            starts = [start if way is None else way.start for start, way in zip(starts, ways, strict=True)]
        return math.dist(starts[1], self.track.point) < math.dist(starts[0], self.track.point)

    def _go_down(self, path: Path, s: float, level: float) -> float:
        """From above down to the level on a path, at a station or in air; gives the station where the bit then is."""
        out = in_air(path, self.air) if path.closed else None
        s = s if out is None else out
        start = place(path, s)
        if self._is_in_air(start):
            self._over(start)
            self.track.sink(level)
            return s
        way_in = self._way_in(path, s, level, self.track.point)
        self._over(start if way_in is None else way_in.start)
        self.track.sink(self.floor + AIR_GAP)
        if way_in is not None:
            self.track.follow(way_in, self.feed, level)
            return s
        if not path.closed and path.length > SHORTEST_ZIGZAG * self.cutter.radius:
            zigzag(self.track, path, level)
            return s
        if path.closed and fits_ramp(self.track, path, level):
            return ramp_round(self.track, path, s, level)
        self._helix(path, level)
        self.track.line(*start, level, self.feed)
        return s

    def _is_in_air(self, point: Point) -> bool:
        """Whether the bit is clear of the stock there."""
        return self.air is not None and bool(self.air(np.array([point]))[0] >= CLEAR_OF_STOCK)

    def _way_in(self, path: Path, s: float, level: float, here: Point) -> Path | None:
        """A way as long as a ramp that ends on a path at a station, so that the bit goes down without turning back.

        On an open path it is the path's own first piece, run backward. To a small loop, on which the bit would crawl
        round and round, it is straight: on from where the bit is, or along the loop's direction, or from any side. None
        for other loops, which are ramps themselves, and where there is no room.
        """
        length = (self.floor + AIR_GAP - level) / math.tan(self.cutter.feeds.ramp_angle)
        if length <= SAME or (path.closed and path.length > CRAWL * self.cutter.radius):
            return None
        if not path.closed and path.length >= length:
            return path.substring(0.0, length).reversed()
        end = complex(*place(path, s))
        ways = [complex(*heading(path, s)) * cmath.exp(0.25j * math.pi * turn) for turn in (0, 1, -1, 2, -2, 3, -3, 4)]
        from_here = end - complex(*here)
        if abs(from_here) >= length:
            ways.insert(0, from_here / abs(from_here))
        starts = [end - length * way for way in ways]
        start = next((z for z in starts if way_is_inside(self.tree.centres, (z.real, z.imag), place(path, s))), None)
        return None if start is None else Path.through([(start.real, start.imag), place(path, s)])

    def _is_down(self, level: float) -> bool:
        """Whether the bit is at the level already."""
        return self.track.z <= level + SAME

    def _slotted(self, point: Point, ground: Region, level: float) -> bool:
        """Cuts straight to a point at the level, if it is not far and the way stays in the ground."""
        if math.dist(self.track.point, point) > SLOTTED or not way_is_inside(ground, self.track.point, point):
            return False
        self.track.line(*point, level, self.feed)
        return True

    def _helix(self, path: Path, level: float) -> None:
        """Down on a circle round the middle of a short path, as wide as the bit if the centres have room for it."""
        x, y = path.points(0.01).mean(axis=0).tolist()
        room = float(self.tree.centres.signed_distance([(x, y)])[0])
        radius = min(0.95 * self.cutter.radius, room)
        self.track.line(x + radius, y, self.track.z, self.feed)
        helix(self.track, (x, y), radius, level)

    def _next_ring(self, node: Node, left: list[int], level: float) -> None:
        """Over to the nearest of the rings that are left, and round it; takes it off the list."""
        index, s, gap = nearest_on([node.paths[number] for number in left], self.track.point)
        number = left.pop(index)
        loop = node.paths[number]
        if not way_is_inside(node.centres, self.track.point, place(loop, s)):
            s = self._by_the_children(node, node.children, loop, level)
        elif gap > SAME and (way := self._heading()) is not None:
            link = smooth_link(self.track.point, way, loop, s, gap, node.centres, self.cutter)
            if link is not None:
                self.track.follow(link[0], self.feed)
                s = link[1]
        self.track.line(*place(loop, s), level, self.feed)
        follow_with_spurs(self.track, node, number, s)

    def _by_the_children(self, node: Node, done: Sequence[Node], path: Path, level: float) -> float:
        """Onto a path through ground that children of the node have cleared, else down anew; gives the station."""
        if done:
            inner = [each for child in done for each in child.paths]
            s, beside = _closest(path, inner) if path.closed else (0.0, _foot(inner, path.start))
            if way_is_inside(node.centres, beside, place(path, s)):
                self._through(done, beside, level)
                self.track.line(*place(path, s), level, self.feed)
                return s
        return self._go_down(path, nearest_on([path], self.track.point)[1] if path.closed else 0.0, level)

    def _heading(self) -> Point | None:
        """The direction in which the bit last went, level."""
        before, last = self.track.moves[-2:]
        if last.kind == "arc":
            sign = 1.0 if last.ccw else -1.0
            dx, dy = -sign * (last.y - last.cy), sign * (last.x - last.cx)
        else:
            dx, dy = last.x - before.x, last.y - before.y
        size = math.hypot(dx, dy)
        return (dx / size, dy / size) if size > SAME else None

    def _extra(self, node: Node, extra: Node, done: Sequence[Node], level: float) -> None:
        """A pass between two children, from where the bit is or from the ground that they have cleared."""
        path = extra.paths[0]
        if not path.closed and self._is_better_turned(path, level):
            extra = extra.turned()
            path = extra.paths[0]
        s = nearest_on([path], self.track.point)[1] if path.closed else 0.0
        if not self._slotted(place(path, s), node.centres, level):
            s = self._by_the_children(node, done, path, level)
        follow_with_spurs(self.track, extra, 0, s)

    def _through(self, done: Sequence[Node], point: Point, level: float) -> None:
        """To a point in the ground that some nodes have cleared at this level."""
        if math.dist(self.track.point, point) < SAME:
            return
        cleared = Region(tuple(loop for each in done for loop in each.centres.loops))
        if way_is_inside(cleared, self.track.point, point):
            self.track.line(*point, level, self.fast)
        else:
            self._over(point)
            self.track.sink(level)

    def _over(self, point: Point) -> None:
        """To above a place, no higher than needed: over the floor or low over the stock if the way stays within."""
        if math.dist(self.track.point, point) < SAME and self.track.z > self.floor:
            return
        floor = self.floor + AIR_GAP
        if not way_is_inside(self.tree.centres, self.track.point, point):
            self.track.hop(*point)
        elif self.floor < 0.0 and self.track.z <= floor:
            if self.track.z < self.floor - SAME:
                self.track.line(*self.track.point, floor, self.cutter.machine.max_feed[2])
            # Where all of the floor is at this depth, the bit rises on its way.
            self.track.line(*point, floor, self.fast)
        else:
            self.track.hop(*point, low=True)


def follow_with_spurs(track: Track, node: Node, number: int, s: float) -> None:
    """Along one path of a node, from station s all round, or from the start of an open one, and out to each spur."""
    path, feed = node.paths[number], track.cutter.feeds.feed
    whole = round_from(path, s) if path.closed else path
    at = 0.0
    for there, point in [*node.spurs_from(number, s), (path.length, None)]:
        if there - at > SAME:
            piece = whole if (at, there) == (0.0, path.length) else whole.substring(at, there)
            for start, end, corner in stretches(piece, track.cutter.radius):
                part = piece if (start, end) == (0.0, piece.length) else piece.substring(start, end)
                track.follow(part, feed * (SLOWER if corner else 1.0))
            at = there
        if point is not None:
            back = track.point
            track.line(*point, track.z, feed)
            track.line(*back, track.z, feed)


def _foot(paths: Sequence[Path], point: Point) -> Point:
    """The point of any of the paths that is nearest to a point."""
    index, s, _ = nearest_on(paths, point)
    return place(paths[index], s)


def _closest(loop: Path, others: Sequence[Path]) -> tuple[float, Point]:
    """Station of a loop where it is nearest to any of the others, and the point of the other there."""
    points = loop.points(0.05)
    gaps = np.array([other.distance(points) for other in others])
    which, nearest = np.unravel_index(int(np.argmin(gaps)), gaps.shape)
    at = (float(points[nearest, 0]), float(points[nearest, 1]))
    other = others[int(which)]
    return station(loop, at), place(other, station(other, at))
