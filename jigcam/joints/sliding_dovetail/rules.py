"""What the trade says of a sliding dovetail: off the board, too deep, a weak neck, a shoulder too thin to close."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from jigcam.findings import Finding, Level
from jigcam.wood.band import sides
from jigcam.wood.practice import PRACTICE, SLACK

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.units import Voice

LEAST_NECK = 1 / 3
"""Share of the tail board's thickness that the neck of the tail has at the least (common practice, no source)."""
NO_NECK = 2.0
"""Neck under which nothing holds, mm (common practice, no source)."""
LEAST_SHOULDER = 1.5
"""A shoulder that is narrower than this breaks off, mm: this much, or none (common practice, no source)."""
SHALLOW = 1 / 3
"""A socket is a third to a half of its board deep (common practice, no source)."""
STEEPEST_TAPER = 1 / 88
"""Taper over length, the most that is usual: 1:320 to 1:88 (common practice, no source)."""
LOOSE = PRACTICE.loose / 2.0
"""Clearance of each flank at which a glue line fails, mm: half of the looseness in all."""


def sliding_findings(it: SlidingDovetail, voice: Voice) -> Iterator[Finding]:
    """All that is to be said of a joint as drawn, in the order: place, depth, tail, fit. voice: of the job."""
    judge = _Judge(it, voice)
    stops = list(judge.place())
    yield from stops
    if not stops:
        yield from judge.extended()
        yield from judge.short_grain()
    yield from judge.depth()
    yield from judge.tail()
    yield from judge.fit()


Said = Iterator[Finding]


def _told(level: Level, rule: str, where: str, says: str) -> Finding:
    return Finding(level, rule, where, says)


