"""A groove routed along a straight-edge: where it and the stop blocks are clamped, where each wall starts and ends.

The bit turns clockwise, seen from above, and pulls the router to the left of its way: there lies the straight-edge,
outside the wall, so that the two walls are routed in opposite directions (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil
from typing import TYPE_CHECKING, Literal

from jigcam.joints.groove.walls import along_an_edge, first_sign, mirrored
from jigcam.kit import Want
from jigcam.template.hand import way_at_hand
from jigcam.units.setting import Known
from jigcam.wood.band import toward

if TYPE_CHECKING:
    from jigcam.job import Face
    from jigcam.joints.groove.groove import Groove
    from jigcam.kit import Bit, Kit
    from jigcam.units import Voice

FREE = 1.5
"""mm beside the bit, to each side, with which it turns free in a room that is bored or chopped as wide as the groove:
less, and it grabs as it is switched on (common practice, no source)."""
THIN = 1.5
"""mm; a spacer thinner than this is of card and paper: nobody planes it (common practice, no source)."""
PAPER = 0.08
"""mm; a sheet of paper is about so thick: a groove that is wider than the bit by less is routed once, and pared (common
practice, no source)."""
STEP = 5.0
"""mm that a hand-held router takes in a pass at most (about 3 to 6: common practice, no source)."""
SAME = 1e-3
"""mm; sizes that differ by less are the same."""

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
    """The straight bit of the kit that goes along a straight-edge, mm. radius: of the router's round base. sign: the
    side of the centreline on which the marked wall is, as `first_sign` has it."""

    groove: Groove
    bit: Bit
    radius: float
    sign: float

    @classmethod
    def of(cls, groove: Groove, kit: Kit) -> StraightEdge | None:
        """With the widest straight bit that fits; where a wall begins at a stop, rather with one that plunges.

        None where the kit has no router, no such bit, or a base that has hardly anything beside the groove to rest on.
        """
        router, fit = kit.router, fitting(groove, kit)
        if router is None or isinstance(fit, str):
            return None
        best = max(fit, key=lambda bit: (bit.plunges and _stopped(groove), bit.diameter, -bit.overall_length))
        return cls(groove, best, router.base_radius, first_sign(groove))

    def mirrored(self, face: Face) -> StraightEdge:
        """The same walls in the mirrored board, or in the face behind."""
        return replace(self, groove=mirrored(self.groove, face), sign=-self.sign)

    def behind(self, face: Face) -> StraightEdge:
        """The same walls in the mirrored board's face behind: mirrored twice, they lie as drawn."""
        return replace(self, groove=replace(self.groove, face=face))

    @property
    def reach(self) -> float:
        """From the cutting edge of the bit to the edge of the base, mm."""
        return self.radius - self.bit.diameter / 2.0

    @property
    def off_board(self) -> float:
        """How far beyond the board's edge the base rests on a block, with the bit beside the board, mm."""
        return self.radius + self.bit.diameter

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
        """Both walls, the straight-edge at the left of each way; one where the bit all but fills the groove."""
        groove = self.groove
        band, off = groove.band, self.spacer / 2.0
        ux, uy = band.along
        made = []
        for sign in self._signs:

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

    @property
    def _signs(self) -> tuple[float, ...]:
        """On which side of the centreline the walls are that are routed for themselves, the marked one first."""
        return (self.sign, -self.sign) if self.spacer >= PAPER else (self.sign,)

    @property
    def spacer(self) -> float:
        """How far the bit is moved from one wall to the other, mm; 0 where it is as wide as the groove."""
        return max(0.0, self.groove.width - self.bit.diameter)

    @property
    def roomy(self) -> bool:
        """Whether the bit turns free in a hole as wide as the groove, so that it can be started there."""
        return has_room(self.bit, self.groove)

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
        rides = self.rides()
        yield f"Unplug the router and fit {self.bit.name}."
        both = ": so the two walls are routed in opposite directions" if len(rides) > 1 else ""
        yield Known(f"The straight-edge is at the left of the way, where the cut pulls the base against it{both}.")
        yield (
            "Make a gauge: on a waste board lay a strip of scrap, thinner than the straight-edge and wider than "
            f"{voice.at_least(self.radius + self.bit.diameter)}, against it; clamp the straight-edge, and both sides "
            "of the strip beyond where the base comes, for the cut parts it in two. Run the router along, so that the "
            "straight-edge is at the left of the way, the bit through the strip into the waste board. The piece that "
            "stays at the straight-edge is as wide as it is from the edge of the base to the cutting edge of the bit, "
            f"about {voice.ruled(self.reach)}."
        )
        first = f"the wall to the {rides[0].side}" if len(rides) > 1 else f"the first wall, to the {rides[0].side}"
        yield (
            f"Lay the gauge on the face outside the line of {first}, one edge on the line, and clamp the straight-edge "
            "against its other edge."
        )
        if len(rides) > 1:
            yield from self._second(rides[1], voice)
        yield self._depths(voice, len(rides))
        yield from self._blocks(voice)
        yield from self._lowering(rides)
        if any(self._edge_lies_off(sign) for sign in self._signs):
            yield (
                "Where the straight-edge comes to lie beyond the board, lay an offcut as thick as the board against "
                "it: it carries straight-edge and base."
            )
        if len(self.stops) < 2:
            yield (
                f"Back up each open end, against breaking out, with a block as thick as the board, flush with its "
                f"face, that reaches {voice.at_least(self.off_board)} or more beyond the edge along the way, and "
                f"{voice.at_least(self.radius)} or more to both sides of it: the base rests on it. The bit begins "
                "beyond the block, or is lowered running into it where it plunges, and cuts through it into the board; "
                f"so let the straight-edges reach {voice.at_least(self.off_board + self.bit.diameter)} or more beyond "
                "the edge there."
            )
        if along_an_edge(self.groove) and len(rides) > 1 and not self.stops:
            yield Known(
                "A fence of the router's own against the lower edge does instead of both straight-edges, where it "
                "reaches: set it with the spacer between fence and edge so that the bit cuts at the line of the wall "
                "to the lower edge, rout, take the spacer away, and rout again; both times with the lower edge at the "
                "right of the way."
            )

    def _second(self, ride: WallRide, voice: Voice) -> Iterator[str]:
        """How the other wall gets its place: from the first straight-edge, and by no line."""
        how = "of card and paper, by a calliper" if self.spacer < THIN else "a strip planed to a calliper"
        yield (
            f"Make a spacer {voice.rule(self.spacer)} thick, {how}: the groove's width, {voice.rule(self.groove.width)}"
            f", less the bit's, {voice.rule(self.bit.diameter)}."
        )
        yield (
            "Set a second straight-edge from the first, and not from a line: the base against the first, the spacer "
            f"against the far side of the base, toward the {ride.side}, the second straight-edge against the spacer; "
            "the same near its other end, and clamp it; the first stays where it is. Take the spacer away, "
            "and keep one side of the base facing the same way for both walls."
        )
        tried = self.groove.mate.board or f"a strip planed to {voice.rule(self.groove.width)}"
        yield (
            f"Rout both walls in an offcut first: {tried} goes in by hand. Where it is tight or loose, change the "
            "spacer by as much."
        )

    def _depths(self, voice: Voice, walls: int) -> str:
        """The settings of the depth, each as a rule and a depth stop show it."""
        depth = self.groove.depth
        count = ceil(depth / STEP - 1e-9)
        told = list(dict.fromkeys(voice.ruled(depth * (n + 1) / count) for n in range(count)))
        if len(told) == 1:
            return f"Set the depth to {told[0]}, in one pass."
        return f"Set the depth to {', then '.join(told)}{', all passes at one wall before the next' * (walls > 1)}."

    def rows(self, where: str = "") -> list[tuple[str, str]]:
        """Each wall in turn: where the router begins, which way it goes, where it stops. where: put before its name."""
        face = self.groove.face
        rows = []
        for ride in self.rides():
            begin = f"begin off the board, at the open {ride.first}"
            if ride.begins is not None:
                enter = "lower the bit" if self.bit.plunges else "start in the room there"
                against = "the base against the block there"
                begin = f"begin at the {ride.first}, {against}: {enter}"
            end = f"run out over the edge at the open {ride.last}"
            if ride.ends is not None:
                end = f"stop where the base meets the block at the {ride.last}"
            rows.append(
                (
                    f"{where}wall to the {ride.side}" if len(self.rides()) > 1 else f"{where}both walls",
                    f"straight-edge outside it, toward the {way_at_hand(ride.side, face)}; {begin}; move toward the "
                    f"{way_at_hand(ride.toward, face)}; {end}; switch off, and let the bit stop before lifting it",
                )
            )
        if self.groove.width > 2.0 * self.bit.diameter + SAME:
            rows.append((f"{where}then", "clear what stands between the two in the same passes, away from the walls"))
        return rows

    def _blocks(self, voice: Voice) -> Iterator[str]:
        for end in self.stops:
            # Rounded down: the bit rather stops short of the line than beyond it.
            away, where = self.radius - self.inset, f"the extreme {end} of the groove"
            if self.groove.ends == "round":
                away, where = self.radius, f"the centre of the round at the {end}"
            line = (
                f"Clamp a stop block square to the straight-edge, its face {voice.up_to(away)} beyond {where}: the "
                "base comes to rest against it, and what wood is left at the line is for the chisel"
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
        room = (
            "bore or chop out room at the stop first, to the depth, as wide as the groove and inside its lines, in "
            "which the bit turns free; start in the middle of it, then bring the base against straight-edge and block"
        )
        if self.bit.plunges:
            fixed = (
                f"With a fixed base {room}."
                if self.roomy
                else "With a fixed base it is no way: saw and chisel instead."
            )
            yield (
                "Where a wall begins at a stop, hold the base against block and straight-edge, and lower the running "
                f"bit there: that takes a router whose base plunges. {fixed}"
            )
        else:
            yield (
                f"{self.bit.name} does not cut at its centre, so it cannot be lowered into the wood where a wall "
                f"begins at a stop: {room}."
            )

    def _edge_lies_off(self, sign: float) -> bool:
        """Whether the straight-edge beside one wall lies off the board where the wall is half way along."""
        groove = self.groove
        middle = groove.band.at(groove.length / 2.0, sign * (groove.width / 2.0 + self.reach))
        return not self._on_board(middle)


def _stopped(groove: Groove) -> bool:
    """Whether the bit has to begin somewhere within the board."""
    return not (groove.open_start and groove.open_finish)


def has_room(bit: Bit, groove: Groove) -> bool:
    """Whether the bit turns free in a hole as wide as the groove."""
    return groove.width - bit.diameter >= 2.0 * FREE - SAME


def fitting(groove: Groove, kit: Kit) -> list[Bit] | str:
    """The straight bits that can rout it along a straight-edge; where there is none, why: part of a sentence."""
    router = kit.router
    if router is None:
        return "the kit has no router"
    if router.base_radius <= groove.width:
        return "beside a groove so wide the base of the router has hardly anything to rest on"
    turns = Want("upright_walls", router).met_by(kit.bits)
    narrow = Want("upright_walls", router, width=groove.width).met_by(turns)
    deep = Want("upright_walls", router, width=groove.width, edges=groove.depth).met_by(narrow)
    long = [bit for bit in deep if bit.overall_length - router.grip - router.base_plate >= groove.depth]
    starts = [bit for bit in long if bit.plunges or has_room(bit, groove) or not _stopped(groove)]
    for left, why in (
        (turns, "the kit has no straight bit that the router's collets take"),
        (narrow, "no straight bit of the kit is narrower than the groove, or as wide"),
        (deep, "no straight bit of the kit that goes into the groove has edges as long as it is deep"),
        (long, "no straight bit of the kit that goes into the groove reaches its bottom below the base"),
        (
            starts,
            "no straight bit of the kit that goes into the groove can begin at its stopped end: none plunges, and none "
            "turns free in a hole as wide as the groove",
        ),
    ):
        if not left:
            return why
    return starts
