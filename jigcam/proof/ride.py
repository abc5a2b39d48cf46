"""The bushing in the milled template: where it can go, what the bit cuts there, and how far that is from the drawing.

Arithmetic (B bushing, d bit, T milled opening): the bushing's centre can go to T ⊖ disc(B/2); the bit then cuts that
⊕ disc(d/2). An error e between their axes moves the whole cut by e while the router is held one way. Where it turns
as it likes, any place within centres ⊕ disc(d/2 + e) may be cut, up to 2e wider, and surely cut is only
centres ⊕ disc(d/2 − e), up to 2e narrower: a disc that holds e to spare reaches a place whichever way it is off, and
one that does not can be turned away from it at every centre. Derived; frame: that of the opening, mm.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from jigcam.findings import Finding
from jigcam.geometry import Path, Region, difference, intersection, offset, translation
from jigcam.proof.fit import across
from jigcam.proof.gouge import bites
from jigcam.proof.left import NOTHING_LEFT, Left, thickest_left
from jigcam.proof.outline import Outline
from jigcam.proof.report import Corner
from jigcam.proof.whole import Swept
from jigcam.proof.wording import Wording
from jigcam.tolerances import TOLERANCES
from jigcam.units import Unit

CORNER = 0.02
"""Corners for the chisel smaller than this are not worth a line, mm."""


@dataclass(frozen=True)
class Ride:
    """What a ride comes to.

    opening: as milled. centres: where the bushing's centre can go. cut: all that the bit can reach there. envelope: the
    same with the axes as far off as was given, turned any way; sure: what is cut however they are turned. play_mm:
    least room of the bushing across the centreline, None where none was given. gouge_mm, left_mm, left_for_chisel: the
    cut against the drawing, with axes that are one. bit_mm: the bit's diameter: a groove comes out no narrower, however
    the axes are turned.
    """

    opening: Region
    centres: Region
    cut: Region
    envelope: Region
    sure: Region
    gouge_mm: float
    left_mm: float
    left_for_chisel: tuple[Corner, ...]
    play_mm: float | None
    eccentricity_mm: float
    findings: tuple[Finding, ...] = field(default=())
    bit_mm: float = 0.0

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm."""
        return {
            "gouge_mm": round(self.gouge_mm, 4),
            "left_mm": round(self.left_mm, 4),
            "left_for_chisel": [corner.as_dict() for corner in self.left_for_chisel],
            "play_mm": None if self.play_mm is None else round(self.play_mm, 4),
            "eccentricity_mm": round(self.eccentricity_mm, 4),
            "widened_by_up_to_mm": round(2.0 * self.eccentricity_mm, 4),
        }

    @property
    def silent(self) -> bool:
        """Whether it has nothing to say of any place."""
        return not (self.findings or self.left_for_chisel)

    def mirrored(self, mirror: np.ndarray) -> Ride:
        """A silent ride in a mirror (2×3): places that others speak of would be other ones there."""
        assert self.silent, "a ride that speaks of places is made anew"
        names = ("opening", "centres", "cut", "envelope", "sure")
        return replace(self, **{name: getattr(self, name).transformed(mirror) for name in names})

    def held(self, direction: tuple[float, float]) -> Region:
        """The cut with the router held one way, the bit's axis off toward a direction (a unit vector)."""
        dx, dy = (self.eccentricity_mm * float(value) for value in direction)
        return self.cut.transformed(translation(dx, dy))


def ride(
    opening: Region,
    bushing: float,
    bit: float,
    drawn: Region,
    board: Region,
    *,
    centreline: Path | None = None,
    eccentricity: float = 0.0,
    milled_with: float = 0.0,
    depth: float = 0.0,
    where: str = "template",
    units: Unit = "mm",
) -> Ride:
    """Rides a bushing in an opening and compares what the bit cuts with the drawing.

    bushing, bit: outside and cutting diameters. drawn: the cut as drawn; what lies off the board matters to nobody.
    milled_with: diameter of the bit that milled the opening: corners that its radius keeps the bushing from are for the
    chisel as well. depth: of the cut, to name places by. eccentricity: between the axes of bushing and bit; it makes
    the envelope, and leaves gouge, left and findings those of axes that are one. units: in which findings speak. All in
    one frame, mm.
    """
    centres = offset(opening, -bushing / 2.0)
    reach = bit / 2.0
    cut = _reached(centres, reach)
    keep, must = Outline(difference(board, drawn)), intersection(drawn, board)
    gouge, where_gouge = _gouge(keep, centres, reach)
    left, corners = _left(keep, must, centres, reach, max(reach, milled_with / 2.0 - (bushing - bit) / 2.0), depth)
    play = _play(centres, centreline)
    wording = Wording(units)
    findings = list(_findings(where, gouge, where_gouge, left, play, centres, bushing, wording))
    findings += [
        Finding(
            "note",
            "for-the-chisel",
            f"{where}, {wording.spot((c.x, c.y), 2)}",
            f"{wording.length(c.size, 2)} stands in a corner for the chisel",
        )
        for c in corners
    ]
    return Ride(
        opening,
        centres,
        cut,
        _reached(centres, reach + eccentricity) if eccentricity > 0.0 else cut,
        _reached(centres, reach - eccentricity) if eccentricity > 0.0 else cut,
        max(0.0, gouge),
        left.size,
        tuple(corners),
        play,
        eccentricity,
        tuple(findings),
        bit,
    )


