"""Shapes as dots on a grid: which dots a line passes, and which lie inside outlines.

Frame: dot centres at whole numbers, x to the right, y down. What a renderer sees of lines and arcs are their facets.
"""

from __future__ import annotations

import numpy as np


def trace(points: np.ndarray) -> np.ndarray:
    """The dots that a polyline passes, in order and without repeats in a row.

    points: (n, 2) float. Returns (m, 2) int, m ≥ 1 for n ≥ 1; neighbours differ by at most one step in x and y.
    """
    points = np.asarray(points, float)
    if len(points) < 2:
        dot: np.ndarray = np.rint(points).astype(int)
        return dot
    spans = np.diff(points, axis=0)
    steps = np.maximum(np.ceil(np.abs(spans).max(axis=1)).astype(int), 1)
    owner = np.repeat(np.arange(len(spans)), steps)
    first = np.repeat(np.cumsum(steps) - steps, steps)
    share = (np.arange(steps.sum()) - first) / steps[owner]
    dots = np.rint(np.vstack([points[owner] + spans[owner] * share[:, None], points[-1:]])).astype(int)
    moved = np.ones(len(dots), bool)
    moved[1:] = (np.diff(dots, axis=0) != 0).any(axis=1)
    path: np.ndarray = dots[moved]
    return path


def inside(loops: list[np.ndarray], width: int, height: int) -> np.ndarray:
    """Which dots of a grid lie inside the outlines, by the even-odd rule.

    loops: closed polygons, (n, 2) float each, the last point not repeated. Returns (height, width) bool.
    """
    found: np.ndarray = np.zeros((height, width), bool)
    rows, columns = [np.empty(0, int)], [np.empty(0, int)]
    for loop in loops:
        a = np.asarray(loop, float)
        b = np.concatenate([a[1:], a[:1]])
        low, high = np.minimum(a[:, 1], b[:, 1]), np.maximum(a[:, 1], b[:, 1])
        # Rows y with low < y ≤ high, so that a vertex on a row counts once.
        r0 = np.clip(np.floor(low).astype(int) + 1, 0, height)
        r1 = np.clip(np.floor(high).astype(int) + 1, 0, height)
        counts = np.maximum(r1 - r0, 0)
        edge = np.repeat(np.arange(len(a)), counts)
        row = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts) + r0[edge]
        share = (row - a[edge, 1]) / (b[edge, 1] - a[edge, 1])
        x = a[edge, 0] + share * (b[edge, 0] - a[edge, 0])
        rows.append(row)
        columns.append(np.clip(np.ceil(x).astype(int), 0, width))
    row, column = np.concatenate(rows), np.concatenate(columns)
    if len(row):
        # Closed outlines: right of the last crossing of a row, as above and below all of them, nothing is inside.
        top, left = row.min(), column.min()
        crossings = np.zeros((row.max() + 1 - top, column.max() + 1 - left), np.int32)
        np.add.at(crossings, (row - top, column - left), 1)
        within = (np.cumsum(crossings, axis=1) % 2).astype(bool)
        found[top : top + len(crossings), left : left + within.shape[1]] = within[:, : width - left]
    return found


def dashed(dots: np.ndarray, pattern: tuple[int, ...]) -> np.ndarray:
    """Those of the dots along a line that its pattern (lengths drawn and skipped in turn) draws; always the first."""
    if not pattern:
        return dots
    drawn = np.concatenate([np.full(n, place % 2 == 0) for place, n in enumerate(pattern)])
    kept: np.ndarray = dots[drawn[np.arange(len(dots)) % len(drawn)]]
    return kept
