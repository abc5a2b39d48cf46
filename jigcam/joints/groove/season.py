"""What the seasons do to a groove and to the board in it: along the groove, across it, and at a panel's edges."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import pi
from typing import TYPE_CHECKING

from jigcam.findings import Finding
from jigcam.joints.groove.entry import GrooveEntry
from jigcam.wood.practice import SLACK
from jigcam.wood.seasons import SHOWS, Moving, Season, Seasons

if TYPE_CHECKING:
    from jigcam.job import Board, Job
    from jigcam.joints.groove.groove import Groove
    from jigcam.kit import Kit
    from jigcam.units import Voice
    from jigcam.wood.mate import Mate

ACROSS = pi / 2.0
"""The direction across the grain, rad."""


def season_findings(groove: Groove, job: Job, kit: Kit) -> tuple[Finding, ...]:
    """What is to be said, of every groove of its row; nothing where the wood of one of the boards is not known.

    Raises InputError where the climate of job and kit is none: see `Seasons.of`.
    """
    seasons = Seasons.of(job, kit)
    enters = job.boards.get(groove.mate.board)
    side, shelf = Moving.of(groove.board), Moving.of(enters)
    if side is None or shelf is None or enters is None:
        return ()
    said: list[Finding] = []
    between, lone = _between(groove, job), _one_edge(groove, job)
    for number, each in enumerate(groove.row, start=1):
        found = list(_Pair(each, enters, side, shelf, seasons, job.voice, between, lone).findings())
        if number == 1:
            said = found
            continue
        known = {(finding.rule, finding.says) for finding in said}
        said += [
            replace(finding, says=f"groove {number} of {len(groove.row)}: {finding.says}")
            for finding in found
            if (finding.rule, finding.says) not in known
        ]
    return tuple(said)


def with_room(groove: Groove, job: Job, kit: Kit) -> Groove:
    """The groove with the room that a panel wants in it, where that floats with both edges in grooves and its wood is
    known. Raises InputError where the climate of job and kit is none."""
    mate = groove.mate
    if not mate.floats or mate.by_end or _one_edge(groove, job) or Moving.of(groove.board) is None:
        return groove
    grows = Seasons.of(job, kit).grows_across(job.boards.get(mate.board))
    return replace(groove, mate=replace(mate, room=grows / 2.0)) if grows > SHOWS / 2.0 else groove


@dataclass(frozen=True)
class _Pair:
    """A groove and the board in it. enters: that board; side, shelf: how the two move. between: whether both edges of
    that board lie in grooves of the job; lone: whether one does, and its ends in others."""

    groove: Groove
    enters: Board
    side: Moving
    shelf: Moving
    seasons: Seasons
    voice: Voice
    between: bool
    lone: bool

    def findings(self) -> Iterator[Finding]:
        mate = self.groove.mate
        if mate.captured:
            yield from self._captured()
        else:
            yield from self._open()
        yield from self._across()
        if mate.floats and not mate.by_end:
            yield from self._panel()
        elif not mate.by_end and self.between:
            yield from self._held()

    def _growths(self, season: Season) -> tuple[float, float]:
        """How much the board in the groove grows along it, and how much the groove, mm."""
        mate = self.groove.mate
        part = self.shelf.in_plane(ACROSS if mate.by_end else 0.0, season.change)
        return mate.tongue * part, mate.length * self.side.in_plane(self.groove.band.angle, season.change)

    def _captured(self) -> Iterator[Finding]:
        """A board between two stopped ends: it binds, or a gap opens that no shoulder covers."""
        mate, says = self.groove.mate, self.voice.length
        part = f"the tongue of {mate.board}" if mate.notch > SHOWS else mate.board
        given = mate.length - mate.tongue
        rooms: dict[float, str] = {}
        for season in self.seasons:
            shelf, groove = self._growths(season)
            rooms[given + groove - shelf] = (
                f"{part}, {says(mate.tongue)} between two stopped ends, {_grows(shelf, says)} when {season} and its "
                f"groove in {self.groove.board.name} {_grows(groove, says)}"
            )
        least, most = min(rooms), max(rooms)
        opens = most - given > SHOWS and mate.notch <= SHOWS
        if least < -SLACK:
            what = (
                f"{rooms[least]}: of its {says(given)} of room none is left, and {says(-least)} is lacking; leave it "
                f"{self.voice.at_least(given - least)} of room in all, let one end of the groove be open, or take "
                "boards that move alike"
            )
            what += "" if mate.floats else ", and glue only the third at its front"
            what += f"; at the other end of the year a gap of {says(most)} shows at its ends" if opens else ""
            yield Finding("caution", "season-binds", self.groove.name, f"{what}; {self.seasons.remark}")
        elif opens:
            what = (
                f"{rooms[most]}: a gap of {says(most)} shows at its ends; cover them with a shoulder, as on a board "
                "that is wider than the groove is long and notched, or take boards that move alike"
            )
            yield Finding("caution", "season-opens", self.groove.name, f"{what}; {self.seasons.remark}")

    def _open(self) -> Iterator[Finding]:
        """A board that may slide: its edges leave those of the other one."""
        mate, says = self.groove.mate, self.voice.length
        steps = [(season, *self._growths(season)) for season in self.seasons]
        if max(abs(shelf - groove) for _, shelf, groove in steps) <= SHOWS:
            return
        told = ", ".join(
            f"{says(abs(shelf - groove))} {'proud' if shelf > groove else 'short'} when {season}"
            for season, shelf, groove in steps
            if abs(shelf - groove) > SLACK
        )
        held = "glue it only at the stopped end" if mate.stopped else "glue it only over the third at its front"
        held = "leave its edges room" if mate.floats else f"{held}, so that it can move"
        text = (
            f"{mate.board} ({self.shelf}) and {self.groove.board.name} ({self.side}) move unlike along the groove: "
            f"flush as made, an edge of {mate.board} that is free stands {told}; {held}; "
            f"{self.seasons.remark}"
        )
        yield Finding("note", "season-edges", self.groove.name, text)

    def _across(self) -> Iterator[Finding]:
        """The board's thickness in the groove's width."""
        groove, mate, says = self.groove, self.groove.mate, self.voice.length
        for season in self.seasons:
            thicker = mate.thickness * self.shelf.through(season.change)
            wider = groove.width * self.side.across_line(groove.band.angle, season.change)
            room = mate.clearance + wider - thicker
            if mate.clearance >= 0.0 and room < -SLACK:
                what = (
                    f"{mate.board} {_grows(thicker, says)} in thickness when {season} and its groove "
                    f"{_grows(wider, says)} in width: of {says(mate.clearance)} of clearance none is left, and "
                    f"{self.voice.at_most(-room)} is lacking; give it {self.voice.at_most(mate.clearance - room)}"
                )
                yield Finding("caution", "season-binds", groove.name, f"{what}; {self.seasons.remark}")

    def _held(self) -> Iterator[Finding]:
        """A solid panel whose two edges lie in grooves, and of which nothing says that it is free: glued, it splits."""
        mate, says = self.groove.mate, self.voice.length
        dry, damp = (self.enters.width * self.shelf.in_plane(ACROSS, season.change) for season in self.seasons)
        if damp - dry <= SHOWS:
            return
        dry_name, damp_name = map(str, self.seasons)
        text = (
            f"{mate.board} ({self.shelf}), {says(self.enters.width)} across its grain, {_grows(damp, says)} "
            f"when {damp_name} and {_grows(dry, says)} when {dry_name}, and both its edges lie in grooves: "
            "glued, or without room, it splits or pushes the grooves apart; write floats = true, which says what "
            f"room it wants, or take plywood, and name no wood for it; {self.seasons.remark}"
        )
        yield Finding("caution", "season-binds", self.groove.name, text)

    def _panel(self) -> Iterator[Finding]:
        """A panel whose edges lie in grooves along its grain: it moves in and out of them, half at each."""
        mate, says = self.groove.mate, self.voice.length
        dry, damp = (self.enters.width * self.shelf.in_plane(ACROSS, season.change) / 2.0 for season in self.seasons)
        if self.lone:
            yield from self._at_one_edge(2.0 * dry, 2.0 * damp)
            return
        out, into = max(0.0, -dry), max(0.0, damp)
        text = (
            f"{mate.board} ({self.shelf}), {says(self.enters.width)} across its grain, moves at each of two grooves "
            f"{says(into)} further in when it is damp and {says(out)} out when it is dry"
        )
        if out + into > mate.enters - SLACK:
            what = f"{text}: a groove {says(mate.enters)} deep does not hold it; {self.seasons.remark}"
            yield Finding("caution", "floating-panel", self.groove.name, what)
            return
        yield Finding(
            "note",
            "floating-panel",
            self.groove.name,
            f"{text}: cut it so that {self.voice.at_least(into)} stays free before the bottom of each groove, leave "
            f"it without glue, and finish its edges before it goes in; {self.seasons.remark}",
        )

    def _at_one_edge(self, dry: float, damp: float) -> Iterator[Finding]:
        """A panel with one edge in a groove, as a drawer's bottom has in front: it moves at the other edge."""
        mate, says = self.groove.mate, self.voice.length
        dry_name, damp_name = map(str, self.seasons)
        yield Finding(
            "note",
            "floating-panel",
            self.groove.name,
            f"{mate.board} ({self.shelf}), {says(self.enters.width)} across its grain, {_grows(damp, says)} when "
            f"{damp_name} and {_grows(dry, says)} when {dry_name}, and only one of its edges lies in a groove: push "
            "it home there, let the other edge move, held by a screw in a slot (common practice), and finish its edges "
            f"before it goes in; {self.seasons.remark}",
        )


