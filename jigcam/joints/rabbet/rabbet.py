"""A rabbet as drawn: where its step lies on its board, and what the trade says of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.findings import Finding, Level
from jigcam.geometry import rectangle
from jigcam.job.board import Board, Face
from jigcam.wood.band import sides
from jigcam.wood.practice import PRACTICE, SLACK
from jigcam.wood.solid import Prism
from jigcam.wood.taken import Taken

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.rabbet.entry import RabbetEntry

BEYOND = 2.0
"""How far the step is drawn off the board at its edge and its open ends, mm."""
DEEPEST = 2 / 3
"""Share of the thickness that a rabbet takes at most (common practice, no source)."""
WIDEST = 1 / 2
"""Share of the board across its edge up to which a step is a rabbet (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Rabbet:
    """A rabbet as its job asks for it. Face frame, mm.

    e is the distance inward from its edge, t the place along it from the lower or the left corner as seen. start,
    length: along t. mate: the board that lies in it, where the job names one.
    """

    name: str
    board: Board
    face: Face
    along: str
    width: float
    depth: float
    start: float
    length: float
    mate: Board | None = None
    findings: tuple[Finding, ...] = ()

    @property
    def sides(self) -> tuple[float, float]:
        """The board's size along the edge, and across it."""
        length, width = self.board.length, self.board.width
        return (width, length) if self.along in ("left", "right") else (length, width)

    @property
    def stretch(self) -> tuple[float, float]:
        """t of both ends."""
        return self.start, self.start + self.length

    @property
    def open_ends(self) -> tuple[bool, bool]:
        """Whether it runs off the board at low and at high t."""
        low, high = self.stretch
        return low <= SLACK, high >= self.sides[0] - SLACK

    @property
    def matrix(self) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
        """From (e, t) to the face frame. Seen from the inside, the left end is on the right."""
        at = [side.split()[0] for side in sides(self.face)].index(self.along)
        return (
            ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
            ((-1.0, 0.0, self.board.length), (0.0, 1.0, 0.0)),
            ((0.0, 1.0, 0.0), (1.0, 0.0, 0.0)),
            ((0.0, 1.0, 0.0), (-1.0, 0.0, self.board.width)),
        )[at]

    @property
    def solid(self) -> Prism:
        """What is removed; it reaches off the board at its edge and at open ends."""
        (low, high), (first, last) = self.stretch, self.open_ends
        step = rectangle(-BEYOND, low - BEYOND * first, self.width, high + BEYOND * last)
        return Prism(step.transformed(self.matrix), self.depth)

    def taken(self) -> tuple[Taken, ...]:
        """The step in its board; a through one shows in the end grain of no other board."""
        return (Taken(self.name, self.board, self.face, self.solid, what="the rabbet"),)


def rabbet(entry: RabbetEntry, job: Job) -> Rabbet:
    """The rabbet of a job's entry, judged by the rules of the trade: see its findings.

    Raises InputError where the entry names a board that the job does not have (a job from a file has been checked).
    """
    board = job.board(entry.board)
    mate = None if entry.receives is None else job.board(entry.receives)
    if entry.width is not None:
        width = entry.width
    else:
        assert mate is not None, "an entry has a width or a board that it receives"
        width = mate.thickness + entry.clearance
    side = board.width if entry.along in ("left", "right") else board.length
    start = entry.start or 0.0
    length = side - start if entry.length is None else entry.length
    sizes = (entry.name, board, entry.face, entry.along, width, entry.depth, start, length, mate)
    return Rabbet(*sizes, findings=tuple(_findings(Rabbet(*sizes), job.voice.length)))


def _findings(it: Rabbet, says: Callable[[float], str]) -> Iterator[Finding]:
    """What the trade has to say about it. says: a length in words."""
    board, (side, across), (low, high) = it.board, it.sides, it.stretch

    def told(level: Level, rule: str, what: str) -> Finding:
        return Finding(level, rule, it.name, what)

    if high > side + SLACK or it.length < SLACK or it.width > across - SLACK:
        what = f"the rabbet begins at {says(low)} along the edge, ends at {says(high)} and goes {says(it.width)} inward"
        where = f"{board.name} is {says(side)} long there and {says(across)} across"
        yield told("stop", "off-board", f"{what}, and {where}: shorten it, or move it")
        return
    deep = f"the rabbet is {says(it.depth)} deep in a board of {says(board.thickness)}"
    left = board.thickness - it.depth
    if it.depth > DEEPEST * board.thickness + SLACK:
        most = says(DEEPEST * board.thickness)
        yield told("stop", "too-deep", f"{deep}: two thirds ({most}) is the most (common practice); cut it shallower")
    elif it.depth > PRACTICE.deepest * board.thickness + SLACK:
        half = says(PRACTICE.deepest * board.thickness)
        yield told("caution", "deep", f"{deep}: more than a half ({half}) weakens the edge (common practice)")
    if left < PRACTICE.least_left - SLACK:
        least = says(PRACTICE.least_left)
        yield told(
            "stop", "thin-left", f"{deep}: only {says(max(left, 0.0))} is left, and {least} has to be; cut it shallower"
        )
    if it.width > WIDEST * across + SLACK:
        what = f"the rabbet takes {says(it.width)} of {says(across)} across {board.name}"
        yield told("caution", "too-wide", f"{what}: more than a half thins the board, a rabbet takes less")
    if it.mate is not None and it.mate.thickness > it.width + SLACK:
        what = f"{it.mate.name} is {says(it.mate.thickness)} thick and lies in a rabbet {says(it.width)} wide"
        proud = says(it.mate.thickness - it.width)
        yield told(
            "caution", "stands-proud", f"{what}: it stands {proud} out of it; leave width out, or plane it flush"
        )
    ends = [wood for wood, is_open in zip((low, side - high), it.open_ends, strict=True) if not is_open]
    for where, wood in [("at a stopped end", end) for end in ends] + [("behind the shoulder", across - it.width)]:
        if wood < PRACTICE.short_grain - SLACK:
            what = f"only {says(wood)} of wood stands {where} of {board.name}"
            yield told("caution", "short-grain", f"{what}: under {says(PRACTICE.short_grain)} it may break out")
