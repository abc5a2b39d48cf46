"""Which of many polylines lie near which of many places, answered for all places at once."""

from __future__ import annotations

import numpy as np
import shapely


class Nearby:
    """A tree over polylines, each named by its number.

    coordinates: (m, 2) vertices in mm, polyline after polyline; owner: (m,) the number of the polyline that each vertex
    belongs to, from 0 without gaps, ascending. A polyline of one point is given twice that point.
    """

    def __init__(self, coordinates: np.ndarray, owner: np.ndarray) -> None:
        self.count = int(owner[-1]) + 1 if len(owner) else 0
        self._tree = shapely.STRtree(shapely.linestrings(coordinates, indices=owner) if self.count else [])

    def nearest(self, points: np.ndarray) -> np.ndarray:
        """For each of (k, 2) points the number of a nearest polyline. There must be at least one."""
        return self._tree.query_nearest(shapely.points(points), all_matches=False)[1]

    def meeting(self, boxes: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Pairs (box number, polyline number) whose bounds meet; boxes: (k, 4) of x0, y0, x1, y1, sorted by box."""
        if not self.count or not len(boxes):
            return np.empty(0, np.intp), np.empty(0, np.intp)
        pairs = self._tree.query(shapely.box(*boxes.T))
        return pairs[0], pairs[1]

    def within(self, points: np.ndarray, reach: float | np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Pairs (point number, polyline number) no farther apart than `reach` (mm, one for all or one each)."""
        if not self.count or not len(points):
            return np.empty(0, np.intp), np.empty(0, np.intp)
        pairs = self._tree.query(shapely.points(points), predicate="dwithin", distance=reach)
        return pairs[0], pairs[1]
