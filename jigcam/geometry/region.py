"""A region: outlines with holes, each a closed path with the inside on its left."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import field

import numpy as np
import numpy.typing as npt

from jigcam.errors import InputError
from jigcam.geometry.nearest import nearest_distance
from jigcam.geometry.path import Path, sides
from jigcam.geometry.segment import BoolArray, FloatArray, Segments, as_complex
from jigcam.geometry.transform import scale_of
from jigcam.geometry.winding import winding_number
from jigcam.tolerances import TOLERANCES
from jigcam.values import dataclass


@dataclass(frozen=True, slots=True, eq=False)
class Region:
    """A part of the plane. loops: closed paths, outlines anticlockwise and holes clockwise; none for nothing.

    A point is inside where the loops wind round it more than zero times. Loops may touch; whatever comes out of
    `union` and its kin neither crosses nor overlaps itself.

    Raises InputError for an open loop.

    >>> from jigcam.geometry import difference, rectangle
    >>> frame = difference(rectangle(0, 0, 100, 60), rectangle(10, 10, 90, 50))
    >>> [loop.area for loop in frame.loops], frame.area  # a hole runs clockwise: its area is negative
    ([6000.0, -3200.0], 2800.0)
    """

    loops: tuple[Path, ...]
    _segments: Segments | None = field(default=None, init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "loops", tuple(self.loops))
        if not all(loop.closed for loop in self.loops):
            raise InputError("a region is bounded by closed paths")

    @classmethod
    def empty(cls) -> Region:
        """Nothing."""
        return cls(())

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing inside."""
        return not self.loops

    @property
    def area(self) -> float:
        """Area, mm², holes taken off."""
        return float(sum(loop.area for loop in self.loops))

    @property
    def length(self) -> float:
        """Length of the whole boundary, mm."""
        return float(sum(loop.length for loop in self.loops))

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y. Raises InputError for an empty region."""
        if self.is_empty:
            raise InputError("an empty region has no bounds")
        table = np.array([loop.bounds for loop in self.loops])
        low, high = table[:, :2].min(axis=0), table[:, 2:].max(axis=0)
        return float(low[0]), float(low[1]), float(high[0]), float(high[1])

    @property
    def outlines(self) -> tuple[Path, ...]:
        """The anticlockwise loops."""
        return tuple(loop for loop in self.loops if loop.area > 0.0)

    @property
    def holes(self) -> tuple[Path, ...]:
        """The clockwise loops."""
        return tuple(loop for loop in self.loops if loop.area <= 0.0)

    @property
    def parts(self) -> tuple[Region, ...]:
        """The connected pieces, each one outline with its holes, largest outline first."""
        # Rounded, so that twins come in the order of their places and not of the noise in their areas.
        outlines = sorted(self.outlines, key=lambda loop: (-round(loop.area, 3), *(round(v, 3) for v in loop.bounds)))
        holes = self.holes
        # Just inside the region beside each hole's first segment: a hole may touch its outline elsewhere.
        first = Segments.joined([hole.as_segments().take(slice(0, 1)) for hole in holes])
        half = np.full(len(first), 0.5)
        beside = first.at(half) + 1j * first.tangent(half) * TOLERANCES.same_point
        # The smallest outline round it is the one that comes last.
        owner = np.full(len(holes), -1)
        for index, outline in enumerate(outlines):
            owner[winding_number(beside, outline.as_segments())[0] > 0] = index
        return tuple(
            Region((outline, *(hole for hole, mine in zip(holes, owner, strict=True) if mine == index)))
            for index, outline in enumerate(outlines)
        )

    def as_segments(self) -> Segments:
        """All segments of all loops, in the form that the rest of the package computes with; worked out once."""
        segments = self._segments
        if segments is None:
            segments = Segments.of_rows(sides(self.loops)[0])
            object.__setattr__(self, "_segments", segments)
        return segments

    def contains(self, points: npt.ArrayLike) -> BoolArray:
        """Whether each point (k, 2) is inside, (k,); on the boundary itself either answer may come."""
        inside: BoolArray = winding_number(as_complex(points), self.as_segments())[0] > 0
        return inside

    def distance(self, points: npt.ArrayLike) -> FloatArray:
        """Distance of each point (k, 2) to the boundary, (k,), mm, unsigned; inf for an empty region."""
        return nearest_distance(as_complex(points), self.as_segments())

    def signed_distance(self, points: npt.ArrayLike) -> FloatArray:
        """Distance of each point (k, 2) to the boundary, (k,), mm: positive inside, negative outside; −inf if empty.

        >>> from jigcam.geometry import disc
        >>> disc(0, 0, 10).signed_distance([(0, 0), (7, 0), (14, 0)]).round(6).tolist()
        [10.0, 3.0, -4.0]
        """
        gap = self.distance(points)
        return np.where(self.contains(points), gap, -gap)

    def transformed(self, matrix: npt.ArrayLike) -> Region:
        """Moved by a 2×3 matrix; a mirror keeps the inside on the left.

        Raises InputError for a matrix that does not keep circles.
        """
        loops: Iterable[Path] = (loop.transformed(matrix) for loop in self.loops)
        if scale_of(matrix) < 0.0:
            loops = (loop.reversed() for loop in loops)
        return Region(tuple(loops))
