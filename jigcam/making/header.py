"""The opening comments of a G-code file: what it is, stock, zero, bit, cautions."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jigcam import __version__
from jigcam.making.cautions import IN_FILE
from jigcam.units import format_length

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from jigcam.findings import Finding
    from jigcam.kit import Kit
    from jigcam.making.setup import Setup
    from jigcam.toolpath import Program

_FILE = "file: "
OPENING_LINES = 40
"""A file says within so many lines what it is: more than the header of the longest title takes."""


def header(
    kit: Kit,
    title: str,
    file: str,
    joints: Sequence[str],
    setup: Setup,
    program: Program,
    findings: Iterable[Finding] = (),
) -> list[str]:
    """The lines, in people's words; the writer reduces them to plain characters. Cautions of the joint come last."""
    unit = kit.the_machine.output_units
    x, y, z = (format_length(size, unit) for size in setup.stock)
    return [
        f"{title} - jigcam {__version__}, kit: {kit.name}",
        f"{_FILE}{file}",
        f"joint{'s' * (len(joints) > 1)}: {' and '.join(joints)}, board: {setup.board}, hand: {setup.hand}",
        f"setup: {setup.clamping}, stock: {x} by {y}, {z} thick"
        if setup.clamping != "upright"
        else f"setup: upright, end grain: {x} by {y}",
        f"zero: {setup.zero}",
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
    for comment in opening_comments(text):
        if comment.casefold().startswith(_FILE):
            return comment[len(_FILE) :].strip()
    return ""


def opening_comments(text: str) -> Iterator[str]:
    """The comments in the first lines of a G-code text, without their brackets."""
    for line in text.splitlines()[:OPENING_LINES]:
        for comment in re.findall(r"\(([^()]*)\)", line):
            yield str(comment).strip()
