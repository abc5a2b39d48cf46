"""What the trade has to say about a groove: off the board, too deep, too near an edge, too tight, too loose.

Every finding gives its numbers in the job's units, and what would mend it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import inf

from jigcam.findings import Finding
from jigcam.job import Board
from jigcam.joints.groove.entry import GrooveEntry
from jigcam.units import format_length
from jigcam.wood.band import Band, sides
from jigcam.wood.mate import Mate
from jigcam.wood.practice import PRACTICE, SLACK

LEAST_FELT = 2.0
"""mm; a groove of less depth hardly holds what lies in it, and is more likely a slip (common practice, no source)."""


def groove_findings(entry: GrooveEntry, board: Board, band: Band, mate: Mate, units: str) -> tuple[Finding, ...]:
    """All that is to be said about a groove, in the order: place, depth, fit. units: "in" or "mm", for the wording."""

    def says(mm: float) -> str:
        return format_length(mm, units)

    place = list(_place(entry, board, band, says))
    if not place:
        place = [*_extended(entry, board, band, says), *_short_grain(entry, board, band, says)]
    return (*place, *_depth(entry, board, says), *_fit(entry, board, mate, says))


Says = Callable[[float], str]


def _place(entry: GrooveEntry, board: Board, band: Band, says: Says) -> Iterator[Finding]:
    """Stops: no groove at all, or not on its board."""
    ends = _stopped_ends(entry, band)
    size = f"{board.name} is {says(board.length)} by {says(board.width)}"
    span = band.line_span()
    if span is None or span[1] <= SLACK or span[0] >= entry.length - SLACK:
        yield Finding(
            "stop",
            "misses-board",
            entry.name,
            f"the groove misses the board: {size}, and no part of the centreline that starts at "
            f"x {says(band.x)}, y {says(band.y)} lies on it; from is measured from the lower left corner of the face",
        )
        return
    if entry.start == entry.finish == "stopped" and entry.ends == "round" and entry.length <= band.width + SLACK:
        yield Finding(
            "stop",
            "too-short",
            entry.name,
            f"a groove with round ends is longer than wide, and this one is {says(entry.length)} by "
            f"{says(band.width)}: lengthen it, or draw it with square ends",
        )
        return
    if entry.ends == "round" and (entry.start == "open") != (entry.finish == "open"):
        on_board = entry.length - span[0] if entry.start == "open" else span[1]
        if on_board <= band.width / 2.0 + SLACK:
            yield Finding(
                "stop",
                "too-short",
                entry.name,
                f"only {says(on_board)} of the groove lie on the board, less than its round end of "
                f"{says(band.width / 2.0)}: nowhere is it as wide as drawn, {says(band.width)}; lengthen it, or draw "
                "it with square ends",
            )
            return
    # One message per side: a groove that lies beside the board runs over it at both of its ends.
    for i, side in enumerate(sides(entry.face)):
        over, end = max(((-distances[i], end) for end, distances in ends.items()), default=(0.0, ""))
        if end and over > -SLACK and _drawn_to(band, 0.0 if end == "start" else entry.length):
            # A square end on the edge has corners that are none, and a round one only just touches it: see `_at_edge`.
            if over > SLACK or entry.ends == "square":
                yield Finding(
                    "stop",
                    "off-board",
                    entry.name,
                    f"the stopped {end} of the groove is drawn to the very edge, the {side} of {board.name}, where "
                    f"nothing stops it: {_at_edge(end, says)}",
                )
        elif over > SLACK:
            yield Finding(
                "stop",
                "off-board",
                entry.name,
                f"the stopped {end} of the groove runs {says(over)} over the {side} ({size}): move or shorten the "
                f"groove, or let its {end} be open",
            )
    walls = [band.line_span(t) for t in (-band.width / 2.0, band.width / 2.0)]
    if not ends and any(wall is None or wall[1] - wall[0] < SLACK for wall in walls):
        yield Finding(
            "stop",
            "off-board",
            entry.name,
            f"one wall of the groove lies off the board along its whole length ({size}): what is left is a "
            "rabbet; move the groove inward",
        )


def _drawn_to(band: Band, station: float) -> bool:
    """Whether the centreline at a station lies on the board's outline, so that it was drawn to the edge."""
    return abs(min(band.distances([band.at(station)]))) <= SLACK


