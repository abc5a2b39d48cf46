"""The wood that a sliding dovetail takes: the socket in its face, what goes from around the tail on its end.

Frames: the socket's is the frame of its face. The tail's are two: *standing*, (board y, depth from the outside face)
with z 0 on the end grain, and the face frame of its outside face.
"""

from __future__ import annotations

from math import cos, hypot
from typing import NamedTuple

from jigcam.geometry import Path, Region, difference, intersection, polygon, rectangle, slot, union
from jigcam.job import Board
from jigcam.joints.sliding_dovetail.shape import UNDER, Shape
from jigcam.values import dataclass
from jigcam.wood.band import Band
from jigcam.wood.solid import Prism

BEYOND = 25.0
"""How far what is cut around a tail is drawn off its board, mm: further than the radius of any bit."""
CLEAR_SIDE = 0.8
"""What the straight bit leaves on each side of the mouth and on the bottom, mm: 1.6 mm narrower than the neck and 0.8
mm shallower (common practice, no source)."""


class Channel(NamedTuple):
    """A straight channel with round ends, face frame: its solid, the line along its middle, its width in mm."""

    solid: Prism
    line: Path
    width: float


@dataclass(frozen=True, slots=True)
class Socket:
    """The socket in its face frame. band: its start and direction on the board, as wide as its bottom.

    over: how far an open end is carried on after the whole width has left the board, mm. round_to: the radius of the
    bit's tip where the solid is what has to go, with the round that it leaves in a stopped end; None: with corners.
    """

    shape: Shape
    band: Band
    over: float = 2.0
    round_to: float | None = None

    @property
    def depth(self) -> float:
        """Below the face."""
        return self.shape.depth

    def levels(self) -> tuple[float, ...]:
        """Face and bottom."""
        return 0.0, -self.depth

    def stretch(self, h: float = 0.0) -> tuple[float, float]:
        """Stations of both ends at a height, open ones off the board."""
        first, last = self.shape.socket_ends(h)
        low, high = self.band.span() or (0.0, self.shape.length)
        return (
            first if self.shape.stopped_start else low - self.over,
            last if self.shape.stopped_finish else high + self.over,
        )

    def section(self, z: float) -> Region:
        """The exact region at a height: widest at the bottom."""
        if not -self.depth <= z <= 0.0:
            return Region.empty()
        h = z + self.depth
        first, last = self.stretch(h)
        if self.round_to is None:
            return self._between(first, last, h)
        # The middle of the bit stays `round_to` from the walls at the bottom; at h it cuts a disc that much smaller.
        shape, radius = self.shape, self.round_to - h * self.shape.lean
        if not (shape.stopped_start or shape.stopped_finish):
            return self._between(first, last, h)
        station = self.round_to if shape.stopped_start else shape.length - self.round_to
        low = shape.low(0.0).moved(self.round_to).at(station)
        high = shape.high(0.0).moved(-self.round_to).at(station)
        ends = self.band.at(station, low - radius), self.band.at(station, max(low, high) + radius)
        corner = slot(*ends, 2.0 * radius)
        straight = self._between(station, last, h) if shape.stopped_start else self._between(first, station, h)
        return union(straight, corner)

    def cleared(self) -> Channel | None:
        """What a straight bit takes first; None where the mouth has no room for one."""
        shape = self.shape
        width = min(shape.necks) - 2.0 * CLEAR_SIDE
        low = shape.low(shape.depth).at(0.0) + CLEAR_SIDE
        first, last = self.stretch(shape.depth)
        # An open end, which is round too, goes on until only its round lies off the board.
        first += CLEAR_SIDE if shape.stopped_start else -width / 2.0
        last -= CLEAR_SIDE if shape.stopped_finish else -width / 2.0
        if width <= 0.0 or last - first <= width or shape.depth <= CLEAR_SIDE:
            return None
        line = Path.through([self.band.at(s, low + width / 2.0) for s in (first, last)])
        return Channel(Prism(slot(line.start, line.end, width), shape.depth - CLEAR_SIDE), line, width)

    def _between(self, first: float, last: float, h: float) -> Region:
        low, high = self.shape.low(h), self.shape.high(h)
        corners = [(first, low.at(first)), (last, low.at(last)), (last, high.at(last)), (first, high.at(first))]
        return polygon([self.band.at(s, t) for s, t in corners])


