"""Slices of cuts as polygons, counted in nanometres, by pyclipper."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

import pyclipper

SCALE = 1_000_000
"""Clipper counts in nanometres: with coarser numbers its offsets of curved paths grow spikes."""
ARC = 0.0005
"""Gap between arcs and chords, mm."""

Polygons = list[list[tuple[int, int]]]


def whole(p: Sequence[float]) -> tuple[int, int]:
    """A place, x and y in mm, as clipper counts."""
    return round(p[0] * SCALE), round(p[1] * SCALE)


def rectangle(x0: float, y0: float, x1: float, y1: float) -> list[tuple[int, int]]:
    """A rectangle with sides along the axes."""
    return [whole((x, y)) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]


def sweep(paths: Polygons, radius: float) -> Polygons:
    """All within `radius` of paths that move."""
    if radius <= 0.0:
        return []
    offset = pyclipper.PyclipperOffset(2.0, ARC * SCALE)
    for path in {tuple(path): path for path in paths}.values():
        offset.AddPath([path[0]] + [b for a, b in pairwise(path) if a != b], pyclipper.JT_ROUND, pyclipper.ET_OPENROUND)
    return offset.Execute(radius * SCALE)


def ring(middle: tuple[int, int], radius: float) -> list[tuple[int, int]]:
    """A disc."""
    x, y = middle
    return [(x + dx, y + dy) for dx, dy in _circle(radius)]


@lru_cache(maxsize=10_000)
def _circle(radius: float) -> list[tuple[int, int]]:
    count = 4 * math.ceil(math.pi / 4.0 / math.acos(1.0 - min(0.5, ARC / radius)))
    turns = [2.0 * math.pi * k / count for k in range(count)]
    return [(round(radius * SCALE * math.cos(a)), round(radius * SCALE * math.sin(a))) for a in turns]


def clip(subject: Polygons, clip: Polygons, how: int) -> Polygons:
    """Polygons put together; how: of clipper's kinds. Loops either way round count as filled."""
    if not subject:
        return []
    clipper = pyclipper.Pyclipper()
    clipper.AddPaths(subject, pyclipper.PT_SUBJECT, True)
    if clip:
        clipper.AddPaths(clip, pyclipper.PT_CLIP, True)
    elif how == pyclipper.CT_INTERSECTION:
        return []
    return clipper.Execute(how, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)


def xor(a: Polygons, b: Polygons) -> Polygons:
    """What is in one of the two alone."""
    return clip(a, b, pyclipper.CT_DIFFERENCE) + clip(b, a, pyclipper.CT_DIFFERENCE)


def area(polygons: Polygons) -> float:
    """Area, mm²; loops of holes run the other way round and count against it."""
    return abs(sum(pyclipper.Area(loop) for loop in polygons)) / SCALE**2


def thicker(polygons: Polygons, size: float) -> bool:
    """Whether a disc of diameter `size` fits somewhere."""
    if not polygons:
        return False
    offset = pyclipper.PyclipperOffset(2.0, ARC * SCALE)
    offset.AddPaths(polygons, pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
    return bool(offset.Execute(-size / 2.0 * SCALE))
