"""Strokes: lines and arcs in the plane as columns of numbers, with exact distances for many of them at once.

Words: a *stroke* is one line or one arc of at most half a turn; a place on it is told by a share t from 0 (start) to
1 (end). Lengths in mm, angles in rad, anticlockwise positive. A stroke may have no length (a plunge): it is a point.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property

import numpy as np

from jigcam.geometry import Path
from jigcam.geometry.nearby import BoxTree, Nearby
from jigcam.geometry.pairs import spread
from jigcam.values import dataclass

FACET = 5e-4
"""Gap between arc and chords in the tree of strokes, mm. It only steers the search; distances are exact."""
CHORDS = 6
"""Chords at most that make one line in the tree: how far it is is worked out for all of them."""
BATCH = 2_000
"""Lines of the tree whose places are worked out in one go."""
SLACK = 1e-9
"""Directions this near to the end of an arc (cosine) count as on it."""


@dataclass(frozen=True)
class Strokes:
    """Columns of n strokes.

    a, b: (n, 2) start and end. centre: (n, 2), NaN for lines. radius: (n,), 0 for lines. first: (n,) direction of the
    start seen from the centre. sweep: (n,) signed turn, |sweep| ≤ π, 0 for lines.
    """

    a: np.ndarray
    b: np.ndarray
    centre: np.ndarray
    radius: np.ndarray
    first: np.ndarray
    sweep: np.ndarray

    def __len__(self) -> int:
        return len(self.radius)

    @classmethod
    def empty(cls) -> Strokes:
        """No stroke at all."""
        return cls.lines(np.empty((0, 2)), np.empty((0, 2)))

    @classmethod
    def lines(cls, a: np.ndarray, b: np.ndarray) -> Strokes:
        """Straight strokes from (n, 2) to (n, 2)."""
        n = len(a)
        return cls(
            np.asarray(a, float), np.asarray(b, float), np.full((n, 2), np.nan), np.zeros(n), np.zeros(n), np.zeros(n)
        )

    @classmethod
    def turns(cls, a: np.ndarray, b: np.ndarray, centre: np.ndarray, sweep: np.ndarray) -> Strokes:
        """Strokes of which those with sweep ≠ 0 are arcs about `centre`; the radius is that of the start."""
        arc = sweep != 0.0
        spoke = np.where(arc[:, None], a - centre, 0.0)
        return cls(
            np.asarray(a, float),
            np.asarray(b, float),
            np.where(arc[:, None], centre, np.nan),
            np.hypot(*spoke.T),
            np.arctan2(spoke[:, 1], spoke[:, 0]),
            np.asarray(sweep, float),
        )

    @classmethod
    def along(cls, paths: Iterable[Path]) -> Strokes:
        """The segments of line-and-arc paths."""
        return cls.of_rows(np.concatenate([np.empty((0, 5)), *(path.segments() for path in paths)]))

    @classmethod
    def of_rows(cls, rows: np.ndarray) -> Strokes:
        """From (n, 5) x0, y0, x1, y1, bulge (tan of a quarter of the turn); none of them without a length."""
        a, b, bulge = rows[:, :2], rows[:, 2:4], rows[:, 4]
        arc = bulge != 0.0
        safe = np.where(arc, bulge, 1.0)
        # The centre lies on the chord's bisector, (1/bulge − bulge)/4 of the chord to the left of its middle.
        chord = b - a
        left = np.column_stack([-chord[:, 1], chord[:, 0]])
        centre = (a + b) / 2.0 + left * ((1.0 / safe - safe) / 4.0)[:, None]
        return cls.turns(a, b, centre, np.where(arc, 4.0 * np.arctan(bulge), 0.0))

    @classmethod
    def joined(cls, parts: Sequence[Strokes]) -> Strokes:
        """All strokes of the parts, in order."""
        if not parts:
            return cls.empty()
        names = ("a", "b", "centre", "radius", "first", "sweep")
        return cls(*(np.concatenate([getattr(part, name) for part in parts]) for name in names))

    def take(self, index: np.ndarray | slice) -> Strokes:
        """The strokes at those places (numbers, a mask or a slice)."""
        return Strokes(
            self.a[index], self.b[index], self.centre[index], self.radius[index], self.first[index], self.sweep[index]
        )

    @cached_property
    def arc(self) -> np.ndarray:
        """(n,) which strokes are arcs."""
        arc: np.ndarray = self.sweep != 0.0
        return arc

    @cached_property
    def length(self) -> np.ndarray:
        """(n,) lengths, mm."""
        length: np.ndarray = np.where(self.arc, self.radius * np.abs(self.sweep), np.hypot(*(self.b - self.a).T))
        return length

    @cached_property
    def _middle(self) -> np.ndarray:
        """(n, 2) direction from the centre to the middle of the arc."""
        angle = self.first + self.sweep / 2.0
        return np.column_stack([np.cos(angle), np.sin(angle)])

    @cached_property
    def _half_cosine(self) -> np.ndarray:
        return np.cos(self.sweep / 2.0)

    def at(self, t: np.ndarray, index: np.ndarray | slice = slice(None)) -> np.ndarray:
        """(k, 2) points at shares t (k,) of the strokes `index` (k,)."""
        a, b, arc = self.a[index], self.b[index], self.arc[index]
        points: np.ndarray = a + (b - a) * t[:, None]
        if arc.any():
            angle = (self.first[index] + self.sweep[index] * t)[arc]
            points[arc] = self.centre[index][arc] + self.radius[index][arc, None] * np.column_stack(
                [np.cos(angle), np.sin(angle)]
            )
        return points

    def between(self, t0: np.ndarray, t1: np.ndarray) -> Strokes:
        """The part of each stroke from share t0 to share t1 (both (n,))."""
        return Strokes(
            self.at(t0), self.at(t1), self.centre, self.radius, self.first + self.sweep * t0, self.sweep * (t1 - t0)
        )

    @cached_property
    def boxes(self) -> np.ndarray:
        """(n, 4) exact bounds x0, y0, x1, y1."""
        low, high = np.minimum(self.a, self.b), np.maximum(self.a, self.b)
        if self.arc.any():
            every = np.arange(len(self))
            for axis, toward in enumerate(((1.0, 0.0), (0.0, 1.0))):
                for sign in (1.0, -1.0):
                    tip = self.centre + self.radius[:, None] * (sign * np.array(toward))
                    on = self.arc & self.facing(tip, every)
                    bound = high if sign > 0 else low
                    pick = np.maximum if sign > 0 else np.minimum
                    bound[on, axis] = pick(bound[on, axis], tip[on, axis])
        return np.column_stack([low, high])

    def facing(self, points: np.ndarray, index: np.ndarray) -> np.ndarray:
        """(k,) whether each point, seen from the centre of its arc, lies in a direction that the arc covers."""
        spoke = points - self.centre[index]
        reach = np.hypot(*spoke.T)
        along = np.einsum("ij,ij->i", spoke, self._middle[index])
        facing: np.ndarray = along >= reach * (self._half_cosine[index] - SLACK)
        return facing

    def distance(self, points: np.ndarray, index: np.ndarray) -> np.ndarray:
        """(k,) distance of each of (k, 2) points from the stroke that `index` (k,) gives for it, mm."""
        return self._foot(points, index)[0]

    def foot(self, points: np.ndarray, index: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(k,) distances and (k, 2) nearest points on the strokes."""
        return self._foot(points, index)

    def _foot(self, points: np.ndarray, index: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        a, chord = self.a[index], self.b[index] - self.a[index]
        square = np.einsum("ij,ij->i", chord, chord)
        share = np.einsum("ij,ij->i", points - a, chord) / np.where(square > 0.0, square, 1.0)
        foot = a + np.clip(share, 0.0, 1.0)[:, None] * chord
        arc = self.arc[index]
        if arc.any():
            which, q = index[arc], points[arc]
            spoke = q - self.centre[which]
            reach = np.hypot(*spoke.T)
            # Seen from the very centre every point of the arc is as near: its start will do.
            aim = np.where(reach[:, None] > 0.0, spoke / np.where(reach, reach, 1.0)[:, None], self._middle[which])
            on = self.centre[which] + self.radius[which, None] * aim
            to_a = np.hypot(*(q - self.a[which]).T)
            to_b = np.hypot(*(q - self.b[which]).T)
            end = np.where((to_a <= to_b)[:, None], self.a[which], self.b[which])
            foot[arc] = np.where(self.facing(q, which)[:, None], on, end)
        return np.hypot(*(points - foot).T), foot

    @cached_property
    def tree(self) -> Nearby:
        """A search tree over the strokes; arcs in it are chords within `FACET`, a few of them to a line."""
        with np.errstate(invalid="ignore"):
            step = 2.0 * np.arccos(np.clip(1.0 - FACET / np.maximum(self.radius, FACET), 0.0, 1.0))
        chords = np.where(self.arc, np.ceil(np.abs(self.sweep) / step), 1.0).astype(np.intp)
        lines = -(-chords // CHORDS)
        stroke, part = spread(np.zeros(len(self), np.intp), lines)
        each = -(-chords // lines)[stroke]
        first = np.concatenate([[0], np.cumsum(each + 1)])
        places = np.empty((first[-1], 2))
        for k in range(0, len(stroke), BATCH):
            some = slice(k, k + BATCH)
            line, rank = spread(np.zeros(len(stroke[some]), np.intp), each[some] + 1)
            share = (part[some][line] + rank / each[some][line]) / lines[stroke[some]][line]
            places[first[k] : first[k] + len(line)] = self.at(share, stroke[some][line])
        return Nearby(places, np.repeat(np.arange(len(stroke)), each + 1), stroke)

    @cached_property
    def box_tree(self) -> BoxTree:
        """A search tree over the bounds of the strokes."""
        return BoxTree(self.boxes)
