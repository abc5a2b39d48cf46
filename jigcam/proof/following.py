"""Strokes that follow earlier ones: the same way in plan, at some height over or under theirs.

A stroke that *stands* goes straight up or down, so it is a place with one height, that of its lower end. Of the many
that stand at one place (the pecks of one hole) a stroke needs to be told of one only: of those before it that are low
enough the highest, which is the best there is for whoever asks that it be no lower than something either.
"""

from __future__ import annotations

from bisect import bisect_left, insort

import numpy as np

from jigcam.proof.travel import Travel

SAME_WAY = 2e-3
"""A path this near to an earlier one goes the same way, mm."""
BATCH = 3_000
"""Strokes for which earlier ones are looked for in one go: each may have one in every pass above it."""

Pairs = tuple[np.ndarray, np.ndarray, np.ndarray]
"""Numbers of strokes (k,), and the greatest and the least height of an earlier one above what each was asked for."""


def followed(earlier: Travel, some: Travel, heights: np.ndarray, most: float) -> Pairs:
    """The strokes of `some` with others that went the same way before them, as numbers, once for each of these.

    With the greatest and the least height of the other one above the height (k,) that goes with the stroke, mm. most:
    only those are of use whose height above it is nowhere more than this; of strokes that stand, no others are told.
    """
    length = np.hypot(*(earlier.strokes.b - earlier.strokes.a).T)
    standing = (length == 0.0) & ~earlier.strokes.arc
    return _joined(
        [
            _along(earlier.take(np.flatnonzero(~standing)), some, heights),
            _upright(earlier.take(np.flatnonzero(standing)), some, heights, most),
        ]
    )


def _along(earlier: Travel, some: Travel, heights: np.ndarray) -> Pairs:
    """The same of earlier strokes that go somewhere, whatever their height."""
    middle = some.strokes.at(np.full(len(some), 0.5))
    parts = [_none()]
    for first in range(0, len(some), BATCH):
        i, j = _met(earlier, middle[first : first + BATCH])
        i += first
        keep = earlier.motion[j] < some.motion[i]
        i, j = i[keep], j[keep]
        highest, lowest, along = np.full(len(i), -np.inf), np.full(len(i), np.inf), np.ones(len(i), bool)
        for points in (some.strokes.a, some.strokes.b, middle):
            gap, foot = earlier.strokes.foot(points[i], j)
            higher = earlier.height_at(j, foot) - heights[i]
            along &= gap <= SAME_WAY
            highest, lowest = np.maximum(highest, higher), np.minimum(lowest, higher)
        parts.append((i[along], highest[along], lowest[along]))
    return _joined(parts)


def _upright(earlier: Travel, some: Travel, heights: np.ndarray, most: float) -> Pairs:
    """The same of earlier strokes that stand: of those at one place the highest that is low enough."""
    if not len(earlier):
        return _none()
    strokes = some.strokes
    places, first, group = np.unique(earlier.strokes.a, axis=0, return_index=True, return_inverse=True)
    at_place = _grouped(group.reshape(-1), len(places))
    i, g = _met(earlier.take(first), strokes.at(np.full(len(some), 0.5)))
    for points in (strokes.a, strokes.b, strokes.at(np.full(len(some), 0.5))):
        there = np.hypot(*(points[i] - places[g]).T) <= SAME_WAY
        i, g = i[there], g[there]
    parts = [_none()]
    for standing, pairs in zip(at_place, _grouped(g, len(places)), strict=True):
        mine = i[pairs]
        limit = heights[mine] + most
        before = _highest_below(earlier.motion[standing], earlier.lowest[standing], some.motion[mine], limit)
        found = np.isfinite(before)
        above = before[found] - heights[mine[found]]
        parts.append((mine[found], above, above))
    return _joined(parts)


def _grouped(group: np.ndarray, count: int) -> list[np.ndarray]:
    """The places of each of the numbers 0 … count − 1 in `group`, ascending."""
    return np.split(np.argsort(group, kind="stable"), np.cumsum(np.bincount(group, minlength=count))[:-1])


def _highest_below(motion: np.ndarray, height: np.ndarray, asked: np.ndarray, limit: np.ndarray) -> np.ndarray:
    """(k,) the greatest height of those with a motion before each one asked for that is no greater than its limit.

    −inf where there is none. motion: ascending, with the heights (n,) that go with it; asked, limit: (k,), any order.
    """
    out = np.full(len(asked), -np.inf)
    depths: list[float] = []  # of those before, ascending: pecks go deeper and deeper, and are put at the end
    put, motions, deep = 0, motion.tolist(), (-height).tolist()
    for row in np.argsort(asked, kind="stable").tolist():
        now = asked[row]
        while put < len(motions) and motions[put] < now:
            insort(depths, deep[put])
            put += 1
        place = bisect_left(depths, -limit[row])
        if place < len(depths):
            out[row] = -depths[place]
    return out


def _met(earlier: Travel, middles: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Which middles (k, 2) come near the bounds of which earlier strokes."""
    return earlier.strokes.box_tree.meeting(np.hstack([middles - SAME_WAY, middles + SAME_WAY]))


def _none() -> Pairs:
    return np.empty(0, np.intp), np.empty(0), np.empty(0)


def _joined(parts: list[Pairs]) -> Pairs:
    i, highest, lowest = (np.concatenate(column) for column in zip(*parts, strict=True))
    return i, highest, lowest
