"""How far one region reaches beyond another."""

from __future__ import annotations

import math

import numpy as np

from jigcam.geometry.boolean import difference
from jigcam.geometry.offset import offset
from jigcam.geometry.region import Region
from jigcam.geometry.segment import as_pairs

EXACT = 1e-4
"""The farthest point is found to within this, mm."""


def max_excess(a: Region, b: Region) -> tuple[float, tuple[float, float]]:
    """The farthest that region `a` reaches outside region `b`, and where.

    Returns the greatest distance from a point of `a` to the nearest of `b`, mm, within `EXACT`, and that point; 0 and
    (nan, nan) where `a` lies in `b`; inf where `b` is empty and `a` is not.

    `a` reaches no further than ρ if nothing of it is left outside `b` grown by ρ. Points along the boundary give a
    first ρ, nearly always the answer; what is then left, as over a hole of `b`, is halved in.
    """
    if a.is_empty:
        return 0.0, (math.nan, math.nan)
    if b.is_empty:
        return math.inf, a.loops[0].start
    far, place = _farthest(a, b)
    if _rest(a, b, far + EXACT).is_empty:
        return (far, place) if far > 0.0 else (0.0, (math.nan, math.nan))
    low, high = far + EXACT, far + 2.0 * EXACT
    while not (left := _rest(a, b, high)).is_empty:
        low, place = high, _farthest(left, b)[1]
        high += 2.0 * (high - far)
    while high - low > EXACT:
        middle = 0.5 * (low + high)
        left = _rest(a, b, middle)
        if left.is_empty:
            high = middle
        else:
            low, place = middle, _farthest(left, b)[1]
    return 0.5 * (low + high), place


def _rest(a: Region, b: Region, distance: float) -> Region:
    """What of `a` is further than a distance from `b`."""
    return difference(a, offset(b, distance))


def _farthest(a: Region, b: Region) -> tuple[float, tuple[float, float]]:
    """The farthest of points along the boundary of `a` from `b`, and its distance; 0 where none is outside."""
    curve = a.as_segments()
    points = np.concatenate([curve.at(np.full(len(curve), t)) for t in np.linspace(0.0, 1.0, 8, endpoint=False)])
    outside = -b.signed_distance(as_pairs(points))
    worst = int(np.argmax(outside))
    return max(0.0, float(outside[worst])), (float(points[worst].real), float(points[worst].imag))
