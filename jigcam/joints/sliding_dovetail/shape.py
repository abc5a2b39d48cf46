"""The shape that socket and tail share, in the joint's own frame (s, t, h).

s: along the centreline from the drawn start toward the finish. t: across it, to the left. h: above the bottom of the
socket; the face of its board is at h = depth. The flank at low t runs along s; the one at high t too, or leans toward
it by the taper. Flanks lean inward as h grows, by the tangent of their angle, square to their line. mm, rad.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, hypot, tan
from typing import NamedTuple, Self

from jigcam.values import dataclass

UNDER = 0.2
"""How much shorter the tail is than the socket is deep, mm: its shoulders close before it touches the bottom (common
practice, no source)."""
END_ROOM = 0.5
"""Room between the end of the tail and the round that a bit leaves in a stopped end, mm (common practice)."""


class FlankLine(NamedTuple):
    """A line t = t0 + slope · s."""

    t0: float
    slope: float = 0.0

    def at(self, s: float) -> float:
        """t at a station."""
        return self.t0 + self.slope * s

    def moved(self, distance: float) -> FlankLine:
        """The parallel line `distance` away, square to it, toward growing t."""
        return FlankLine(self.t0 + distance * hypot(1.0, self.slope), self.slope)


@dataclass(frozen=True, slots=True)
class Shape:
    """Socket and tail as drawn.

    base: width at the bottom where the tail comes in. depth: of the socket. flank: angle from the upright. taper:
    narrowing over `length`. stopped_start, stopped_finish: at most one is. clearance: square to each flank.
    """

    length: float
    base: float
    depth: float
    flank: float
    taper: float
    stopped_start: bool
    stopped_finish: bool
    clearance: float

    @property
    def enters_at_finish(self) -> bool:
        """Whether the tail comes in from the finish, where the socket then is widest; else from the start."""
        return self.stopped_start

    @property
    def lean(self) -> float:
        """Tangent of the flanks' angle: how far they come inward for each mm of height."""
        return tan(self.flank)

    @property
    def tail_length(self) -> float:
        """How far the tail stands out of its shoulders."""
        return self.depth - UNDER

    def sloped(self, flank: float) -> Self:
        """The same with another angle of the flanks, such as that of a bit."""
        return replace(self, flank=flank)

    def low(self, h: float, *, tail: bool = False) -> FlankLine:
        """The flank at low t at a height: of the socket, or of the tail."""
        return FlankLine(-self.base / 2.0).moved(self._inward(h, tail))

    def high(self, h: float, *, tail: bool = False) -> FlankLine:
        """The flank at high t at a height."""
        slope = self.taper / self.length
        wide = (
            FlankLine(self.base / 2.0 - self.taper, slope)
            if self.enters_at_finish
            else FlankLine(self.base / 2.0, -slope)
        )
        return wide.moved(-self._inward(h, tail))

    def width(self, s: float, h: float, *, tail: bool = False) -> float:
        """Width at a station and a height."""
        return self.high(h, tail=tail).at(s) - self.low(h, tail=tail).at(s)

    @property
    def necks(self) -> tuple[float, float]:
        """Width of the socket on the face: where the tail comes in, and at the far end."""
        ends = (self.length, 0.0) if self.enters_at_finish else (0.0, self.length)
        wide, narrow = (self.width(s, self.depth) for s in ends)
        return wide, narrow

    @property
    def least_base(self) -> float:
        """Width at the bottom of the far end: no bit that is wider goes in."""
        return self.base - self.taper

    def _inward(self, h: float, tail: bool) -> float:
        return h * self.lean + (self.clearance / cos(self.flank) if tail else 0.0)

    def socket_ends(self, h: float) -> tuple[float, float]:
        """Stations of the extreme ends at a height; open ones as drawn."""
        inward = h * self.lean
        return inward * self.stopped_start, self.length - inward * self.stopped_finish

    def tail_ends(self, low: float, high: float, h: float = 0.0) -> tuple[float, float]:
        """Stations between which a tail lies that its board lets go from `low` to `high`.

        At a stopped end it keeps out of the round of any bit that goes in.
        """
        room = self.base / 2.0 + END_ROOM
        first = room + h * self.lean if self.stopped_start and low < room else low
        last = self.length - room - h * self.lean if self.stopped_finish and high > self.length - room else high
        return first, last
