"""How the mate fits what was cut: clearances measured between the virtual cut and the part that goes into it.

All sizes come from the cut as milled, never from nominal widths. Frame: any plane one, mm.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from jigcam.findings import Finding
from jigcam.geometry import Path, Region, bar
from jigcam.proof.outline import Outline
from jigcam.proof.strokes import Strokes
from jigcam.proof.wording import Wording
from jigcam.units import Unit
from jigcam.values import dataclass

STATIONS = 121
"""Places along a joint at which it is measured."""
GOLDEN = (np.sqrt(5.0) - 1.0) / 2.0
SEAT = 1e-3
"""Interference up to this is none, mm."""


@dataclass(frozen=True)
class Across:
    """Distances from a centreline to the walls: left and right (k,), mm, at stations s (k,) with points (k, 2)."""

    stations: np.ndarray
    points: np.ndarray
    normals: np.ndarray
    left: np.ndarray
    right: np.ndarray

    @property
    def width(self) -> np.ndarray:
        """(k,) width at each station, mm."""
        width: np.ndarray = self.left + self.right
        return width


@dataclass(frozen=True)
class Fit:
    """Clearance on each side of the mate in its best seat, mm; negative where it would not go in.

    least, median, most: over both walls and all stations; where: (x, y) of the least. total: least sum of both sides.
    shift, turn: how far the best seat lies to the left of the centreline at its middle, and turned (rad). ends: least
    clearance along the whole edge of the mate, its ends included, None if its outline is not known.
    """

    least: float
    median: float
    most: float
    where: tuple[float, float]
    total: float
    shift: float
    turn: float
    ends: float | None = None

    @property
    def seats(self) -> bool:
        """Whether the mate goes in."""
        return self.least >= -SEAT and (self.ends is None or self.ends >= -SEAT)

    def as_dict(self) -> dict[str, Any]:
        """For the manifest: mm and degrees."""
        return {
            "least_mm": round(self.least, 4),
            "median_mm": round(self.median, 4),
            "most_mm": round(self.most, 4),
            "where": [round(v, 3) for v in self.where],
            "total_mm": round(self.total, 4),
            "shift_mm": round(self.shift, 4),
            "turn_deg": round(float(np.degrees(self.turn)), 5),
            "ends_mm": None if self.ends is None else round(self.ends, 4),
            "seats": self.seats,
        }


def across(cut: Region, centreline: Path, margin: float = 0.0, count: int = STATIONS) -> Across:
    """Measures a cut square to a centreline, `margin` mm away from its ends; stations off the cut are left out."""
    length = centreline.length
    margin = min(margin, 0.45 * length)
    stations = np.linspace(margin, length - margin, count)
    points, tangents = centreline.at(stations)
    normals = np.column_stack([-tangents[:, 1], tangents[:, 0]])
    outline = Outline(cut)
    left, right = _reach(outline.strokes, points, normals), _reach(outline.strokes, points, -normals)
    on = np.isfinite(left) & np.isfinite(right) & outline.inside(points)
    return Across(stations[on], points[on], normals[on], left[on], right[on])


def fit(
    cut: Region, centreline: Path, thickness: float, *, mate: Region | None = None, margin: float | None = None
) -> Fit:
    """Lays a straight part of some thickness into a cut along a straight centreline.

    mate: its outline in the plane of the cut, centred on the centreline, where its ends matter too. margin: how far
    from the ends the sides are measured; half the thickness if None, so that round ends are out of it.
    """
    sides = across(cut, centreline, thickness / 2.0 if margin is None else margin)
    if not len(sides.stations):
        return Fit(-thickness, -thickness, -thickness, centreline.start, -thickness, 0.0, 0.0)
    s = sides.stations - sides.stations.mean()
    turn = _best_turn(s, sides)
    room_left, room_right = sides.left - turn * s, sides.right + turn * s
    shift = (room_left.min() - room_right.min()) / 2.0
    clear_left, clear_right = room_left - shift - thickness / 2.0, room_right + shift - thickness / 2.0
    both = np.concatenate([clear_left, clear_right])
    worst = int(both.argmin()) % len(s)
    ends = None
    if mate is not None:
        ends = _edge_clearance(cut, mate, centreline, float(shift), float(turn))
    return Fit(
        least=float(both.min()),
        median=float(np.median(both)),
        most=float(both.max()),
        where=(float(sides.points[worst, 0]), float(sides.points[worst, 1])),
        total=float((sides.width - thickness).min()),
        shift=float(shift),
        turn=float(np.arctan(turn)),
        ends=ends,
    )


def findings_of(result: Fit, clearance: float, where: str, units: Unit = "mm") -> list[Finding]:
    """What a maker has to know about a fit. clearance: what the drawing asks for in all, across the joint, mm; negative
    where it asks for interference. units: in which findings speak."""
    wording = Wording(units)
    asked = f"{wording.length(result.total)} of room in all; the drawing asks for {wording.number(clearance)}"
    tight = min(result.least, result.ends if result.ends is not None else result.least)
    if tight < min(0.0, clearance / 2.0) - SEAT:
        says = f"the mate is {wording.length(-tight)} too tight, near {wording.spot(result.where, 2)}"
        return [Finding("stop", "does-not-fit", where, says)]
    if result.total < clearance - max(0.02, clearance / 2.0):
        return [Finding("caution", "tight", where, asked)]
    if result.total > clearance + max(0.05, clearance):
        return [Finding("caution", "loose", where, asked)]
    return []


def edge_outline(centreline: Path, thickness: float, edge_radius: float, length: float) -> Region:
    """A straight mate seen along the way it goes in, centred on the centreline: `length` long, its edges rounded to
    `edge_radius` (at least half the thickness) from both faces; square for 0."""
    middle, tangent = (v[0] for v in centreline.at(np.array([centreline.length / 2.0])))
    if edge_radius <= 0.0:
        return bar(middle - tangent * length / 2.0, middle + tangent * length / 2.0, thickness)
    half = thickness / 2.0
    # Each face runs on as an arc about a point edge_radius inside it; the two meet in a tip on the middle line.
    turn = float(np.arccos(np.clip(1.0 - half / edge_radius, -1.0, 1.0)))
    nose, bulge = edge_radius * np.sin(turn), np.tan(turn / 4.0)
    end = length / 2.0
    table = [
        (-end + nose, -half, 0.0),
        (end - nose, -half, bulge),
        (end, 0.0, bulge),
        (end - nose, half, 0.0),
        (-end + nose, half, bulge),
        (-end, 0.0, bulge),
    ]
    normal = np.array([-tangent[1], tangent[0]])
    rows = [[*(middle + x * tangent + y * normal), b] for x, y, b in table]
    return Region((Path(np.array(rows), closed=True),))


def _best_turn(s: np.ndarray, sides: Across) -> float:
    """Slope of the seat with the greatest least clearance, which is concave in the slope: golden section."""
    span = float(np.ptp(s))
    if span <= 0.0:
        return 0.0

    def room(slope: float) -> float:
        return float((sides.left - slope * s).min() + (sides.right + slope * s).min())

    reach = float(np.ptp(sides.left) + np.ptp(sides.right)) / span
    low, high = -reach, reach
    while high - low > 1e-10:
        a, b = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
        if room(a) >= room(b):
            high = b
        else:
            low = a
    best = (low + high) / 2.0
    return best if room(best) > room(0.0) + 1e-9 else 0.0


def _edge_clearance(cut: Region, mate: Region, centreline: Path, shift: float, slope: float) -> float:
    """Least clearance of the mate's outline in its seat."""
    middle, tangent = (v[0] for v in centreline.at(np.array([centreline.length / 2.0])))
    normal = np.array([-tangent[1], tangent[0]])
    cosine, sine = np.cos(np.arctan(slope)), np.sin(np.arctan(slope))
    points = np.vstack([loop.points(1e-4) for loop in mate.loops]) - middle
    turned = np.column_stack([cosine * points[:, 0] - sine * points[:, 1], sine * points[:, 0] + cosine * points[:, 1]])
    return float(cut.signed_distance(turned + middle + shift * normal).min())


