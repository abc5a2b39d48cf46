"""The outline of a region as strokes: which of its corners turn which way, and what lies near a place."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from jigcam.geometry import Region
from jigcam.geometry.winding import winding_number
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
        self._segments = region.as_segments()
        vertices = np.concatenate([np.empty((0, 3)), *(loop.vertices for loop in region.loops)])
        moving, start = _sides(vertices, np.array([len(loop.vertices) for loop in region.loops], np.intp))
        self.strokes = Strokes.of_rows(moving)
        counts = np.bincount(start, minlength=len(region.loops)) if len(start) else np.zeros(0, np.intp)
        first = np.repeat(np.cumsum(counts) - counts, counts)
        self.following = first + (np.arange(len(start)) - first + 1) % np.repeat(counts, counts)

    @property
    def is_empty(self) -> bool:
        """No region at all."""
        return len(self.strokes) == 0

    @cached_property
    def _turn(self) -> np.ndarray:
        """(n,) sine of the turn at the end of each stroke, left positive; −2 where it turns right back."""
        every = np.arange(len(self.strokes))
        leaving = self.direction(self.strokes.b, every)
        setting_out = self.direction(self.strokes.a, every)[self.following]
        turn = leaving[:, 0] * setting_out[:, 1] - leaving[:, 1] * setting_out[:, 0]
        ahead = np.einsum("ij,ij->i", leaving, setting_out)
        return np.where((np.abs(turn) <= STRAIGHT_ON) & (ahead < 0.0), -2.0, turn)

    @cached_property
    def smooth(self) -> np.ndarray:
        """(n,) whether each stroke runs on into the next without a corner."""
        return np.abs(self._turn) <= STRAIGHT_ON

    @cached_property
    def convex(self) -> np.ndarray:
        """(n,) whether the corner at the end of each stroke turns left or not at all, so that no wood stands in it."""
        return self._turn >= -STRAIGHT_ON

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
        if not len(points) or self.is_empty:
            return np.zeros(len(points), bool)
        return winding_number(points[:, 0] + 1j * points[:, 1], self._segments)[0] > 0

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


def _sides(vertices: np.ndarray, counts: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The sides of closed loops that have a length, as rows x0, y0, x1, y1, bulge, and the loop of each.

    vertices: (n, 3) of all loops, one after the other; counts: how many each has.
    """
    loop = np.repeat(np.arange(len(counts)), counts)
    first = np.repeat(np.cumsum(counts) - counts, counts)
    place = np.arange(len(vertices))
    after = vertices[np.where(place + 1 < first + counts[loop], place + 1, first), :2]
    moving = (vertices[:, :2] != after).any(axis=1)
    return np.column_stack([vertices[:, :2], after, vertices[:, 2]])[moving], loop[moving]
