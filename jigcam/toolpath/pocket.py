"""Pockets: a region cleared ring by ring from the inside out, in passes, then finished along its walls at full depth.

Rings run anticlockwise along outlines and clockwise round islands, with the wall on the right of the way: climb
milling. From ring to ring the bit steps sideways without lifting; to another piece of the region it goes through
cleared ground where the straight way stays in it, and over the stock where it does not.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from jigcam.geometry import Path, Region, offset
from jigcam.toolpath.entry import fits_ramp, helix, ramp_round
from jigcam.toolpath.loops import Point, calm_station, nearest_on, place, round_from, station, way_is_inside
from jigcam.toolpath.outline import finish_ring, within
from jigcam.toolpath.rings import Node, rings
from jigcam.toolpath.track import AIR_GAP, Cutter, Run, Track

ALLOWANCE = 0.2
"""mm left at the walls for the finishing pass (common practice, no source)."""
CLEAR_OF_STOCK = 1.0
"""mm between the bit's edge and the stock at which it counts as in air."""
TOUCH = 0.02
"""mm by which the bit has to reach beyond a patch to clear it in one touch."""
SAME = 1e-6
Air = Callable[[np.ndarray], np.ndarray]
"""From points (k, 2) to how far the bit's edge is clear of the stock there, mm, negative over it."""


@dataclass(frozen=True, slots=True)
class Pocket:
    """What clearing and finishing a region amounts to: runs in any order, but the rough ones first."""

    rough: tuple[Run, ...]
    finish: tuple[Run, ...]
    allowance: float


def pocket(region: Region, cutter: Cutter, levels: Sequence[float], *, finish_levels: Sequence[float] | None = None,
           allowance: float = ALLOWANCE, air: Air | None = None) -> Pocket:  # fmt: skip
    """Clears a region at each level (z, mm, descending) and goes round its walls at the finishing levels.

    finish_levels: by default the last level alone, the full depth. Where the allowance would close a way through the
    region, there is none. air: where the region runs off the stock; runs start there if they can.
    """
    radius = cutter.radius
    centres = offset(region, -radius)
    if allowance > 0.0 and _closes(centres, allowance):
        allowance = 0.0
    rough = tuple(_cleared(tree, cutter, levels, air) for tree in rings(region, radius, allowance))
    last = levels[-1:] if finish_levels is None else finish_levels
    finish = tuple(
        finish_ring(loop, cutter, last, within(centres), (allowance, math.inf), start=in_air(loop, air))
        for loop in centres.loops
    )
    return Pocket(rough, finish, allowance)


def _closes(centres: Region, allowance: float) -> bool:
    """Whether roughing with that allowance would miss a part of the centres by more than the allowance."""
    roughed = offset(offset(centres, -allowance), 1.5 * allowance)
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
    work = _Clearing(tree, cutter, air)
    for level in levels:
        work.node(tree, level)
        work.floor = level
    return work.track.finished()