def _reached(centres: Region, reach: float) -> Region:
    """What discs of a radius about the centres cover."""
    return offset(centres, reach) if reach > 0.0 and not centres.is_empty else Region.empty()


def _gouge(keep: Outline, centres: Region, reach: float) -> tuple[float, np.ndarray]:
    """Deepest bite of the bit into the wood to keep: at the edge of where the bushing goes, or on an island in it."""
    if centres.is_empty or keep.is_empty:
        return 0.0, np.zeros(2)
    edge = Outline(centres)
    bite = bites(keep, edge.strokes, np.full(len(edge.strokes), reach))
    worst = int(bite.depth.argmax())
    islands = np.flatnonzero(edge.inside(keep.strokes.a) & (edge.edge_distance(keep.strokes.a) > TOLERANCES.gouge))
    if len(islands) and bite.depth[worst] < reach:
        return reach, keep.strokes.a[islands[0]]
    return float(bite.depth[worst]), bite.place[worst]


def _left(
    keep: Outline,
    must: Region,
    centres: Region,
    reach: float,
    tightest: float,
    depth: float,
) -> tuple[Left, list[Corner]]:
    edge = [Swept(Outline(centres).strokes, reach)] if not centres.is_empty else []
    # Within the ground of the bushing's centre all is cut; outside, what counts is the distance from its edge.
    outside = difference(must, centres) if edge else must
    left = thickest_left(Outline(outside), edge)
    if left.size <= TOLERANCES.left or not edge:
        return left, []
    # A bit just as wide as the groove can stand in it: half of what it may bite makes room.
    tightest -= TOLERANCES.gouge / 2.0
    closed = offset(offset(keep.region, tightest), -tightest)
    corners = []
    for part in intersection(outside, closed).parts:
        corner = thickest_left(Outline(part), edge)
        if corner.size > CORNER and corner.place is not None:
            corners.append(Corner(float(corner.place[0]), float(corner.place[1]), -depth, corner.size))
    rest = difference(outside, closed)
    return (thickest_left(Outline(rest), edge) if not rest.is_empty else NOTHING_LEFT), corners


def _play(centres: Region, centreline: Path | None) -> float | None:
    if centreline is None:
        return None
    if centres.is_empty:
        return 0.0
    sides = across(centres, centreline, min(0.25 * centreline.length, 10.0))
    return float(sides.width.min()) if len(sides.stations) else 0.0


def _findings(
    where: str,
    gouge: float,
    at: np.ndarray,
    left: Left,
    play: float | None,
    centres: Region,
    bushing: float,
    wording: Wording,
) -> list[Finding]:
    found = []
    if centres.is_empty:
        says = f"a bushing of {wording.length(bushing)} does not go into the opening as milled"
        found.append(Finding("stop", "bushing-does-not-pass", where, says))
    elif play is not None and play < TOLERANCES.binds:
        says = f"the bushing has {wording.length(play)} of play in the opening as milled; it will bind"
        found.append(Finding("caution", "bushing-binds", where, says))
    if gouge > TOLERANCES.gouge:
        says = f"the bit can cut {wording.length(gouge)} beyond the drawing"
        found.append(Finding("stop", "ride-gouge", f"{where}, {wording.spot(at[:2])}", says))
    if left.size > TOLERANCES.left and left.place is not None:
        x, y = left.place
        says = f"the bit cannot reach {wording.length(left.size)} of the drawing"
        found.append(Finding("stop", "ride-left", f"{where}, {wording.spot((x, y))}", says))
    return found
