"""The virtual cut against the drawing: at every height that matters, what is cut too much and what is left.

Words: a *bite* is wood cut that had to stay, measured to where it was allowed, sideways or up, whichever is less;
*left* is wood that had to go, measured to the swept ground, sideways or up; *for the chisel* is what no path of the
bits used could have reached without a bite.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from jigcam.geometry import Region, difference, intersection, offset, union
from jigcam.proof.envelope import Envelope
from jigcam.proof.gouge import bites
from jigcam.proof.left import Left, Swept, thickest_left
from jigcam.proof.outline import Outline
from jigcam.proof.strokes import Strokes
from jigcam.proof.target import INSIDE, Layer, Mark, Target
from jigcam.proof.travel import Travel
from jigcam.tolerances import TOLERANCES

MOST_HEIGHTS = 48
"""Heights of floors within one layer that are looked at one by one."""
WALL = 2.0
"""Heights on sloped walls are no farther apart than this, mm."""
GROUPS = 64
"""Different radii at one height that are kept apart; more are rounded down to this many."""
CORNER = 0.02
"""Corners for the chisel smaller than this are not worth a line, mm."""


@dataclass(frozen=True)
class Place:
    """A worst place: its size (mm), where (x, y, z) and the motion that made it (−1 for none)."""

    size: float
    x: float
    y: float
    z: float
    motion: int = -1


@dataclass(frozen=True)
class LayerResult:
    """The worst in one layer, mm."""

    low: float
    high: float
    gouge: float
    left: float
    chisel: float


@dataclass
class Comparison:
    """gouges: the worst bite of each motion that bites more than is allowed, worst first; gouge: the greatest of all.
    left: the thickest faults, by layer; chisel: corners, each once."""

    gouge: float = 0.0
    gouges: list[Place] = field(default_factory=list)
    left: float = 0.0
    lefts: list[Place] = field(default_factory=list)
    chisel: list[Place] = field(default_factory=list)
    marks: list[Place] = field(default_factory=list)
    layers: list[LayerResult] = field(default_factory=list)


@dataclass(frozen=True)
class Work:
    """What one bit does: its travel, and which of the strokes cut on purpose (a feed, the spindle turning)."""

    envelope: Envelope
    travel: Travel
    cuts: np.ndarray


def compare(target: Target, works: Mapping[int, Work], motions: int) -> Comparison:
    """Compares what all works sweep with the target. motions: how many the text has."""
    result = Comparison()
    ground = _Bites(target, motions)
    for layer in target.layers:
        heights = _heights(layer, works.values())
        bite = ground.layer(layer, heights, works.values())
        left, chisel = _left_in(target, layer, heights, works.values())
        result.lefts += [place for place in left if place.size > TOLERANCES.left]
        result.chisel += [place for place in chisel if not _known(place, result.chisel)]
        result.layers.append(
            LayerResult(
                layer.low,
                layer.high,
                bite,
                max((p.size for p in left), default=0.0),
                max((p.size for p in chisel), default=0.0),
            )
        )
    result.gouge = max((layer.gouge for layer in result.layers), default=0.0)
    result.left = max((layer.left for layer in result.layers), default=0.0)
    result.gouges = ground.worst()
    result.marks = [place for mark in target.marks for place in _missing(mark, works.values())]
    return result


def _known(place: Place, others: list[Place]) -> bool:
    return any(np.hypot(place.x - o.x, place.y - o.y) < 0.5 * (place.size + o.size) for o in others)


def _flat_tips(works: list[Work]) -> np.ndarray:
    """Heights at which tips move level, ascending, each once within `INSIDE`."""
    heights = [work.travel.z0[(work.travel.z0 == work.travel.z1) & work.cuts] for work in works]
    return np.unique(np.round(np.concatenate(heights), 4)) if heights else np.empty(0)


def _plain(layer: Layer, works: list[Work]) -> bool:
    """Whether everything in a layer is upright: its walls and all bits that reach it."""
    return layer.upright and all(
        not len(work.travel) or work.envelope.straight_to >= layer.high - float(work.travel.lowest.min())
        for work in works
        if (work.travel.lowest < layer.high).any()
    )


def _heights(layer: Layer, works: object) -> list[float]:
    """Heights at which a layer is looked at, descending; one alone if all in it is upright."""
    works = list(works)  # type: ignore[call-overload]  # any iterable of works
    low, high = layer.low + INSIDE, layer.high - INSIDE
    if _plain(layer, works):
        return [high]
    heights = {low, high}
    tips = _flat_tips(works)
    corners = np.unique(np.concatenate([work.envelope.corners for work in works])) if works else np.empty(0)
    floors = np.unique(np.round((tips[:, None] + corners[None, :]).ravel(), 3))
    floors = floors[(floors > low) & (floors < high)]
    if len(floors) > MOST_HEIGHTS:
        floors = floors[np.linspace(0, len(floors) - 1, MOST_HEIGHTS).astype(np.intp)]
    for floor in floors:
        heights |= {float(np.clip(floor - INSIDE, low, high)), float(np.clip(floor + INSIDE, low, high))}
    count = int(np.ceil((high - low) / WALL)) + 1
    heights |= {float(z) for z in np.linspace(low, high, max(count, 3))}
    return sorted(heights, reverse=True)


class _Bites:
    """Bites into the wood to keep, layer by layer from above."""

    def __init__(self, target: Target, motions: int) -> None:
        self.target = target
        # The lowest height down to which each motion has cut only what it may.
        self.good = np.zeros(motions)
        self.worst_of = np.zeros(motions)
        self.where = np.zeros((motions, 3))

    def layer(self, layer: Layer, heights: list[float], works: object) -> float:
        """The greatest bite in a layer."""
        return max(
            (
                self._at(z, down_to, work)
                for z, down_to in zip(heights, [*heights[1:], layer.low], strict=True)
                for work in works
            ),  # type: ignore[attr-defined]
            default=0.0,
        )

    def _at(self, z: float, down_to: float, work: Work) -> float:
        pieces, _, radius = work.travel.pieces(work.envelope, z)
        if not len(pieces):
            return 0.0
        keep = Outline(self.target.keep(z))
        bite = bites(keep, pieces.strokes, radius, self.target.marks_at(z))
        sideways = bite.depth
        up = self.good[pieces.motion] - np.maximum(pieces.lowest, down_to)
        size = np.minimum(sideways, up)
        fine = np.ones(len(self.good), bool)
        fine[pieces.motion[sideways > TOLERANCES.gouge]] = False
        touched = np.zeros(len(self.good), bool)
        touched[pieces.motion] = True
        self.good[fine & touched] = down_to
        order = np.argsort(size, kind="stable")
        motion = pieces.motion[order]
        worse = size[order] > self.worst_of[motion]
        rows = order[worse]
        self.worst_of[pieces.motion[rows]] = size[rows]
        self.where[pieces.motion[rows]] = np.column_stack([bite.place[rows], np.maximum(pieces.lowest[rows], down_to)])
        return max(0.0, float(size.max()))

    def worst(self) -> list[Place]:
        """Motions that bite more than the tolerance, worst first."""
        rows = np.flatnonzero(self.worst_of > TOLERANCES.gouge)
        rows = rows[np.argsort(-self.worst_of[rows], kind="stable")]
        return [Place(float(self.worst_of[k]), *(float(v) for v in self.where[k]), motion=int(k)) for k in rows]


def _left_in(target: Target, layer: Layer, heights: list[float], works: object) -> tuple[list[Place], list[Place]]:
    """(faults, corners for the chisel) of a layer, the thickest at each height."""
    works = list(works)  # type: ignore[call-overload]
    low = layer.low + INSIDE
    at = [low] if len(heights) == 1 else heights
    faults: list[Place] = []
    corners: list[Place] = []
    for z in at:
        fault, chisel = left_at(target, z, works)
        if fault.size > TOLERANCES.left:
            fault = _or_upward(target, layer, z, works, fault)
        if fault.place is not None:
            faults.append(Place(fault.size, float(fault.place[0]), float(fault.place[1]), z))
        corners += chisel
    faults.sort(key=lambda place: -place.size)
    return faults[:1], corners


def left_at(target: Target, z: float, works: list[Work]) -> tuple[Left, list[Place]]:
    """The thickest fault at height z, and the corners for the chisel there."""
    must = Outline(target.must(z))
    swept = [group for work in works for group in sweeps(work, z)]
    left = thickest_left(must, swept)
    if left.size <= TOLERANCES.left:
        return left, []
    out_of_reach = _out_of_reach(target, z, works)
    if out_of_reach is None or out_of_reach.is_empty:
        return left, []
    corners = []
    for part in intersection(must.region, out_of_reach).parts:
        corner = thickest_left(Outline(part), swept)
        if corner.size > CORNER and corner.place is not None:
            corners.append(Place(corner.size, float(corner.place[0]), float(corner.place[1]), z))
    return thickest_left(Outline(difference(must.region, out_of_reach)), swept), corners


def sweeps(work: Work, z: float) -> list[Swept]:
    """What a work clears at height z: its cutting strokes, gathered by the tool's radius there."""
    pieces, radius, _ = work.travel.take(np.flatnonzero(work.cuts)).pieces(work.envelope, z + INSIDE)
    keep = radius > 0.0
    pieces, radius = pieces.take(keep), radius[keep]
    if not len(pieces):
        return []
    rounded = np.floor(radius / 1e-4 + 1e-6) * 1e-4
    if len(np.unique(rounded)) > GROUPS:
        span = rounded.max() - rounded.min()
        rounded = rounded.min() + np.floor((rounded - rounded.min()) / span * (GROUPS - 1)) * span / (GROUPS - 1)
    groups = []
    for value in np.unique(rounded)[::-1]:
        rows = np.flatnonzero(rounded == value)
        groups.append(Swept(pieces.strokes.take(rows), float(radius[rows].min())))
    return groups


