"""A drawing in true size on sheets of home paper, which are then joined: which part of it each sheet shows.

A *tile* is what one sheet shows. Grid lines part the tiles; each tile also shows `OVERLAP` / 2 beyond its grid lines,
so that the cross where grid lines meet stands on every sheet that touches it: cross on cross, the sheets lie right.
Tiles are named as squares of a map, columns by letters from the left, rows by numbers from the top. Frame: mm, y up,
that of the drawing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from jigcam.drawing.ink import Ink
from jigcam.drawing.paper import Paper
from jigcam.drawing.roles import Role

EDGE = 10.0
"""Of the paper that printers do not print on, mm (common practice, no source: most leave less)."""
FOOT = 16.0
"""For the name of the tile and the check bars, below the drawing, mm."""
OVERLAP = 10.0
TO_CUT: frozenset[Role] = frozenset(
    {"cut", "waste", "opening", "sheet", "hole", "fence", "mark", "scribed", "stock", "grain"}
)
"""Lines for whose sake a sheet is printed; a sheet with nothing but figures and paths of tools is left out."""
AROUND = 2.0
"""Kept round the lines to cut within the outermost grid lines, mm; figures may be beyond."""
SIDES = (("at its left", -1, 0), ("at its right", 1, 0), ("above", 0, -1), ("below", 0, 1))
_STEP = 0.5
"""mm between the points by which a line is found in a tile."""


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet's part. x, y: lower left grid point; wide, high: between its grid lines; printed: False where there is
    nothing to cut on it."""

    column: int
    row: int
    x: float
    y: float
    wide: float
    high: float
    printed: bool

    @property
    def name(self) -> str:
        """As on a map: B2."""
        letters, number = "", self.column + 1
        while number:
            number, rest = divmod(number - 1, 26)
            letters = chr(ord("A") + rest) + letters
        return f"{letters}{self.row + 1}"

    @property
    def window(self) -> tuple[float, float, float, float]:
        """x0, y0, x1, y1 of what its sheet shows."""
        more = OVERLAP / 2
        return self.x - more, self.y - more, self.x + self.wide + more, self.y + self.high + more


@dataclass(frozen=True, slots=True)
class Tiling:
    """A drawing cut up. paper: as it lies; tiles: row after row, from the top left."""

    paper: Paper
    tiles: tuple[Tile, ...]

    @property
    def printed(self) -> tuple[Tile, ...]:
        """The tiles that are worth their paper."""
        return tuple(tile for tile in self.tiles if tile.printed)

    def beside(self, tile: Tile) -> tuple[tuple[str, str], ...]:
        """Side and name of the printed tiles that share an edge with this one."""
        by_place = {(each.column, each.row): each.name for each in self.printed}
        return tuple(
            (side, by_place[place])
            for side, dx, dy in SIDES
            if (place := (tile.column + dx, tile.row + dy)) in by_place
        )


def tiling(ink: Ink, paper: Paper) -> Tiling:
    """The drawing on this paper, standing or lying, whichever takes fewer sheets (standing where that is equal)."""
    lying = Paper(paper.name, paper.height, paper.width)
    choices = [_tiled(ink, each) for each in (paper, lying)]
    return min(choices, key=lambda each: len(each.printed))


def field_of(paper: Paper) -> tuple[float, float]:
    """Width and height of what a sheet shows, its overlaps included."""
    return paper.width - 2 * EDGE, paper.height - 2 * EDGE - FOOT


def _tiled(ink: Ink, paper: Paper) -> Tiling:
    points = _points(ink)
    (x0, y0), (x1, y1) = points.min(axis=0) - AROUND, points.max(axis=0) + AROUND
    wide, high = (side - OVERLAP for side in field_of(paper))
    columns, rows = max(1, math.ceil((x1 - x0) / wide)), max(1, math.ceil((y1 - y0) / high))
    # The drawing, its figures included, in the middle of its sheets, as far as nothing to cut leaves them.
    u0, v0, u1, v1 = ink.bounds
    left = min(max((u0 + u1 - columns * wide) / 2, x1 - columns * wide), x0)
    top = max(min((v0 + v1 + rows * high) / 2, y0 + rows * high), y1)
    tiles = []
    for row in range(rows):
        for column in range(columns):
            tile = Tile(column, row, left + column * wide, top - (row + 1) * high, wide, high, True)
            u0, v0, u1, v1 = tile.x, tile.y, tile.x + wide, tile.y + high
            within = (points[:, 0] >= u0) & (points[:, 0] <= u1) & (points[:, 1] >= v0) & (points[:, 1] <= v1)
            tiles.append(Tile(column, row, tile.x, tile.y, wide, high, bool(within.any())))
    return Tiling(paper, tuple(tiles))


def _points(ink: Ink) -> np.ndarray:
    """Points close to each other along all lines to cut; of everything where nothing is to be cut. (n, 2)"""
    chosen = [stroke for stroke in ink.strokes if stroke.role in TO_CUT] or ink.strokes
    found: Sequence[np.ndarray] = [
        stroke.path.at(np.linspace(0.0, length, max(2, math.ceil(length / _STEP) + 1)))[0]
        for stroke in chosen
        if (length := stroke.path.length) > 0
    ]
    return np.vstack(found) if found else np.zeros((1, 2))
