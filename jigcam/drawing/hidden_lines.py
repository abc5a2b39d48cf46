"""What is seen of the edges of solids that stand before and behind each other: exact, segment by segment.

Frame of the picture: u to the right, v up, w toward the eye, in parallel projection; mm. A solid is bounded by
*facets*: plane, with holes or without, and of any outline. An edge is hidden where it lies behind a facet, and inside
of its outline as it is seen. Both are found without sampling: the depth below a plane changes evenly along an edge, and
an edge goes in and out of an outline where it crosses one of its sides. (The method of straight lines against plane
faces goes back to L. G. Roberts, 1963, and A. Appel, 1967; from memory.)

What is behind is decided with `SKIN` to spare, so that an edge is not hidden by the facets that meet in it. Solids that
run into each other are drawn each by its own edges: the line in which they meet is none of these.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Final

import numpy as np
import numpy.typing as npt

from jigcam.values import dataclass

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

SKIN: Final = 0.01
"""An edge is behind a facet from so far on, mm: a fifth of what joints leave of clearance."""
EDGE_ON: Final = 1e-6
"""Facets whose normal leans toward the eye by less than this are seen as lines, and hide nothing."""
POINT: Final = 1e-6
"""Edges that are seen shorter than this are points, mm."""


@dataclass(frozen=True, eq=False)
class Facet:
    """A plane face of a solid. loops: (n, 3) each, its outline and its holes; outward: its unit normal.

    solid: the number of the one that it bounds.
    """

    loops: tuple[FloatArray, ...]
    outward: FloatArray
    solid: int

    @property
    def faces_the_eye(self) -> bool:
        """Whether it is seen from outside its solid. A solid is closed, so that these alone hide all that it hides."""
        return bool(self.outward[2] > EDGE_ON)

    @cached_property
    def sides(self) -> tuple[FloatArray, FloatArray]:
        """(k, 2), (k, 2): where the sides of its outlines begin and end, as seen."""
        flat = [loop[:, :2] for loop in self.loops]
        return np.vstack(flat), np.vstack([np.roll(loop, -1, axis=0) for loop in flat])

    @cached_property
    def box(self) -> tuple[float, float, float, float, float]:
        """u0, v0, u1, v1 as it is seen, and its greatest w."""
        points = np.vstack(self.loops)
        (u0, v0, _), (u1, v1, w1) = points.min(axis=0), points.max(axis=0)
        return float(u0), float(v0), float(u1), float(v1), float(w1)

    def depth(self, points: FloatArray) -> FloatArray:
        """How far in front of each point (n, 3) its plane lies, along the way to the eye, (n,), mm."""
        way = points - self.loops[0][0]
        depth: FloatArray = -(way @ self.outward) / self.outward[2]
        return depth

    def holds(self, points: FloatArray) -> npt.NDArray[np.bool_]:
        """Whether each place of the picture (n, 2) is inside its outline as it is seen, (n,)."""
        start, end = self.sides
        u, v = points[:, :1], points[:, 1:2]
        over = (start[:, 1] > v) != (end[:, 1] > v)
        rise = np.where(end[:, 1] == start[:, 1], 1.0, end[:, 1] - start[:, 1])
        at = start[:, 0] + (v - start[:, 1]) / rise * (end[:, 0] - start[:, 0])
        odd: npt.NDArray[np.bool_] = ((over & (at > u)).sum(axis=1) % 2).astype(bool)
        return odd


@dataclass(frozen=True, eq=False)
class SeenPart:
    """A part of an edge that is seen. edge: its number; start, end: (3,) of the picture, mm."""

    edge: int
    start: FloatArray
    end: FloatArray


def seen_parts(edges: FloatArray, facets: Sequence[Facet], shortest: float = 0.0) -> list[SeenPart]:
    """The parts of edges (m, 2, 3) that no facet hides, in order. shortest: parts seen shorter are left out, mm."""
    if not len(edges):
        return []
    low, high = np.minimum(edges[:, 0], edges[:, 1]), np.maximum(edges[:, 0], edges[:, 1])
    hidden = [
        _hidden_by(facet, edges[some], some)
        for facet in facets
        if facet.faces_the_eye and len(some := _near(facet, low, high))
    ]
    rows = np.vstack([np.empty((0, 3)), *hidden])
    rows = rows[np.lexsort((rows[:, 1], rows[:, 0]))]
    first = np.searchsorted(rows[:, 0], np.arange(len(edges) + 1))
    parts = []
    for number, (start, end) in enumerate(edges):
        length = float(np.hypot(*(end - start)[:2]))
        if length <= POINT:
            continue
        for t0, t1 in _gaps(rows[first[number] : first[number + 1], 1:]):
            if (t1 - t0) * length > shortest:
                parts.append(SeenPart(number, start + t0 * (end - start), start + t1 * (end - start)))
    return parts


def front_solid(places: FloatArray, facets: Sequence[Facet]) -> tuple[IntArray, FloatArray]:
    """The number of the solid that is seen at each place of the picture (n, 2), −1 for none, and at which w; (n,)."""
    solid = np.full(len(places), -1)
    w = np.full(len(places), -np.inf)
    at = np.column_stack([places, np.zeros(len(places))])
    for facet in facets:
        if not facet.faces_the_eye:
            continue
        u0, v0, u1, v1, _ = facet.box
        near = np.flatnonzero((places[:, 0] >= u0) & (places[:, 0] <= u1) & (places[:, 1] >= v0) & (places[:, 1] <= v1))
        near = near[facet.holds(places[near])] if len(near) else near
        height = facet.depth(at[near])
        front = height > w[near]
        w[near[front]], solid[near[front]] = height[front], facet.solid
    return solid, w


def _near(facet: Facet, low: FloatArray, high: FloatArray) -> IntArray:
    """The edges whose box a facet may hide, told by their least and greatest u, v, w (m, 3)."""
    u0, v0, u1, v1, w1 = facet.box
    meets = (low[:, 0] < u1) & (high[:, 0] > u0) & (low[:, 1] < v1) & (high[:, 1] > v0) & (low[:, 2] < w1 - SKIN)
    return np.flatnonzero(meets)


def _hidden_by(facet: Facet, edges: FloatArray, some: IntArray) -> FloatArray:
    """(k, 3): number of an edge, and from where to where along it (0 to 1) the facet hides it. some: their numbers."""
    start, end = edges[:, 0], edges[:, 1]
    behind = _behind(facet.depth(start) - SKIN, facet.depth(end) - SKIN)
    worth = np.flatnonzero(behind[:, 0] < behind[:, 1])
    if not len(worth):
        return np.empty((0, 3))
    some, start, end, behind = some[worth], start[worth, :2], end[worth, :2], behind[worth]
    crossed = _crossings(start, end - start, *facet.sides)
    t0 = np.maximum(crossed[:, 0::2], behind[:, :1])
    t1 = np.minimum(crossed[:, 1::2], behind[:, 1:])
    rows, columns = np.nonzero(t1 > t0)
    return np.column_stack([some[rows], t0[rows, columns], t1[rows, columns]])


def _behind(start: FloatArray, end: FloatArray) -> FloatArray:
    """(m, 2): from where to where (0 to 1) a depth that changes evenly from start to end is more than 0."""
    fall = np.where(start == end, 1.0, start - end)
    at = np.clip(start / fall, 0.0, 1.0)
    t0 = np.where(start > 0.0, 0.0, at)
    t1 = np.where(end > 0.0, 1.0, at)
    none = (start <= 0.0) & (end <= 0.0)
    return np.column_stack([np.where(none, 1.0, t0), np.where(none, 0.0, t1)])


def _crossings(start: FloatArray, way: FloatArray, a: FloatArray, b: FloatArray) -> FloatArray:
    """(m, an even number): where along its line each segment goes in and out of an outline, ascending, in pairs; inf
    for none. A corner of the outline that lies on the line counts to its left for both of its sides."""
    side_a = way[:, :1] * (a[:, 1] - start[:, 1:]) - way[:, 1:] * (a[:, 0] - start[:, :1])
    side_b = way[:, :1] * (b[:, 1] - start[:, 1:]) - way[:, 1:] * (b[:, 0] - start[:, :1])
    across = (side_a >= 0.0) != (side_b >= 0.0)
    share = side_a / np.where(across, side_a - side_b, 1.0)
    u = a[:, 0] + share * (b[:, 0] - a[:, 0]) - start[:, :1]
    v = a[:, 1] + share * (b[:, 1] - a[:, 1]) - start[:, 1:]
    square = np.maximum((way * way).sum(axis=1, keepdims=True), POINT**2)
    t = np.where(across, (u * way[:, :1] + v * way[:, 1:]) / square, np.inf)
    most = int(across.sum(axis=1).max(initial=0))
    most += most % 2
    ordered: FloatArray = np.sort(t, axis=1)[:, :most]
    if ordered.shape[1] < most:
        ordered = np.pad(ordered, ((0, 0), (0, most - ordered.shape[1])), constant_values=np.inf)
    return ordered


def _gaps(rows: FloatArray) -> list[tuple[float, float]]:
    """What (0, 1) has left beside intervals (k, 2), which are sorted by where they begin."""
    found, at = [], 0.0
    for t0, t1 in rows:
        if t0 > at:
            found.append((at, float(t0)))
        at = max(at, float(t1))
    if at < 1.0:
        found.append((at, 1.0))
    return found
