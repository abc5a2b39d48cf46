"""Arcs as they will stand in the text: ends and centre rounded to digits, and still an arc by the standard.

NISTIR 6556 section 3.5.3.2: the distances start–centre and end–centre may differ by 0.002 mm or 0.0002 in, which is 20
ticks in either unit. Rounding alone stays within 3 (a rounded point is at most 0.71 ticks off).
"""

from __future__ import annotations

import math
from typing import NamedTuple

from jigcam.errors import InputError
from jigcam.gcode.numbers import Digits

Ticks = tuple[int, int]

CLOSE_TICKS = 5.0
"""How far the radii at both ends may differ in the text: a quarter of what the standard allows."""
PLANNED = 0.002
"""mm by which the radii at both ends of a planned arc may differ; more is a mistake in the plan."""
SHORT = 2e-3
"""Arcs shorter than this, in mm, become lines ..."""
FLAT_RADIUS = 5000.0
"""... and arcs of a larger radius, in mm ..."""
FLAT = 1e-4
"""... where the line stays this near to the arc, in mm."""


class Planned(NamedTuple):
    """An arc in ticks and mm: rounded ends, the centre that was planned."""

    start: Ticks
    end: Ticks
    centre: tuple[float, float]
    ccw: bool


def offsets(arc: Planned, digits: Digits) -> Ticks | None:
    """I and J in ticks, from the rounded start; None where a line serves.

    The arc that the text describes closes within CLOSE_TICKS and turns at most half a turn. Its centre is within 1.5
    ticks of the planned one or, where that does not close, of the point next to it that is equally far from the rounded
    ends. Raises InputError for an arc that is none: ends at different distances from the centre, more than half a
    turn, or a centre that is no number.
    """
    if not all(map(math.isfinite, arc.centre)):
        raise InputError("a centre that is no number", found=str(arc.centre), wanted="finite lengths in mm")
    if arc.start == arc.end or _is_line(arc, digits):
        return None
    centre = (arc.centre[0] / digits.tick, arc.centre[1] / digits.tick)
    found = _nearest(arc, centre) or _nearest(arc, _on_bisector(arc, centre, digits))
    if found is None:
        raise InputError(
            "an arc whose ends and centre do not belong together",
            found=str(arc),
            mend="this is a fault of the planner, please report it",
        )
    return found[0] - arc.start[0], found[1] - arc.start[1]


def _is_line(arc: Planned, digits: Digits) -> bool:
    """Whether the straight line between the ends is as good."""
    # From the chord and not from angles: rounding may turn the chord of a very short arc any way.
    half_chord = math.dist(arc.start, arc.end) * digits.tick / 2
    radius = math.dist((arc.start[0] * digits.tick, arc.start[1] * digits.tick), arc.centre)
    if half_chord >= radius:
        return half_chord <= FLAT
    length = 2 * radius * math.asin(half_chord / radius)
    if length > SHORT and radius <= FLAT_RADIUS:
        return False
    # radius − √(radius² − half_chord²), written without cancellation
    sagitta = half_chord**2 / (radius + math.sqrt((radius - half_chord) * (radius + half_chord)))
    return sagitta <= FLAT


def _nearest(arc: Planned, centre: tuple[float, float]) -> Ticks | None:
    """The whole-tick point next to the centre about which the arc closes and turns at most half a turn."""
    floor_x, floor_y = math.floor(centre[0]), math.floor(centre[1])
    around = [(floor_x + dx, floor_y + dy) for dx in (0, 1) for dy in (0, 1)]
    around.sort(key=lambda point: (math.dist(point, centre), point))
    for x, y in around:
        mismatch = abs(math.dist(arc.start, (x, y)) - math.dist(arc.end, (x, y)))
        side = _side(arc, x, y)
        if mismatch <= CLOSE_TICKS and (side > 0 or (side == 0 and _between(arc, x, y))):
            return x, y
    return None


def _side(arc: Planned, x: float, y: float) -> float:
    """Positive if the arc about that centre turns less than half, 0 at exactly half a turn; exact for whole ticks."""
    (x0, y0), (x1, y1) = arc.start, arc.end
    cross = (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)
    return cross if arc.ccw else -cross


def _between(arc: Planned, x: int, y: int) -> bool:
    """Whether a point on the line through both ends lies between them."""
    (x0, y0), (x1, y1) = arc.start, arc.end
    return (x0 - x) * (x1 - x) + (y0 - y) * (y1 - y) < 0


def _on_bisector(arc: Planned, centre: tuple[float, float], digits: Digits) -> tuple[float, float]:
    """The point equally far from both ends that is next to the centre, on the side of at most half a turn."""
    (x0, y0), (x1, y1) = arc.start, arc.end
    chord = math.hypot(x1 - x0, y1 - y0)
    off = abs(math.dist(arc.start, centre) - math.dist(arc.end, centre)) * digits.tick
    height = _side(arc, *centre) / chord
    if off > PLANNED or height * digits.tick < -PLANNED:
        raise InputError(
            "an arc that is none",
            found=f"radii differ by {off:.4g} mm; centre {height * digits.tick:.4g} mm from the chord",
            wanted=f"radii within {PLANNED} mm, centre on the side of at most half a turn",
            mend="this is a fault of the planner, please report it",
        )
    rise = max(height, 0.0) * (1 if arc.ccw else -1) / chord
    return (x0 + x1) / 2 - (y1 - y0) * rise, (y0 + y1) / 2 + (x1 - x0) * rise
