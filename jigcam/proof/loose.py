"""Pieces that come loose: cut through all round, with no tab and nothing that holds them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from jigcam.findings import Finding
from jigcam.proof.removal import Cleaned, Grid
from jigcam.proof.target import Target
from jigcam.proof.wording import Wording

NEAR = 3.0
"""A piece is in the way of a bit that passes within its radius and this much, mm."""
CRUMB = 25.0
"""Pieces smaller than this are chips, mm²."""
MOST_MOMENTS = 24
"""Moments at which the pieces are counted."""


def findings_of(taken: Cleaned, target: Target, motions: np.ndarray, wording: Wording) -> Iterator[Finding]:
    """A caution for each piece that comes free, with its line; a stop where the bit cuts near it afterwards."""
    through = taken.through
    if not (through < len(motions)).any():
        return
    told: list[np.ndarray] = []
    for moment in _moments(through, len(motions)):
        for piece in _loose(taken.grid, through > moment, target):
            if any(np.isin(piece, other).any() for other in told):
                continue
            told.append(piece)
            freed = _freed(taken.grid, through, piece, target, moment)
            line = int(motions["line"][freed])
            x, y = taken.grid.points(piece).mean(axis=0)
            size = len(piece) * taken.grid.pitch**2
            where = wording.place(line, (x, y), 1)
            says = f"a piece of about {wording.area(size)} comes free here; hold it or leave tabs"
            yield Finding("caution", "comes-loose", where, says)
            after = _touched(taken, piece, freed)
            if after is not None:
                says = f"cuts within reach of a piece that came free at line {line}"
                where = wording.place(int(motions["line"][after]), (x, y), 1)
                yield Finding("stop", "cuts-loose-piece", where, says)


def _moments(through: np.ndarray, count: int) -> list[int]:
    """Motions after which to look: the last of each run of motions that cut through, and the last of all."""
    cutters = np.unique(through[through < count])
    ends = cutters[np.append(np.diff(cutters) > 1, True)]
    if len(ends) > MOST_MOMENTS:
        ends = ends[np.unique(np.linspace(0, len(ends) - 1, MOST_MOMENTS).astype(np.intp))]
    return [int(end) for end in ends]


def _loose(grid: Grid, wood: np.ndarray, target: Target) -> list[np.ndarray]:
    """The pieces of a state of the stock that nothing holds, as columns."""
    label = pieces(wood.reshape(grid.columns, grid.rows)).ravel()
    labels, counts = np.unique(label[wood], return_counts=True)
    if len(labels) < 2:
        return []
    held = _held(grid, label, wood, target)
    if not len(held):
        held = labels[[np.argmax(counts)]]
    big = labels[counts * grid.pitch**2 >= CRUMB]
    return [np.flatnonzero((label == k) & wood) for k in big if k not in held]


def _held(grid: Grid, label: np.ndarray, wood: np.ndarray, target: Target) -> np.ndarray:
    if not target.held:
        return np.empty(0, label.dtype)
    held = np.array(target.held)
    i = np.clip(np.round((held[:, 0] - grid.x0) / grid.pitch), 0, grid.columns - 1).astype(np.intp)
    j = np.clip(np.round((held[:, 1] - grid.y0) / grid.pitch), 0, grid.rows - 1).astype(np.intp)
    column = i * grid.rows + j
    return np.unique(label[column[wood[column]]])


def _freed(grid: Grid, through: np.ndarray, piece: np.ndarray, target: Target, latest: int) -> int:
    """The motion that freed a piece: the first after which it is loose, by halving the time before `latest`."""
    times = np.unique(through[through <= latest])
    low, high = 0, len(times) - 1
    while low < high:
        middle = (low + high) // 2
        if any(np.isin(piece, loose).any() for loose in _loose(grid, through > times[middle], target)):
            high = middle
        else:
            low = middle + 1
    return int(times[low])


def _touched(taken: Cleaned, piece: np.ndarray, freed: int) -> int | None:
    """The first motion after a piece came free that cuts near it."""
    later = np.flatnonzero((taken.travel.motion > freed) & (taken.volume > 0.0))
    if not len(later):
        return None
    strokes = taken.travel.strokes.take(later)
    points = taken.grid.points(piece)
    _, hit = strokes.tree.within(points, NEAR + taken.grid.pitch)
    return int(taken.travel.motion[later[hit.min()]]) if len(hit) else None


def pieces(wood: np.ndarray) -> np.ndarray:
    """Labels of the connected pieces of a grid (columns, rows) of bools: a number per piece; −1 where no wood is.

    Neighbours share a side. Each column falls into runs of wood; runs of neighbouring columns that overlap are one
    piece. Labels flow to the least of their neighbours and then along themselves, so the rounds are few.
    """
    columns, rows = wood.shape
    padded = np.zeros((columns, rows + 1), bool)
    padded[:, :rows] = wood
    edge = np.diff(np.concatenate([[False], padded.ravel()]).astype(np.int8))
    start, stop = np.flatnonzero(edge == 1), np.flatnonzero(edge == -1)
    # A run moved on by one column overlaps the runs from `first` up to `last` there.
    first = np.searchsorted(stop, start + rows + 1, side="right")
    last = np.searchsorted(start, stop + rows + 1, side="left")
    counts = np.maximum(last - first, 0)
    one = np.repeat(np.arange(len(start)), counts)
    other = np.repeat(first, counts) + np.arange(len(one)) - np.repeat(np.cumsum(counts) - counts, counts)
    label = np.arange(len(start))
    while True:
        least = np.minimum(label[one], label[other])
        root = label.copy()
        for side in (one, other):
            np.minimum.at(root, side, least)
            np.minimum.at(root, label[side], least)
        while (root[root] != root).any():
            root = root[root]
        if (root == label).all():
            break
        label = root
    result = np.full(columns * (rows + 1), -1)
    inside = np.flatnonzero(padded.ravel())
    result[inside] = np.repeat(label, stop - start)
    return result.reshape(columns, rows + 1)[:, :rows]