def _reach(strokes: Strokes, points: np.ndarray, directions: np.ndarray) -> np.ndarray:
    """(k,) distance from each point along its unit direction to the first stroke that it meets; inf if none."""
    best = np.full(len(points), np.inf)
    for k in range(len(strokes)):
        if strokes.arc[k]:
            toward = strokes.centre[k] - points
            middle = np.einsum("ij,ij->i", toward, directions)
            square = strokes.radius[k] ** 2 - (np.einsum("ij,ij->i", toward, toward) - middle**2)
            half = np.sqrt(np.maximum(square, 0.0))
            for t in (middle - half, middle + half):
                on = strokes.facing(points + t[:, None] * directions, np.full(len(points), k))
                best = np.where((square >= 0.0) & on & (t > 0.0) & (t < best), t, best)
        else:
            along = strokes.b[k] - strokes.a[k]
            toward = strokes.a[k] - points
            denominator = directions[:, 0] * along[1] - directions[:, 1] * along[0]
            safe = np.where(denominator == 0.0, np.inf, denominator)
            t = (toward[:, 0] * along[1] - toward[:, 1] * along[0]) / safe
            share = (toward[:, 0] * directions[:, 1] - toward[:, 1] * directions[:, 0]) / safe
            hit = (denominator != 0.0) & (share >= -1e-12) & (share <= 1.0 + 1e-12) & (t > 0.0)
            best = np.where(hit & (t < best), t, best)
    return best
