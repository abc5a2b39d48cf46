"""A gap that is open where the bit comes in: the waste between two tails, or between two pins, cut from its mouth.

Words: the *mouth* is the edge of the board at which the gap is open and the bit comes in; *e* is the distance from it
into the board, *t* the place across. A gap either runs through the board to an open back, or ends at a *floor*. Its
sides are straight in e: the ways of the bit's middle along them are lines t(e). A side that is the board's own edge
has no wall. All cuts go inward, from the mouth: what the maker sees there stays clean, and what breaks out does so in
the backer behind, or in waste.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from jigcam.geometry import apply

EDGE_SHARE = 0.9
"""Part of the radius by which the outermost pass beside an open side overlaps the board's edge."""
STILL = 1e-6
"""Widths under this are none, mm."""


@dataclass(frozen=True, slots=True)
class Line:
    """t of the bit's middle along e: t0 + slope · e."""

    t0: float
    slope: float = 0.0

    def at(self, e: float) -> float:
        """t at a distance from the mouth."""
        return self.t0 + self.slope * e

    def moved(self, distance: float) -> Line:
        """The parallel line `distance` away, square to it, toward growing t."""
        return Line(self.t0 + distance * math.hypot(1.0, self.slope), self.slope)


@dataclass(frozen=True, slots=True)
class Wall:
    """A side of a gap as drawn: t along e, and whether it is the board's own edge."""

    line: Line
    edge: bool = False


@dataclass(frozen=True, slots=True)
class Gap:
    """Where the middle of a bit of some radius may go: between the lines low and high, from `first` to `last` along e.

    low_edge, high_edge: t of the board's edge where that side is open; None where it has a wall. floor: whether the gap
    ends at a floor, which the bit touches at `last`. back: e of the board's far face; None where the gap has a floor.
    """

    low: Line
    high: Line
    first: float
    last: float
    low_edge: float | None
    high_edge: float | None
    floor: bool
    back: float | None = None

    @property
    def low_wall(self) -> bool:
        """Whether there is a wall at low t."""
        return self.low_edge is None

    @property
    def high_wall(self) -> bool:
        """Whether there is a wall at high t."""
        return self.high_edge is None

    @property
    def width(self) -> float:
        """The greatest width between the lines on the board, mm; negative where the bit does not pass."""
        return max(self.high.at(e) - self.low.at(e) for e in (0.0, self.last))

    @property
    def least_width(self) -> float:
        """The least width between the lines on the board."""
        return min(self.high.at(e) - self.low.at(e) for e in (0.0, self.last))

    def inset(self, allowance: float) -> Gap:
        """The gap with an allowance left at walls and floor; between walls, as much as the bit still passes."""
        room = 0.5 * max(0.0, self.least_width) if self.low_wall and self.high_wall else allowance
        least = min(allowance, room)
        low = self.low.moved(least) if self.low_wall else self.low
        high = self.high.moved(-least) if self.high_wall else self.high
        last = self.last - (allowance if self.floor else 0.0)
        if not self.low_wall:
            low = Line(min(low.t0, high.at(0.0), high.at(last)))
        if not self.high_wall:
            high = Line(max(high.t0, low.at(0.0), low.at(last)))
        return replace(self, low=low, high=high, last=last)

    def lanes(self, step: float) -> list[Line]:
        """Lines from low to high, nowhere further apart than `step`; one where both are the same."""
        count = 0 if self.width < STILL else max(1, math.ceil(self.width / step - 1e-9))
        if count == 0:
            return [self.low]
        return [
            Line(
                self.low.t0 + k / count * (self.high.t0 - self.low.t0),
                self.low.slope + k / count * (self.high.slope - self.low.slope),
            )
            for k in range(count + 1)
        ]


def through_gap(
    low: Wall, high: Wall, radius: float, thickness: float, *, cover: float, lead: float, over: float
) -> Gap:
    """A gap through a board of some thickness along e.

    radius: of the bit where it touches the walls. cover: its least radius within the board, which has to reach the
    edge of an open side. lead: from the mouth to the rim of the bit before it comes in. over: how far the place where
    it touches the walls goes on behind the board.
    """
    steepest = max(abs(wall.line.slope) for wall in (low, high))
    touch = radius * steepest / math.hypot(1.0, steepest)
    return _gap(low, high, radius, cover, -(radius + lead), thickness + touch + over, thickness)


def blind_gap(low: Wall, high: Wall, radius: float, depth: float, *, lead: float) -> Gap:
    """A gap with a floor at `depth` along e."""
    return _gap(low, high, radius, radius, -(radius + lead), depth - radius, None)


def _gap(low: Wall, high: Wall, radius: float, cover: float, first: float, last: float, back: float | None) -> Gap:
    left, right = low.line.moved(radius), high.line.moved(-radius)
    reach = EDGE_SHARE * cover
    if low.edge:
        left = Line(min(low.line.t0 + reach, right.t0, right.at(last)))
    if high.edge:
        right = Line(max(high.line.t0 - reach, left.t0, left.at(last)))
    edges = [wall.line.t0 if wall.edge else None for wall in (low, high)]
    return Gap(left, right, first, last, edges[0], edges[1], back is None, back)


@dataclass(frozen=True, slots=True)
class Mouth:
    """From (e, t) to the plane in which the moves are laid down. matrix: 2×3.

    rising: whether climb milling works from low t to high t as the bit goes inward, that is with the wood on the right
    of its way.
    """

    matrix: tuple[tuple[float, float, float], tuple[float, float, float]]

    def at(self, e: float, t: float) -> tuple[float, float]:
        """The point of a place in the gap."""
        x, y = apply(self.matrix, (e, t))
        return float(x), float(y)

    @property
    def rising(self) -> bool:
        """Whether t grows to the right of the way inward."""
        (a, b, _), (c, d, _) = self.matrix
        return a * d - b * c < 0.0
