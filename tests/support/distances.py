"""Distances in plain numpy, for judging cuts made of straight moves: nothing of the program's own geometry."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from jigcam.geometry import Region
from jigcam.toolpath import Move


def chains(region: Region, tol: float = 1e-3) -> list[np.ndarray]:
    """Each loop as points (m, 2) on the curve, the chords between them within `tol` mm of it."""
    return [loop.points(tol) for loop in region.loops]


def level_strokes(moves: Sequence[Move]) -> np.ndarray:
    """(n, 5) level cutting moves as x0, y0, x1, y1, z, rounded to the last digit that a file has. Raises for arcs."""
    rows = []
    at = moves[0]
    for move in moves:
        assert move.kind != "arc", "only straight moves are judged here"
        if move.kind == "line" and move.z == at.z:
            rows.append((at.x, at.y, move.x, move.y, move.z))
        at = move
    return np.round(np.array(rows).reshape(-1, 5), 4)


def to_segments(points: np.ndarray, a: np.ndarray, b: np.ndarray, chunk: int = 1_000_000) -> np.ndarray:
    """Distance of points (k, 2) to the nearest of the segments a → b (m, 2), mm."""
    out = np.empty(len(points))
    step = max(1, chunk // max(1, len(a)))
    way = b - a
    length = np.maximum((way**2).sum(axis=1), 1e-30)
    for i in range(0, len(points), step):
        gap = points[i : i + step, None, :] - a
        share = np.clip((gap * way).sum(axis=2) / length, 0.0, 1.0)
        out[i : i + step] = np.hypot(*(gap - share[..., None] * way).transpose(2, 0, 1)).min(axis=1)
    return out


def inside(points: np.ndarray, loops: Sequence[np.ndarray]) -> np.ndarray:
    """Whether each point (k, 2) is in the even-odd inside of the loops."""
    odd = np.zeros(len(points), dtype=bool)
    px, py = points.T
    for loop in loops:
        for (x0, y0), (x1, y1) in zip(loop, np.roll(loop, -1, axis=0), strict=True):
            if y0 != y1:
                odd ^= ((y0 > py) != (y1 > py)) & (x0 + (py - y0) / (y1 - y0) * (x1 - x0) > px)
    return odd


def depth_in(points: np.ndarray, loops: Sequence[np.ndarray]) -> np.ndarray:
    """Distance of points to the boundary, mm, positive inside."""
    a, b = np.vstack(loops), np.vstack([np.roll(loop, -1, axis=0) for loop in loops])
    gap = to_segments(points, a, b)
    return np.where(inside(points, loops), gap, -gap)