class _Judge:
    """The rules, each with the joint's numbers in the job's units."""

    def __init__(self, it: SlidingDovetail, voice: Voice) -> None:
        self.it, self.says = it, voice.length

    def place(self) -> Said:
        """Why the socket is not on its board."""
        it, says = self.it, self.says
        span = it.band.line_span()
        size = f"{it.board.name} is {says(it.board.length)} by {says(it.board.width)}"
        if span is None or it.on_board[1] - it.on_board[0] < it.shape.base:
            yield _told(
                "stop",
                "off-board",
                it.name,
                f"of the socket less than its width of {says(it.shape.base)} lies on the board ({size}): move it "
                "inward, or lengthen it",
            )
            return
        for stopped, station, end in (
            (it.shape.stopped_start, 0.0, "start"),
            (it.shape.stopped_finish, it.shape.length, "finish"),
        ):
            over = -min(it.band.end_distances(station, outward=1, round_end=False))
            if stopped and over > -SLACK:
                yield _told(
                    "stop",
                    "off-board",
                    it.name,
                    f"the stopped {end} of the socket runs {says(max(over, 0.0))} over the edge of the board ({size}): "
                    f"shorten it, or let its {end} be open",
                )
        half = it.shape.base / 2.0
        if any(it.band.line_span(t) is None for t in (-half, half)):
            yield _told(
                "stop",
                "off-board",
                it.name,
                f"one flank of the socket lies off the board along its whole length ({size}): move it inward",
            )

    def extended(self) -> Said:
        """Open ends that were drawn within the board."""
        it, says = self.it, self.says
        low, high = it.on_board
        for stopped, end, added in (
            (it.shape.stopped_start, "start", -low),
            (it.shape.stopped_finish, "finish", high - it.shape.length),
        ):
            if not stopped and added > PRACTICE.extended:
                yield _told(
                    "caution",
                    "sliding-extended",
                    it.name,
                    f"the open {end} is drawn {says(added)} short of the edge of {it.board.name}: the socket is "
                    f"carried on over the edge; if that is not meant, make the {end} stopped",
                )

    def short_grain(self) -> Said:
        """Little wood between the socket and a side that it does not run through."""
        it, says = self.it, self.says
        low, high = it.on_board
        inset = it.shape.base * 0.01
        half = it.shape.base / 2.0
        body = it.band.on_board(low + inset, high - inset, -half, half)
        crossed = {
            min(range(4), key=it.band.distances([it.band.at(station)]).__getitem__)
            for station, stopped in ((low, it.shape.stopped_start), (high, it.shape.stopped_finish))
            if not stopped
        }
        for number, (left, side) in enumerate(zip(it.band.distances(body), sides(it.face), strict=True)):
            if number not in crossed and left < PRACTICE.short_grain - SLACK:
                what = f"only {says(max(left, 0.0))} of wood is left between the socket and the {side} of"
                yield _told(
                    "caution",
                    "short-grain",
                    it.name,
                    f"{what} {it.board.name}: under {says(PRACTICE.short_grain)} it may break out (common practice)",
                )

    def depth(self) -> Said:
        """How deep the socket is in its board."""
        it, says = self.it, self.says
        depth, thick = it.shape.depth, it.board.thickness
        deep = f"the socket is {says(depth)} deep in a board of {says(thick)}"
        third, half = says(SHALLOW * thick), says(PRACTICE.deepest * thick)
        if thick - depth < PRACTICE.least_left - SLACK:
            least = says(PRACTICE.least_left)
            yield _told(
                "stop", "too-deep", it.name, f"{deep}: {says(max(thick - depth, 0.0))} is left, and {least} has to be"
            )
        elif depth > PRACTICE.deepest * thick + SLACK:
            yield _told(
                "caution", "deep", it.name, f"{deep}: a third to a half ({third} to {half}) is usual (common practice)"
            )
        elif depth < SHALLOW * thick - SLACK:
            yield _told(
                "note",
                "sliding-shallow",
                it.name,
                f"{deep}: a third to a half ({third} to {half}) is usual, less holds less (common practice)",
            )

    def tail(self) -> Said:
        """Neck, shoulders, and how the tail board is as long as its socket."""
        it, says = self.it, self.says
        shape, board, neck = it.shape, it.tail_board, min(it.shape.necks)
        what = f"the neck of the tail is {says(max(neck, 0.0))} in a board of {says(board.thickness)}"
        if neck < NO_NECK - SLACK:
            yield _told(
                "stop", "sliding-neck", it.name, f"{what}: it breaks; make the base wider, or the socket shallower"
            )
        elif neck < LEAST_NECK * board.thickness - SLACK:
            third = says(LEAST_NECK * board.thickness)
            yield _told(
                "caution", "sliding-neck", it.name, f"{what}: a third of it ({third}) is the least (common practice)"
            )
        if shape.base > board.thickness + SLACK:
            wide = f"the socket is {says(shape.base)} wide at its bottom and {board.name} {says(board.thickness)} thick"
            yield _told(
                "stop",
                "sliding-shoulder",
                it.name,
                f"{wide}: no tail as wide can be cut from it; make the base narrower",
            )
        shoulder = (board.thickness - shape.necks[0]) / 2.0
        if shape.base < board.thickness - SLACK and shoulder < LEAST_SHOULDER - SLACK:
            thin = f"the shoulders of the tail are {says(shoulder)} wide"
            yield _told(
                "caution",
                "sliding-shoulder",
                it.name,
                f"{thin}: under {says(LEAST_SHOULDER)} they break off; make the base as wide as {board.name} is thick, "
                f"{says(board.thickness)}, so that there are none beside it, or narrower (common practice)",
            )
        yield from self._along()

    def _along(self) -> Said:
        it, says = self.it, self.says
        low, high = it.on_board
        socket, width, name = high - low, it.tail_board.width, it.tail_board.name
        notch = max(it.place.notches)
        if notch > 0.0:
            edge = "lower" if (it.place.notches[0] > 0.0) == it.place.up else "upper"
            yield _told(
                "note",
                "sliding-notch",
                it.name,
                f"the socket stops before the edge of {name}: its tail is notched {says(notch)} from the {edge} edge, "
                f"{says(it.shape.tail_length)} deep, so that the shoulder covers the end of the socket",
            )
        elif abs(width - socket) > PRACTICE.extended and not (it.shape.stopped_start or it.shape.stopped_finish):
            far = f"{says(abs(width - socket))} {'beyond' if width > socket else 'short of'} the far edge"
            yield _told(
                "note",
                "sliding-edges",
                it.name,
                f"{name} is {says(width)} wide and the socket {says(socket)} long: flush where the tail comes in, it "
                f"ends {far} of {it.board.name}",
            )

    def fit(self) -> Said:
        """Taper and clearance."""
        it, says = self.it, self.says
        shape = it.shape
        if shape.taper > STEEPEST_TAPER * shape.length + SLACK:
            most = says(STEEPEST_TAPER * shape.length)
            yield _told(
                "caution",
                "sliding-taper",
                it.name,
                f"the socket narrows by {says(shape.taper)} over {says(shape.length)}: 1:88, here {most}, is the most "
                "that is usual; a steeper one holds only when it is home, and splits the board when it is driven",
            )
        if shape.clearance <= SLACK:
            yield _told(
                "caution",
                "sliding-clearance",
                it.name,
                "the tail has no clearance: it may seize half way when the glue swells it; 0.05 mm (0.002 in) on each "
                "flank is usual (common practice)",
            )
        elif shape.clearance > LOOSE + SLACK:
            yield _told(
                "caution",
                "sliding-clearance",
                it.name,
                f"{says(shape.clearance)} on each flank: glue lines fail from about {says(LOOSE)} (common practice, "
                "weakly sourced)",
            )
