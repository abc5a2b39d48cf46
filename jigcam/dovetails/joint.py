"""A dovetailed corner as a job asks for it, before any tool is known: boards, ends, layout, what the trade says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jigcam.dovetails import solids
from jigcam.dovetails.entry import MEETS, DovetailEntry, Ends
from jigcam.dovetails.judging import JointSizes, layout_findings, room_finding
from jigcam.dovetails.layout import Layout, even_layout, measured_layout
from jigcam.dovetails.measured import measured_findings
from jigcam.dovetails.solids import End
from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.job import Board, Job
from jigcam.units import Unit, format_length
from jigcam.wood.taken import Taken

FIT_SCALLOP = 0.018
"""What terraces may leave where nothing is pared, mm: the clearance then comes back within 0.02."""
SAME_WIDTH = 0.05
"""Boards whose widths differ by less count as equally wide, mm: nobody feels it at the edge."""
PLANED = 3.0
"""So much is planed off a board that came out too wide, mm (common practice, no source); more was meant."""


@dataclass(frozen=True, slots=True)
class Dovetail:
    """One joint of a job, serving one corner or two.

    ends: for each corner the end of the tail board and the end of the pin board that meet. layout: as drawn, or as the
    tails were measured. unit: of the job, for text. findings: all that the rules say.
    """

    name: str
    entry: DovetailEntry
    tail_board: Board
    pin_board: Board
    ends: tuple[tuple[End, End], ...]
    layout: Layout
    sizes: JointSizes
    unit: Unit
    boards_findings: tuple[Finding, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All that the rules say of the joint as drawn."""
        return self.judged(self.layout)

    def judged(self, layout: Layout) -> tuple[Finding, ...]:
        """All that the rules say of the joint with another layout, such as one with the slope of a bit."""
        return *self.boards_findings, *layout_findings(self.name, layout, self.sizes, self.unit)

    def taken(self) -> tuple[Taken, ...]:
        """The spaces between the tails with their rabbet, and the sockets between the pins, as drawn."""
        return self.taken_by(self.layout)

    def taken_by(self, layout: Layout) -> tuple[Taken, ...]:
        """The same with another layout, such as one with the slope of a bit."""
        return tuple(each for ends in self.ends for each in self._corner(layout, *ends))

    def _corner(self, layout: Layout, tails_end: End, pins_end: End) -> Iterator[Taken]:
        tails, pins, sizes = self.tail_board, self.pin_board, self.sizes
        spaces = solids.tails_flat(
            layout, tails.thickness, 0.0, end=tails_end, face="outside", board_length=tails.length
        )
        behind = sizes.lap > 0.0
        between = "the spaces between the tails"
        yield Taken(self.name, tails, "outside", spaces, end=tails_end, what=between, covered=behind)
        if sizes.rabbet:
            ledge = solids.rabbet(layout, sizes.rabbet, end=tails_end, board_length=tails.length)
            rabbet = "the rabbet of the tails"
            yield Taken(self.name, tails, "inside", ledge, end=tails_end, what=rabbet, covered=behind)
        face: solids.Face = "inside" if sizes.lap else "outside"
        sockets = solids.sockets_in(
            face, layout, sizes.clearance, sizes.pin_length, 0.0, end=pins_end, board_length=pins.length
        )
        yield Taken(self.name, pins, face, sockets, end=pins_end, what="the sockets between the pins")

    @property
    def measured(self) -> bool:
        """Whether the tails are cut already, so that only the pins are made."""
        return self.entry.measured is not None

    @property
    def scallop(self) -> float:
        """What terraces may leave on a sloping wall, square to it, mm.

        Unless the job says otherwise: as little as a fit within 0.02 mm asks for, or half of what is left to pare.
        """
        return self.entry.scallop or max(FIT_SCALLOP, self.sizes.pare / 2.0)


