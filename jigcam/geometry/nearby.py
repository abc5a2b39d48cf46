"""Which of many polylines or boxes lie near which of many places, answered for all places at once."""

from __future__ import annotations

import numpy as np
import shapely


class Nearby:
    """A tree over polylines.

    coordinates: (m, 2) vertices in mm, polyline after polyline; line: (m,) the number of the polyline that each vertex
    belongs to, from 0 without gaps, ascending. A polyline of one point is given twice that point. name: the number by
    which each polyline is spoken of, several of them by the same where they are parts of one; its own if left out.
    """

    def __init__(self, coordinates: np.ndarray, line: np.ndarray, name: np.ndarray | None = None) -> None:
        count = int(line[-1]) + 1 if len(line) else 0
        self._name = np.arange(count) if name is None else name
        self._tree = shapely.STRtree(np.asarray(shapely.linestrings(coordinates, indices=line)) if count else [])

    def nearest(self, points: np.ndarray) -> np.ndarray:
        """For each of (k, 2) points the name of a nearest polyline. There must be at least one."""
        names: np.ndarray = self._name[self._tree.query_nearest(shapely.points(points), all_matches=False)[1]]
        return names

    def within(self, points: np.ndarray, reach: float | np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Pairs (point number, name) no farther apart than `reach` (mm, one for all or one each), once or more."""
        if not len(self._name) or not len(points):
            return np.empty(0, np.intp), np.empty(0, np.intp)
        pairs = self._tree.query(shapely.points(points), predicate="dwithin", distance=reach)
        return pairs[0], self._name[pairs[1]]


class BoxTree:
    """A tree over boxes, (n, 4) of x0, y0, x1, y1."""

    def __init__(self, boxes: np.ndarray) -> None:
        self._tree = shapely.STRtree(_diagonals(boxes))

    def meeting(self, boxes: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Pairs (number in `boxes`, number in the tree) that overlap or touch, sorted by the first; boxes: (k, 4)."""
        pairs = self._tree.query(_diagonals(boxes))
        return pairs[0], pairs[1]


def _diagonals(boxes: np.ndarray) -> np.ndarray:
    """Lines with those bounds: the tree asks for no more, and they are made more quickly than boxes."""
    return np.asarray(shapely.linestrings(np.ascontiguousarray(boxes, float).reshape(-1, 2, 2)))
