"""The opening comments of a G-code file: what it is, stock, zero, bit, cautions."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jigcam import __version__
from jigcam.units import format_length
from jigcam.workshop.cautions import IN_FILE

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jigcam.findings import Finding
    from jigcam.joints import Hand
    from jigcam.kit import Kit
    from jigcam.toolpath import Program

_FILE = "file: "


def header(
    kit: Kit,
    title: str,
    file: str,
    joint: str,
    board: str,
    hand: Hand,
    program: Program,
    findings: Iterable[Finding] = (),
) -> list[str]:
    """The lines, in people's words; the writer reduces them to plain characters. Cautions of the joint come last."""
    unit = kit.machine.output_units
    x, y, z = (format_length(size, unit) for size in program.stock)
    return [
        f"{title} - jigcam {__version__}, kit: {kit.name}",
        f"{_FILE}{file}",
        f"joint: {joint}, board: {board}, hand: {hand}",
        f"setup: {program.setup}, stock: {x} by {y}, {z} thick"
        if program.setup != "upright"
        else f"setup: upright, end grain: {x} by {y}",
        f"zero: {program.zero}",
        *(
            f"bit{f' {number}' if len(program.bits) > 1 else ''}: {bit.name}, {bit.kind}, diameter "
            f"{format_length(bit.diameter, unit)}"
            for number, bit in enumerate(program.bits, 1)
        ),
        *IN_FILE,
        *dict.fromkeys(f"CAUTION: {finding.says}" for finding in findings if finding.level == "caution"),
    ]


def file_named_in(text: str) -> str:
    """The output file that a G-code text says it is, or "" if it says nothing. Only its comments are looked at."""
    for line in text.splitlines()[:40]:
        for comment in re.findall(r"\(([^()]*)\)", line):
            if comment.strip().casefold().startswith(_FILE):
                return str(comment).strip()[len(_FILE) :].strip()
    return ""
