"""Socket and tail put together as their files cut them: the gap square to each flank, at several heights, along it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, sin
from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.findings import Finding
from jigcam.joints.sliding_dovetail.shape import UNDER
from jigcam.proof.assembly import Cutting, begins_toward

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.units import Voice

WITHIN = 0.6
"""How far from the drawn flank a flank is looked for, mm."""
MARGIN = 0.3
"""How far from edges, ends and corners flanks are looked at, mm."""
HEIGHTS, STATIONS = 5, 9
"""Places on a flank: up it, and along it."""
AS_DRAWN = 0.02
"""A gap this near to the drawn one is as drawn, mm."""
TOUCH = 2e-3
"""Interference up to this is what the last digits of two files make of no gap, mm."""


@dataclass(frozen=True, eq=False)
class FlankFit:
    """The gap at one flank, square to it, mm; negative where wood is in the way.

    name: "low" or "high", by the side of the centreline. drawn: the gap asked for. gap: (stations, heights), from
    the start and from the bottom.
    """

    name: str
    drawn: float
    gap: np.ndarray

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm."""
        return {
            "flank": self.name,
            "least_mm": _rounded(self.gap.min()),
            "most_mm": _rounded(self.gap.max()),
            "along_mm": [_rounded(each) for each in self.gap.mean(axis=1)],
            "up_mm": [_rounded(each) for each in self.gap.mean(axis=0)],
        }


@dataclass(frozen=True)
class SlidingFit:
    """The joint put together. with_tail: whether a file cuts the tail; else the socket alone is measured.

    play: of the bushing in the opening as milled, mm; None where none rides.
    """

    flanks: tuple[FlankFit, ...]
    with_tail: bool
    play: float | None = None

    @property
    def span(self) -> tuple[float, float]:
        """Least and greatest gap."""
        return min(float(each.gap.min()) for each in self.flanks), max(float(each.gap.max()) for each in self.flanks)

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm."""
        least, most = self.span
        return {
            "least_mm": _rounded(least),
            "most_mm": _rounded(most),
            "clearance_drawn_mm": _rounded(self.flanks[0].drawn),
            "with_tail": self.with_tail,
            "flanks": [each.as_dict() for each in self.flanks],
            **({} if self.play is None else {"play_mm": _rounded(self.play)}),
        }

    def brief(self, voice: Voice) -> list[str]:
        """In a few words."""
        if not self.with_tail:
            return [f"flanks of the socket {voice.span(*self.span)} outside the drawing"]
        return [f"flanks {voice.span(*self.span)} apart, {voice.exact(self.flanks[0].drawn)} drawn"]

    def lines(self, voice: Voice) -> list[str]:
        """For people."""
        if not self.with_tail:
            return [f"the flanks of the socket stand {voice.span(*self.span)} outside the drawing as cut"]
        return [
            f"the tail in its socket: {voice.span(each.gap.min(), each.gap.max())} at the {each.name} flank as cut, "
            f"square to it, {voice.exact(each.drawn)} drawn"
            for each in self.flanks
        ]


def fit_sliding(joint: SlidingDovetail, socket: Sequence[Cutting], tail: Sequence[Cutting]) -> SlidingFit:
    """The gaps at both flanks. socket, tail: what cuts each, in the joint's own frame (s, t, h); no tail by hand."""
    shape, place = joint.shape, joint.place
    first, last = place.ends(shape.depth)
    low, high = joint.on_board
    stations = np.linspace(max(first, low) + MARGIN, min(last, high) - MARGIN, STATIONS)
    # Looked for along the normal, no search may leave the height of the tail.
    reach = WITHIN * sin(shape.flank) + MARGIN
    heights = np.linspace(UNDER + reach, shape.depth - reach, HEIGHTS)
    flanks = []
    for name, line_at, out in (("low", shape.low, -1.0), ("high", shape.high, 1.0)):
        slope = line_at(0.0).slope
        places = np.array([(s, line_at(h).at(s), h) for s in stations for h in heights])
        level = np.array([-out * slope, out]) / hypot(1.0, slope)  # square to the flank's line, into the socket's wood
        normal = np.array([*(cos(shape.flank) * level), sin(shape.flank)])
        ways = np.broadcast_to(normal, places.shape)
        gap = begins_toward(socket, places, ways, WITHIN)
        if tail:
            gap = gap + begins_toward(tail, places, -ways, WITHIN)
        flanks.append(FlankFit(name, shape.clearance if tail else 0.0, gap.reshape(STATIONS, HEIGHTS)))
    return SlidingFit(tuple(flanks), bool(tail))


def fit_findings(fit: SlidingFit, where: str, voice: Voice) -> list[Finding]:
    """What a maker has to know."""
    found = []
    for each in fit.flanks:
        least, most, drawn = float(each.gap.min()), float(each.gap.max()), each.drawn
        what = f"{each.name} flank: a gap of {voice.span(least, most)}, drawn {voice.exact(drawn)}"
        if fit.with_tail and least < -TOUCH:
            found.append(Finding("stop", "does-not-fit", where, what))
        elif max(abs(least - drawn), abs(most - drawn)) > AS_DRAWN:
            found.append(Finding("caution", "sliding-fit-off", where, what))
    return found


def socket_frame(joint: SlidingDovetail, placement: Sequence[Sequence[float]]) -> np.ndarray:
    """3×4: from the joint's frame to the file of the socket. placement: of its setup, 2×3."""
    (ux, uy), (x, y) = joint.band.along, joint.band.at(0.0)
    face = np.array([[ux, -uy, 0.0, x], [uy, ux, 0.0, y], [0.0, 0.0, 1.0, -joint.shape.depth], [0.0, 0.0, 0.0, 1.0]])
    return np.asarray(_placed(placement) @ face)


def face_frame(joint: SlidingDovetail) -> np.ndarray:
    """3×4: from the joint's frame to that of the face that the socket is in."""
    return socket_frame(joint, ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)))


def tail_frame(joint: SlidingDovetail, placement: Sequence[Sequence[float]]) -> np.ndarray:
    """3×4: from the joint's frame to the file of the tail, which stands on its other end."""
    place = joint.place
    y0, v0 = place.y(0.0), place.deep(0.0)
    ys, vt = place.y(1.0) - y0, place.deep(1.0) - v0
    standing = np.array([[ys, 0.0, 0.0, y0], [0.0, vt, 0.0, v0], [0.0, 0.0, -1.0, UNDER], [0.0, 0.0, 0.0, 1.0]])
    return np.asarray(_placed(placement) @ standing)


def _placed(placement: Sequence[Sequence[float]]) -> np.ndarray:
    plane = np.eye(3, 4)
    plane[:2, [0, 1, 3]] = np.asarray(placement, float)
    return plane


def _rounded(mm: float) -> float:
    """To a tenth of a micron, and never a negative nothing."""
    return round(float(mm), 4) + 0.0
