"""Mortises as drawn: a row in one board, the row of its mate, and the loose tenons that go into both.

Where both boards are put together face to face, each looks at the other as into a mirror. The direction of the first
mortise's length and that of its mate are one, and so the rest of the row follows.
"""

from __future__ import annotations

from dataclasses import replace
from math import atan2, cos, hypot, sin
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.joints.mortise.row import Row
from jigcam.joints.mortise.rules import mortise_findings
from jigcam.joints.mortise.tenon import SHORTER, LooseTenon
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.mortise.entry import MateEntry, MortiseEntry
    from jigcam.wood import Taken


@dataclass(frozen=True, slots=True)
class Mortise:
    """Mortises as their job asks for them, mm. rows: of the first board and, where it is named, of its mate."""

    name: str
    rows: tuple[Row, ...]
    clearance: float
    findings: tuple[Finding, ...] = ()

    @property
    def first(self) -> Row:
        """In the board that the entry names."""
        return self.rows[0]

    @property
    def tenon(self) -> LooseTenon:
        """What goes in; without a mate it is taken to be as deep in the other board."""
        row, other = self.rows[0], self.rows[-1]
        play = self.clearance
        return LooseTenon(row.width - play, row.length - play, row.depth + other.depth - SHORTER, play)

    @property
    def seen(self) -> Mortise:
        """The same as a sheet lies on it: the frame of a right end is seen from behind."""
        return replace(self, rows=tuple(row.seen for row in self.rows))

    def sound(self) -> Mortise:
        """This. Raises `Refused` where a finding stops it."""
        if stops(self.findings):
            raise Refused(f"{self.name}: the mortise cannot be cut as drawn", self.findings)
        return self

    def taken(self) -> tuple[Taken, ...]:
        """All mortises, in every board. Raises `Refused` where a finding stops them."""
        self.sound()
        return tuple(each for row in self.rows for each in row.taken(self.name))


def mortise(entry: MortiseEntry, job: Job) -> Mortise:
    """The mortises of a job's entry, judged by the rules of the trade: see their findings.

    Raises InputError where the entry names a board that the job does not have (a job from a file has been checked).
    """
    count = entry.repeat.count if entry.repeat else 1
    pitch = entry.repeat.pitch if entry.repeat else (0.0, 0.0)
    sizes = (entry.length, entry.width, entry.depth)
    row = Row(job.board(entry.board), entry.face, entry.end, entry.at, entry.angle, pitch, count, *sizes)
    rows = (row,) if entry.mate is None else (row, _mate(row, entry.mate, job))
    made = Mortise(entry.name, rows, entry.clearance)
    return replace(made, findings=tuple(mortise_findings(made, job.voice)))


def _mate(row: Row, entry: MateEntry, job: Job) -> Row:
    """The row of the other board: the pitch lies to the mortises' length as in the first, seen from the other side."""
    board = job.board(entry.board)
    made = replace(
        row,
        board=board,
        face=entry.face,
        end=entry.end,
        at=entry.at,
        angle=entry.angle,
        depth=row.depth if entry.depth is None else entry.depth,
    )
    turn = atan2(row.pitch[1], row.pitch[0]) - row.angle
    # Once more mirrored where just one of both frames is seen from behind.
    way = entry.angle + (turn if row.mirrored != made.mirrored else -turn)
    step = hypot(*row.pitch)
    return replace(made, pitch=(step * cos(way), step * sin(way)))
