"""Where words can stand: on free ground, near what they name.

The ground is a grid of cells: characters of a terminal, or squares of paper. A cell is *taken* by words, which nothing
may cover, or *inked* by a line, which words cover only for want of a better place.
"""

from __future__ import annotations

import numpy as np

from jigcam.drawing.model import Spot

INKED = 3.0
"""Covering one inked cell costs as much as standing this many cells further off."""
_BESIDE: dict[Spot, tuple[Spot, ...]] = {"near": ("right", "above", "left", "below")}
_ACROSS: dict[Spot, Spot] = {"right": "left", "left": "right", "above": "below", "below": "above"}
ACROSS = 1.0
"""Standing on the other side of the line that is named costs as much as standing this many cells further off."""


class Cells:
    """The cells of one picture, (rows, columns). tall: the height of a cell over its width."""

    def __init__(self, ink: np.ndarray, tall: float = 1.0) -> None:
        self.ink: np.ndarray = ink.astype(float)
        self.taken: np.ndarray = np.zeros(ink.shape, bool)
        self.tall = tall

    def take(self, column: int, row: int, wide: int, high: int = 1) -> None:
        """These cells hold words from now on."""
        self.taken[max(row, 0) : max(row + high, 0), max(column, 0) : max(column + wide, 0)] = True

    def is_free(self, column: int, row: int, wide: int, high: int = 1) -> bool:
        """Whether words would fit there, lines beneath them or not."""
        rows, columns = self.taken.shape
        if column < 0 or row < 0 or column + wide > columns or row + high > rows:
            return False
        return not self.taken[row : row + high, column : column + wide].any()

    def find(
        self,
        x: float,
        y: float,
        wide: int,
        high: int = 1,
        spot: Spot = "near",
        reach: float = 12.0,
        gap: float = 1.0,
        *,
        across: bool = False,
        kept: bool = False,
    ) -> tuple[int, int] | None:
        """Column and row of the upper left cell of the best place for words of that size about the point (cells,
        from the upper left corner of the picture), or None where every place within `reach` cells is taken. Does
        not take it. across: the other side of the point will do as well, where this one is worse. kept: only places
        wholly on that side of it will do, whatever lines they cover."""
        rows, columns = self.taken.shape
        wide = max(wide, 1)  # marks without a letter take no column
        if wide > columns or high > rows:
            return None
        # Only places that are within reach are weighed.
        far_x, far_y = reach + wide + gap + 1.0, (reach + gap) / self.tall + high + 1.0
        c0, c1 = (int(min(max(v, 0), columns - wide)) for v in (x - far_x, x + far_x))
        r0, r1 = (int(min(max(v, 0), rows - high)) for v in (y - far_y, y + far_y))
        top, left = np.mgrid[r0 : r1 + 1, c0 : c1 + 1]
        window = slice(r0, r1 + high), slice(c0, c1 + wide)
        away = np.full(top.shape, np.inf)
        for penalty, one in enumerate(_BESIDE.get(spot, (spot,))):
            at_column, at_row = _ideal(one, x, y, wide, high, gap, self.tall)
            off = np.hypot(left - at_column, (top - at_row) * self.tall)
            away = np.minimum(away, off + penalty * 0.25)
        if across and not kept and spot in _ACROSS:
            at_column, at_row = _ideal(_ACROSS[spot], x, y, wide, high, gap, self.tall)
            away = np.minimum(away, np.hypot(left - at_column, (top - at_row) * self.tall) + ACROSS)
        cost = away + INKED * _sums(self.ink[window], wide, high)
        cost[(_sums(self.taken[window], wide, high) > 0) | (away > reach)] = np.inf
        if spot not in ("on", "start"):  # what is pointed at has to be seen
            column, row = int(x), int(y)
            cost[(left <= column) & (column < left + wide) & (top <= row) & (row < top + high)] = np.inf
        if kept:
            wrong = {"left": left + wide > x, "right": left < x, "above": top + high > y, "below": top < y}
            cost[wrong.get(spot, np.zeros(cost.shape, bool))] = np.inf
        best = int(np.argmin(cost))
        if not np.isfinite(cost.flat[best]):
            return None
        return int(left.flat[best]), int(top.flat[best])


def _ideal(spot: Spot, x: float, y: float, wide: int, high: int, gap: float, tall: float) -> tuple[float, float]:
    middle_column, middle_row = x - wide / 2, y - high / 2
    return {
        "on": (middle_column, middle_row),
        "right": (x + gap, middle_row),
        "left": (x - gap - wide, middle_row),
        "above": (middle_column, y - high - gap / tall),
        "below": (middle_column, y + gap / tall),
        "start": (x, y - high),
    }[spot]


def _sums(cells: np.ndarray, wide: int, high: int) -> np.ndarray:
    """For every place of a window of that size, the sum of the cells in it."""
    total = np.zeros((cells.shape[0] + 1, cells.shape[1] + 1))
    total[1:, 1:] = np.cumsum(np.cumsum(cells, axis=0, dtype=float), axis=1)
    return total[high:, wide:] - total[:-high, wide:] - total[high:, :-wide] + total[:-high, :-wide]
