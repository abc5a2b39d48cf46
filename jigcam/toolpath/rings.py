"""Rings: where a bit's centre goes to clear a region, as a tree of nested regions from exact offsets.

The *centres* of a region are the points at least a bit radius (and the allowance) inside it; a *ring* is the boundary
of centres. The children of a node are the pieces of its centres moved in by one step.

Going round a ring clears everything from it inward by one radius r, exactly: the distance to the boundary of what an
inward offset leaves is the distance to the first boundary less the offset. What lies further in is the *core*. With a
step beyond r the band between two rings is cleared from both sides; what neither reaches is found exactly: horns in
sharp corners, which the inner ring touches by a *spur* on its way, and necks between two children, which are gone over
as *extras*. A core that one pass can clear gets a *spine* along its middle instead of a ring there and back. So neither
post nor sliver is left.

Rings have uncut wood on their right. Where one turns left, into an inside corner of the pocket, the band that it takes
lies ahead of it as well as beside it: the bit meets it before it has turned, so the last stretch before the corner is
cut slower (`stretches`).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice

import numpy as np

from jigcam.geometry import Path, Region, difference, offset
from jigcam.toolpath.loops import Point, nearest_on, place, way_is_inside
from jigcam.toolpath.spine import COVER, spines, thick

STEP = 0.85
"""Step from ring to ring in bit diameters: square corners then need no spur, up to (1 + √½)/2 = 0.853 (D)."""
SMOOTH_STEP = 0.97
"""The same where no ring has a corner."""
FIT = 5e-4
"""mm; a way through that is exactly one bit wide is taken for one: centres come this much nearer to the walls."""
CORNER = 0.2
"""rad; outlines that turn by less at a vertex have no corner there."""
SHARP = 0.6
"""rad; a ring that turns by less has no corner that loads the bit (common practice, no source)."""
SLOWER = 0.6
"""Feed into a corner, of the feed along (common practice, no source)."""
LEAST = 1e-6
"""mm; a piece of a ring shorter than this goes with the one that follows it."""
TOUCH = 0.02
"""mm by which the bit has to reach beyond a horn to clear it in one touch."""
CANDIDATES, SPURS = 4, 8
"""Spines tried for a core, and spurs that one may have."""
NEIGHBOURS = 33
"""Places tried along the way out to the tip of a horn."""


@dataclass(frozen=True, slots=True)
class Spur:
    """A detour from a ring: at the station of one of a node's paths straight out to a point and back."""

    path: int
    station: float
    point: Point


@dataclass(frozen=True, slots=True, eq=False)
class Node:
    """One connected region of centres, with what is done in it: children first, then extras, then its own paths.

    centres: empty for a spine, which clears a way but no room beside it. paths: rings (closed), or one spine, which is
    open or closed. extras: what neither this ring nor those of the
    children reach, each with one path. spurs: detours from the paths.
    """

    centres: Region
    paths: tuple[Path, ...]
    children: tuple[Node, ...] = ()
    extras: tuple[Node, ...] = ()
    spurs: tuple[Spur, ...] = ()

    def spurs_from(self, number: int, s: float) -> list[tuple[float, Point]]:
        """The detours from one of the paths: how far they are along it from station s, and where they go to."""
        path = self.paths[number]
        return sorted(
            ((spur.station - s) % path.length if path.closed else spur.station - s, spur.point)
            for spur in self.spurs
            if spur.path == number
        )

    def turned(self) -> Node:
        """The same with its first path run the other way."""
        path = self.paths[0]
        spurs = tuple(replace(s, station=path.length - s.station) if s.path == 0 else s for s in self.spurs)
        return replace(self, paths=(path.reversed(), *self.paths[1:]), spurs=spurs)

    def walk(self) -> Iterator[Node]:
        """This node and all within it, those within first."""
        for child in self.children:
            yield from child.walk()
        yield self


def rings(region: Region, radius: float, allowance: float = 0.0, step: float | None = None) -> tuple[Node, ...]:
    """The trees that clear a region with a bit of that radius, leaving the allowance at its walls; one for each piece.

    step: from ring to ring, mm, at most a diameter; by default `STEP` diameters.
    """
    return tuple(
        _grown(part, radius, step or 2.0 * radius * (STEP if has_corners(part) else SMOOTH_STEP))
        for part in centres_of(region, radius, allowance).parts
    )


def centres_of(region: Region, radius: float, allowance: float = 0.0) -> Region:
    """Where the centre of a bit may be that leaves the allowance at a region's walls, within `FIT`."""
    return offset(region, -(radius + allowance - FIT))


