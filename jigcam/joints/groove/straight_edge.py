"""A groove routed along a straight-edge: where it and the stop blocks are clamped, where each wall starts and ends.

The bit turns clockwise, seen from above, and pulls the router to the left of its way: there lies the straight-edge,
outside the wall, so that the two walls are routed in opposite directions (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING, Literal

from jigcam.kit import Want
from jigcam.template.hand import way_at_hand
from jigcam.units.setting import Known
from jigcam.wood.band import toward

if TYPE_CHECKING:
    from jigcam.joints.groove.groove import Groove
    from jigcam.kit import Bit, Kit
    from jigcam.units import Voice

STEP = 5.0
"""mm that a hand-held router takes in a pass at most (about 3 to 6: common practice, no source)."""
SAME = 1e-3
"""mm; a bit that is as wide as the groove within this cuts both walls at once."""

Point = tuple[float, float]
End = Literal["start", "finish"]


@dataclass(frozen=True)
class WallRide:
    """The router's way along one wall. side: of the groove that the wall, and the straight-edge, is on; toward: the
    way. first, last: the ends of the groove between which it goes; begins, ends: the bit's centre there, face frame,
    mm, None where that end is open and the bit starts or ends beyond the board's edge."""

    side: str
    toward: str
    first: End
    last: End
    begins: Point | None
    ends: Point | None


