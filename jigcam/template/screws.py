"""Holes through the sheet: screws that hold fence and stop under either face, and sights that show lines on both."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, hypot
from typing import Final, NamedTuple

import numpy as np

from jigcam.geometry import Region, disc
from jigcam.template.box import Box
from jigcam.template.sheet import FenceStrip
from jigcam.units import INCH, Unit, Voice

BORE = 1.0
"""A sight that the cutter bores by a helix is at least this much wider than it, mm, and a quarter of it."""
LEAST_ROOM = 0.1
"""A hole that a bit bores is at least this share of its diameter wider than it: on a smaller helix it is no better than
in a plunge (common practice, no source)."""
BEHIND = 2.0
"""mm of strip left before the point of a screw."""
ARM = 2.5
"""mm; half of a cross that marks a hole to be drilled by hand."""
SAME_SIZE = 0.02
"""mm; a hole and a bit whose diameters differ by less are of one size (common practice, no source)."""
CLEAR = 6.0
"""Screws keep this far from what the bit cuts, holes from the opening and from the sheet's edge, mm."""
SPACING = 120.0
"""Screws in a strip are at most about this far apart, mm (common practice, no source)."""
PAIR = 30.0
"""A run of strip at least this long gets a screw at each of its ends; a shorter one gets one in its middle, mm."""
STEP = 2.0
"""Places along a strip are tried at this distance, mm."""


class Screw(NamedTuple):
    """A flat-headed screw and the holes that fit it, mm: in the sheet, and pilot, in the strip that it holds.

    angle: of its head and of the countersink, degrees.
    """

    name: str
    shank: float
    head: float
    angle: float
    hole: float
    pilot: float


SCREWS: Final = {
    "in": (
        Screw("No. 6", 0.138 * INCH, 7.1, 82.0, 0.150 * INCH, 7 / 64 * INCH),
        Screw("No. 8", 0.164 * INCH, 8.4, 82.0, 11 / 64 * INCH, 1 / 8 * INCH),
        Screw("No. 10", 0.190 * INCH, 9.8, 82.0, 13 / 64 * INCH, 9 / 64 * INCH),
    ),
    "mm": (
        Screw("3.5 mm", 3.5, 7.0, 90.0, 3.8, 2.5),
        Screw("4 mm", 4.0, 8.0, 90.0, 4.3, 3.0),
        Screw("5 mm", 5.0, 10.0, 90.0, 5.3, 3.5),
    ),
}
"""By units, from thin to thick. Shanks of No. 6, 8 and 10: charts after ASME B18.6.1; heads and angles: from memory;
holes: the shank and 0.2 to 0.4 mm (common practice, no source); pilot holes: as for hardwood (from memory)."""
SHEETS: Final = (9.0, 16.0)
"""mm; a sheet up to the first takes the thin screw, up to the second the middle one (common practice, no source)."""
LENGTHS: Final = {
    "in": tuple(eighths * INCH / 8.0 for eighths in (3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 20, 24)),
    "mm": (10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0),
}
"""mm; lengths in which screws are sold, by units (from memory)."""


@dataclass(frozen=True, slots=True)
class SheetHole:
    """A hole through the sheet; mm. says: what it is for. head: across the countersink of a screw, 0 for none.

    by_hand: it is marked by a cross, and drilled by hand.
    """

    x: float
    y: float
    diameter: float
    says: str
    head: float = 0.0
    by_hand: bool = False

    @property
    def region(self) -> Region:
        """As a region."""
        return disc(self.x, self.y, self.diameter / 2.0)

    @property
    def across(self) -> float:
        """What it takes up of the surface."""
        return max(self.diameter, self.head)

    @property
    def cross(self) -> tuple[tuple[tuple[float, float], tuple[float, float]], ...]:
        """The two lines that mark its middle."""
        return (
            ((self.x - ARM, self.y), (self.x + ARM, self.y)),
            ((self.x, self.y - ARM), (self.x, self.y + ARM)),
        )


@dataclass(frozen=True, slots=True)
class Screws:
    """What holds the strips. length: of the screws, mm. by_hand: the holes are not made by the sheet's cutter."""

    screw: Screw
    length: float
    by_hand: bool

    def says(self, voice: Voice) -> str:
        """Screw, hole and countersink, for the drawing."""
        return (
            f"{self.screw.name} screw: hole {voice.drill(self.screw.hole)}, "
            f"countersunk {self.screw.angle:g}° to {voice.drill(self.screw.head)}"
        )


def screws_for(sheet: float, cutter: float, units: Unit, *, drills: bool = False) -> Screws:
    """The screws for strips and a sheet of that thickness, and who drills their holes.

    cutter: diameter of what mills the sheet; it bores a hole by a helix, or `drills` one that is as wide as itself.
    units: by which the sizes go.
    """
    sizes = SCREWS[units]
    usual = sizes[sum(sheet > most for most in SHEETS)]
    longest = 2.0 * sheet - BEHIND
    length = max((each for each in LENGTHS[units] if each <= longest), default=LENGTHS[units][0])
    bored = (1.0 + LEAST_ROOM) * cutter <= usual.hole <= 2.0 * cutter
    return Screws(usual, length, by_hand=not (bored or (drills and abs(usual.hole - cutter) <= SAME_SIZE)))


def sight_diameter(cutter: float, *, drills: bool = False) -> float:
    """The diameter (mm) of the sights that a cutter (diameter) makes: drilled as wide as it is, or bored by a helix."""
    return cutter if drills else cutter + max(BORE, cutter / 4.0)


def screw_holes(
    strip: FenceStrip, opening: Region, cut: Region, sheet: Box, screws: Screws, says: str = "screw"
) -> tuple[SheetHole, ...]:
    """Holes along the middle of a strip, clear of the opening and of the bit's path, which may run through the strip.

    Every piece of the strip that the bit leaves is held. says: of each hole.
    """
    x0, y0, x1, y1 = strip.box
    hole, head = screws.screw.hole, screws.screw.head
    inset = CLEAR + head / 2.0
    low, high = (max(y0, sheet.y0) + inset, y1 - inset) if strip.upright else (x0 + inset, x1 - inset)
    if high < low:
        return ()
    along = np.linspace(low, high, max(2, int((high - low) / STEP) + 1))
    across = np.full_like(along, (x0 + x1) / 2.0 if strip.upright else (y0 + y1) / 2.0)
    points = np.column_stack([across, along] if strip.upright else [along, across])
    gap = -np.maximum(opening.signed_distance(points), cut.signed_distance(points))
    free = gap >= inset
    chosen = [i for run in _runs(free) for i in _spread(along, run)]
    return tuple(SheetHole(float(x), float(y), hole, says, head, screws.by_hand) for x, y in points[chosen])


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
        if all(hypot(hole.x - k.x, hole.y - k.y) >= hole.across / 2 + k.across / 2 + CLEAR for k in kept):
            kept.append(hole)
    return tuple(kept)
