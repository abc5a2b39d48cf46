"""What a drawing of a board says of its cuts in the job's own numbers: figures, centrelines, starts and angles."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from jigcam.geometry import Path
from jigcam.units.format import nearest_fraction

if TYPE_CHECKING:
    from jigcam.piece.body import Body
    from jigcam.units import Voice

ON = 6.0
"""By which a centreline is carried on beyond the cut, mm."""
EXACT = 1e-3
"""A fraction of an inch that is this near is the length itself, mm."""


def figure(mm: float, voice: Voice) -> str:
    """A length with its decimals, and in inches as a fraction where a rule shows it: "1-1/2 (1.500)".

    >>> from jigcam.units import Voice
    >>> figure(38.1, Voice("in")), figure(38.2, Voice("in")), figure(38.1, Voice("mm"))
    ('1-1/2 (1.500)', '1.504', '38.1')
    """
    if not voice.inch:
        return voice.length(mm).removesuffix(" mm")
    decimals = voice.length(mm, 3).removesuffix(" in")
    fraction = nearest_fraction(mm)
    if abs(fraction.error_mm) > EXACT:
        return decimals
    return f"{fraction.text.removesuffix(' in')} ({decimals})"


def centreline_at(body: Body, face: str) -> Path | None:
    """The centreline of what opens at the face in whose frame the job gives it."""
    return body.taken.centreline if body.taken.face == face else None


def carried_on(line: Path) -> Path:
    """A straight line, carried on at both ends."""
    (x, y), (u, v) = line.start, line.end
    ux, uy = (u - x) / line.length, (v - y) / line.length
    return Path.through([(x - ON * ux, y - ON * uy), (u + ON * ux, v + ON * uy)])


def as_the_job_has_it(body: Body, voice: Voice) -> str:
    """Start, middle and finish of a centreline with its angle: the job's own numbers, beside those of the walls."""
    line = body.taken.centreline
    assert line is not None, "asked only of what has one"
    (x, y), (u, v) = line.start, line.end
    lean = math.degrees(math.atan2(v - y, u - x))

    def at(px: float, py: float) -> str:
        return f"x {figure(px, voice)}, y {figure(py, voice)}"

    return (
        f"the centreline starts at {at(x, y)}, has its middle at {at((x + u) / 2.0, (y + v) / 2.0)} and ends at "
        f"{at(u, v)}, {figure(line.length, voice)} on, at {lean:.4g}° to the grain"
    )