@dataclass(frozen=True, slots=True)
class TailPlace:
    """How the tail board stands on the socket.

    board: the tail board. end: that is shaped. first: station of its edge at low s. up: whether its lower edge is at
    low s. outside_high: whether its outside face looks to high t.
    """

    shape: Shape
    board: Board
    first: float
    up: bool
    outside_high: bool

    def y(self, s: float) -> float:
        """Place across the tail board, from its lower edge, of a station."""
        return s - self.first if self.up else self.board.width - (s - self.first)

    def station(self, y: float) -> float:
        """Station of a place across the tail board."""
        return self.first + (y if self.up else self.board.width - y)

    def deep(self, t: float) -> float:
        """Depth from the outside face of a place across the socket."""
        half = self.board.thickness / 2.0
        return half - t if self.outside_high else half + t

    def across(self, v: float) -> float:
        """Place across the socket of a depth from the outside face."""
        half = self.board.thickness / 2.0
        return half - v if self.outside_high else v - half

    def ends(self, h: float = 0.0) -> tuple[float, float]:
        """Stations of the tail's ends at a height; its board's edges where nothing is notched."""
        return self.shape.tail_ends(self.first, self.first + self.board.width, h)

    @property
    def notches(self) -> tuple[float, float]:
        """How much of the end is notched away on the shoulders, at low and at high s, mm; 0 where nothing is."""
        first, last = self.ends(self.shape.depth)
        return first - self.first, self.first + self.board.width - last


@dataclass(frozen=True, slots=True)
class AroundTail:
    """What goes from around the tail, standing: the cheeks on both sides, and the notch at a stopped end."""

    place: TailPlace

    @property
    def depth(self) -> float:
        """From the end grain to the shoulders."""
        return self.place.shape.tail_length

    def levels(self) -> tuple[float, ...]:
        """End grain and shoulders."""
        return 0.0, -self.depth

    def section(self, z: float) -> Region:
        """All but the tail at a height below the end grain."""
        if not -self.depth <= z <= 0.0:
            return Region.empty()
        place, shape, h = self.place, self.place.shape, UNDER - z
        first, last = place.ends(h)
        low_notch, high_notch = place.notches
        first, last = first - 2.0 * BEYOND * (not low_notch), last + 2.0 * BEYOND * (not high_notch)
        low, high = shape.low(h, tail=True), shape.high(h, tail=True)
        corners = [(first, low.at(first)), (last, low.at(last)), (last, high.at(last)), (first, high.at(first))]
        tail = polygon([(place.y(s), place.deep(t)) for s, t in corners])
        board = place.board
        whole = rectangle(-BEYOND, -BEYOND, board.width + BEYOND, board.thickness + BEYOND)
        return difference(whole, tail)


@dataclass(frozen=True, slots=True)
class AroundTailFlat:
    """The same in the frame of the outside face of the tail board: z −v is at depth v. end: that is shaped."""

    place: TailPlace
    at_right: bool

    @property
    def depth(self) -> float:
        """Through the board."""
        return self.place.board.thickness

    def levels(self) -> tuple[float, ...]:
        """Where flanks begin and end, faces among them."""
        place, shape = self.place, self.place.shape
        depths = {0.0, place.board.thickness}
        for h in (UNDER, shape.depth):
            for s in (place.first, place.first + place.board.width):
                for line in (shape.low(h, tail=True), shape.high(h, tail=True)):
                    depths.add(min(max(place.deep(line.at(s)), 0.0), place.board.thickness))
        return tuple(sorted((-depth for depth in depths), reverse=True))

    def section(self, z: float) -> Region:
        """What goes at a depth, along the grain from the end."""
        place, shape, board = self.place, self.place.shape, self.place.board
        if not -board.thickness <= z <= 0.0:
            return Region.empty()
        t = place.across(-z)
        spare = shape.clearance / cos(shape.flank)

        def to_low(s: float) -> float:
            return (t - shape.low(0.0).at(s) - spare) / shape.lean

        def to_high(s: float) -> float:
            line = shape.high(0.0)
            return ((line.at(s) - t) / hypot(1.0, line.slope) - spare) / shape.lean

        strip = rectangle(-BEYOND, -BEYOND, shape.tail_length, board.width + BEYOND)
        ys, far = (-BEYOND, board.width + BEYOND), 10.0 * board.length
        parts = []
        for reach in (to_low, to_high):
            e0, e1 = (reach(place.station(y)) - UNDER for y in ys)
            if min(e0, e1) < shape.tail_length:
                wedge = polygon([(e0, ys[0]), (far, ys[0]), (far, ys[1]), (e1, ys[1])])
                parts.append(intersection(strip, wedge))
        first, last = place.ends(UNDER)
        deep_first, deep_last = place.ends(shape.depth)
        for notch, top, deep, edge in zip(
            place.notches, (first, last), (deep_first, deep_last), (-1.0, 1.0), strict=True
        ):
            if notch:
                beyond = top + edge * (BEYOND + notch + board.width)
                corners = [(0.0, top), (shape.tail_length, deep), (shape.tail_length, beyond), (0.0, beyond)]
                parts.append(polygon([(e, place.y(s)) for e, s in corners]))
        taken = union(*parts) if parts else Region.empty()
        if not self.at_right:
            return taken
        return taken.transformed(((-1.0, 0.0, board.length), (0.0, 1.0, 0.0)))