def has_corners(centres: Region) -> bool:
    """Whether an outline of the centres turns left at a vertex, so that rings further in keep a corner there."""
    for loop in centres.loops:
        segments = loop.as_segments()
        count = len(segments)
        ends, starts = segments.tangent(np.ones(count)), segments.tangent(np.zeros(count))
        if (np.angle(np.roll(starts, -1) / ends) > CORNER).any():
            return True
    return False


def _grown(centres: Region, radius: float, step: float) -> Node:
    """The tree within one connected region of centres."""
    ring = Node(centres, centres.loops)
    core = offset(centres, -(radius - COVER))
    if not thick(core):
        return ring
    if all(_is_narrow(part, radius) for part in core.parts):
        backbones = [_backbone(part, centres, radius) for part in core.parts]
        if all(backbones):
            return replace(ring, children=tuple(node for node in backbones if node is not None))
    inside = offset(centres, -step)
    if inside.is_empty:
        return replace(ring, children=tuple(_grown(part, radius, step) for part in thick(core)))
    children = [_grown(part, radius, step) for part in inside.parts]
    missed = thick(difference(core, offset(inside, radius - COVER)))
    extras: list[Node] = []
    for patch in missed:
        found = _spur(patch, children, centres, radius)
        if found is not None:
            child, spur = found
            children[child] = replace(children[child], spurs=(*children[child].spurs, spur))
        else:
            backbone = _backbone(patch, centres, radius)
            extras += [backbone] if backbone is not None else [Node(patch, (loop,)) for loop in patch.loops]
    return replace(ring, children=tuple(children), extras=tuple(extras))


def _backbone(core: Region, centres: Region, radius: float) -> Node | None:
    """A spine, with spurs for what it misses, that clears a narrow core within centres; None where there is none."""
    found: list[tuple[float, Node]] = []
    for path, missed in islice(spines(core, radius), CANDIDATES):
        if found and path.length >= min(length for length, _ in found):
            break
        node = Node(Region.empty(), (path,))
        spurs = [_spur(patch, [node], centres, radius) for patch in missed] if len(missed) <= SPURS else [None]
        if all(spurs):
            detours = tuple(spur for _, spur in filter(None, spurs))
            length = path.length + sum(2.0 * math.dist(place(path, spur.station), spur.point) for spur in detours)
            found.append((length, replace(node, spurs=detours)))
    return min(found, key=lambda pair: pair[0])[1] if found else None


def _is_narrow(core: Region, radius: float) -> bool:
    """Whether no point of a core is further than a radius from its boundary."""
    return offset(core, -(radius - COVER)).is_empty


def _spur(patch: Region, children: Sequence[Node], centres: Region, radius: float) -> tuple[int, Spur] | None:
    """The shortest detour from a ring of one of the children that clears a patch, and the number of that child."""
    points = np.vstack([loop.points(0.01) for loop in patch.loops])
    middle = tuple(points.mean(axis=0).tolist())
    best: tuple[float, int, Spur] | None = None
    for number, child in enumerate(children):
        index, s, _ = nearest_on(child.paths, middle)
        start = np.array(place(child.paths[index], s))
        far = points[int(np.argmax(np.hypot(*(points - start).T)))]
        for t in np.linspace(0.0, 1.0, NEIGHBOURS):
            at = start + t * (far - start)
            if float(np.hypot(*(points - at).T).max()) <= radius - TOUCH:
                length = t * float(np.hypot(*(far - start)))
                point = (float(at[0]), float(at[1]))
                if (best is None or length < best[0]) and way_is_inside(centres, tuple(start.tolist()), point):
                    best = (length, number, Spur(index, s, point))
                break
    return None if best is None else best[1:]


def stretches(path: Path, reach: float) -> Iterator[tuple[float, float, bool]]:
    """An open path in pieces: from station, to station, and whether it is one of `reach` mm that ends in a corner."""
    segments = path.as_segments()
    ends = np.cumsum(segments.length)
    turns = np.angle(segments.tangent(np.zeros(len(segments)))[1:] / segments.tangent(np.ones(len(segments)))[:-1])
    at = 0.0
    for corner in ends[:-1][turns > SHARP].tolist():
        # Between corners a reach apart only rounding would be left, a piece that has no length.
        if (before := corner - reach) - at >= LEAST:
            yield at, before, False
            at = before
        if corner - at >= LEAST:
            yield at, corner, True
        at = corner
    if ends[-1] - at >= LEAST:
        yield at, float(ends[-1]), False
