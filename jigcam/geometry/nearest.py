"""Distance from many points to many segments, exactly, without trying every pair."""

from __future__ import annotations

import numpy as np

from jigcam.geometry.pairs import spread
from jigcam.geometry.segment import ComplexArray, FloatArray, IntArray, Segments

FEW = 24
"""Up to so many segments, all pairs are quicker than a tree."""
FAN = 4
"""Children of a node of the tree."""
PAIRS = 200_000
"""Point–segment pairs that are worked on at once; keeps the arrays in the cache and memory flat."""


def nearest_distance(points: ComplexArray, segments: Segments) -> FloatArray:
    """Distance of each point to the nearest segment, (k,), mm; inf where there are no segments."""
    return nearest(points, segments)[0]


def nearest(points: ComplexArray, segments: Segments) -> tuple[FloatArray, IntArray]:
    """Distance of each point to the nearest segment, mm, and the index of that segment (−1 where there are none)."""
    gap = np.full(len(points), np.inf)
    index = np.full(len(points), -1, dtype=np.int64)
    if not len(segments):
        return gap, index
    few = len(segments) <= FEW
    tree = None if few else _Tree(segments)
    step = max(1, PAIRS // (len(segments) if few else 16 * FAN))
    for first in range(0, len(points), step):
        block = slice(first, first + step)
        if tree is None:
            distances = segments.distance(points[block, None])
            index[block] = distances.argmin(axis=1)
            gap[block] = distances.min(axis=1)
        else:
            gap[block], index[block] = tree.nearest(points[block])
    return gap, index


def z_order(points: ComplexArray) -> IntArray:
    """Place of each point on a Z-order curve (bits of x and y interleaved): near in order means near in the plane."""
    low = complex(points.real.min(), points.imag.min())
    high = complex(points.real.max(), points.imag.max())
    size = max((high - low).real, (high - low).imag, 1e-9)
    key = np.zeros(len(points), dtype=np.int64)
    for shift, values in ((0, points.real - low.real), (1, points.imag - low.imag)):
        cell = (values / size * 0xFFFF).astype(np.int64)
        for bit in range(16):
            key |= ((cell >> bit) & 1) << (2 * bit + shift)
    return key


class _Tree:
    """Boxes round runs of neighbouring segments, `FAN` runs to a larger one, walked down for many points at once."""

    def __init__(self, segments: Segments) -> None:
        self.order = np.argsort(z_order(segments.at(np.full(len(segments), 0.5))), kind="stable")
        self.segments = segments.take(self.order)
        boxes = np.array(self.segments.boxes())
        witness = self.segments.start
        self.levels = [(boxes, witness)]
        while boxes.shape[1] > FAN:
            cuts = np.arange(0, boxes.shape[1], FAN)
            low = np.minimum.reduceat(boxes[:2], cuts, axis=1)
            high = np.maximum.reduceat(boxes[2:], cuts, axis=1)
            boxes = np.vstack([low, high])
            witness = witness[np.minimum(cuts + FAN // 2, len(witness) - 1)]
            self.levels.append((boxes, witness))

    def nearest(self, points: ComplexArray) -> tuple[FloatArray, IntArray]:
        """Distance and index of the nearest segment for each point.

        A node is left out where its box is further than some point of a segment that is already known.
        """
        top = self.levels[-1][0].shape[1]
        owner, node = spread(np.zeros(len(points), dtype=np.int64), np.full(len(points), top))
        known = np.full(len(points), np.inf)
        for level in range(len(self.levels) - 1, -1, -1):
            boxes, witness = self.levels[level]
            point, box = points[owner], boxes[:, node]
            across = np.maximum(np.maximum(box[0] - point.real, point.real - box[2]), 0.0)
            along = np.maximum(np.maximum(box[1] - point.imag, point.imag - box[3]), 0.0)
            known = np.minimum(known, _least(np.abs(witness[node] - point), owner, len(points)))
            keep = across * across + along * along <= known[owner] ** 2 * (1.0 + 1e-12) + 1e-24
            owner, node = owner[keep], node[keep]
            if level:
                first = node * FAN
                pair, node = spread(first, np.minimum(FAN, self.levels[level - 1][0].shape[1] - first))
                owner = owner[pair]
        distances = self.segments.take(node).distance(points[owner])
        gap = _least(distances, owner, len(points))
        hits = np.flatnonzero(distances == gap[owner])[::-1]
        index = np.empty(len(points), dtype=np.int64)
        index[owner[hits]] = self.order[node[hits]]
        return gap, index


def _least(values: FloatArray, owner: IntArray, count: int) -> FloatArray:
    """Least value of each owner; owners are sorted and every one of 0 … count − 1 has a value."""
    return np.minimum.reduceat(values, np.searchsorted(owner, np.arange(count)))
