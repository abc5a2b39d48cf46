"""A board with all that its joints take from it, as plane faces and edges for a picture.

*Body frame*: that of the outside face, x along the grain, y up, z out of it: the outside face is z = 0, the inside face
z = −thickness. mm.

Between two depths that matter the outline of a board changes evenly, so that its walls are plane; what is drawn is
exact but for arcs, which are drawn in chords, and for a slab in which cuts meet in such a way that the outline changes
its corners on the way down: its walls are drawn upright, as they are half way down.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import cos, radians
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt

from jigcam.drawing.hidden_lines import Facet
from jigcam.geometry import Path, Region, difference, rectangle, union
from jigcam.piece.body import WITHIN, slabs_of
from jigcam.values import dataclass
from jigcam.wood import Prism

if TYPE_CHECKING:
    from jigcam.job import Board
    from jigcam.piece.body import Body

FloatArray = npt.NDArray[np.float64]

CHORD: Final = 0.1
"""How far a chord may be off its arc, mm."""
CREASE: Final = cos(radians(35.0))
"""Walls that meet at a smaller angle than this are chords of one arc; no edge is drawn between them."""
SLIVER: Final = 1e-3
"""Parts of a face narrower than this are rounding, mm."""


@dataclass(frozen=True, eq=False)
class BoardShape:
    """Faces and edges of a board, body frame. edges: (m, 2, 3)."""

    facets: tuple[Facet, ...]
    edges: FloatArray

    def mirrored(self, length: float) -> BoardShape:
        """That of the board for the opposite hand: x → length − x."""
        flip, shift = np.array([-1.0, 1.0, 1.0]), np.array([length, 0.0, 0.0])
        facets = tuple(
            Facet(tuple(loop * flip + shift for loop in each.loops), each.outward * flip, each.solid)
            for each in self.facets
        )
        return BoardShape(facets, self.edges * flip + shift)

    def moved(self, turn: FloatArray, shift: FloatArray, solid: int) -> BoardShape:
        """Carried by p → turn @ p + shift, as the solid of that number; turn: (3, 3), a turn in any scale."""
        size = float(np.cbrt(abs(np.linalg.det(turn))))
        facets = tuple(
            Facet(tuple(loop @ turn.T + shift for loop in each.loops), each.outward @ turn.T / size, solid)
            for each in self.facets
        )
        return BoardShape(facets, self.edges @ turn.T + shift)


def board_shape(board: Board, bodies: Sequence[Body]) -> BoardShape:
    """The board without what the joints take: bodies, of that board and hand."""
    whole = rectangle(0.0, 0.0, board.length, board.width)
    levels = tuple(sorted({0.0, board.thickness, *(depth for body in bodies for depth in body.depths)}))
    slabs = [_Slab.between(low, high, whole, bodies) for low, high in slabs_of(levels)]
    facets: list[Facet] = []
    edges: list[FloatArray] = []
    for slab in slabs:
        for walls in slab.walls():
            facets += walls
            edges += _creases(walls)
    above = Region.empty()
    for slab in slabs:
        _cap(facets, edges, above, slab.region(0), slab.low)
        above = slab.region(1)
    _cap(facets, edges, above, Region.empty(), board.thickness)
    return BoardShape(tuple(facets), np.array(edges).reshape(-1, 2, 3))


@dataclass(frozen=True, eq=False)
class _Slab:
    """The board between two depths. loops: its outlines at the lesser depth and at the greater, corner by corner."""

    low: float
    high: float
    loops: tuple[tuple[FloatArray, FloatArray], ...]

    @classmethod
    def between(cls, low: float, high: float, whole: Region, bodies: Sequence[Body]) -> _Slab:
        """What the bodies leave of the whole board between two depths; in between nothing of it bends."""
        near = [body for body in bodies if body.depths[0] < high - WITHIN and body.depths[-1] > low + WITHIN]
        here = _left_at(low + WITHIN, whole, near)
        if all(isinstance(body.taken.solid, Prism) for body in near):
            return cls(low, high, tuple((loop, loop) for loop in here))
        there = _left_at(high - WITHIN, whole, near)
        pairs = _paired(here, there)
        if pairs is None:
            middle = _left_at((low + high) / 2.0, whole, near)
            return cls(low, high, tuple((loop, loop) for loop in middle))
        beyond = WITHIN / (high - low - 2.0 * WITHIN)
        return cls(low, high, tuple((a + (a - b) * beyond, b + (b - a) * beyond) for a, b in pairs))

    def region(self, end: int) -> Region:
        """The outline at the lesser depth (0), or at the greater (1)."""
        return Region(tuple(Path.through(pair[end], closed=True) for pair in self.loops))

    def walls(self) -> Iterator[list[Facet]]:
        """The walls along each outline, in order."""
        for upper, lower in self.loops:
            high = np.column_stack([upper, np.full(len(upper), -self.low)])
            deep = np.column_stack([lower, np.full(len(lower), -self.high)])
            yield [
                Facet((np.array(corners),), _outward(*corners), 0)
                for corners in zip(high, deep, np.roll(deep, -1, axis=0), np.roll(high, -1, axis=0), strict=True)
            ]


def _left_at(depth: float, whole: Region, bodies: Sequence[Body]) -> list[FloatArray]:
    """Outlines of what is left at a depth, in chords: (n, 2) each."""
    taken = [section for body in bodies if not (section := body.section(depth)).is_empty]
    left = difference(whole, union(*taken)) if taken else whole
    return [loop.points(CHORD) for part in left.parts for loop in part.loops]


def _paired(here: Sequence[FloatArray], there: Sequence[FloatArray]) -> list[tuple[FloatArray, FloatArray]] | None:
    """The outlines of two depths corner by corner; None where they do not have the same corners."""
    if sorted(map(len, here)) != sorted(map(len, there)):
        return None
    rest, pairs = list(there), []
    for loop in here:
        alike = [other for other in rest if len(other) == len(loop)]
        if not alike:
            return None
        middle = loop.mean(axis=0)
        mate = min(alike, key=lambda other: float(np.hypot(*(other.mean(axis=0) - middle))))
        rest = [other for other in rest if other is not mate]
        turns = [float(np.abs(np.roll(mate, -turn, axis=0) - loop).sum()) for turn in range(len(mate))]
        pairs.append((loop, np.roll(mate, -int(np.argmin(turns)), axis=0)))
    return pairs


def _outward(a: FloatArray, b: FloatArray, c: FloatArray, d: FloatArray) -> FloatArray:
    """The unit normal of a wall that stands along an outline, from its corners: down at its start, up at its end."""
    normal: FloatArray = np.cross(c - a, d - b)
    length = float(np.linalg.norm(normal))
    return normal / length if length else normal


def _creases(walls: Sequence[Facet]) -> Iterator[FloatArray]:
    """The edges between walls that follow each other, where they bend."""
    for before, wall in zip([walls[-1], *walls[:-1]], walls, strict=True):
        if float(before.outward @ wall.outward) < CREASE:
            yield wall.loops[0][:2]


def _cap(facets: list[Facet], edges: list[FloatArray], above: Region, below: Region, depth: float) -> None:
    """What lies open at a depth between two slabs: toward the outside, what only the lower one has, and the reverse."""
    for region, way in ((_less(below, above), 1.0), (_less(above, below), -1.0)):
        for part in region.parts:
            if part.area < SLIVER * part.length:
                continue
            loops = tuple(np.column_stack([points, np.full(len(points), -depth)]) for points in _corners(part.loops))
            facets.append(Facet(loops, np.array([0.0, 0.0, way]), 0))
            edges += [np.array(pair) for loop in loops for pair in zip(loop, np.roll(loop, -1, axis=0), strict=True)]


def _less(a: Region, b: Region) -> Region:
    return a if a.is_empty or b.is_empty else difference(a, b)


def _corners(loops: Iterable[Path]) -> list[FloatArray]:
    """(n, 2) each."""
    return [loop.points(CHORD) for loop in loops]
