"""A sliding dovetail as drawn: where its socket lies, how the tail board stands on it, what the trade says of it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import radians, sin
from typing import TYPE_CHECKING, Literal, Self

from jigcam.geometry import Path
from jigcam.joints.sliding_dovetail.rules import sliding_findings
from jigcam.joints.sliding_dovetail.shape import Shape
from jigcam.joints.sliding_dovetail.solids import AroundTail, AroundTailFlat, Socket, TailPlace
from jigcam.units import MM
from jigcam.wood.band import Band
from jigcam.wood.taken import Taken

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.job import Board, Face, Job
    from jigcam.joints.sliding_dovetail.entry import SlidingDovetailEntry
    from jigcam.units import Voice

USUAL_FLANK = radians(8.0)
"""Angle of the flanks as drawn where the bit is to decide, until it is known: that of the usual bit (from memory)."""


@dataclass(frozen=True, slots=True)
class SlidingDovetail:
    """A sliding dovetail as its job asks for it. Face frame of the socket's board, mm, rad.

    band: start, direction and bottom width of the socket on its board. shape: of socket and tail. flank_asked: whether
    the job says the angle of the flanks; else `shape` has the usual one until a bit is known. tail_end: that is shaped.
    """

    name: str
    board: Board
    face: Face
    band: Band
    shape: Shape
    flank_asked: bool
    tail_board: Board
    tail_end: Literal["left", "right"]
    findings: tuple[Finding, ...] = field(default=(), compare=False)

    @property
    def socket(self) -> Socket:
        """What is cut in the face."""
        return Socket(self.shape, self.band)

    @property
    def on_board(self) -> tuple[float, float]:
        """Stations of the socket's ends on its board, along its centreline: at an open end, of the board's edge."""
        low, high = self.band.line_span() or (0.0, self.shape.length)
        shape = self.shape
        return (0.0 if shape.stopped_start else low), (shape.length if shape.stopped_finish else high)

    @property
    def place(self) -> TailPlace:
        """How the tail board stands: its edge flush where the tail comes in.

        Its lower edge lies toward the lower edge of the socket's board; where the socket runs along the grain, at its
        start. Which way its outside face looks follows from that and from the end that is shaped.
        """
        low, high = self.on_board
        first = high - self.tail_board.width if self.shape.enters_at_finish else low
        up = sin(self.band.angle) > -1e-9
        # Board x goes out of the socket at the left end and into it at the right one; y goes along s where up.
        return TailPlace(self.shape, self.tail_board, first, up, (self.tail_end == "left") == up)

    @property
    def around_tail(self) -> AroundTail:
        """What goes from around the tail, standing."""
        return AroundTail(self.place)

    def sloped(self, flank: float, voice: Voice = MM) -> Self:
        """The same with the flanks of a bit, judged anew: necks, shoulders and the notch follow them."""
        cut = replace(self, shape=self.shape.sloped(flank))
        return replace(cut, findings=tuple(sliding_findings(cut, voice)))

    def taken(self) -> tuple[Taken, ...]:
        """The socket in its board, and what goes from around the tail."""
        band = self.band
        line = Path.through([band.at(0.0), band.at(self.shape.length)])
        around = AroundTailFlat(self.place, self.tail_end == "right")
        return (
            Taken(self.name, self.board, self.face, self.socket, what="the socket of the tail", centreline=line),
            Taken(self.name, self.tail_board, "outside", around, end=self.tail_end, what="the cheeks of the tail"),
        )


def sliding_dovetail(entry: SlidingDovetailEntry, job: Job) -> SlidingDovetail:
    """The joint of an entry, judged by the rules of the trade: see its findings.

    Raises InputError where the entry names a board that the job does not have (a job from a file has been checked).
    """
    board, tail_board = job.board(entry.socket), job.board(entry.tail)
    band = Band(*entry.start_point, entry.angle, entry.base, board.length, board.width)
    shape = Shape(
        entry.length,
        entry.base,
        entry.depth,
        USUAL_FLANK if entry.flank is None else entry.flank,
        entry.taper,
        entry.start == "stopped",
        entry.finish == "stopped",
        entry.clearance,
    )
    drawn = SlidingDovetail(
        entry.name, board, entry.face, band, shape, entry.flank is not None, tail_board, entry.tail_end
    )
    return replace(drawn, findings=tuple(sliding_findings(drawn, job.voice)))
