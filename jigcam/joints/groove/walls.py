"""The walls of a groove as they are laid out by hand: one by the rule, the other from it.

Each figure of a rule is up to half a division off. Two walls that are both marked by figures would make a groove of
another width than the board that enters it: so only the *first wall* has figures, and the second is taken from it by
that board, or by a gauge that is exactly as wide as the groove.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import pi, sin
from typing import TYPE_CHECKING

from jigcam.wood.band import SLANT, toward

if TYPE_CHECKING:
    from jigcam.job import Face
    from jigcam.joints.groove.groove import Groove

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class WallLine:
    """One wall's line on the face, from start to finish, face frame, mm. side: of the groove it is on; waste: of it."""

    side: str
    start: Point
    finish: Point
    waste: str


def lengthwise(groove: Groove) -> bool:
    """Whether it goes with the grain rather than across it: its walls split off where they are chopped."""
    return abs(sin(groove.band.angle)) < SLANT


def along_an_edge(groove: Groove) -> bool:
    """Whether it is parallel to the lower edge, so that gauge and fence run along that."""
    return abs(sin(groove.band.angle)) < 1e-9


def square_to_the_edge(groove: Groove) -> bool:
    """Whether it runs along an edge or square to it, so that no bevel is set for it."""
    return abs(sin(2.0 * groove.band.angle)) < 1e-9


def first_sign(groove: Groove) -> float:
    """On which side of the centreline, seen along it, the first wall is: 1 to the left, -1 to the right.

    It is the one nearer to where figures run from: the lower edge for a groove with the grain, else the end at the left
    as seen.
    """
    ux, uy = groove.band.along
    return (-1.0 if ux > 0.0 else 1.0) if lengthwise(groove) else (1.0 if uy > 0.0 else -1.0)


def wall_line(groove: Groove, sign: float) -> WallLine:
    """The wall on that side, as `first_sign` has it: its straight part, and no further than the board's edges."""
    band, face = groove.band, groove.face
    inset = groove.width / 2.0 if groove.ends == "round" else 0.0
    ux, uy = band.along
    t = sign * groove.width / 2.0
    low, high = band.line_span(t) or (0.0, groove.length)
    first = low if groove.open_start else max(low, inset)
    last = high if groove.open_finish else min(high, groove.length - inset)
    outward = (-sign * uy, sign * ux)
    return WallLine(toward(*outward, face), band.at(first, t), band.at(last, t), toward(-outward[0], -outward[1], face))


def first_wall(groove: Groove) -> WallLine:
    """The wall that is marked by the rule."""
    return wall_line(groove, first_sign(groove))


def mirrored(groove: Groove, face: Face) -> Groove:
    """It alone, mirrored along the grain, as it lies in that face: of the board of the other hand, or behind."""
    band = replace(groove.band, x=groove.board.length - groove.band.x, angle=pi - groove.band.angle)
    return replace(groove, face=face, band=band, others=())


def mirrored_first_wall(groove: Groove) -> WallLine:
    """The wall that is marked by the rule in the mirrored board, as it lies there."""
    # What lies at the left of the way as drawn lies at its right, mirrored.
    return wall_line(mirrored(groove, groove.face), -first_sign(groove))
