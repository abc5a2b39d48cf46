"""The groove: stopped or open, square or sloping; also a dado (housing), which is a groove open at both ends, across.

`from` in the job is the groove's extreme start on its centreline; its length runs from extreme end to extreme end. A
groove with round ends is a stadium, one with square ends a bar, whose corners a round bit leaves for the chisel. An
open end is carried on along the centreline until the whole width has left the board, and half a width and `BEYOND`
more, with the same shape of end: so any bit that fits the groove cuts it to full width and depth at the board's edge,
at every angle.

With `repeat` the same groove is cut again at an even step: a *row*, whose grooves all have the first one's shape, so
that one template serves them. With `face = "both"` each lies twice in its board, back to back, as the housings of a
divider do: seen from the inside it is mirrored along the grain, as for the opposite hand. So a *place* of a groove has
a number in its row, a hand and a face, and each is cut and judged for itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from jigcam.errors import Refused
from jigcam.findings import Finding, by_gravity, stops
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


HANDS: tuple[Hand, Hand] = ("as drawn", "opposite")
"""In the order in which they are cut."""

ABOUT = 0.2
"""A board is about as long as a groove up to this share of it."""


@dataclass(frozen=True, slots=True)
class GroovePlace:
    """One cut of a groove. groove: that of the row, as drawn. number: in the row, from 0. mirrored: along the grain."""

    groove: Groove
    number: int
    cut: Cut
    mirrored: bool

    @property
    def face(self) -> Face:
        """The face that it is cut in: the one of its drawing, or the one behind."""
        here, *behind = self.groove.faces
        return here if self.cut.face == here else behind[0]

    def what(self, count: int, faces: int) -> str:
        """What a maker calls it among the others of its joint, with its article."""
        number = f" {self.number + 1}" if count > 1 else ""
        return f"{'' if number else 'the '}groove{number}{f' in the {self.cut.face} face' if faces > 1 else ''}"

    def named(self, count: int, faces: int = 1) -> str:
        """What tells it from the others of its joint; "" for the one as drawn. count: in a row; faces: that are cut."""
        parts: list[str] = [self.cut.hand] if self.cut.hand == "opposite" else []
        parts += [f"{self.cut.face} face"] if faces > 1 else []
        parts += [f"{self.number + 1} of {count}"] if count > 1 else []
        return ", ".join(parts)


@dataclass(frozen=True, slots=True)
class Groove:
    """A groove as its job asks for it. Face frame, mm.

    band: start point, direction and width, on the board. length, depth: as drawn; the width includes the clearance.
    both_faces: whether it lies in the other face too, behind it. others: the rest of its row. reach: the stations of
    the extreme ends that all of a row have in common; None: as it needs itself.
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
    both_faces: bool = False
    others: tuple[Groove, ...] = ()
    reach: tuple[float, float] | None = None

    @property
    def row(self) -> tuple[Groove, ...]:
        """The grooves of its row, itself the first."""
        return self, *self.others

    @property
    def steps(self) -> tuple[tuple[float, float], ...]:
        """How far each of the row lies from the first, (x, y) in mm."""
        return tuple((each.band.x - self.band.x, each.band.y - self.band.y) for each in self.row)

    @property
    def faces(self) -> tuple[Face, ...]:
        """Those that it is cut in, the one of its frame first."""
        return (self.face, "inside" if self.face == "outside" else "outside") if self.both_faces else (self.face,)

    @property
    def width(self) -> float:
        """Square to the centreline."""
        return self.band.width

    @property
    def stretch(self) -> tuple[float, float]:
        """Stations of the extreme ends along the centreline from the drawn start, open ends carried off the board.

        An open end that was drawn further out ends where it is needed: there is only air beyond.
        """
        if self.reach is not None:
            return self.reach
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
        """The cut as drawn and, where both hands are wanted, the same in the mirrored board; see `places`.

        Raises `Refused` where a finding stops the groove: there is no solid of a groove that cannot be.
        """
        return tuple(place.cut for place in self.places())

    def places(self) -> tuple[GroovePlace, ...]:
        """All that is cut, hand by hand, face by face, along the row. Raises `Refused` as `cuts`."""
        if stops(self.findings):
            raise Refused(f"{self.name}: the groove cannot be cut as drawn", self.findings)
        return tuple(self._places())

    def all_places(self) -> tuple[GroovePlace, ...]:
        """As `places`, of a groove that a finding stops too: where it would lie."""
        return tuple(self._places())

    def taken(self) -> tuple[Taken, ...]:
        """The groove in its board, out through open ends; for both hands where it is. Raises `Refused` as `cuts`."""
        places = self.places()
        alone = len(self.row) == len(self.faces) == 1
        return tuple(
            Taken(
                self.name,
                self.board,
                place.face,
                place.cut.solid,
                place.cut.hand,
                what=place.what(len(self.row), len(self.faces)),
                apart=not alone,
                centreline=place.cut.centreline,
                takes=self.mate.board,
            )
            for place in places
        )

    def _places(self) -> Iterator[GroovePlace]:
        mirror = mirror_x(self.board.length)
        for hand in HANDS if self.opposite_hand else HANDS[:1]:
            for face in self.faces:
                mirrored = (hand == "opposite") != (face != self.face)
                for number, each in enumerate(self.row):
                    region, line = each.region, each.centreline
                    if mirrored:
                        region, line = region.transformed(mirror), line.transformed(mirror)
                    yield GroovePlace(each, number, self._cut(hand, face, region, line), mirrored)

    def _cut(self, hand: Hand, face: Face, region: Region, centreline: Path) -> Cut:
        solid = Prism(region, self.depth)
        return Cut(self.name, self.board, face, hand, solid, centreline, self.width, self.open_start, self.open_finish)


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
    face: Face = "outside" if entry.face == "both" else entry.face
    grooves = []
    for dx, dy in entry.repeat.steps() if entry.repeat else ((0.0, 0.0),):
        x, y = entry.start_point
        # The rules judge each of a row as if it were drawn alone.
        alone = entry.model_copy(update={"start_point": (x + dx, y + dy), "face": face, "repeat": None})
        band = Band(x + dx, y + dy, entry.angle, width, board.length, board.width)
        mate = _mate(entry, band, thickness, receives)
        grooves.append(
            Groove(
                entry.name,
                board,
                face,
                band,
                entry.length,
                entry.depth,
                entry.ends,
                open_start=entry.start == "open",
                open_finish=entry.finish == "open",
                opposite_hand=entry.opposite_hand,
                mate=mate,
                findings=groove_findings(alone, board, band, mate, job.units),
                both_faces=entry.face == "both",
            )
        )
    return _in_row(grooves)


