"""A path: one run of lines and arcs, open or closed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from jigcam.errors import InputError
from jigcam.geometry.nearest import nearest_distance
from jigcam.geometry.segment import STRAIGHT, FloatArray, IntArray, Segments, as_complex, as_pairs
from jigcam.geometry.transform import apply, scale_of
from jigcam.tolerances import TOLERANCES

HALF_TURN_SLACK = 1e-9
"""A bulge may exceed 1 by this much, as rounding makes it; it is then taken as 1."""


@dataclass(frozen=True, slots=True, eq=False)
class Path:
    """A run of lines and arcs. vertices: (n, 3) floats [x, y, bulge], mm; closed: whether the last meets the first.

    The bulge tan(sweep/4) at a vertex belongs to the segment that leaves it; positive turns anticlockwise; at most 1
    in size, half a turn. The bulge of the last vertex of an open path means nothing. Vertices may repeat: a segment of
    no length is skipped. The array is copied and cannot be written to.

    Raises InputError where the vertices are no finite (n, 3) table of at least two rows, or a bulge is over 1.
    """

    vertices: FloatArray
    closed: bool = False
    _segments: Segments | None = field(default=None, init=False, repr=False)
    _bounds: tuple[float, float, float, float] | None = field(default=None, init=False, repr=False)
    _backward: Path | None = field(default=None, init=False, repr=False)

    def __post_init__(self) -> None:
        table = np.array(self.vertices, dtype=float)
        if table.ndim != 2 or table.shape[1] != 3 or len(table) < 2:
            raise InputError("a path is a table of two or more vertices x, y, bulge", found=f"shape {table.shape}")
        # A sum is finite only where all that is in it is.
        if not math.isfinite(table.sum()) and not np.isfinite(table).all():
            raise InputError("a path has finite coordinates", found=str(table[~np.isfinite(table).all(axis=1)][0]))
        if not self.closed:
            table[-1, 2] = 0.0
        most = max(float(table[:, 2].max()), -float(table[:, 2].min())) if table[:, 2].any() else 0.0
        if most > 1.0:
            if most > 1.0 + HALF_TURN_SLACK:
                raise InputError("an arc turns at most half a turn", found=f"bulge {most:.9g}", wanted="at most 1")
            table[:, 2] = np.clip(table[:, 2], -1.0, 1.0)
        table += 0.0  # no negative zeros: they would show in text
        table.setflags(write=False)
        object.__setattr__(self, "vertices", table)

    @classmethod
    def through(cls, points: npt.ArrayLike, *, closed: bool = False) -> Path:
        """Straight from point to point; points: (n, 2), mm. Raises InputError unless they are finite, two or more."""
        pairs = np.asarray(points, dtype=float).reshape(-1, 2)
        return cls(np.column_stack([pairs, np.zeros(len(pairs))]), closed)

    @classmethod
    def from_segments(cls, segments: Segments, *, closed: bool = False) -> Path:
        """From segments that follow each other; the ends in between are taken from the starts."""
        rows = np.column_stack([segments.start.real, segments.start.imag, segments.bulge])
        if not closed:
            rows = np.vstack([rows, [segments.end[-1].real, segments.end[-1].imag, 0.0]])
        return cls(rows, closed)

    def segments(self) -> FloatArray:
        """The segments in order as rows [x0, y0, x1, y1, bulge], (m, 5); those of no length are left out."""
        return _lasting(self.vertices, self.closed)

    def as_segments(self) -> Segments:
        """The same in the form that the rest of the package computes with; worked out once."""
        segments = self._segments
        if segments is None:
            segments = Segments.of_lasting(self.segments())
            object.__setattr__(self, "_segments", segments)
        return segments

    @property
    def straight(self) -> bool:
        """Whether no segment is an arc."""
        return not self.vertices[:, 2].any()

    @property
    def length(self) -> float:
        """Length along the path, mm."""
        return float(self.as_segments().length.sum())

    @property
    def area(self) -> float:
        """Enclosed area, mm², positive for an anticlockwise closed path. Raises InputError for an open one."""
        if not self.closed:
            raise InputError("an open path encloses no area")
        near = np.array(self.vertices)
        near[:, :2] -= near[0, :2].copy()  # about a near point: areas far from the origin would lose digits
        return float(Segments.of_lasting(_lasting(near, closed=True)).area.sum())

    @property
    def start(self) -> tuple[float, float]:
        """First point."""
        return float(self.vertices[0, 0]), float(self.vertices[0, 1])

    @property
    def end(self) -> tuple[float, float]:
        """Last point: the first one again if the path is closed."""
        row = self.vertices[0 if self.closed else -1]
        return float(row[0]), float(row[1])

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y, arcs included; worked out once."""
        bounds = self._bounds
        if bounds is None:
            bounds = self._around()
            object.__setattr__(self, "_bounds", bounds)
        return bounds

    def _around(self) -> tuple[float, float, float, float]:
        if self.straight:
            corners = self.vertices[:, :2]
            (x0, y0), (x1, y1) = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
            return x0, y0, x1, y1
        segments = self.as_segments()
        if not len(segments):
            x, y = self.start
            return x, y, x, y
        left, low, right, high = segments.boxes()
        return float(left.min()), float(low.min()), float(right.max()), float(high.max())

    def reversed(self) -> Path:
        """The same curve run backwards; a closed one keeps its first vertex. Worked out once."""
        backward = self._backward
        if backward is None:
            table = self.vertices
            rows = np.zeros_like(table)
            if self.closed:
                rows[0, :2], rows[1:, :2] = table[0, :2], table[:0:-1, :2]
                rows[:, 2] = -table[::-1, 2]
            else:
                rows[:, :2] = table[::-1, :2]
                rows[:-1, 2] = -table[-2::-1, 2]
            backward = Path(rows, self.closed)
            object.__setattr__(self, "_backward", backward)
        return backward

    def transformed(self, matrix: npt.ArrayLike) -> Path:
        """Moved by a 2×3 matrix; a mirror turns the arcs over and keeps the direction of travel.

        Raises InputError for a matrix that does not keep circles.
        """
        sign = math.copysign(1.0, scale_of(matrix))
        return Path(np.column_stack([apply(matrix, self.vertices[:, :2]), sign * self.vertices[:, 2]]), self.closed)

    def moved(self, dx: float, dy: float) -> Path:
        """Moved by (dx, dy), mm: the same as by a `translation`, without asking whether it keeps circles.

        Raises InputError where a coordinate is then no finite number.
        """
        table = np.array(self.vertices)
        table[:, :2] += (dx, dy)
        return Path(table, self.closed)

    def points(self, tol: float = TOLERANCES.facet) -> FloatArray:
        """Corners of a chain of chords, (m, 2), on the curve, which is nowhere further than `tol` mm from the chain.

        The first point of a closed path is not repeated at the end.
        """
        if self.straight:
            rows = self.segments()
            if not len(rows):
                return np.array([self.start])
            corners: FloatArray = rows[:, :2] if self.closed else np.vstack([rows[:, :2], rows[-1:, 2:4]])
            return corners
        segments = self.as_segments()
        if not len(segments):
            return np.array([self.start])
        counts = segments.facets(tol)
        index = np.repeat(np.arange(len(segments)), counts)
        step = np.arange(len(index)) - np.repeat(np.cumsum(counts) - counts, counts)
        chain = segments.take(index).at(step / counts[index])
        chain[step == 0] = segments.start
        return as_pairs(chain if self.closed else np.append(chain, segments.end[-1]))

    def distance(self, points: npt.ArrayLike) -> FloatArray:
        """Distance of each point (k, 2) to the curve, (k,), mm, unsigned."""
        segments = self.as_segments()
        if not len(segments):
            return np.abs(as_complex(points) - complex(*self.start))
        return nearest_distance(as_complex(points), segments)

    def at(self, s: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
        """Points and unit tangents at the arc lengths s (any shape), each s.shape + (2,).

        s runs from 0 to `length`; outside, an open path gives its ends and a closed one goes round again. Raises
        InputError for a path of no length, which has no direction.
        """
        segments = self.as_segments()
        if not len(segments):
            raise InputError("a path of no length has no direction")
        index, t = self._locate(segments, np.asarray(s, dtype=float))
        some = segments.take(index)
        return as_pairs(some.at(t)), as_pairs(some.tangent(t))

    def substring(self, s0: float, s1: float) -> Path:
        """The open path from arc length s0 to s1 > s0; on a closed path s1 may pass the start by up to one round.

        Raises InputError where the two are in the wrong order or off the path.
        """
        segments = self.as_segments()
        total = float(segments.length.sum())
        slack = TOLERANCES.same_point
        limit = s0 + total if self.closed else total
        if not (-slack <= s0 < s1 <= limit + slack):
            wanted = f"within 0 to {total:.6g}"
            raise InputError("no such part of the path", found=f"{s0:.6g} to {s1:.6g}", wanted=wanted)
        if self.closed:
            segments = Segments.joined([segments, segments])
        ends = np.cumsum(segments.length)
        starts = ends - segments.length
        lo, hi = max(s0, 0.0), min(s1, float(ends[-1]))
        keep = np.flatnonzero((ends > lo) & (starts < hi))
        some, length = segments.take(keep), segments.length[keep]
        t0 = np.clip((lo - starts[keep]) / length, 0.0, 1.0)
        t1 = np.clip((hi - starts[keep]) / length, 0.0, 1.0)
        return Path.from_segments(some.parts(t0, t1))

    def _locate(self, segments: Segments, s: FloatArray) -> tuple[npt.NDArray[np.int64], FloatArray]:
        """Index of the segment and the fraction of its length at each arc length."""
        length = segments.length
        ends = np.cumsum(length)
        s = np.mod(s, ends[-1]) if self.closed else np.clip(s, 0.0, ends[-1])
        index = np.minimum(np.searchsorted(ends, s, side="right"), len(ends) - 1)
        t = np.clip((s - (ends - length)[index]) / length[index], 0.0, 1.0)
        return index, np.where(s == ends[index], 1.0, t)


def arc_of(p0: tuple[float, float], p1: tuple[float, float], bulge: float) -> tuple[float, float, float, float, float]:
    """Centre x and y, radius, angle at p0 (rad) and signed sweep (rad) of the arc from p0 to p1.

    Raises InputError for a straight segment, which has no centre.
    """
    start, end = complex(*p0), complex(*p1)
    if start == end or abs(bulge) < STRAIGHT:
        raise InputError("a straight segment has no centre", found=f"bulge {bulge!r}")
    # Asked for arc by arc, so in plain numbers: `Segments.centre` and `Segments.radius` say the same of many.
    chord, square = end - start, bulge**2
    centre = 0.5 * (start + end) + complex(0.0, (1.0 - square) / (4.0 * bulge)) * chord
    radius = abs(chord) * (1.0 + square) / (4.0 * abs(bulge))
    ray = start - centre
    return centre.real, centre.imag, radius, math.atan2(ray.imag, ray.real), 4.0 * math.atan(bulge)


def _lasting(table: FloatArray, closed: bool) -> FloatArray:
    """The segments of vertices (n, 3) as rows [x0, y0, x1, y1, bulge], those of no length left out."""
    count = len(table) if closed else len(table) - 1
    rows = np.empty((count, 5))
    rows[:, :2], rows[:, 4] = table[:count, :2], table[:count, 2]
    rows[: len(table) - 1, 2:4] = table[1:, :2]
    if closed:
        rows[-1, 2:4] = table[0, :2]
    lasting = (rows[:, 0] != rows[:, 2]) | (rows[:, 1] != rows[:, 3])
    return rows if lasting.all() else rows[lasting]


def sides(loops: Sequence[Path]) -> tuple[FloatArray, IntArray]:
    """The segments of closed paths, one path after the other, as rows [x0, y0, x1, y1, bulge], and the loop of each.

    Those of no length are left out. It does for all loops at once what `Path.segments` does for one.
    """
    counts = np.array([len(loop.vertices) for loop in loops], np.intp)
    vertices = np.concatenate([np.empty((0, 3)), *(loop.vertices for loop in loops)])
    loop = np.repeat(np.arange(len(counts)), counts)
    first = np.repeat(np.cumsum(counts) - counts, counts)
    place = np.arange(len(vertices))
    after = vertices[np.where(place + 1 < first + counts[loop], place + 1, first), :2]
    moving = (vertices[:, :2] != after).any(axis=1)
    return np.column_stack([vertices[:, :2], after, vertices[:, 2]])[moving], loop[moving]
