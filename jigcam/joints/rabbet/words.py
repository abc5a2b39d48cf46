"""A rabbet in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.making.blocks import table
from jigcam.making.words import board_words

if TYPE_CHECKING:
    from jigcam.joints.rabbet.rabbet import Rabbet
    from jigcam.making.blocks import Block
    from jigcam.units import Voice


def rabbet_words(it: Rabbet, voice: Voice) -> list[Block]:
    """The joint as drawn, for a sheet."""
    size = voice.rule
    where = "end" if it.along in ("left", "right") else "edge"
    left = "left" if it.face == "outside" else "right"
    begin = "the lower edge" if where == "end" else f"the board's {left} end, at the left on the {it.face} face"
    first, last = ("open" if is_open else "stopped" for is_open in it.open_ends)
    rows = [
        ("board", board_words(it.board, it.face, voice)),
        ("along", f"its {it.along} {where}"),
        ("starts at", f"{size(it.start)} from {begin}"),
        ("length", f"{size(it.length)}; {first} at its start, {last} at its finish"),
        ("width", size(it.width)),
        ("depth", size(it.depth)),
    ]
    if it.mate is not None:
        rows.append(("receives", f"{it.mate.name}, {size(it.mate.thickness)} thick"))
    return table("The joint", rows)