def dovetail(entry: DovetailEntry, job: Job) -> Dovetail:
    """The joint of an entry, judged by the rules of the trade: see its findings.

    Raises Refused where no layout exists at all: no room for tails, tails that cannot be as measured. Raises
    InputError where the entry names a board that the job does not have (a job from a file has been checked).
    """
    tail_board, pin_board = job.board(entry.tails), job.board(entry.pins)
    sizes = JointSizes(
        tail_board.thickness, pin_board.thickness, entry.rabbet, entry.clearance, entry.pare, entry.lap_left
    )
    length = pin_board.thickness - sizes.lap
    findings = (*_pairing(entry), *_widths(entry.name, tail_board, pin_board, job.units))
    if length <= 0.0:
        raise Refused("the joint cannot be laid out", [*findings, _no_room_for_lap(entry.name, sizes, job.units)])
    if entry.measured is not None:
        impossible = measured_findings(entry.name, entry.measured, tail_board.width, job.units, count=entry.count)
        if impossible:
            raise Refused("the tails cannot be as measured", [*findings, *impossible])
        layout = measured_layout(tail_board.width, length, entry.measured)
    else:
        assert entry.drawing is not None, "an entry is drawn or measured"
        no_room = room_finding(entry.name, tail_board.width, entry.drawing, job.units)
        if no_room:
            raise Refused("the joint cannot be laid out", [*findings, no_room])
        drawing = entry.drawing
        layout = even_layout(tail_board.width, length, drawing.count, drawing.pin, drawing.half_pin, drawing.slope)
    ends = _corners(entry.tails_end)
    joint = Dovetail(entry.name, entry, tail_board, pin_board, ends, layout, sizes, job.units, findings)
    if not layout.ordered or sizes.pin_length <= 0.0:
        raise Refused("the joint cannot be laid out", joint.findings)
    return joint


def _no_room_for_lap(where: str, sizes: JointSizes, unit: Unit) -> Finding:
    lap, thick = format_length(sizes.lap, unit), format_length(sizes.pin_board, unit)
    says = f"a lap of {lap} leaves nothing for the tails of a pin board {thick} thick; make it thinner"
    return Finding("stop", "dovetail-lap", where, says)


def _pairing(entry: DovetailEntry) -> list[Finding]:
    """A stop for ends that cannot meet with lower edges flush and outside faces outside."""
    wanted = MEETS[entry.tails_end]
    if entry.pins_end == wanted:
        return []
    return [
        Finding(
            "stop",
            "dovetail-ends",
            entry.name,
            f"tails on {_says(entry.tails_end)} of {entry.tails} cannot meet pins on {_says(entry.pins_end)} "
            f"of {entry.pins}: with the lower edges flush it would turn a face inside out; "
            f'write pins_end = "{wanted}" or tails_end = "{MEETS[entry.pins_end]}"',
        )
    ]


def _says(end: Ends) -> str:
    return "both ends" if end == "both" else f"the {end} end"


def _widths(where: str, tail_board: Board, pin_board: Board, unit: Unit) -> list[Finding]:
    if abs(tail_board.width - pin_board.width) <= SAME_WIDTH:
        return []
    narrow, wide = sorted((tail_board, pin_board), key=lambda board: board.width)
    # Of boards that were meant to be one width the difference is what a plane takes off, or what measuring left.
    mend = (
        "plane the wider one, or write both as measured"
        if wide.width - narrow.width <= PLANED
        else f'make them so, or let {narrow.name} stand in a groove across {wide.name} instead (kind = "groove", '
        "open at one edge), as a drawer's back does that is less high than its sides"
    )
    return [
        Finding(
            "stop",
            "dovetail-widths",
            where,
            f"{tail_board.name} is {format_length(tail_board.width, unit)} wide and {pin_board.name} "
            f"{format_length(pin_board.width, unit)}: the boards of a corner are equally wide; {mend}",
        )
    ]


def _corners(tails_end: Ends) -> tuple[tuple[End, End], ...]:
    if tails_end == "left":
        return (("left", "right"),)
    return (("right", "left"),) if tails_end == "right" else (("left", "right"), ("right", "left"))
