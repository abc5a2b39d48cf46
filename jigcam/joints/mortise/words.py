"""Mortises in words: what is said of the joint on every sheet, and how the tenons are made."""

from __future__ import annotations

from math import degrees
from typing import TYPE_CHECKING

from jigcam.making.blocks import section, table

if TYPE_CHECKING:
    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.joints.mortise.row import Row
    from jigcam.making.blocks import Block
    from jigcam.units import Voice

STRAIGHT_DEG = 1e-6
"""Degrees; what is off a direction by less lies along it."""


def mortise_words(it: Mortise, voice: Voice, title: str = "The joint") -> list[Block]:
    """The mortises board by board, and the tenon."""
    lines = []
    for number, row in enumerate(it.rows):
        lines += table(title if number == 0 else f"Its mate, in {row.board.name}", _rows(row, voice))
    tenon = it.tenon
    count = it.first.count
    rows = [
        ("how many", f"{count}"),
        ("thickness", f"{voice.rule(tenon.thickness)}: the mortise's width less {voice.length(tenon.play)} of play"),
        ("width", f"{voice.rule(tenon.width)}: the mortise's length less the same"),
        ("length", f"{voice.rule(tenon.length)}: {_length_words(it, voice)}"),
        ("edges", f"rounded to a radius of {voice.rule(tenon.edge_radius)}, half the thickness, for the round ends"),
    ]
    return [*lines, *table("The loose tenon" if count == 1 else "The loose tenons", rows)]


def _length_words(it: Mortise, voice: Voice) -> str:
    depths = " and ".join(voice.rule(row.depth) for row in it.rows)
    both = f"both mortises, {depths}," if len(it.rows) > 1 else f"twice {depths}, as no mate is named,"
    whole = it.rows[0].depth + it.rows[-1].depth
    return f"{both} less {voice.length(whole - it.tenon.length)}"


def _rows(row: Row, voice: Voice) -> list[tuple[str, str]]:
    size, board = voice.rule, row.board
    sizes = voice.size(board.length, board.width, board.thickness)
    first, low = row.edges[0], row.edges[2]
    if row.face:
        seen = f"square at the {row.face} face, lower edge down: the board's {first} is then on the left"
    else:
        seen = f"at the {row.end} end: x from the lower edge across the board, y from the outside face into it"
    rows = [
        ("board", f"{board.name}, {sizes}{', ' + board.wood if board.wood else ''}; in its {row.where}"),
        ("seen", seen),
    ]
    for number, (x, y) in enumerate(row.centres, start=1):
        name = "centre" if row.count == 1 else f"centre {number}"
        rows.append((name, f"{size(x)} from the {first}, {size(y)} from the {low}"))
    rows += [
        ("lies", direction_words(row, voice)),
        ("length", f"{size(row.length)}, from extreme end to extreme end"),
        ("width", size(row.width)),
        ("depth", size(row.depth)),
    ]
    return rows


def direction_words(row: Row, voice: Voice) -> str:
    """Which way the length of the mortises lies."""
    turn = degrees(row.angle) % 180.0
    along, across = (
        ("along the grain", "square across the grain") if row.face else ("along the width", "across the end")
    )
    if min(turn, 180.0 - turn) < STRAIGHT_DEG:
        return along
    if abs(turn - 90.0) < STRAIGHT_DEG:
        return across
    if row.face:
        return f"at {voice.angle(row.angle)}, anticlockwise from the grain"
    return f"at {voice.angle(row.angle)} from the width, toward the inside face"


def bench_lines(it: Mortise, number: int, voice: Voice) -> list[Block]:
    """How the tenons are made, and the joint put together."""
    return section(f"{number}. {tenon_title(it)}", it.tenon.lines(it.first.count, voice))


def tenon_title(it: Mortise) -> str:
    """Of the work at its tenons."""
    return "Make the loose tenon" + ("s" if it.first.count > 1 else "")
