"""What the trade has to say about mortises: off the board, through it, too near to a side, unlike the stock, askew."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import degrees
from typing import TYPE_CHECKING

from jigcam.findings import Finding, Level
from jigcam.wood.practice import PRACTICE, SLACK

if TYPE_CHECKING:
    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.joints.mortise.row import Row
    from jigcam.units import Voice

DEEPEST = 2 / 3
"""Share of a board's thickness that a mortise in its face takes at most, if it is not to be weak (common practice, no
source)."""
LEAST_CHEEK, CHEEK = 2.0, 4.0
"""Wood beside a mortise in an end: with less than the first it splits when it is cut, with less than the second when
the tenon is driven in, mm (common practice, no source)."""
THIRD = (0.2, 0.5)
"""Share of the stock that a loose tenon takes: about a third, and no less or more than these (common practice, no
source)."""
LEAST_PLAY = 0.02
"""mm in all; a tenon with less seizes in wet glue (common practice, no source)."""
SQUARE_DEG = 0.05
"""Degrees by which boards may be off square or parallel before it is said."""


def mortise_findings(it: Mortise, voice: Voice) -> Iterator[Finding]:
    """All that is to be said about mortises, board by board: place, depth, wood between them; then the tenon."""
    for row in it.rows:
        yield from _place(it.name, row, voice)
        yield from _depth(it.name, row, voice)
        yield from _between(it.name, row, voice)
        yield from _share(it, row, voice)
    if it.clearance < LEAST_PLAY:
        what = f"a tenon with {voice.length(it.clearance)} of play in all seizes as the glue swells it"
        what += f": {voice.length(0.1)} is usual (common practice)"
        yield Finding("caution", "tenon-seizes", it.name, what)
    if len(it.rows) > 1:
        yield from _askew(it)


def _named(row: Row, number: int) -> str:
    """One mortise of a row in words."""
    which = f"mortise {number + 1}" if row.count > 1 else "the mortise"
    return f"{which} in the {row.where} of {row.board.name}"


def _place(name: str, row: Row, voice: Voice) -> Iterator[Finding]:
    """Mortises that leave the board, or leave little beside them; of each side the worst."""
    says = voice.length
    gaps: dict[int, tuple[float, int]] = {}
    for number in range(row.count):
        x0, y0, x1, y1 = row.region(number).bounds
        for side, gap in enumerate((x0, row.size[0] - x1, y0, row.size[1] - y1)):
            gaps[side] = min(gaps.get(side, (gap, number)), (gap, number))
    for side, (gap, number) in gaps.items():
        which, edge = _named(row, number), row.edges[side]
        if gap < -SLACK:
            what = f"{which} runs {says(-gap)} over the {edge}: move it inward, or make it smaller"
            yield Finding("stop", "off-board", name, what)
        elif row.end and side >= 2:
            if gap < CHEEK - SLACK:
                level: Level = "stop" if gap < LEAST_CHEEK - SLACK else "caution"
                least = says(LEAST_CHEEK if level == "stop" else CHEEK)
                what = f"{which} leaves a cheek of {says(max(gap, 0.0))} before the {edge}: under {least} it splits"
                yield Finding(level, "thin-cheek", name, f"{what} (common practice)")
        elif gap < PRACTICE.short_grain - SLACK:
            what = f"{which} leaves only {says(max(gap, 0.0))} of wood before the {edge}: under "
            what += f"{says(PRACTICE.short_grain)} it may break out (common practice)"
            yield Finding("caution", "short-grain", name, what)


def _depth(name: str, row: Row, voice: Voice) -> Iterator[Finding]:
    """Mortises that come through, or nearly; those in a face that weaken it."""
    says = voice.length
    left = row.into - row.depth
    deep = (
        f"the mortise in the {row.where} of {row.board.name} is {says(row.depth)} deep, and the wood {says(row.into)}"
    )
    if left <= SLACK:
        what = f"{deep}: it comes through; make it at most {says(row.into - PRACTICE.least_left)} deep"
        yield Finding("stop", "too-deep", name, what)
    elif left < PRACTICE.least_left - SLACK:
        what = f"{deep}: only {says(left)} is left, and {says(PRACTICE.least_left)} has to be"
        yield Finding("stop", "too-deep", name, what)
    elif row.face and row.depth > DEEPEST * row.into + SLACK:
        what = f"{deep}: more than two thirds ({says(DEEPEST * row.into)}) weakens the board (common practice)"
        yield Finding("caution", "deep", name, what)


def _between(name: str, row: Row, voice: Voice) -> Iterator[Finding]:
    """The least wood between two mortises of a row; each is a core line of the same length with the same radius."""
    webs = [_apart(row, a, b) for a, b in combinations(range(row.count), 2)]
    web = min(webs, default=PRACTICE.web)
    if web >= PRACTICE.web - SLACK:
        return
    level: Level = "stop" if web < PRACTICE.least_web - SLACK else "caution"
    least = voice.length(PRACTICE.least_web if level == "stop" else PRACTICE.web)
    what = f"the mortises in the {row.where} of {row.board.name} leave {voice.length(max(web, 0.0))} between them"
    yield Finding(level, "mortises-close", name, f"{what}: under {least} it breaks out (common practice)")


def _apart(row: Row, a: int, b: int) -> float:
    """Wood between two mortises of a row, mm; negative where they run into each other.

    Their core lines are parallel and alike: along their direction the gap between them, across it their distance.
    """
    (xa, ya), (xb, yb), (ux, uy) = row.centres[a], row.centres[b], row.along
    dx, dy = xb - xa, yb - ya
    along, across = abs(dx * ux + dy * uy), abs(dy * ux - dx * uy)
    gap = max(0.0, along - (row.length - row.width))
    return float((gap**2 + across**2) ** 0.5) - row.width


def _share(it: Mortise, row: Row, voice: Voice) -> Iterator[Finding]:
    """A tenon that is unlike the stock in whose end it is."""
    if row.face:
        return
    thick, tenon = row.board.thickness, it.tenon.thickness
    if not THIRD[0] - SLACK <= tenon / thick <= THIRD[1] + SLACK:
        much = "thicker" if tenon > thick / 3.0 else "thinner"
        what = f"the tenon is {voice.length(tenon)} thick in {row.board.name} of {voice.length(thick)}"
        what += f": a third, {voice.length(thick / 3.0)}, is usual, and this is much {much} (common practice)"
        yield Finding("caution", "tenon-share", it.name, what)


def _askew(it: Mortise) -> Iterator[Finding]:
    """Boards that meet neither square nor in line where both mortises are."""
    a, b = (degrees(row.angle) * (-1.0 if row.mirrored else 1.0) for row in it.rows)
    # Face to face each sees the other's direction mirrored: the turn between both frames is the sum.
    turn = (a + b) % 90.0
    off = min(turn, 90.0 - turn)
    if off > SQUARE_DEG:
        one, other = it.rows
        what = (
            f"with the mortise in the {one.where} of {one.board.name} and that in the {other.where} of "
            f"{other.board.name} in line, the grain of both boards is {off:.4g}° off square or parallel: if that is "
            "not meant, mind that the same line has the opposite angle when it is seen from the other side"
        )
        yield Finding("caution", "mates-askew", it.name, what)
