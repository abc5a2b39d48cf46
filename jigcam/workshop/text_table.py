"""Columns and lines of plain text, none wider than it may be."""

from __future__ import annotations

from collections.abc import Sequence

GAP = "  "
"""Between columns."""
DEEPER = 2
"""Columns by which the further lines of a sentence stand in."""


def columns(
    head: Sequence[str], rows: Sequence[Sequence[str]], *, left: int = 1, indent: str = GAP, width: int | None = None
) -> list[str]:
    """Columns two blanks apart, the first `left` flush left and the others flush right; no blanks at the end.

    width: of the screen, in characters. A table that is wider is folded: what finds no room stands in a further table
    below, with the first columns (those that are flush left, or only the first) again.
    """
    widths = [max(len(row[k]) for row in (head, *rows)) for k in range(len(head))]

    def line(row: Sequence[str], some: Sequence[int]) -> str:
        cells = [row[k].ljust(widths[k]) if k < left else row[k].rjust(widths[k]) for k in some]
        return (indent + GAP.join(cells)).rstrip()

    lines: list[str] = []
    for some in _folds(widths, left, len(indent), width):
        lines += [""] * bool(lines) + [line(row, some) for row in (head, *rows)]
    return lines


def _folds(widths: Sequence[int], left: int, indent: int, width: int | None) -> list[list[int]]:
    """Which columns stand beside each other, table by table."""
    every = list(range(len(widths)))
    if width is None:
        return [every]

    def taken(some: Sequence[int]) -> int:
        return indent + sum(widths[k] for k in some) + len(GAP) * (len(some) - 1)

    again = every[:left]
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
    within a part are kept. None: no limit.
    """
    from jigcam.drawing.text import columns as room

    if width is None or room(text) <= width:
        return [text]
    bare = text.lstrip(" ")
    margin = " " * (len(text) - len(bare))
    lines: list[str] = []
    line = margin
    for word in bare.split(" "):
        piece = word if line == margin else f" {word}"
        if line != margin and room(line) + room(piece) > width:
            lines.append(line.rstrip())
            margin = " " * (len(text) - len(bare) + deeper)
            line, piece = margin, word
        line += piece
    return [*lines, line.rstrip()]


def flow(lines: Sequence[str], width: int | None) -> list[str]:
    """Every line broken by `hanging`."""
    return [part for line in lines for part in hanging(line, width)]
