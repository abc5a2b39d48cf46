"""Running dimensions in a terminal's picture: each figure level, at the place of its mark or on a line below or beside.

Along x the figures stand in rows below (or above) the shape, each as near to the column of its mark as is free, with an
upright line to it; along y one in a row, beside the shape. Of "1-1/2 (1.500)" a terminal says "1-1/2". What finds no
room is told, so that nothing is lost.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from jigcam.drawing.placing import Cells
from jigcam.drawing.running import Running
from jigcam.drawing.text import clean, columns

BESIDE = 3
"""Columns between a figure and the shape."""
MOST = 8
"""Rows of figures at most."""


@dataclass(frozen=True, slots=True)
class RunningFigure:
    """A figure that has its place: the column and row where it begins, and where its mark is. `at` is the column of a
    mark along x, the row of one along y."""

    figure: str
    column: int
    row: int
    at: int


def short(figure: str) -> str:
    """A figure without its decimals, where a fraction says the same."""
    return clean(figure.partition(" (")[0])


def rows_needed(running: Running, wide: int) -> int:
    """Rows that the figures of one along x take in a picture of that many columns, about; 0 for one along y."""
    if running.along == "y":
        return 0
    room = sum(columns(short(figure)) + 2 for _, _, figure in running.marks)
    return min(MOST, 1 + -(-room // max(wide // 2, 1)))


def room_beside(running: Running) -> int:
    """Columns that the figures of one along y take beside the shape; 0 for one along x."""
    if running.along == "x":
        return 0
    return BESIDE + max((columns(short(figure)) for _, _, figure in running.marks), default=0) + 1


def below(marks: Sequence[tuple[int, str]], row: int, way: int, ground: Cells) -> Iterator[RunningFigure | str]:
    """Figures for the columns of their marks, row after row from one on, downward (way 1) or upward (-1); those that
    find no room come back as they are."""
    rows, wide = ground.taken.shape
    for at, figure in sorted(marks):
        room = columns(figure)
        found = None
        for step in range(MOST):
            line = row + way * step
            column = min(max(at - room // 2, 0), wide - room)
            if not 0 <= line < rows or column < 0:
                break
            free = ground.is_free(max(column - 1, 0), line, min(room + 2, wide - max(column - 1, 0)))
            if free and all(not ground.taken[row + way * each, at] for each in range(step)):
                found = RunningFigure(figure, column, line, at)
                break
        if found is None:
            yield figure
            continue
        ground.take(found.column, found.row, room)
        yield found


def aside(marks: Sequence[tuple[int, str]], column: int, way: int, ground: Cells) -> Iterator[RunningFigure | str]:
    """Figures for the rows of their marks, in order from the top, each in the nearest free row, to the right of a
    column (way 1) or to its left (-1); those that find no room come back as they are."""
    rows, wide = ground.taken.shape
    last = -1
    for at, figure in marks:
        room = columns(figure)
        left = column if way > 0 else column - room
        near = sorted(range(max(at - 2, last + 1), min(at + 3, rows)), key=lambda row: abs(row - at))
        line = next((row for row in near if 0 <= left <= wide - room and ground.is_free(left, row, room)), None)
        if line is None:
            yield figure
            continue
        last = line
        ground.take(left, line, room)
        yield RunningFigure(figure, left, line, at)