def _in_row(grooves: Sequence[Groove]) -> Groove:
    """The first of a row, with the others; all of one shape, and what is to be said of any of them said once."""
    first, *others = grooves
    if not others:
        return first
    stretches = [each.stretch for each in grooves]
    reach = min(low for low, _ in stretches), max(high for _, high in stretches)
    said = list(first.findings)
    for number, each in enumerate(others, start=2):
        said += [
            replace(finding, says=f"groove {number} of {len(grooves)}: {finding.says}")
            for finding in each.findings
            if finding not in first.findings
        ]
    return replace(
        first,
        findings=tuple(by_gravity(said)),
        reach=reach,
        others=tuple(replace(each, reach=reach, findings=()) for each in others),
    )


def _mate(entry: GrooveEntry, band: Band, thickness: float, receives: Board | None) -> Mate:
    """What the entering board needs. At an open end it ends where the centreline leaves the board."""
    low, high = band.line_span() or (0.0, entry.length)
    start = max(low, 0.0) if entry.start == "stopped" else low
    finish = min(high, entry.length) if entry.finish == "stopped" else high
    length = finish - start
    stopped = (entry.start, entry.finish).count("stopped")
    by_end = entry.enters in ("left", "right") if entry.enters else receives is None or not _by_edge(receives, length)
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
