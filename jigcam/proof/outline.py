"""The outline of a region as strokes: which of its corners turn which way, and what lies near a place."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from jigcam.geometry import Region
from jigcam.proof.strokes import Strokes

STRAIGHT_ON = 1e-6
"""Sine of a turn up to which two strokes of an outline run on smoothly."""
BRUTE = 100_000
"""Pairs of points and strokes up to which trying all of them beats a search."""


def bounds_of(region: Region) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y of a region that is not empty; all its loops at once."""
    x0, y0, x1, y1 = region.as_segments().boxes()
    return float(x0.min()), float(y0.min()), float(x1.max()), float(y1.max())


class Outline:
    """A region and the strokes round it, each with the region on its left."""

    def __init__(self, region: Region) -> None:
        self.region = region
        loops = [Strokes.along([loop]) for loop in region.loops]
        self.strokes = Strokes.joined(loops)
        following = []
        start = 0
        for loop in loops:
            following.append(start + (np.arange(len(loop)) + 1) % len(loop))
            start += len(loop)
        self.following = np.concatenate(following) if following else np.empty(0, np.intp)

    @property
    def is_empty(self) -> bool:
        """No region at all."""
        return len(self.strokes) == 0

    @cached_property
    def convex(self) -> np.ndarray:
        """(n,) whether the corner at the end of each stroke turns left or not at all, so that no wood stands in it."""
        every = np.arange(len(self.strokes))
        leaving = self.direction(self.strokes.b, every)
        setting_out = self.direction(self.strokes.a, every)[self.following]
        turn = leaving[:, 0] * setting_out[:, 1] - leaving[:, 1] * setting_out[:, 0]
        ahead = np.einsum("ij,ij->i", leaving, setting_out)
        return (turn > STRAIGHT_ON) | ((np.abs(turn) <= STRAIGHT_ON) & (ahead > 0.0))

    def direction(self, points: np.ndarray, index: np.ndarray) -> np.ndarray:
        """(k, 2) unit tangents of the strokes `index` at points (k, 2) on them."""
        strokes = self.strokes
        chord = strokes.b[index] - strokes.a[index]
        spoke = points - strokes.centre[index]
        turning = np.sign(strokes.sweep[index])[:, None] * np.column_stack([-spoke[:, 1], spoke[:, 0]])
        tangent = np.where(strokes.arc[index][:, None], turning, chord)
        return tangent / np.hypot(*tangent.T)[:, None]

    def near(self, points: np.ndarray, reach: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Pairs (point, stroke) no farther apart than `reach` (k,), sorted by point, and their distances."""
        count = len(points)
        if count * len(self.strokes) <= BRUTE:
            i = np.repeat(np.arange(count), len(self.strokes))
            j = np.tile(np.arange(len(self.strokes)), count)
        else:
            i, j = self.strokes.tree.meeting(np.column_stack([points - reach[:, None], points + reach[:, None]]))
        gap = self.strokes.distance(points[i], j)
        keep = gap <= reach[i]
        i, j, gap = i[keep], j[keep], gap[keep]
        order = np.argsort(i, kind="stable")
        return i[order], j[order], gap[order]

    def inside(self, points: np.ndarray) -> np.ndarray:
        """(k,) whether each point lies in the region."""
        return self.region.contains(points) if len(points) and not self.is_empty else np.zeros(len(points), bool)

    def edge_distance(self, points: np.ndarray) -> np.ndarray:
        """(k,) distance from the outline, mm; infinite where there is none."""
        if self.is_empty or not len(points):
            return np.full(len(points), np.inf)
        if len(points) * len(self.strokes) <= BRUTE:
            i = np.repeat(np.arange(len(points)), len(self.strokes))
            j = np.tile(np.arange(len(self.strokes)), len(points))
            return self.strokes.distance(points[i], j).reshape(len(points), -1).min(axis=1)
        return self.strokes.distance(points, self.strokes.tree.nearest(points))

    def depth(self, points: np.ndarray) -> np.ndarray:
        """(k,) signed distance from the outline, positive inside; −inf everywhere for an empty region."""
        distance = self.edge_distance(points)
        return np.where(self.inside(points), distance, -distance)