@dataclass(frozen=True)
class StraightEdge:
    """The straight bit of the kit that goes along a straight-edge, mm. radius: of the router's round base."""

    groove: Groove
    bit: Bit
    radius: float

    @classmethod
    def of(cls, groove: Groove, kit: Kit) -> StraightEdge | None:
        """With the widest straight bit that fits; where a wall begins at a stop, rather with one that plunges.

        None where the kit has no router, no such bit, or a base that has hardly anything beside the groove to rest on.
        """
        router = kit.router
        if router is None or router.base_radius <= groove.width:
            return None
        fit = [
            bit
            for bit in Want("upright_walls", router, width=groove.width, edges=groove.depth).met_by(kit.bits)
            if bit.overall_length - router.grip - router.base_plate >= groove.depth
        ]
        stopped = not (groove.open_start and groove.open_finish)
        best = max(fit, key=lambda bit: (bit.plunges and stopped, bit.diameter, -bit.overall_length), default=None)
        return None if best is None else cls(groove, best, router.base_radius)

    @property
    def reach(self) -> float:
        """From the cutting edge of the bit to the edge of the base, mm."""
        return self.radius - self.bit.diameter / 2.0

    @property
    def inset(self) -> float:
        """How far inward of a stopped extreme end the bit's centre comes to rest: round ends are round to it, mm."""
        return (self.groove.width if self.groove.ends == "round" else self.bit.diameter) / 2.0

    @property
    def stops(self) -> tuple[End, ...]:
        """The stopped ends."""
        groove = self.groove
        ends: tuple[tuple[End, bool], ...] = (("start", groove.open_start), ("finish", groove.open_finish))
        return tuple(end for end, is_open in ends if not is_open)

    def rides(self) -> tuple[WallRide, ...]:
        """Both walls, each with the straight-edge at the left of the way; one where the bit fills the groove."""
        groove = self.groove
        band, off = groove.band, max(0.0, (groove.width - self.bit.diameter) / 2.0)
        ux, uy = band.along
        made = []
        for sign in (1.0, -1.0) if 2.0 * off > SAME else (1.0,):

            def centre(end: End, t: float = sign * off) -> Point | None:
                station = self.inset if end == "start" else groove.length - self.inset
                return band.at(station, t) if end in self.stops else None

            # The left of s is t > 0: along the wall there the way is that of s, along the other one against it.
            first, last = self._ordered(sign)
            made.append(
                WallRide(
                    toward(-sign * uy, sign * ux, groove.face),
                    toward(sign * ux, sign * uy, groove.face),
                    first,
                    last,
                    centre(first),
                    centre(last),
                )
            )
        return tuple(made)

    @staticmethod
    def _ordered(sign: float) -> tuple[End, End]:
        return ("start", "finish") if sign > 0.0 else ("finish", "start")

    def block_station(self, end: End) -> float:
        """Where along the groove the face of a stop block lies, from the drawn start, mm."""
        beyond = self.radius - self.inset
        return -beyond if end == "start" else self.groove.length + beyond

    def _on_board(self, point: Point) -> bool:
        band = self.groove.band
        return 0.0 < point[0] < band.length and 0.0 < point[1] < band.breadth

    def lines(self, voice: Voice) -> Iterator[str]:
        """What to do, a sentence each."""
        groove, bit, says = self.groove, self.bit, voice.rule
        count = ceil(groove.depth / STEP - 1e-9)
        depths = ", then ".join(says(groove.depth * (n + 1) / count) for n in range(count))
        rides = self.rides()
        yield (
            f"Unplug the router and fit {bit.name}. From the bit's cutting edge to the edge of the base it is "
            f"{says(self.reach)}: clamp a straight-edge so far outside the line of the wall that is routed, on the "
            "side away from the groove; try it on an offcut first."
        )
        both = ": so the two walls are routed in opposite directions" if len(rides) > 1 else ""
        yield Known(f"The straight-edge is at the left of the way, where the cut pulls the base against it{both}.")
        yield (
            f"Set the depth to {depths}{', all passes at one wall before the next' * (len(rides) > 1)}."
            if (count > 1)
            else f"Set the depth to {depths}, in one pass."
        )
        yield from self._blocks(voice)
        yield from self._lowering(rides)
        if any(self._edge_lies_off(sign) for sign in (1.0, -1.0)[: len(rides)]):
            yield (
                "Where the straight-edge comes to lie beyond the board, lay an offcut as thick as the board against "
                "it: it carries straight-edge and base."
            )
        if len(self.stops) < 2:
            yield "Back up each open end with a block, flush, against breaking out."

    def rows(self, voice: Voice) -> list[tuple[str, str]]:
        """Each wall in turn: where the router begins, which way it goes, where it stops."""
        face = self.groove.face

        def at(point: Point) -> str:
            return f"the bit's centre {voice.mark(point[0])} along, {voice.mark(point[1])} up"

        rows = []
        for ride in self.rides():
            begin = f"begin off the board, at the open {ride.first}"
            if ride.begins is not None:
                begin = f"begin at the {ride.first}, the base against the block there, {at(ride.begins)}; lower the bit"
            end = f"run out over the edge at the open {ride.last}"
            if ride.ends is not None:
                end = f"stop where the base meets the block at the {ride.last}, {at(ride.ends)}"
            rows.append(
                (
                    f"wall to the {ride.side}" if len(self.rides()) > 1 else "both walls",
                    f"straight-edge outside it, toward the {way_at_hand(ride.side, face)}; {begin}; move toward the "
                    f"{way_at_hand(ride.toward, face)}; {end}; switch off, and let the bit stop before lifting it",
                )
            )
        if self.groove.width > 2.0 * self.bit.diameter + SAME:
            rows.append(("then", "clear what stands between the two in the same passes, away from the walls"))
        return rows

    def _blocks(self, voice: Voice) -> Iterator[str]:
        for end in self.stops:
            line = (
                f"Clamp a stop block square to the straight-edge, its face {voice.rule(self.radius - self.inset)} "
                f"beyond the extreme {end} of the groove: the base comes to rest against it"
            )
            if not self._on_board(self.groove.band.at(self.block_station(end))):
                line += (
                    "; that is beyond the board's edge, so lay an offcut as thick as the board against the edge there, "
                    "to carry block and base"
                )
            yield f"{line}."

    def _lowering(self, rides: tuple[WallRide, ...]) -> Iterator[str]:
        """How the bit gets in where a wall begins at a stop."""
        if all(ride.begins is None for ride in rides):
            return
        room = "chop or bore out room at the stop first, to the depth and inside the lines, in which the bit turns free"
        if self.bit.plunges:
            yield (
                "Where a wall begins at a stop, hold the base against block and straight-edge, and lower the running "
                f"bit there: that takes a router whose base plunges. With a fixed base {room}, and start in it."
            )
        else:
            yield (
                f"{self.bit.name} does not cut at its centre, so it cannot be lowered into the wood where a wall "
                f"begins at a stop: {room}, and start in it; or take a bit that plunges, with a base that does."
            )

    def _edge_lies_off(self, sign: float) -> bool:
        """Whether the straight-edge beside one wall lies off the board where the wall is half way along."""
        groove = self.groove
        middle = groove.band.at(groove.length / 2.0, sign * (groove.width / 2.0 + self.reach))
        return not self._on_board(middle)
