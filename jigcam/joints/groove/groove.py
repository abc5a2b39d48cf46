"""The groove: stopped or open, square or sloping; also a dado (housing), which is a groove open at both ends, across.

`from` in the job is the groove's extreme start on its centreline; its length runs from extreme end to extreme end. A
groove with round ends is a stadium, one with square ends a bar, whose corners a round bit leaves for the chisel. An
open end is carried on along the centreline until the whole width has left the board, and half a width and `BEYOND`
more, with the same shape of end: so any bit that fits the groove cuts it to full width and depth at the board's edge,
at every angle.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.geometry import Path, Region, bar, mirror_x, slot
from jigcam.job import Board, Face, Job
from jigcam.joints.groove.entry import GrooveEntry
from jigcam.joints.groove.rules import groove_findings
from jigcam.making.kind import Guided
from jigcam.wood.band import Band
from jigcam.wood.mate import Mate
from jigcam.wood.solid import Cut, Hand, Prism
from jigcam.wood.taken import Taken

BEYOND = 2.0
"""How far (mm) an open end's full width runs on after it has left the board, whatever bit cuts it."""


ABOUT = 0.2
"""A board is about as long as a groove up to this share of it."""


@dataclass(frozen=True, slots=True)
class Groove:
    """A groove as its job asks for it. Face frame, mm.

    band: start point, direction and width, on the board. length, depth: as drawn; the width includes the clearance.
    """

    name: str
    board: Board
    face: Face
    band: Band
    length: float
    depth: float
    ends: Literal["round", "square"]
    open_start: bool
    open_finish: bool
    opposite_hand: bool
    mate: Mate
    findings: tuple[Finding, ...] = ()

    @property
    def width(self) -> float:
        """Square to the centreline."""
        return self.band.width

    @property
    def stretch(self) -> tuple[float, float]:
        """Stations of the extreme ends along the centreline from the drawn start, open ends carried off the board.

        An open end that was drawn further out ends where it is needed: there is only air beyond.
        """
        over = self.width / 2.0 + BEYOND
        low, high = self.band.span() or (0.0, self.length)
        return low - over if self.open_start else 0.0, high + over if self.open_finish else self.length

    @property
    def centreline(self) -> Path:
        """From extreme end to extreme end as drawn."""
        return Path.through([self.band.at(0.0), self.band.at(self.length)])

    @property
    def region(self) -> Region:
        """What is removed, seen square at the face; it reaches off the board at open ends."""
        start, finish = self.stretch
        shape = slot if self.ends == "round" else bar
        return shape(self.band.at(start), self.band.at(finish), self.width)

    def cuts(self) -> tuple[Cut, ...]:
        """The cut as drawn and, where both hands are wanted, the same in the mirrored board.

        Raises `Refused` where a finding stops the groove: there is no solid of a groove that cannot be.
        """
        if stops(self.findings):
            raise Refused(f"{self.name}: the groove cannot be cut as drawn", self.findings)
        drawn = self._cut("as drawn", self.region, self.centreline)
        if not self.opposite_hand:
            return (drawn,)
        mirror = mirror_x(self.board.length)
        return drawn, self._cut("opposite", self.region.transformed(mirror), self.centreline.transformed(mirror))

    def taken(self) -> tuple[Taken, ...]:
        """The groove in its board, out through open ends; for both hands where it is. Raises `Refused` as `cuts`."""
        return tuple(Taken(self.name, self.board, self.face, cut.solid, cut.hand) for cut in self.cuts())

    def _cut(self, hand: Hand, region: Region, centreline: Path) -> Cut:
        solid = Prism(region, self.depth)
        return Cut(
            self.name, self.board, self.face, hand, solid, centreline, self.width, self.open_start, self.open_finish
        )


def groove(entry: GrooveEntry, job: Job) -> Groove:
    """The groove of a job's entry, judged by the rules of the trade: see its findings.

    Raises InputError where the entry names a board that the job does not have (a job from a file has been checked).
    """
    board = job.board(entry.board)
    receives = job.board(entry.receives) if entry.receives is not None else None
    if entry.width is not None:
        width = entry.width
        thickness = receives.thickness if receives else width - entry.clearance
    else:
        assert receives is not None, "an entry has a width or a board that it receives"
        thickness = receives.thickness
        width = thickness + entry.clearance
    band = Band(*entry.start_point, entry.angle, width, board.length, board.width)
    mate = _mate(entry, band, thickness, receives)
    drawn = {"open_start": entry.start == "open", "open_finish": entry.finish == "open"}
    findings = groove_findings(entry, board, band, mate, job.units)
    return Groove(
        entry.name,
        board,
        entry.face,
        band,
        entry.length,
        entry.depth,
        entry.ends,
        opposite_hand=entry.opposite_hand,
        mate=mate,
        findings=findings,
        **drawn,
    )


def _mate(entry: GrooveEntry, band: Band, thickness: float, receives: Board | None) -> Mate:
    """What the entering board needs. At an open end it ends where the centreline leaves the board."""
    low, high = band.line_span() or (0.0, entry.length)
    start = max(low, 0.0) if entry.start == "stopped" else low
    finish = min(high, entry.length) if entry.finish == "stopped" else high
    length = finish - start
    stopped = (entry.start, entry.finish).count("stopped")
    by_end = receives is None or not _by_edge(receives, length)
    return Mate(
        board=receives.name if receives else "",
        thickness=thickness,
        clearance=band.width - thickness,
        enters=entry.depth,
        edge_radius=thickness / 2.0 if entry.ends == "round" and stopped else 0.0,
        length=length,
        stopped=stopped,
        size=None if receives is None else receives.width if by_end else receives.length,
        by_end=by_end,
        floats=entry.floats,
    )


def _by_edge(board: Board, length: float) -> bool:
    """Whether a board enters a groove of that length by an edge, as a panel does, and not by an end, as a shelf.

    Its length then is about that of the groove, and nearer to it than its width is.
    """
    off = abs(board.length - length)
    return off < abs(board.width - length) and off <= ABOUT * length


def guided(groove: Groove) -> Guided:
    """The groove as one cut for a guide bushing, whatever its `way`. Raises `Refused` where a finding stops it."""
    return Guided(groove.cuts()[0], groove.ends == "square", groove.mate)