def _at_edge(end: str, says: Says) -> str:
    """What to do about a stopped end at the edge of the board."""
    return f'draw it open there ({end} = "open"), or stop it at least {says(PRACTICE.short_grain)} before the edge'


def _stopped_ends(entry: GrooveEntry, band: Band) -> dict[str, tuple[float, float, float, float]]:
    """For each stopped end, "start" and "finish", its distances to the sides of the board."""
    ends = {}
    if entry.start == "stopped":
        ends["start"] = band.end_distances(0.0, outward=-1, round_end=entry.ends == "round")
    if entry.finish == "stopped":
        ends["finish"] = band.end_distances(entry.length, outward=1, round_end=entry.ends == "round")
    return ends


def _extended(entry: GrooveEntry, board: Board, band: Band, says: Says) -> Iterator[Finding]:
    """Cautions: open ends that were drawn inside the board."""
    low, high = band.line_span() or (0.0, entry.length)
    for end, kind, added in (("start", entry.start, -low), ("finish", entry.finish, high - entry.length)):
        if kind == "open" and added > PRACTICE.extended:
            yield Finding(
                "caution",
                "open-end-extended",
                entry.name,
                f"the open {end} is drawn inside {board.name}, {says(added)} short of its edge: the groove is "
                f"carried on over the edge, {says(added)} longer than drawn; if that is not meant, make the "
                f"{end} stopped",
            )


def _short_grain(entry: GrooveEntry, board: Board, band: Band, says: Says) -> Iterator[Finding]:
    """Cautions: little wood between the groove and an edge or end that it does not run through."""
    ends = _stopped_ends(entry, band)
    half, inset = band.width / 2.0, band.width / 2.0 if entry.ends == "round" else 0.0
    low = inset if "start" in ends else -inf
    high = entry.length - inset if "finish" in ends else inf
    body = band.on_board(low, high, -half, half)
    walls = band.distances(body) if body else (inf,) * 4
    for i, side in enumerate(sides(entry.face)):
        # Where there is an open end, a side that the body touches is the one that it runs through.
        wall = inf if len(ends) < 2 and walls[i] <= SLACK else walls[i]
        nearest, end = min(((distances[i], end) for end, distances in ends.items()), default=(inf, ""))
        left = min(wall, nearest)
        if nearest <= SLACK:
            yield Finding(
                "caution",
                "short-grain",
                entry.name,
                f"the stopped {end} of the groove touches the {side} of {board.name}, and breaks out there: "
                f"{_at_edge(end, says)}",
            )
        elif left < PRACTICE.short_grain - SLACK:
            yield Finding(
                "caution",
                "short-grain",
                entry.name,
                f"only {says(max(left, 0.0))} of wood is left between the groove and the {side} of "
                f"{board.name}: under {says(PRACTICE.short_grain)} it may break out (common practice); move the "
                "groove, or cut the board over-long and trim it afterwards",
            )


