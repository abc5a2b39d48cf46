"""Columns and lines of plain text, none wider than it may be."""

from __future__ import annotations

import re
from collections.abc import Sequence

GAP = "  "
"""Between columns."""
DEEPER = 2
"""Columns by which the further lines of a sentence stand in."""
PROSE = 110
"""Columns of a sentence's lines at most: in longer ones the eye loses its place."""

_WHITE = re.compile(r"[^\S ]")
_BREAK = re.compile(r"(?<!\d) | (?!(?:in|mm|%|rpm|W|s)(?!\w))")
"""A blank at which a line may end: any but the one between a figure and its unit."""


def room(text: str) -> int:
    """Columns of a screen that the text takes."""
    if text.isascii():
        return len(text)
    from jigcam.drawing.text import columns as wide

    return wide(text)


def padded(text: str, width: int, *, right: bool = False) -> str:
    """The text with blanks to fill so many columns of a screen, after it or, to the `right`, before it."""
    blanks = " " * (width - room(text))
    return blanks + text if right else text + blanks


def columns(
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    *,
    left: int = 1,
    again: int | None = None,
    indent: str = GAP,
    width: int | None = None,
) -> list[str]:
    """Columns two blanks apart, the first `left` flush left and the others flush right; no blanks at the end.

    width: of the screen, in characters. A table that is wider is folded: what finds no room stands in a further table
    below, with the first `again` columns again (those flush left, if left out; only the first, where they are wide).
    """
    widths = [max(room(row[k]) for row in (head, *rows)) for k in range(len(head))]

    def line(row: Sequence[str], some: Sequence[int]) -> str:
        cells = [padded(row[k], widths[k], right=k >= left) for k in some]
        return (indent + GAP.join(cells)).rstrip()

    lines: list[str] = []
    for some in _folds(widths, left if again is None else again, len(indent), width):
        lines += [""] * bool(lines) + [line(row, some) for row in (head, *rows)]
    return lines


def _folds(widths: Sequence[int], keys: int, indent: int, width: int | None) -> list[list[int]]:
    """Which columns stand beside each other, table by table."""
    every = list(range(len(widths)))
    if width is None:
        return [every]

    def taken(some: Sequence[int]) -> int:
        return indent + sum(widths[k] for k in some) + len(GAP) * (len(some) - 1)

    again = every[:keys]
    if taken(again) * 2 > width:
        again = every[:1]
    rest = every[len(again) :]

    def folded(room: int) -> list[list[int]]:
        folds = [list(again)]
        for column in rest:
            if len(folds[-1]) > len(again) and taken([*folds[-1], column]) > room:
                folds.append(list(again))
            folds[-1].append(column)
        return folds

    if taken(every) <= width:
        return [every]
    least = len(folded(width))
    # As narrow as as few tables can be: so none is left with a lonely column.
    return next(folds for folds in map(folded, range(1, width + 1)) if len(folds) <= least)


def hanging(text: str, width: int | None, deeper: int = DEEPER) -> list[str]:
    """A line of text broken between words so that no part takes more columns of a screen than `width`; further parts
    stand `deeper` columns further in than the first. A word that is wider, as a path may be, stays whole, and blanks
    within a part are kept; any other white space, as a name may hold it, is a blank. None: no limit.
    """
    text = _WHITE.sub(" ", text)
    if width is None or room(text) <= width:
        return [text]
    bare = text.lstrip(" ")
    margin = " " * (len(text) - len(bare))
    lines: list[str] = []
    line = margin
    for word in _BREAK.split(bare):
        piece = word if line == margin else f" {word}"
        if line != margin and room(line) + room(piece) > width:
            lines.append(line.rstrip())
            margin = " " * (len(text) - len(bare) + deeper)
            line, piece = margin, word
        line += piece
    return [*lines, line.rstrip()]


def prose(lines: Sequence[str], width: int | None) -> list[str]:
    """Lines of words, each broken by `hanging`, and none longer than is good to read. No width: as they are."""
    return [part for line in lines for part in hanging(line, None if width is None else min(width, PROSE))]