def _out_of_reach(target: Target, z: float, works: list[Work]) -> Region | None:
    """Ground at height z that none of the bits could clear without a bite: None if no bit reaches that height at all.

    A bit may stand wherever it bites nowhere between its tip and the face; what is not within its radius of such a
    place is out of reach. The tip is taken where this bit works lowest in the layer.
    """
    result: Region | None = None
    for work in works:
        tips = _flat_tips([work])
        tips = tips[tips <= z + INSIDE]
        if not len(tips):
            continue
        layer = next((part for part in target.layers if part.low < z < part.high), None)
        within = tips[tips >= layer.low - 2.0 * INSIDE] if layer is not None else tips
        tip = float(within.min() if len(within) else tips.max())
        forbidden = []
        for part in target.layers:
            if part.high <= tip + 2.0 * INSIDE:
                continue
            for height in _heights(part, [work]):
                if height > tip:
                    radius = float(work.envelope.radius(np.array([height - tip]))[0])
                    forbidden.append(offset(target.keep(height), radius))
        radius = float(work.envelope.radius(np.array([z - tip]))[0])
        shut = offset(union(*forbidden), -radius)
        result = shut if result is None else intersection(result, shut)
    return result


def _or_upward(target: Target, layer: Layer, z: float, works: list[Work], fault: Left) -> Left:
    """The same fault measured upward to the floor that was cut, where that is nearer."""
    tips = _flat_tips(works)
    best = fault
    for tip in tips[(tips > z) & (tips < layer.high - 2.0 * INSIDE)][:MOST_HEIGHTS]:
        height = float(tip) - layer.low
        if height >= best.size:
            break
        above, _ = left_at(target, float(tip) + INSIDE, works)
        size = max(above.size, height)
        if size < best.size:
            best = Left(size, above.place if above.size > height else best.place)
    return best


def _missing(mark: Mark, works: object) -> list[Place]:
    """Where a mark was not engraved: the farthest place of its lines from the path at its depth."""
    if not len(mark.strokes):
        return []
    deep: list[Strokes] = [
        work.travel.take(np.flatnonzero(work.cuts)).below(-mark.depth + TOLERANCES.left).strokes for work in works
    ]  # type: ignore[attr-defined]
    path = Strokes.joined(deep)
    strokes = mark.strokes
    counts = np.maximum(2, np.ceil(strokes.length / 0.25).astype(np.intp) + 1)
    owner = np.repeat(np.arange(len(strokes)), counts)
    rank = np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts)
    points = strokes.at(rank / (counts[owner] - 1), owner)
    gap = path.distance(points, path.tree.nearest(points)) if len(path) else np.full(len(points), np.inf)
    worst = int(gap.argmax())
    if gap[worst] <= TOLERANCES.left:
        return []
    return [Place(float(min(gap[worst], strokes.length.sum())), *(float(v) for v in points[worst]), z=-mark.depth)]
