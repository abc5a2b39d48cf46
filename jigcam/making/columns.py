"""Columns of plain text."""

from __future__ import annotations

from collections.abc import Sequence


def columns(head: Sequence[str], rows: Sequence[Sequence[str]], *, left: int = 1, indent: str = "  ") -> list[str]:
    """Columns two blanks apart, the first `left` flush left and the others flush right; no blanks at the end."""
    widths = [max(len(row[k]) for row in (head, *rows)) for k in range(len(head))]

    def line(row: Sequence[str]) -> str:
        cells = [
            cell.ljust(width) if k < left else cell.rjust(width)
            for k, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        return (indent + "  ".join(cells)).rstrip()

    return [line(head), *(line(row) for row in rows)]
