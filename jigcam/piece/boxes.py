"""Boards as boxes in space: which of them run into each other when one is moved straight, and how deep they overlap.

BoardBox a, moved by t along d, shares room with box b where c + t·d lies inside the two boxes' Minkowski difference: a
zonotope with six generators, the half edges of both, with c from the middle of b to that of a. Its faces are square to
the cross products of two generators each, so that sixteen numbers a pair decide exactly, for any turn of the boxes
(S. Gottschalk's separating axes, 1996, from memory; here with the time of contact). Space: mm, any frame.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from itertools import combinations
from typing import Final

import numpy as np
import numpy.typing as npt

from jigcam.values import dataclass

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

TOUCH: Final = 0.05
"""Boxes that overlap by less slide on each other: less than any clearance that a joint has, mm."""
PARALLEL: Final = 1e-9
"""Unit vectors whose cross product is shorter than this are one, and square to no face of its own."""
_ROWS = tuple(zip(*combinations(range(6), 2), strict=True))


@dataclass(frozen=True, eq=False)
class BoardBox:
    """middle: (3,), mm. halves: (3, 3), half its edges as rows, square to each other, mm."""

    middle: FloatArray
    halves: FloatArray


@dataclass(frozen=True, eq=False)
class Boxes:
    """Boxes together, every one against every other."""

    boxes: Sequence[BoardBox]

    @cached_property
    def _faces(self) -> tuple[FloatArray, FloatArray, FloatArray]:
        """(n, n, 15, 3) unit normals of each pair's zonotope, (n, n, 15) its reach along them, and that of c."""
        count = len(self.boxes)
        middles = np.array([box.middle for box in self.boxes]).reshape(count, 3)
        halves = np.array([box.halves for box in self.boxes]).reshape(count, 3, 3)
        edges = np.concatenate(
            [
                np.broadcast_to(halves[:, None], (count, count, 3, 3)),
                np.broadcast_to(halves[None, :], (count, count, 3, 3)),
            ],
            axis=2,
        )
        units = edges / np.linalg.norm(edges, axis=-1, keepdims=True)
        normals = np.cross(units[:, :, _ROWS[0]], units[:, :, _ROWS[1]])
        lengths = np.linalg.norm(normals, axis=-1)
        face = lengths > PARALLEL
        normals = normals / np.where(face, lengths, 1.0)[..., None]
        reach = np.where(face, np.abs(np.einsum("abfk,abgk->abfg", normals, edges)).sum(axis=-1), np.inf)
        apart = np.einsum("abfk,abk->abf", normals, middles[:, None] - middles[None, :])
        return normals, reach, np.where(face, apart, 0.0)

    @cached_property
    def overlap(self) -> FloatArray:
        """(n, n) how far a box would have to move to be clear of another; below 0 where they are apart, mm."""
        _, reach, apart = self._faces
        depth: FloatArray = (reach - np.abs(apart)).min(axis=-1)
        np.fill_diagonal(depth, -np.inf)
        return depth

    def along(self, direction: FloatArray) -> tuple[FloatArray, FloatArray]:
        """((n, n), (n, n)): from where to where box a, moved along a unit vector, shares room with box b, mm.

        The second is below the first where they never meet. Overlaps of less than `TOUCH` are none.
        """
        normals, reach, apart = self._faces
        speed = normals @ direction
        room = reach - TOUCH
        still = np.abs(speed) < PARALLEL
        safe = np.where(still, 1.0, speed)
        ends = np.stack([(-room - apart) / safe, (room - apart) / safe])
        first, last = ends.min(axis=0), ends.max(axis=0)
        inside = np.abs(apart) < room
        first = np.where(still, np.where(inside, -np.inf, np.inf), first)
        last = np.where(still, np.where(inside, np.inf, -np.inf), last)
        first = np.where(room <= 0.0, np.inf, first)
        start: FloatArray = first.max(axis=-1)
        end: FloatArray = last.min(axis=-1)
        np.fill_diagonal(start, np.inf)
        np.fill_diagonal(end, -np.inf)
        return start, end

    def meets(self, direction: FloatArray) -> BoolArray:
        """(n, n) whether box a, moved along a unit vector as far as one likes, runs into box b on the way."""
        start, end = self.along(direction)
        hit: BoolArray = (end > 0.0) & (end - np.maximum(start, 0.0) > PARALLEL)
        return hit
