"""A sliding dovetail at the bench: every line's place, socket first, tail to fit it, and how the two go together."""

from __future__ import annotations

from math import degrees, hypot, sin
from typing import TYPE_CHECKING, Final

from jigcam.joints.sliding_dovetail.words import notched_edge, tail_widths, tapered_side
from jigcam.making.blocks import points, rows_words, section

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.glue import Glue
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.making.blocks import Block
    from jigcam.units import Voice

STRAIGHT: Final = 1e-9
"""The sine of twice its angle is less where a socket runs along a side of its board, or square to it."""


def mouth_lines(it: SlidingDovetail) -> list[tuple[str, tuple[float, float], tuple[float, float]]]:
    """The edges of the socket on the face, right and left of its way, from start to finish: face frame, mm."""
    shape, (low, high) = it.shape, it.on_board
    first, last = shape.socket_ends(shape.depth)
    first, last = first if shape.stopped_start else low, last if shape.stopped_finish else high
    return [
        (name, it.band.at(first, line.at(first)), it.band.at(last, line.at(last)))
        for name, line in (("right of its way", shape.low(shape.depth)), ("left of its way", shape.high(shape.depth)))
    ]


def sliding_by_hand(it: SlidingDovetail, glue: Glue, voice: Voice, number: int) -> list[Block]:
    """All of the work in numbered headings, from `number` on."""
    return [
        *_mark_socket(it, voice, number),
        *section(f"{number + 1}. Cut the socket", _socket(it, voice)),
        *section(f"{number + 2}. Cut the tail on {it.tail_board.name}", _tail(it, voice)),
        *section(f"{number + 3}. Put it together", _together(it, glue, voice)),
    ]


def tail_by_hand(it: SlidingDovetail, glue: Glue, voice: Voice, number: int, *, shaped: bool) -> list[Block]:
    """What is left for the bench after the machine. shaped: whether that has cut the tail too."""
    lines: list[Block] = []
    if not shaped:
        lines += section(f"{number}. Cut the tail on {it.tail_board.name}", _tail(it, voice))
        number += 1
    return [*lines, *section(f"{number}. Put it together", _together(it, glue, voice))]


def _mark_socket(it: SlidingDovetail, voice: Voice, number: int) -> list[Block]:
    left = "left" if it.face == "outside" else "right"

    (first, a, b), (second, c, d) = mouth_lines(it)
    # Only a socket whose lines run along the board's sides can be moved by what a rule does not show: aslant, or
    # tapered, its ends would not move alike.
    square = abs(sin(2.0 * it.band.angle)) < STRAIGHT and not it.shape.taper
    says = voice.ruled if square else voice.rule

    def place(point: tuple[float, float]) -> str:
        return f"{says(point[0])} along, {says(point[1])} up"

    rows = [(first, f"from {place(a)}; to {place(b)}")]
    if square:
        rows.append((second, f"{voice.rule(hypot(c[0] - a[0], c[1] - a[1]))} from it, and as long"))
    else:
        rows.append((second, f"from {place(c)}; to {place(d)}"))
    lines = [
        f"Lay {it.board.name} before you, its {it.face} face up, the lower edge toward you: the {left} end is at your "
        "left hand. Figures along are from that end, figures up from the lower edge.",
        "Knife both edges of the mouth on the face, at these places"
        + (
            "; the first is rounded to what a rule shows, and the second keeps the width, which the tail is cut to:"
            if square
            else ":"
        ),
    ]
    after = [
        f"Where it runs out, set a bevel to {voice.slope(it.shape.flank)} from the upright and "
        f"draw the flanks on the edge, outward as they go down; gauge the bottom "
        f"at {voice.rule(it.shape.depth)}: it "
        f"is {voice.rule(it.shape.base)} wide where the tail goes in.",
    ]
    return [*section(f"{number}. Mark the socket", lines), *rows_words(rows), *points(after)]


def _socket(it: SlidingDovetail, voice: Voice) -> list[str]:
    lines = []
    if it.shape.stopped_start or it.shape.stopped_finish:
        lines.append(
            "Chop a pocket at the stopped end first, as long as the saw needs to run into, its end wall upright: the "
            "notched tail does not come near it."
        )
    lines += [
        f"Saw both flanks on the waste side, with a guide block planed to {degrees(it.shape.flank):.3g}° beside the "
        "blade, down to the gauge line.",
        "Take out the waste with a chisel and level the bottom with a router plane set to "
        f"{voice.rule(it.shape.depth)}.",
    ]
    return lines


def _tail(it: SlidingDovetail, voice: Voice) -> list[str]:
    base, neck = tail_widths(it)
    shape, name, thick = it.shape, it.tail_board.name, it.tail_board.thickness
    end, shoulder = (voice.rule((thick - width) / 2.0) for width in (base, neck))
    lines = [
        f"Knife the shoulders round {name}, {voice.rule(shape.tail_length)} from the {it.tail_end} end, on both faces "
        "and both edges.",
        f"Where it goes in first, the tail is {voice.rule(base)} wide at its end, {end} in from each face, and "
        f"{voice.rule(neck)} at the shoulder, {shoulder} in from each face: draw its flanks on that "
        "edge with the bevel.",
    ]
    if shape.taper:
        lines.append(
            f"The flank on the {tapered_side(it)} runs in over the width of the board, {voice.rule(shape.taper)} over "
            f"{voice.rule(shape.length)}: the far end is the narrow one, and goes in first."
        )
    if notch := max(it.place.notches):
        lines.append(
            f"Saw off {voice.rule(notch)} of the tail at the {notched_edge(it)} edge, down to the shoulder: it covers "
            "the end of the socket."
        )
    lines += [
        "Saw the shoulders to the depth of the neck, and plane or pare the flanks down to the lines, a shaving at a "
        "time, trying the tail in its socket from the open end.",
    ]
    return lines


def _together(it: SlidingDovetail, glue: Glue, voice: Voice) -> list[str]:
    shape, name = it.shape, it.tail_board.name
    enters = "finish" if shape.enters_at_finish else "start"
    return [
        f"Slide the tail in dry from the {enters} of the socket, the {it.tail_end} end of {name} down: by hand for "
        f"most of the way, with {voice.drawn(shape.clearance)} of room at each flank. Where it seizes, pare the tail, "
        "never the socket.",
        *glue.lines(voice),
    ]
