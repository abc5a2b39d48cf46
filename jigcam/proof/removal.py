"""Wood taken away in the order of time, on a grid of columns: what each stroke removes, and what goes right through.

This is the estimate behind loads and loose pieces; the verdict on the shape of the cut never rests on it. Every stroke
lowers the columns that its bit passes over. Strokes are handled in batches, each in one sort: within a column the floor
before a stroke is the running least of the tips that passed before.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from jigcam.proof.sweeps import Work
from jigcam.proof.target import INSIDE, Stock, Target
from jigcam.proof.travel import Travel

COARSE = 1.5
"""Largest pitch of the grid, mm."""
MOST_COLUMNS = 250_000
"""Columns that are worth their memory: 500 by 500 of them on a sheet."""
MOST_PAIRS = 2_500_000
"""Pairs of stroke and column that are worth the time; with more the grid is coarser, up to the radius of the bit."""
BATCH = 20_000
"""Pairs of stroke and column handled at once."""
SKIN = 0.05
"""Wood thinner than this holds nothing, mm."""
APART = 1e4
"""More than any height, mm: it keeps the columns apart in the running least."""
ROUNDING = 1e-6
"""Less than this is no wood taken but what `APART` does to the last digits, mm."""


@dataclass(frozen=True)
class Grid:
    """Columns of square section `pitch` over the stock: column (i, j) stands about (x0 + i·pitch, y0 + j·pitch)."""

    x0: float
    y0: float
    pitch: float
    columns: int
    rows: int

    @classmethod
    def over(cls, stock: Stock, radius: float, least: float = 0.0) -> Grid:
        """Fine enough for the path of a bit of that radius to part the stock, as far as its size allows.

        least: pitch below which it need not be, mm.
        """
        width, height = stock.x1 - stock.x0, stock.y1 - stock.y0
        pitch = max(min(COARSE, radius / 2.0), np.sqrt(width * height / MOST_COLUMNS), least)
        columns, rows = max(1, round(width / pitch)), max(1, round(height / pitch))
        return cls(stock.x0 + pitch / 2.0, stock.y0 + pitch / 2.0, float(pitch), columns, rows)

    def points(self, column: np.ndarray) -> np.ndarray:
        """(k, 2) middles of columns."""
        return np.column_stack(
            [
                self.x0 + (column // self.rows) * self.pitch,
                self.y0 + (column % self.rows) * self.pitch,
            ]
        )


@dataclass(frozen=True)
class Cleaned:
    """What each stroke of a travel took, (n,): volume (mm³), the part of it to the right of its way, the deepest column
    (mm). through: per column the motion that cut it through, or a number past the last motion. floor: per column the
    height to which it stands at last."""

    grid: Grid
    travel: Travel
    tool: np.ndarray
    volume: np.ndarray
    right: np.ndarray
    depth: np.ndarray
    through: np.ndarray
    floor: np.ndarray


def removal(target: Target, works: Mapping[int, Work], motions: int) -> Cleaned:
    """Cuts the stock with all strokes that cut on purpose, in the order of the text. Every bit counts as a cylinder of
    its greatest radius. What other files took before is gone, from the top or from below."""
    stock = target.stock
    travel, tool, radius = _in_time(works)
    grid = _grid(stock, travel, radius)
    count = len(travel)
    volume, right, depth = np.zeros(count), np.zeros(count), np.zeros(count)
    floor = np.zeros(grid.columns * grid.rows)
    for solid in target.gone:
        bottom = solid.levels[-1]
        floor[solid.section(bottom + INSIDE).contains(grid.points(np.arange(len(floor))))] = bottom
    under = _opened(target, grid)
    through = np.full(len(floor), motions)
    for stroke, column in _pairs(grid, travel, radius):
        points = grid.points(column)
        gap, foot = travel.strokes.foot(points, stroke)
        met = np.flatnonzero(gap <= radius[stroke])
        if not len(met):
            continue
        met = met[np.argsort(column[met], kind="stable")]
        stroke, column, points, foot = stroke[met], column[met], points[met], foot[met]
        tip = np.maximum(travel.height_at(stroke, foot), under[column])
        before, after = _floors(column, tip, floor)
        taken = np.where(before - after > ROUNDING, before - after, 0.0)
        base = int(stroke.min())
        some, rank = slice(base, int(stroke.max()) + 1), stroke - base
        volume[some] += np.bincount(rank, taken)
        way = _ways(travel, stroke, foot)
        off = points - foot
        side = way[:, 0] * off[:, 1] - way[:, 1] * off[:, 0]
        right[some] += np.bincount(rank, taken * (side < 0.0))
        np.maximum.at(depth, stroke, taken)
        gone = under[column] + SKIN
        parted = (before > gone) & (after <= gone)
        through[column[parted]] = travel.motion[stroke[parted]]
        last = np.flatnonzero(np.append(column[1:] != column[:-1], True))
        floor[column[last]] = after[last]
    floor[floor <= under] = -stock.thickness
    area = grid.pitch**2
    return Cleaned(grid, travel, tool, volume * area, right * area, depth, through, floor)


def _opened(target: Target, grid: Grid) -> np.ndarray:
    """The height at which the wood of each column begins, seen from below."""
    under = np.full(grid.columns * grid.rows, -target.stock.thickness)
    points = grid.points(np.arange(len(under)))
    for solid in target.opened:
        for high, low in pairwise(solid.levels):
            open_there = solid.section(0.5 * (high + low)).contains(points)
            under[open_there] = np.maximum(under[open_there], high)
    return under


def _grid(stock: Stock, travel: Travel, radius: np.ndarray) -> Grid:
    """Fine enough for the narrowest bit, coarser where the file is long."""
    if not len(travel):
        return Grid.over(stock, COARSE)
    narrow = float(radius.min())
    grid = Grid.over(stock, narrow)
    boxes, reach = travel.strokes.boxes, 2.0 * radius
    covered = ((boxes[:, 2] - boxes[:, 0] + reach) * (boxes[:, 3] - boxes[:, 1] + reach)).sum()
    pitch = min(np.sqrt(covered / MOST_PAIRS), narrow)
    return grid if pitch <= grid.pitch else Grid.over(stock, narrow, float(pitch))


def _in_time(works: Mapping[int, Work]) -> tuple[Travel, np.ndarray, np.ndarray]:
    """The cutting strokes below the face of all works in the order of time, with tool numbers and radii."""
    parts = {number: work.travel.take(np.flatnonzero(work.cuts)).below(0.0) for number, work in works.items()}
    travel = Travel.joined(list(parts.values()))
    order = np.argsort(travel.motion, kind="stable")
    tool = np.repeat(list(parts), [len(part) for part in parts.values()]).astype(np.intp)
    radius = np.repeat([works[number].envelope.widest for number in parts], [len(part) for part in parts.values()])
    return travel.take(order), tool[order], radius[order]


def _pairs(grid: Grid, travel: Travel, radius: np.ndarray) -> Iterator[tuple[np.ndarray, np.ndarray]]:
    """Strokes and the columns within their bounds, in the order of the strokes, in batches."""
    boxes = travel.strokes.boxes
    low_x = np.clip(np.ceil((boxes[:, 0] - radius - grid.x0) / grid.pitch), 0, grid.columns).astype(np.intp)
    high_x = np.clip(np.floor((boxes[:, 2] + radius - grid.x0) / grid.pitch) + 1, 0, grid.columns).astype(np.intp)
    low_y = np.clip(np.ceil((boxes[:, 1] - radius - grid.y0) / grid.pitch), 0, grid.rows).astype(np.intp)
    high_y = np.clip(np.floor((boxes[:, 3] + radius - grid.y0) / grid.pitch) + 1, 0, grid.rows).astype(np.intp)
    wide, high = np.maximum(high_x - low_x, 0), np.maximum(high_y - low_y, 0)
    counts = wide * high
    total = np.cumsum(counts)
    first = 0
    while first < len(travel):
        base = int(total[first - 1]) if first else 0
        last = max(first + 1, int(np.searchsorted(total, base + BATCH, side="right")))
        some = np.arange(first, last)[counts[first:last] > 0]
        each = counts[some]
        stroke = np.repeat(some, each)
        rank = np.arange(len(stroke)) - np.repeat(np.cumsum(each) - each, each)
        yield stroke, (low_x[stroke] + rank // high[stroke]) * grid.rows + low_y[stroke] + rank % high[stroke]
        first = last


def _floors(column: np.ndarray, tip: np.ndarray, floor: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Height of each column before and after each pass; pairs sorted by column, and in it by time."""
    fresh = np.append(True, column[1:] != column[:-1])
    group = np.cumsum(fresh) - 1
    running = np.minimum.accumulate(tip - group * APART) + group * APART
    start = floor[column]
    after = np.minimum(running, start)
    before = np.where(fresh, start, np.append(0.0, after[:-1]))
    return before, after


def _ways(travel: Travel, stroke: np.ndarray, foot: np.ndarray) -> np.ndarray:
    """(k, 2) direction of travel at places on the strokes; its length does not matter."""
    strokes = travel.strokes
    spoke = foot - strokes.centre[stroke]
    turning = np.sign(strokes.sweep[stroke])[:, None] * np.column_stack([-spoke[:, 1], spoke[:, 0]])
    ways: np.ndarray = np.where(strokes.arc[stroke][:, None], turning, strokes.b[stroke] - strokes.a[stroke])
    return ways
