"""Words of the setup sheet that all kinds share: sections, tables, sizes, files."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from jigcam.units import format_length, nearest_fraction

if TYPE_CHECKING:
    from jigcam.job import Board
    from jigcam.kit import Kit
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.template import TemplatePlan

WIDTH = 92
SMALLEST_FRACTION = 0.8
"""Lengths below this are clearances, which no rule shows, mm."""
EXACT = 1e-3
"""A fraction that is this near is the length itself, mm."""


def section(title: str, sentences: Iterable[str]) -> list[str]:
    """A heading and its sentences as wrapped points; nothing where there are none."""
    points = [
        line
        for sentence in sentences
        for line in textwrap.wrap(
            sentence.strip(),
            WIDTH,
            initial_indent="  - " if not sentence.startswith("  ") else "      ",
            subsequent_indent="    " if not sentence.startswith("  ") else "      ",
        )
    ]
    return ["", title, *points] if points else []


def table(title: str, rows: Sequence[tuple[str, str]]) -> list[str]:
    """A heading and named values, the values under each other and wrapped in their column."""
    wide = max(len(name) for name, _ in rows)
    lines = ["", title]
    for name, value in rows:
        parts = textwrap.wrap(value, WIDTH - wide - 4) or [""]
        lines.append(f"  {name.ljust(wide)}  {parts[0]}")
        lines += [" " * (wide + 4) + part for part in parts[1:]]
    return lines


def says(mm: float, units: str) -> str:
    """A length in the job's units; inches with the nearest 64th, and how far that is off, where it is a size to set."""
    text = format_length(mm, units)
    if units != "in" or mm < SMALLEST_FRACTION:
        return text
    fraction = nearest_fraction(mm)
    off = fraction.error_mm
    if abs(off) < EXACT:
        return text if fraction.text == text else f"{text} ({fraction.text})"
    return f"{text} ({fraction.text} {'less' if off > 0.0 else 'and'} {format_length(abs(off), units, 4)})"


def board_words(board: Board, face: str, units: str) -> str:
    """A board by name, size and wood, and the face of it that is cut."""
    size = " x ".join(says(mm, units) for mm in (board.length, board.width, board.thickness))
    return f"{board.name}, {size}{', ' + board.wood if board.wood else ''}; cut its {face} face"


def files_table(files: Sequence[GcodeFile], kit: Kit, units: str) -> list[str]:
    """What runs on the machine, in order."""
    lines: list[str] = []
    for number, file in enumerate(files, start=1):
        program = file.program
        stock = " x ".join(format_length(size, units) for size in program.stock)
        bits = "; ".join(f"{bit.name}, {format_length(bit.diameter, units)}" for bit in program.bits)
        lines += table(
            f"File {number} of {len(files)}: {file.file}",
            [
                ("setup", program.clamping),
                ("hand", file.hand),
                ("stock", stock),
                ("zero", program.zero),
                ("bit", bits),
                ("writes", f"{kit.machine.output_units}, and has a dry run beside it"),
            ],
        )
    return lines


def bushing_words(plan: TemplatePlan, kit: Kit, units: str) -> str:
    """The bushing by name and size, and the size at which it acts where a test cut has measured the pair."""
    sold = kit.bushing(plan.bushing.name)
    words = f"{sold.name}, {says(sold.outside, units)} outside"
    if kit.measurement(plan.bit, sold) is not None:
        words += f"; by its test cut it acts as {format_length(plan.bushing.outside, units)}"
    return words
