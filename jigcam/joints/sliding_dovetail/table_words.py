"""The tail of a sliding dovetail on a router table, in words: its settings in the order of the cuts."""

from __future__ import annotations

from shlex import quote
from typing import TYPE_CHECKING

from jigcam.joints.sliding_dovetail.router_table import TableBit, TableTail, table_tail
from jigcam.joints.sliding_dovetail.shape import UNDER
from jigcam.joints.sliding_dovetail.trial import play_by_depth, play_by_fence, play_of
from jigcam.joints.sliding_dovetail.words import notched_edge
from jigcam.making.blocks import HeadedTable, points, section
from jigcam.units.format import nearest_fraction
from jigcam.units.parse import INCH

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.joints.sliding_dovetail.router_table import TableEdge
    from jigcam.kit import Bit
    from jigcam.making.blocks import Block
    from jigcam.units import Voice

WIDE_PIECE = 60.0
"""A test piece is as wide as this at the least, so that it stands steadily, mm (common practice, no source)."""


def tail_on_table(joint: SlidingDovetail, bit: Bit) -> TableTail:
    """The settings that cut the tail of a joint with a bit, whose angle its flanks have (`sloped`).

    Raises InputError where a router table cannot cut it.
    """
    shape, place, board = joint.shape, joint.place, joint.tail_board
    low, high = (flank(shape.depth, tail=True) for flank in (shape.low, shape.high))
    stations = [place.station(y) for y in (0.0, board.width)]
    outer, inner = (high, low) if place.outside_high else (low, high)
    outside = tuple(place.deep(outer.at(s)) for s in stations)
    inside = tuple(board.thickness - place.deep(inner.at(s)) for s in stations)
    enters: TableEdge = "upper" if shape.enters_at_finish == place.up else "lower"
    return table_tail(
        TableBit(bit.diameter, bit.angle, shape.tail_length),
        board.thickness,
        (outside[0], outside[1]),
        (inside[0], inside[1]),
        enters=enters,
        notch=max(place.notches),
        notch_edge="lower" if notched_edge(joint) == "lower" else "upper",
    )


def table_words(joint: SlidingDovetail, bit: Bit, voice: Voice, number: int) -> list[Block]:
    """The work on the router table, in a heading numbered `number`. Raises InputError: see `tail_on_table`."""
    tail, size = tail_on_table(joint, bit), voice.rule
    wide = f"at least {voice.at_least(WIDE_PIECE)} wide"
    if tail.cuts[1].shim:
        wide = "as wide as the board, as the taper is, and notched like it"
    lines = [
        f"Put {bit.name} into the table and raise its tip {size(tail.bit.height)} above it: the depth of the socket, "
        f"as you measure it, less {voice.length(UNDER)}. Where this bit has cut the socket in the table too, leave its "
        f"height as it is, and plane {voice.length(UNDER)} off the ends of the tails.",
        "Fence: turn the bit by hand until a cutting edge stands out furthest, and set how far its tip stands out of "
        "the fence's face, by a square rule from the face to the outermost point of the edge, at its widest, which is "
        "the top; the shoulder comes out as wide as that. Down at the table the bit stands out "
        f"{voice.length(tail.bit.lean)} less.",
        f"Every piece stands on its {joint.tail_end} end, one face against the fence, and goes from right to left, "
        "against the turn of the bit, a block of waste behind it. Put a tall board on the fence, and keep your "
        "hands high.",
        f"Test piece first: an offcut of just the same thickness, {size(tail.thickness)}, {wide}.",
    ]
    title = f"{number}. Cut the tail on {joint.tail_board.name} on a router table"
    return [*section(title, lines), _rows(tail, voice), *points(_after(joint, tail, voice))]


def _rows(tail: TableTail, voice: Voice) -> HeadedTable:
    """A row for every cut, test piece first; each setting of the fence gives two cuts where both faces are alike."""
    rows: list[tuple[str, ...]] = []
    height = voice.length(tail.bit.height)
    for piece in ("test piece", "every tail"):
        for face, proud, strip, edge in _order(tail):
            strip_words = f"{voice.length(strip)}, {edge} edge" if strip else "none"
            rows.append((str(len(rows) + 1), piece, face, height, voice.rule(proud), strip_words))
    return HeadedTable(("cut", "piece", "at the fence", "bit height", "out of the fence", "strip"), tuple(rows), left=6)


def _order(tail: TableTail) -> list[tuple[str, float, float, str]]:
    """Cuts as (face, proud, strip, its edge): setting by setting where both faces have the same, else face by face."""
    one, other = tail.cuts
    if tail.one_setting:
        pairs = [(cut, proud) for proud in one.proud for cut in tail.cuts]
    else:
        pairs = [(cut, proud) for cut in (one, other) for proud in cut.proud]
    return [(cut.face, proud, cut.shim, cut.shim_edge) for cut, proud in pairs]


def _after(joint: SlidingDovetail, tail: TableTail, voice: Voice) -> list[str]:
    """How the test piece is judged, what comes last, and the numbers that makers ask for."""
    size = voice.rule
    play = play_of(joint.shape.clearance, joint.shape.flank)
    lines = [
        f"The tail as a calliper shows it: {size(tail.end(tail.enters))} wide at its end"
        + (f", at the {tail.enters} edge" if tail.cuts[1].shim else "")
        + f"; {size(tail.neck(tail.enters))} at its shoulders.",
        f"Slide the test piece into the socket, shoulders down, and push it sideways: it should shift "
        f"{voice.exact(play)} in all. If not: jigcam next JOB --joint {quote(joint.name)} --gap LENGTH, with what it "
        "shifts, says what to set.",
        *fit_lines(joint.shape.flank, voice),
    ]
    if tail.cuts[1].shim:
        lines.insert(
            0,
            f"The strip is stuck to the {tail.cuts[1].face} face of the board at its {tail.cuts[1].shim_edge} edge, "
            "above the bit, so that the cut runs out of parallel and the tail narrows toward the edge that goes in "
            "first. Without a strip go the cuts that say none.",
        )
    if tail.notch:
        lines.append(
            f"Last, saw off {size(tail.notch)} of the tail at the {tail.notch_edge} edge, down to the shoulder: it "
            "covers the end of the socket."
        )
    return lines


def fit_lines(angle: float, voice: Voice) -> list[str]:
    """The three numbers that makers ask for, in the units of the job: of the play, over both flanks."""
    step = INCH / 64.0 if voice.inch else 0.1
    small = nearest_fraction(step).text if voice.inch else voice.length(step)
    says = voice.exact
    return [
        f"Fence: {small} further out of the fence makes the tail {says(play_by_fence(step, 2))} looser with both faces "
        f"cut, {says(play_by_fence(step, 1))} with one.",
        f"Bit height: a socket {small} deeper makes the joint {says(-play_by_depth(step, angle))} tighter over both "
        "flanks. The tail's own height changes nothing until its end touches the bottom; then it is as much tighter.",
    ]
