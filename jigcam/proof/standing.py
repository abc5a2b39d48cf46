"""What is left of the drawing at each height: faults, corners for the chisel, marks that are missing."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from jigcam.geometry import GeometryError, Region, difference, intersection
from jigcam.proof.heights import MOST_HEIGHTS
from jigcam.proof.left import Left, thickest_left
from jigcam.proof.outline import Outline
from jigcam.proof.reach import Reach
from jigcam.proof.report import Place
from jigcam.proof.straying import straying
from jigcam.proof.strokes import Strokes
from jigcam.proof.sweeps import Work, flat_tips, sweeps
from jigcam.proof.target import INSIDE, Layer, Mark
from jigcam.tolerances import TOLERANCES
from jigcam.values import dataclass

CORNER = 0.02
"""Corners for the chisel smaller than this are not worth a line, mm."""


@dataclass(frozen=True)
class Standing:
    """What is left in one layer: the thickest fault at each height, and corners for the chisel.

    cleared: ground that is known to be swept at its lowest height and so at all above, None if nothing is known.
    """

    faults: tuple[Place, ...]
    corners: tuple[Place, ...]
    cleared: Region | None = None


def left_in(reach: Reach, layer: Layer, heights: Sequence[float], cleared: Region | None) -> Standing:
    """What is left in a layer, looked at in those heights. cleared: ground swept in the layer below it."""
    target = reach.target
    plain = len(heights) == 1
    faults: list[Place] = []
    corners: list[Place] = []
    for z in [layer.low + INSIDE] if plain else heights:
        must = target.must(z)
        fault, chisel = left_at(reach, z, cleared if plain else None)
        if fault.size > TOLERANCES.left:
            fault = or_upward(reach, layer, z, fault)
        if fault.place is not None:
            faults.append(Place(fault.size, float(fault.place[0]), float(fault.place[1]), z))
        corners += chisel
    swept = plain and not corners and all(place.size <= TOLERANCES.left for place in faults)
    return Standing(tuple(faults), tuple(corners), must if swept else None)


def left_at(reach: Reach, z: float, cleared: Region | None = None) -> tuple[Left, list[Place]]:
    """The thickest fault at height z, and the corners for the chisel there.

    Out of reach and thicker than the radius of the most slender bit is no corner (one of 60° leaves just that much):
    the bits are too wide for the drawing.
    """
    works = reach.works
    must = Outline(_rest(reach.target.must(z), cleared))
    swept = [group for work in works for group in sweeps(work, z, must.region)]
    left = thickest_left(must, swept)
    if left.size <= TOLERANCES.left:
        return left, []
    try:
        shut = reach.out_of_reach(z)
    except GeometryError:
        # What is left is then a fault as a whole: never less than it is.
        return left, []
    if shut is None or shut.is_empty:
        return left, []
    corners = []
    fault = thickest_left(Outline(difference(must.region, shut)), swept)
    slender = min(work.envelope.widest for work in works)
    for part in intersection(must.region, shut).parts:
        corner = thickest_left(Outline(part), swept)
        if corner.size > slender and corner.size > fault.size:
            fault = corner
        elif corner.size > CORNER and corner.place is not None:
            corners.append(Place(corner.size, float(corner.place[0]), float(corner.place[1]), z))
    return fault, corners


def _rest(must: Region, cleared: Region | None) -> Region:
    """What has to be gone and is not known to be."""
    if cleared is None or cleared.is_empty or must.is_empty:
        return must
    try:
        return Region.empty() if must is cleared else difference(must, cleared)
    except GeometryError:
        return must


def or_upward(reach: Reach, layer: Layer, z: float, fault: Left) -> Left:
    """The same fault measured upward to the floor that was cut, where that is nearer."""
    tips = flat_tips(reach.works)
    best = fault
    for tip in tips[(tips > z) & (tips < layer.high - 2.0 * INSIDE)][:MOST_HEIGHTS]:
        height = float(tip) - layer.low
        if height >= best.size:
            break
        above, _ = left_at(reach, float(tip) + INSIDE)
        size = max(above.size, height)
        if size < best.size:
            best = Left(size, above.place if above.size > height else best.place)
    return best


def missing(mark: Mark, works: Sequence[Work]) -> list[Place]:
    """Where a mark was not engraved: the farthest place of its lines from the path at its depth."""
    lines = mark.strokes
    if not len(lines):
        return []
    deep = -mark.depth + TOLERANCES.left
    path = Strokes.joined([work.take(np.flatnonzero(work.cuts)).travel.below(deep).strokes for work in works])
    if not len(path):
        return [_place(float(lines.length.sum()), lines.a[0], -mark.depth)]
    gap, places = straying(lines, path, np.full(len(lines), TOLERANCES.left))
    worst = int(gap.argmax())
    if gap[worst] <= TOLERANCES.left:
        return []
    return [_place(float(min(gap[worst], lines.length.sum())), places[worst], -mark.depth)]


def _place(size: float, point: np.ndarray, z: float) -> Place:
    return Place(size, float(point[0]), float(point[1]), z)
