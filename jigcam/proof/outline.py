"""The outline of a region as strokes: which of its corners turn which way, and what lies near a place."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from jigcam.geometry import Region
from jigcam.geometry.path import sides
from jigcam.geometry.winding import winding_number
from jigcam.proof.strokes import Strokes
from jigcam.values import dataclass

STRAIGHT_ON = 1e-6
"""Sine of a turn up to which two strokes of an outline run on smoothly."""
BRUTE = 100_000
"""Pairs of points and strokes up to which trying all of them beats a search."""
TIE = 1e-7
"""Strokes whose distances from a place differ by no more than this are both nearest to it, mm."""
CERTAIN = 1e-2
"""Share of its distance from the outline by which a place has to lie to one side of the nearest strokes."""


def bounds_of(region: Region) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y of a region that is not empty; all its loops at once."""
    x0, y0, x1, y1 = region.as_segments().boxes()
    return float(x0.min()), float(y0.min()), float(x1.max()), float(y1.max())


@dataclass(frozen=True)
class Near:
    """Pairs of a point i and a stroke j near it, sorted by point, and their distances (mm)."""

    i: np.ndarray
    j: np.ndarray
    gap: np.ndarray

    def take(self, index: np.ndarray) -> Near:
        """The pairs at those places (numbers or a mask)."""
        return Near(self.i[index], self.j[index], self.gap[index])

    def among(self, points: np.ndarray) -> Near:
        """The pairs of the points of a mask, which are numbered anew."""
        some = self.take(points[self.i])
        return Near((np.cumsum(points) - 1)[some.i], some.j, some.gap)

    def within(self, reach: np.ndarray) -> Near:
        """The pairs no farther apart than the reach of their point."""
        return self.take(self.gap <= reach[self.i])


class Outline:
    """A region and the strokes round it, each with the region on its left. loop: (n,) the loop of each stroke."""

    def __init__(self, region: Region) -> None:
        self.region = region
        self._segments = region.as_segments()
        rows, self.loop = sides(region.loops)
        self.strokes = Strokes.of_rows(rows)
        counts = np.bincount(self.loop, minlength=len(region.loops))
        first = np.repeat(np.cumsum(counts) - counts, counts)
        self.following = first + (np.arange(len(first)) - first + 1) % np.repeat(counts, counts)

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
        smooth: np.ndarray = np.abs(self._turn) <= STRAIGHT_ON
        return smooth

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
        direction: np.ndarray = tangent / np.hypot(*tangent.T)[:, None]
        return direction

    def near(self, points: np.ndarray, reach: np.ndarray) -> Near:
        """The strokes no farther from each point than `reach` (k,)."""
        count = len(points)
        if count * len(self.strokes) <= BRUTE:
            i = np.repeat(np.arange(count), len(self.strokes))
            j = np.tile(np.arange(len(self.strokes)), count)
        else:
            i, j = self.strokes.box_tree.meeting(np.column_stack([points - reach[:, None], points + reach[:, None]]))
        return Near(i, j, self.strokes.distance(points[i], j)).within(reach)

    def inside(self, points: np.ndarray) -> np.ndarray:
        """(k,) whether each point lies in the region."""
        if not len(points) or self.is_empty:
            return np.zeros(len(points), bool)
        inside: np.ndarray = winding_number(points[:, 0] + 1j * points[:, 1], self._segments)[0] > 0
        return inside

    def inside_by(self, points: np.ndarray, near: Near) -> np.ndarray:
        """The same where the nearest stroke of each point is among those in `near`, which has some for each of them.

        The side of the nearest tells it; in a corner the strokes that are as near tell it together, as one of them
        alone cannot where the corner is sharp. What they leave open is asked of the whole outline.
        """
        least = np.full(len(points), np.inf)
        np.minimum.at(least, near.i, near.gap)
        some = near.take(near.gap <= least[near.i] + TIE)
        spot = points[some.i]
        foot = self.strokes.foot(spot, some.j)[1]
        along, away = self.direction(foot, some.j), spot - foot
        votes = np.bincount(some.i, along[:, 0] * away[:, 1] - along[:, 1] * away[:, 0], len(points))
        inside = votes > 0.0
        open_ = np.flatnonzero((np.bincount(some.i, minlength=len(points)) > 2) | (np.abs(votes) < CERTAIN * least))
        inside[open_] = self.inside(points[open_])
        return inside

    def edge_distance(self, points: np.ndarray) -> np.ndarray:
        """(k,) distance from the outline, mm; infinite where there is none."""
        if self.is_empty or not len(points):
            return np.full(len(points), np.inf)
        if len(points) * len(self.strokes) <= BRUTE:
            i = np.repeat(np.arange(len(points)), len(self.strokes))
            j = np.tile(np.arange(len(self.strokes)), len(points))
            least: np.ndarray = self.strokes.distance(points[i], j).reshape(len(points), -1).min(axis=1)
            return least
        return self.strokes.distance(points, self.strokes.tree.nearest(points))

    def depth(self, points: np.ndarray) -> np.ndarray:
        """(k,) signed distance from the outline, positive inside; −inf everywhere for an empty region."""
        distance = self.edge_distance(points)
        return np.where(self.inside(points), distance, -distance)