def _between(groove: Groove, job: Job) -> bool:
    """Whether the board in a groove lies in two grooves of the job with its edges, or in this one and its copy."""
    return _again(groove, job) or any(not each.by_end for each in _other_mates(groove, job))


def _one_edge(groove: Groove, job: Job) -> bool:
    """Whether one edge of the board in a groove lies in it and nothing at the other, as other grooves take its ends.

    Of a groove that is alone in its job nothing tells: it may be cut in two boards.
    """
    others = _other_mates(groove, job)
    return bool(others) and not groove.mate.by_end and not _between(groove, job)


def _again(groove: Groove, job: Job) -> bool:
    """Whether a groove is cut in a second board too."""
    return groove.opposite_hand or any(board.like == groove.board.name for board in job.boards.values())


def _other_mates(groove: Groove, job: Job) -> list[Mate]:
    """What other grooves ask of the board in this one."""
    from jigcam.joints.groove.groove import groove as design

    name = groove.mate.board
    others = [e for e in job.joints if isinstance(e, GrooveEntry) and e.receives == name and e.name != groove.name]
    return [design(entry, job).mate for entry in others]


def _grows(mm: float, says: Callable[[float], str]) -> str:
    """How much something grows or shrinks, in words."""
    if abs(mm) < SLACK:
        return "does not move"
    return f"{'grows' if mm > 0.0 else 'shrinks'} {says(abs(mm))}"
