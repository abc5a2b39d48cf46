"""Holes through the sheet: screws that hold fence and stop under either face, and sights that show lines on both."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, hypot

import numpy as np

from jigcam.geometry import Region, disc
from jigcam.template.box import Box
from jigcam.template.sheet import FenceStrip

DIAMETER = 5.0
"""Clearance hole of a common screw, mm."""
BORE = 1.0
"""A hole that the cutter bores by a helix is at least this much wider than it, mm."""
CLEAR = 6.0
"""Screws keep this far from what the bit cuts, holes from the opening and from the sheet's edge, mm."""
SPACING = 120.0
"""Screws in a strip are at most about this far apart, mm (common practice, no source)."""
PAIR = 30.0
"""A run of strip at least this long gets a screw at each of its ends; a shorter one gets one in its middle, mm."""
STEP = 2.0
"""Places along a strip are tried at this distance, mm."""


@dataclass(frozen=True, slots=True)
class SheetHole:
    """A hole through the sheet; mm. says: what it is for."""

    x: float
    y: float
    diameter: float
    says: str

    @property
    def region(self) -> Region:
        """As a region."""
        return disc(self.x, self.y, self.diameter / 2.0)


def hole_diameter(cutter: float, *, drills: bool = False) -> float:
    """The diameter (mm) of the screw holes that a cutter (diameter) makes.

    Bored by a helix they come in half millimetres; one that `drills` and is wide enough makes them as wide as itself.
    """
    if drills and cutter >= DIAMETER:
        return cutter
    return max(DIAMETER, ceil(2.0 * (cutter + BORE) - 1e-9) / 2.0)


def screw_holes(strip: FenceStrip, opening: Region, cut: Region, sheet: Box, diameter: float) -> tuple[SheetHole, ...]:
    """Holes along the middle of a strip, clear of the opening and of the bit's path, which may run through the strip.

    Every piece of the strip that the bit leaves is held.
    """
    x0, y0, x1, y1 = strip.box
    inset = CLEAR + diameter / 2.0
    low, high = (max(y0, sheet.y0) + inset, y1 - inset) if strip.upright else (x0 + inset, x1 - inset)
    if high < low:
        return ()
    along = np.linspace(low, high, max(2, int((high - low) / STEP) + 1))
    across = np.full_like(along, (x0 + x1) / 2.0 if strip.upright else (y0 + y1) / 2.0)
    points = np.column_stack([across, along] if strip.upright else [along, across])
    gap = -np.maximum(opening.signed_distance(points), cut.signed_distance(points))
    free = gap >= inset
    chosen = [i for run in _runs(free) for i in _spread(along, run)]
    return tuple(SheetHole(float(x), float(y), diameter, "screw") for x, y in points[chosen])


def _runs(free: np.ndarray) -> Iterator[range]:
    """Stretches of consecutive True."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], free, [False]]).astype(int)))
    for first, beyond in edges.reshape(-1, 2):
        yield range(int(first), int(beyond))


def _spread(along: np.ndarray, run: range) -> Sequence[int]:
    """Places in a run, evenly spread."""
    extent = float(along[run[-1]] - along[run[0]])
    if extent < PAIR:
        return [run[len(run) // 2]]
    count = ceil(extent / SPACING) + 1
    return [run[round(i * (len(run) - 1) / (count - 1))] for i in range(count)]


def thinned(holes: Sequence[SheetHole]) -> tuple[SheetHole, ...]:
    """Without holes that would break into an earlier one: fence and stop meet in a corner."""
    kept: list[SheetHole] = []
    for hole in holes:
        if all(hypot(hole.x - k.x, hole.y - k.y) >= hole.diameter / 2 + k.diameter / 2 + CLEAR for k in kept):
            kept.append(hole)
    return tuple(kept)