def _depth(entry: GrooveEntry, board: Board, says: Says) -> Iterator[Finding]:
    depth, left, share = entry.depth, board.thickness - entry.depth, entry.depth / board.thickness
    deep = f"the groove is {says(depth)} deep in a board of {says(board.thickness)}"
    least = says(PRACTICE.least_left)
    third, half = says(board.thickness * PRACTICE.deep), says(board.thickness * PRACTICE.deepest)
    if left <= SLACK:
        yield Finding(
            "stop", "too-deep", entry.name, f"{deep}: nothing of {board.name} is left; make it {third} deep, a third"
        )
    elif left < PRACTICE.least_left - SLACK:
        yield Finding(
            "stop",
            "too-deep",
            entry.name,
            f"{deep}: only {says(left)} is left, and {least} has to be; make it {third} deep, a third",
        )
    elif depth > board.thickness * PRACTICE.deepest + SLACK:
        yield Finding(
            "caution",
            "deep",
            entry.name,
            f"{deep}, {share:.0%} of it: more than a half ({half}) weakens the board badly; a quarter to a third "
            f"({third}) is usual (common practice)",
        )
    elif depth > board.thickness * PRACTICE.deep + SLACK:
        yield Finding(
            "caution",
            "deep",
            entry.name,
            f"{deep}, {share:.0%} of it: a quarter to a third ({third}) is usual (common practice)",
        )
    # A thin board has no room for it: more than a third deep would be said to be too deep.
    wanted = min(PRACTICE.least_depth, board.thickness * PRACTICE.deep)
    if entry.receives is not None and depth < wanted - SLACK and not entry.floats:
        slip = depth < LEAST_FELT
        yield Finding(
            "caution" if slip else "note",
            "shallow",
            entry.name,
            f"{deep}: a loaded shelf wants at least {says(wanted)} (common practice)"
            f"{'; so little hardly holds a board in its place: is that what is meant?' if slip else ''}",
        )


def _fit(entry: GrooveEntry, board: Board, mate: Mate, says: Says) -> Iterator[Finding]:
    """How the entering board meets the groove. Where only a width is given, its clearance is the job's."""
    who = mate.board or "the entering board"
    if mate.clearance < -SLACK:
        yield Finding(
            "stop",
            "interference",
            entry.name,
            f"{who} is {says(mate.thickness)} thick and the groove {says(mate.thickness + mate.clearance)} wide: "
            f"it lacks {says(-mate.clearance)}; leave width out, or widen it",
        )
    elif mate.clearance <= SLACK and entry.receives is not None and not entry.floats:
        yield Finding(
            "caution",
            "no-clearance",
            entry.name,
            f"{who} has no clearance: it may seize when the glue swells it; 0.1 mm (0.004 in) in all is a "
            "slip fit (common practice)",
        )
    elif mate.clearance > PRACTICE.loose + SLACK and not entry.floats:
        yield Finding(
            "caution",
            "loose",
            entry.name,
            f"{who} is loose by {says(mate.clearance)} in all: glue lines fail from about "
            f"{says(PRACTICE.loose)} (common practice, weakly sourced)",
        )
    if mate.edge_radius:
        yield Finding(
            "note",
            "round-the-edge",
            entry.name,
            f"round {rounded_part(mate)} over from both faces at half the thickness, to a radius of "
            f"{says(mate.edge_radius)}; it goes {says(mate.enters)} into {board.name}",
        )
    if mate.size is not None and mate.notch > PRACTICE.extended:
        yield Finding(
            "caution",
            "notch",
            entry.name,
            f"{who} is {says(mate.size)} {'wide' if mate.by_end else 'long'} and the groove only "
            f"{says(mate.length)} long, so it does not go in as it is: notch {says(mate.notch)} in all from its "
            f"entering end {notch_places(mate)}, {says(mate.enters)} deep, so that a tongue of {says(mate.tongue)} "
            "stays; or make the groove longer",
        )


def rounded_part(mate: Mate) -> str:
    """What of the entering board is rounded for round ends: as a maker finds it on the board."""
    both, who = mate.captured, mate.board or "the entering board"
    if mate.notch > PRACTICE.extended:
        return f"{'both ends' if both else 'the stopped end'} of the tongue of {who}"
    return f"{'both edges' if both else 'the edge'} of {who} that lie{'' if both else 's'} in the round end{'s' * both}"


def notch_places(mate: Mate) -> str:
    """Where a notch is cut from the entering end."""
    return "at its two edges, as you want the shelf to stand" if mate.captured else "at the edge toward the stopped end"
