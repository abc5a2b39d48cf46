"""Centre and turn of an arc, from its words (NISTIR 6556 section 3.5.3).

Axes are named by their place, 0 1 2 for x y z. A plane is (first, second, normal), right-handed, so that angles count
anticlockwise as seen from the positive end of the normal: xy, zx (G18) and yz (G19).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from jigcam.gcode.faults import Objection

PLANE_AXES: dict[int, tuple[int, int, int]] = {170: (0, 1, 2), 180: (2, 0, 1), 190: (1, 2, 0)}
OFFSETS = "IJK"
AXES = "XYZ"

MISMATCH_MM = 0.002
"""How far the radii at both ends may differ in G21 (section 3.5.3.2)."""
MISMATCH_INCH = 0.0002
"""The same in G20, in inches."""
NOISE = 1e-9
"""Rounding of double arithmetic on lengths in mm: two points nearer than this are one."""
HALF_TURN_NOISE = 1e-9
"""Relative excess of a half chord over its radius that is still a half turn."""


def mismatch_limit(scale: float) -> float:
    """The standard's tolerance in mm; scale: mm per program unit."""
    return MISMATCH_MM if scale == 1.0 else MISMATCH_INCH * scale


def turn(start: tuple[float, float], end: tuple[float, float], centre: tuple[float, float], ccw: bool) -> float:
    """Sweep in rad about the centre, positive anticlockwise; a full turn where both ends are one point."""
    if math.hypot(end[0] - start[0], end[1] - start[1]) <= NOISE:
        return math.tau if ccw else -math.tau
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    last = math.atan2(end[1] - centre[1], end[0] - centre[0])
    return (last - first) % math.tau if ccw else -((first - last) % math.tau)


def solve(
    words: Mapping[str, float], plane: int, scale: float, start: Sequence[float], end: Sequence[float], ccw: bool
) -> tuple[tuple[float, float, float], float]:
    """Centre (x, y, z in mm, at the start's height) and sweep in rad of an arc.

    words: of the line, in program units; scale: mm per unit. start, end: in mm. Raises Objection for each error that
    section 3.5.3 names.
    """
    first, second, normal = PLANE_AXES[plane]
    if AXES[first] not in words and AXES[second] not in words:
        raise Objection("arc-end-missing", f"an arc needs {AXES[min(first, second)]} or {AXES[max(first, second)]}")
    if OFFSETS[normal] in words:
        letter = OFFSETS[normal]
        raise Objection("arc-wrong-offset", f"{letter} does not lie in the plane of the arc", letter)
    centred = OFFSETS[first] in words or OFFSETS[second] in words
    if "R" in words and centred:
        raise Objection("arc-mixed-form", "R and centre offsets in one arc", "R")
    if "R" not in words and not centred:
        raise Objection("arc-offsets-missing", "an arc needs R or a centre")
    a, b = (start[first], start[second]), (end[first], end[second])
    if any(map(math.isnan, (*a, *b))):
        raise Objection("arc-start-unknown", "the arc starts at a place that the file has not given")
    if "R" in words:
        centre = _centre_from_radius(words["R"] * scale, a, b, ccw)
    else:
        centre = (a[0] + words.get(OFFSETS[first], 0.0) * scale, a[1] + words.get(OFFSETS[second], 0.0) * scale)
        _check_radii(a, b, centre, mismatch_limit(scale))
    place = [0.0, 0.0, 0.0]
    place[first], place[second], place[normal] = centre[0], centre[1], start[normal]
    return (place[0], place[1], place[2]), turn(a, b, centre, ccw)


def _check_radii(
    start: tuple[float, float], end: tuple[float, float], centre: tuple[float, float], limit: float
) -> None:
    at_start = math.hypot(start[0] - centre[0], start[1] - centre[1])
    at_end = math.hypot(end[0] - centre[0], end[1] - centre[1])
    if at_start == 0.0:
        raise Objection("arc-zero-radius", "the centre lies on the start point")
    if abs(at_start - at_end) > limit + NOISE:
        raise Objection(
            "arc-radius-mismatch",
            f"the radius is {at_start:.5g} mm at the start and differs by {abs(at_start - at_end):.4g} mm "
            f"at the end; {limit:.4g} mm is allowed",
        )


def _centre_from_radius(
    radius: float, start: tuple[float, float], end: tuple[float, float], ccw: bool
) -> tuple[float, float]:
    """A positive radius turns at most half a turn, a negative one at least half."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    chord = math.hypot(dx, dy)
    if radius == 0.0:
        raise Objection("arc-zero-radius", "R is zero", "R")
    if chord <= NOISE:
        raise Objection("arc-same-point", "an arc by radius cannot end where it starts", "R")
    half = chord / 2
    if half > abs(radius) * (1 + HALF_TURN_NOISE):
        raise Objection(
            "arc-radius-too-small", f"R reaches {2 * abs(radius):.5g} mm, and the end is {chord:.5g} mm away", "R"
        )
    height = math.sqrt(max(0.0, (abs(radius) - half) * (abs(radius) + half)))
    side = 1.0 if ccw == (radius > 0) else -1.0
    return (start[0] + dx / 2 - side * height * dy / chord, start[1] + dy / 2 + side * height * dx / chord)
