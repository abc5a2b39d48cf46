"""Mortises by hand: their lines on the boards, then brace or drill, and chisel."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import degrees, pi
from typing import TYPE_CHECKING, Literal

from jigcam.joints.mortise.drawn import DrawnMortise
from jigcam.joints.mortise.words import bench_lines
from jigcam.making.blocks import rows_words, section
from jigcam.making.plan import Outcome
from jigcam.units.ruled import marks_worth
from jigcam.wood.practice import SLACK

if TYPE_CHECKING:
    from jigcam.joints.mortise.row import Row
    from jigcam.making.blocks import Block
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.units import Voice

BORE = 0.5
"""mm by which the holes are bored narrower than the mortise is wide, so that the chisel pares the walls (common
practice, no source)."""
SQUARE = 1e-9
"""An angle, rad, that differs less from an axis is along it."""


@dataclass(frozen=True)
class HandMortise(DrawnMortise):
    """Mortises made by hand."""

    def bench_words(self, number: int) -> list[Block]:
        """All of the work."""
        lines = []
        for row in self.it.rows:
            lines += mortise_by_hand(row, self.voice, number)
            number += 2
        return [*lines, *bench_lines(self.it, number, self.voice)]

    def judged(self, files: Sequence[GcodeFile], texts: Mapping[str, str]) -> Outcome:
        """Nothing is cut by files, so nothing is measured."""
        return Outcome()


def mortise_by_hand(row: Row, voice: Voice, number: int) -> list[Block]:
    """One board's work in two numbered headings, from `number` on."""
    board = row.board.name
    marks = section(f"{number}. Mark {board}, {row.where}", _marking(row, voice))
    return [*marks, *rows_words(_layout(row, voice)), *section(f"{number + 1}. Cut {board}", _cutting(row, voice))]


def _marking(row: Row, voice: Voice) -> Iterator[str]:
    first, low = row.edges[0], row.edges[2]
    if row.face:
        yield f"Lay the board with its {row.face} face up and the lower edge toward you: its {first} is at your left."
    else:
        yield f"Stand the board in the bench vise with its {row.end} end up, the outside face toward you."
    yield f"Figures along are from the {first}, figures up from the {low}. {marks_worth(voice.units)}."
    yield _walls(row, voice)
    if row.count > 1:
        yield (
            "Mark the first board from these figures, and the second from the first: lay a strip beside the mortises "
            "that are cut, mark their centres on it, and carry them over; so no rounding of a figure comes between "
            "the two."
        )


def _lying(row: Row) -> Literal["along", "across", "aslant"]:
    """How the mortises lie to x of their place frame."""
    turn = row.angle % pi
    if min(turn, pi - turn) < SQUARE:
        return "along"
    return "across" if abs(turn - pi / 2.0) < SQUARE else "aslant"


def _walls(row: Row, voice: Voice) -> str:
    """Where both walls are, and by what they are drawn."""
    low, apart, half = row.edges[2], voice.rule(row.width), row.width / 2.0
    lying = _lying(row)
    if lying == "aslant":
        turn = degrees(row.angle % pi)
        return (
            f"Mark a line through each centre by a bevel set to {turn:.4g}° from the {low}, and both walls with a "
            f"knife, {voice.rule(half)} to each side of it."
        )
    if lying == "across":
        return (
            f"Square both walls across with a knife, {apart} apart, at the figures along from the {row.edges[0]} below."
        )
    if abs(row.pitch[1]) * (row.count - 1) > SLACK:
        return f"Gauge both walls from the {low}, {apart} apart, at the figures up below."
    near, far = voice.ruled(row.at[1] - half), voice.ruled(row.at[1] + half)
    return (
        f"Set a mortise gauge to {near} and {far}, its pins {apart} apart, and scribe both walls with its stock "
        f"against the {low}."
    )


def _layout(row: Row, voice: Voice) -> list[tuple[str, str]]:
    """Where the walls and the round ends of each are, straight parts only."""
    rows = []
    lying, says, w = _lying(row), voice.ruled, row.width / 2.0
    for number, (x, y) in enumerate(row.centres, start=1):
        which = f"mortise {number}" if row.count > 1 else "mortise"
        (ux, uy), half = row.along, (row.length - row.width) / 2.0
        ends = [(x - half * ux, y - half * uy), (x + half * ux, y + half * uy)]
        told = " and ".join(f"{says(a)} along, {says(b)} up" for a, b in ends)
        rows.append((which, f"centre {says(x)} along, {says(y)} up"))
        if lying != "aslant":
            at, way = (y, "up") if lying == "along" else (x, "along")
            rows.append((which, f"walls at {says(at - w)} and {says(at + w)} {way}"))
        rows.append((which, f"round ends about {told}, {voice.rule(w)} in radius"))
    return rows


def _cutting(row: Row, voice: Voice) -> Iterator[str]:
    yield (
        f"Bore the two ends first, then overlapping holes between them, with a bit of at most "
        f"{voice.up_to(row.width - BORE)} and a stop at {voice.rule(row.depth)}, square to the "
        f"{'face' if row.face else 'end'}: a block cut square beside the bit shows it."
    )
    depth = voice.rule(row.depth)
    yield f"Pare the walls to their lines with a wide chisel, and the round ends with a gouge, {depth} deep."
    yield "Try a tenon in it before the next board is marked: it goes in by hand, square both ways."
