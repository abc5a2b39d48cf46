"""Where tails and pins stand along the corner, at the end of the tail board and at its baseline.

Words: *s* is the distance from the lower edge, shared by both boards because their lower edges are flush. *u* is the
distance from the end grain of the tail board, 0 there and `length` at the baseline; it is also the depth from the
outside face of the pin board. A *flank* is the sloped side that a tail and a pin share: a straight line s(u). A *tail*
is the wood between two flanks, widest at the end; a *space* is what is left between two tails, or between a tail and
the board's edge: a pin fills it, narrowest at the end. All lengths in mm, all angles in radians.
"""

from __future__ import annotations

import math

from jigcam.values import dataclass


@dataclass(frozen=True, slots=True)
class Flank:
    """A line s(u): `end` at u = 0, `base` at the baseline. `edge` marks the board's own edge, which no joint moves."""

    end: float
    base: float
    edge: bool = False

    def at(self, share: float) -> float:
        """s at a share of the length: 0 at the end, 1 at the baseline; beyond them on the same line."""
        return self.end + share * (self.base - self.end)

    def lean(self, length: float) -> float:
        """The angle from the grain of the tail board, rad, positive where s grows toward the baseline."""
        return math.atan2(self.base - self.end, length)

    def shifted(self, distance: float, length: float) -> Flank:
        """The parallel line `distance` away, square to the line; positive is away from the lower edge.

        A board's edge stays where it is: nothing is taken from it.
        """
        if self.edge:
            return self
        along = distance * math.hypot(self.base - self.end, length) / length
        return Flank(self.end + along, self.base + along)


@dataclass(frozen=True, slots=True)
class Strip:
    """What lies between two flanks, the lower one nearer to the lower edge: a tail, a space, a pin or a socket."""

    lower: Flank
    upper: Flank

    @property
    def end_width(self) -> float:
        """Width at the end of the tail board, which is the outside face of the pin board."""
        return self.upper.end - self.lower.end

    @property
    def base_width(self) -> float:
        """Width at the baseline of the tail board, which is the inside face of the pin board."""
        return self.upper.base - self.lower.base

    @property
    def least_width(self) -> float:
        """Width where it is narrowest."""
        return min(self.end_width, self.base_width)

    @property
    def half(self) -> bool:
        """Whether one side is the board's edge, as in a half pin."""
        return self.lower.edge or self.upper.edge

    def width_at(self, share: float) -> float:
        """Width at a share of the length, 0 at the end and 1 at the baseline."""
        return self.upper.at(share) - self.lower.at(share)

    def grown(self, distance: float, length: float) -> Strip:
        """Each flank moved outward by `distance`, square to itself; negative moves it inward; edges stay."""
        return Strip(self.lower.shifted(-distance, length), self.upper.shifted(distance, length))


@dataclass(frozen=True, slots=True)
class Layout:
    """All tails of one corner, in order from the lower edge.

    width: of both boards. length: of the tails along their grain, which is the thickness of the pin board.
    """

    width: float
    length: float
    tails: tuple[Strip, ...]

    @property
    def spaces(self) -> tuple[Strip, ...]:
        """The spaces from the lower edge to the upper one: one more than there are tails, the first and last half."""
        lowers = [Flank(0.0, 0.0, edge=True), *(tail.upper for tail in self.tails)]
        uppers = [*(tail.lower for tail in self.tails), Flank(self.width, self.width, edge=True)]
        return tuple(Strip(lower, upper) for lower, upper in zip(lowers, uppers, strict=True))

    def pins(self, clearance: float) -> tuple[Strip, ...]:
        """The pins that fill the spaces, `clearance` short of each sloped flank, square to it."""
        return tuple(space.grown(-clearance, self.length) for space in self.spaces)

    def sockets(self, clearance: float) -> tuple[Strip, ...]:
        """The openings between the pins, `clearance` wider than the tail on each flank, square to it."""
        return tuple(tail.grown(clearance, self.length) for tail in self.tails)

    @property
    def slopes(self) -> tuple[float, ...]:
        """The slope of every flank as an angle, rad, in order; positive where tails narrow toward the baseline."""
        angles = []
        for tail in self.tails:
            angles += [tail.lower.lean(self.length), -tail.upper.lean(self.length)]
        return tuple(angles)

    def sloped(self, slope: float) -> Layout:
        """The same widths at the end of the tail board with another slope (rad): the baseline follows."""
        return Layout(
            self.width,
            self.length,
            tuple(_tail(tail.lower.end, tail.upper.end, self.length, slope) for tail in self.tails),
        )

    @property
    def ordered(self) -> bool:
        """Whether every tail and space has some width, at the end and at the baseline."""
        return all(strip.least_width > 0.0 for strip in (*self.tails, *self.spaces))


def tail_width(width: float, count: int, pin: float, half_pin: float) -> float:
    """The width of one tail at its end, mm: what pins and half pins leave of the width, shared by the tails.

    Source: width = count · tail + (count − 1) · pin + 2 · half pin; all pins first, the rest is tails (common
    practice, no source). The result is negative where the pins alone are wider than the board.
    """
    return (width - (count - 1) * pin - 2.0 * half_pin) / count


def even_layout(width: float, length: float, count: int, pin: float, half_pin: float, slope: float) -> Layout:
    """Equal tails between equal pins, as a drawing gives them.

    pin, half_pin: widths at the end of the tail board, where pins are narrowest (mm). slope: angle of the flanks from
    the grain (rad). Nothing is checked: `rules` says what is wrong with a layout.
    """
    tail = tail_width(width, count, pin, half_pin)
    starts = [half_pin + k * (tail + pin) for k in range(count)]
    return Layout(width, length, tuple(_tail(start, start + tail, length, slope) for start in starts))


def measured_layout(width: float, length: float, tails: tuple[tuple[float, float, float, float], ...]) -> Layout:
    """Tails as they were cut: per tail its lower and upper flank at the end, then both at the baseline (mm).

    All are distances from the lower edge, so the lower flank has the smaller one. Nothing is checked here.
    """
    return Layout(
        width,
        length,
        tuple(
            Strip(Flank(lower_end, lower_base), Flank(upper_end, upper_base))
            for lower_end, upper_end, lower_base, upper_base in tails
        ),
    )


def _tail(lower: float, upper: float, length: float, slope: float) -> Strip:
    narrowing = length * math.tan(slope)
    return Strip(Flank(lower, lower + narrowing), Flank(upper, upper - narrowing))