class _Clearing:
    """The state of clearing one piece: where the bit is, and how deep the floor is that all of the piece has."""

    def __init__(self, tree: Node, cutter: Cutter, air: Air | None) -> None:
        self.tree, self.cutter, self.air = tree, cutter, air
        self.floor = 0.0
        self.feed = cutter.feeds.feed
        self.entries = {id(node): self._entry(node) for node in tree.walk() if not node.children}
        first = next(tree.walk())
        self.track = Track(cutter, *place(first.centres.loops[0], self.entries[id(first)]))

    def node(self, node: Node, level: float) -> None:
        """Everything within the node's ring, then the ring."""
        loops = list(node.centres.loops)
        if node.children:
            for child in node.children:
                self.node(child, level)
            for patch in node.patches:
                self._patch(node, patch, level)
        else:
            first = loops.pop(0)
            self.track.follow(round_from(first, self._enter(node, level)), self.feed)
        while loops:
            self._next_ring(node, loops, level)

    def _entry(self, node: Node) -> float:
        """Where to go down on the first ring of a node without children: in air, or on a calm stretch."""
        loop = node.centres.loops[0]
        station = in_air(loop, self.air)
        return calm_station(loop) if station is None else station

    def _enter(self, node: Node, level: float) -> float:
        """Down to the level on the first ring of a node; gives the station where the bit then is."""
        loop, s = node.centres.loops[0], self.entries[id(node)]
        start = place(loop, s)
        self._over_the_floor(start)
        if self.air is not None and self.air(np.array([start]))[0] >= CLEAR_OF_STOCK:
            self.track.sink(level)
            return s
        self.track.sink(self.floor + AIR_GAP)
        if fits_ramp(self.track, loop, level):
            return ramp_round(self.track, loop, s, level)
        self._helix(loop, level)
        self.track.line(*start, level, self.feed)
        return s

    def _helix(self, loop: Path, level: float) -> None:
        """Down on a circle in the middle of a loop, half a bit across if the centres have room for it."""
        x, y = loop.points(0.01).mean(axis=0).tolist()
        room = float(self.tree.centres.signed_distance([(x, y)])[0])
        radius = min(0.5 * self.cutter.radius, room)
        self.track.line(x + radius, y, self.track.z, self.feed)
        helix(self.track, (x, y), radius, level)

    def _next_ring(self, node: Node, loops: list[Path], level: float) -> None:
        """Over to the nearest of the loops, and round it; takes it off the list."""
        index, s, _ = nearest_on(loops, self.track.point)
        loop = loops.pop(index)
        if not way_is_inside(node.centres, self.track.point, place(loop, s)):
            if node.children:
                s, beside = _closest(loop, node.inner)
                self._through(node, beside, level)
            else:
                s = calm_station(loop)
                self._over_the_floor(place(loop, s))
                self.track.sink(self.floor + AIR_GAP)
                s = ramp_round(self.track, loop, s, level)
        self.track.line(*place(loop, s), level, self.feed)
        self.track.follow(round_from(loop, s), self.feed)

    def _patch(self, node: Node, patch: Region, level: float) -> None:
        """A piece that neither this ring nor the next one reaches: a touch at its middle, or all round it."""
        for loop in patch.loops:
            points = loop.points(0.01)
            s, beside = _closest(loop, node.inner)
            self._through(node, beside, level)
            spread = np.hypot(*(points[:, None] - points[None, :]).T).max(axis=0)
            x, y = points[int(np.argmin(spread))].tolist()
            if spread.min() < self.cutter.radius - TOUCH and way_is_inside(node.centres, beside, (x, y)):
                self.track.line(x, y, level, self.feed)
            else:
                self.track.line(*place(loop, s), level, self.feed)
                self.track.follow(round_from(loop, s), self.feed)
            self.track.line(*beside, level, self.feed)

    def _through(self, node: Node, point: Point, level: float) -> None:
        """To a point in the ground that the node's children have cleared at this level."""
        if math.dist(self.track.point, point) < SAME:
            return
        cleared = Region(tuple(loop for child in node.children for loop in child.centres.loops))
        if way_is_inside(cleared, self.track.point, point):
            self.track.line(*point, level, min(self.cutter.machine.max_feed[:2]))
        else:
            self.track.hop(*point)
            self.track.sink(level)

    def _over_the_floor(self, point: Point) -> None:
        """To a place where the next level is to be entered: over the floor if the way stays within it, else higher."""
        if math.dist(self.track.point, point) < SAME:
            return
        floor = self.floor + AIR_GAP
        if self.floor < 0.0 and self.track.z <= floor and way_is_inside(self.tree.centres, self.track.point, point):
            x, y = self.track.point
            self.track.line(x, y, floor, self.cutter.machine.max_feed[2])
            self.track.line(*point, floor, min(self.cutter.machine.max_feed[:2]))
        else:
            self.track.hop(*point)


def _closest(loop: Path, others: Sequence[Path]) -> tuple[float, Point]:
    """Station of a loop where it is nearest to any of the others, and the point of the other there."""
    points = loop.points(0.05)
    gaps = np.array([other.distance(points) for other in others])
    which, nearest = np.unravel_index(int(np.argmin(gaps)), gaps.shape)
    at = (float(points[nearest, 0]), float(points[nearest, 1]))
    other = others[int(which)]
    return station(loop, at), place(other, station(other, at))
