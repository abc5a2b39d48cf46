"""A sliding dovetail in words."""

from __future__ import annotations

from math import degrees
from typing import TYPE_CHECKING

from jigcam.joints.sliding_dovetail.shape import UNDER
from jigcam.making.blocks import table
from jigcam.making.words import board_words

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.making.blocks import Block
    from jigcam.units import Voice


def sliding_words(it: SlidingDovetail, voice: Voice) -> list[Block]:
    """The joint as it is cut, for a sheet."""
    size, shape, place = voice.rule, it.shape, it.place
    x, y = it.band.at(0.0)
    left = "left" if it.face == "outside" else "right"
    first, last = ("stopped" if stopped else "open" for stopped in (shape.stopped_start, shape.stopped_finish))
    enters = "finish" if shape.enters_at_finish else "start"
    base, neck = tail_widths(it)
    rows = [
        ("socket board", board_words(it.board, it.face, voice)),
        ("tail board", f"{board_words(it.tail_board, '', voice).partition('; cut')[0]}; its {it.tail_end} end"),
        (
            "starts at",
            f"{size(x)} from the board's {left} end, {size(y)} up, on the centreline; at {degrees(it.band.angle):g}°",
        ),
        ("length", f"{size(shape.length)}; {first} at its start, {last} at its finish"),
        (
            "socket",
            f"{size(shape.base)} wide at the bottom, {size(shape.necks[0])} on the face, {size(shape.depth)} deep",
        ),
        ("flanks", f"{voice.slope(shape.flank)} from the upright"),
        ("tail", f"{size(base)} wide at its end, {size(neck)} at the shoulder, {size(shape.tail_length)} long"),
        ("clearance", f"{voice.drawn(shape.clearance)} square to each flank, and {voice.length(UNDER)} under the tail"),
        ("goes in", f"from the {enters} of the socket"),
    ]
    if shape.taper:
        rows.append(("taper", f"{size(shape.taper)} narrower at the far end, all on the {tapered_side(it)}"))
    if notch := max(place.notches):
        rows.append(
            (
                "notch",
                f"{size(notch)} of the tail cut away at the {notched_edge(it)} edge of {place.board.name}, on the "
                "shoulder; that edge goes in first",
            )
        )
    return table("The joint", rows)


def tail_widths(it: SlidingDovetail) -> tuple[float, float]:
    """Width of the tail where it goes in: at its end, and at the shoulder, mm."""
    station = it.shape.length if it.shape.enters_at_finish else 0.0
    end, neck = (it.shape.width(station, h, tail=True) for h in (UNDER, it.shape.depth))
    return end, neck


def notched_edge(it: SlidingDovetail) -> str:
    """The edge of the tail board at which the tail is notched: lower or upper."""
    return "lower" if (it.place.notches[0] > 0.0) == it.place.up else "upper"


def glued_edge(it: SlidingDovetail) -> str:
    """The edge of the tail board that is to stay flush, and is glued: the one that shows its notch; else the lower."""
    return notched_edge(it) if max(it.place.notches) else "lower"


def tapered_side(it: SlidingDovetail) -> str:
    """The side of the tail that is tapered, in words."""
    return f"side of the {'outside' if it.place.outside_high else 'inside'} face of {it.tail_board.name}"
