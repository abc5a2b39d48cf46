"""Finding which of many boxes overlap, by sorting instead of trying every pair."""

from __future__ import annotations

import numpy as np

from jigcam.geometry.segment import FloatArray, IntArray

Boxes = tuple[FloatArray, FloatArray, FloatArray, FloatArray]
"""Least x, least y, greatest x, greatest y of each box."""

MANY = 4_000_000
"""More pairs than this overlap along the better axis: a tree is then quicker than the sweep."""


def spread(first: IntArray, count: IntArray) -> tuple[IntArray, IntArray]:
    """All indices first[i] … first[i] + count[i] − 1 in one array, and beside each the i that it belongs to."""
    owner = np.repeat(np.arange(len(count)), count)
    index = np.arange(len(owner)) + np.repeat(first - (np.cumsum(count) - count), count)
    return owner, index


def overlaps_within(boxes: Boxes) -> tuple[IntArray, IntArray]:
    """Pairs i < j of boxes that overlap or touch."""
    count = len(boxes[0])
    sweeps = [_later_starts(boxes[axis], boxes[axis + 2]) for axis in (0, 1)]
    axis = 0 if sweeps[0][2].sum() <= sweeps[1][2].sum() else 1
    order, first, reach = sweeps[axis]
    if reach.sum() > MANY:
        a, b = _tree_pairs(boxes, boxes)
        return a[a < b], b[a < b]
    owner, later = spread(first, reach)
    a, b = order[owner], order[later]
    other = 1 - axis
    keep = (boxes[other][a] <= boxes[other + 2][b]) & (boxes[other][b] <= boxes[other + 2][a])
    a, b = a[keep], b[keep]
    assert count == 0 or len(a) == 0 or max(a.max(), b.max()) < count
    return np.minimum(a, b), np.maximum(a, b)


def overlaps_between(boxes: Boxes, others: Boxes) -> tuple[IntArray, IntArray]:
    """Pairs (i, j) of a box i of the first and j of the second that overlap or touch."""
    sweeps = [_starts_inside(boxes, others, axis) for axis in (0, 1)]
    axis = 0 if sum(s[2].sum() for s in sweeps[0]) <= sum(s[2].sum() for s in sweeps[1]) else 1
    (order, first, count), (order_back, first_back, count_back) = sweeps[axis]
    if count.sum() + count_back.sum() > MANY:
        return _tree_pairs(boxes, others)
    a, b = spread(first, count)
    d, c = spread(first_back, count_back)
    a, b = np.concatenate([a, order_back[c]]), np.concatenate([order[b], d])
    other = 1 - axis
    keep = (boxes[other][a] <= others[other + 2][b]) & (others[other][b] <= boxes[other + 2][a])
    return a[keep], b[keep]


def _later_starts(low: FloatArray, high: FloatArray) -> tuple[IntArray, IntArray, IntArray]:
    """Order of the intervals by their start, and for each in that order the run of later ones that start within it."""
    order = np.argsort(low, kind="stable")
    first = np.arange(1, len(order) + 1)
    return order, first, np.searchsorted(low[order], high[order], side="right") - first


Run = tuple[IntArray, IntArray, IntArray]


def _starts_inside(boxes: Boxes, others: Boxes, axis: int) -> tuple[Run, Run]:
    """Runs of others that start within each box, and of boxes that start after the start and within each other."""
    low, high, low2, high2 = boxes[axis], boxes[axis + 2], others[axis], others[axis + 2]
    order2 = np.argsort(low2, kind="stable")
    first = np.searchsorted(low2[order2], low, side="left")
    count = np.maximum(np.searchsorted(low2[order2], high, side="right") - first, 0)
    order = np.argsort(low, kind="stable")
    first2 = np.searchsorted(low[order], low2, side="right")
    count2 = np.maximum(np.searchsorted(low[order], high2, side="right") - first2, 0)
    return (order2, first, count), (order, first2, count2)


def _tree_pairs(boxes: Boxes, others: Boxes) -> tuple[IntArray, IntArray]:
    """The same by a tree of boxes."""
    import shapely

    a, b = shapely.STRtree(shapely.box(*others)).query(shapely.box(*boxes))
    return a.astype(np.int64), b.astype(np.int64)
