"""Where a straight line runs inside a region: for sections through a board, and for places along an edge."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

import numpy as np

from jigcam.geometry.region import Region

FINE = 0.002
"""Chords of arcs are this near to them, mm."""
SAME = 1e-6
"""Crossings nearer to each other than this are one, mm."""


def chords(region: Region, across: Literal["x", "y"], at: float) -> list[tuple[float, float]]:
    """The stretches, ascending, mm, that the line x = at or y = at (`across` names the axis that it is square to) has
    inside the region.

    >>> from jigcam.geometry import rectangle, union
    >>> chords(union(rectangle(0, 0, 10, 5), rectangle(20, 0, 25, 5)), "y", 2.0)
    [(0.0, 10.0), (20.0, 25.0)]
    """
    fixed, free = (0, 1) if across == "x" else (1, 0)
    found: list[float] = []
    for loop in region.loops:
        points = loop.points(FINE)
        ends = np.roll(points, -1, axis=0)
        a, b = points[:, fixed] - at, ends[:, fixed] - at
        hit = (a > 0.0) != (b > 0.0)
        share = a[hit] / (a[hit] - b[hit])
        found += (points[hit, free] + share * (ends[hit, free] - points[hit, free])).tolist()
    places = sorted(found)
    middles = [(low + high) / 2.0 for low, high in pairwise(places)]
    if not middles:
        return []
    inside = region.contains([(at, m) if across == "x" else (m, at) for m in middles])
    stretches: list[tuple[float, float]] = []
    for (low, high), within in zip(pairwise(places), inside, strict=True):
        if not within or high - low < SAME:
            continue
        if stretches and low - stretches[-1][1] < SAME:
            low = stretches.pop()[0]
        stretches.append((float(low), float(high)))
    return stretches
