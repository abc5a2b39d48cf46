"""Blocks as plain text: what a setup sheet looks like in a `.txt` file."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from jigcam.making.blocks import Block, HeadedTable, Heading, Lines, Points, Rows, Sentence
from jigcam.making.columns import columns

WIDTH = 92
"""Columns of the sheet."""


def text_lines(blocks: Iterable[Block]) -> list[str]:
    """All of them, wrapped."""
    return [line for block in blocks for line in _lines(block)]


def _lines(block: Block) -> list[str]:
    match block:
        case Heading(text, minor):
            return ["", f"  {text}" if minor else text]
        case Points(sentences, minor):
            return [*([""] if minor else []), *_points(sentences)]
        case Rows(rows, minor):
            return _rows(rows, 4 if minor else 2)
        case HeadedTable(head, rows, left):
            return ["", *columns(head, rows, left=left), ""]
        case Lines(lines):
            return [f"  {line}".rstrip() for line in lines]
        case Sentence(text):
            return ["", *textwrap.wrap(text, WIDTH, break_on_hyphens=False)]


def _points(sentences: Iterable[str]) -> list[str]:
    """Sentences as wrapped points; those that begin with blanks belong to the one before."""
    return [
        line
        for sentence in sentences
        for line in textwrap.wrap(
            sentence.strip(),
            WIDTH,
            initial_indent="  - " if not sentence.startswith("  ") else "      ",
            subsequent_indent="    " if not sentence.startswith("  ") else "      ",
            break_on_hyphens=False,
        )
    ]


def _rows(rows: Sequence[tuple[str, str]], indent: int) -> list[str]:
    """Named values, the values under each other and wrapped in their column; a name that comes again is said once."""
    wide = max(len(name) for name, _ in rows)
    lines = []
    before = ""
    for name, value in rows:
        said = "" if name == before else name
        before = name
        parts = textwrap.wrap(value, WIDTH - wide - indent - 2, break_on_hyphens=False) or [""]
        lines.append(f"{' ' * indent}{said.ljust(wide)}  {parts[0]}")
        lines += [" " * (wide + indent + 2) + part for part in parts[1:]]
    return lines
