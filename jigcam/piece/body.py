"""What a joint takes from a board, with its sections, box and volume worked out once. Board frame, mm."""

from __future__ import annotations

from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

from jigcam.geometry import Region, union, within
from jigcam.wood import Taken

WITHIN = 1e-4
"""Sections at the ends of a slab are taken this far inside it, where they are certain, mm."""
GAUSS = 0.5 / 3.0**0.5
"""Places of Gauss's two-point rule from the middle of a slab, as a share of it: areas of sloping walls, which grow with
the square of the depth, come out exactly."""


REMEMBERED = 256
"""Bodies that are kept: more than a piece has as a rule."""


class Bounds(NamedTuple):
    """Bounds in the board frame; d is the depth from the outside face."""

    x0: float
    y0: float
    d0: float
    x1: float
    y1: float
    d1: float

    def apart(self, other: Bounds) -> float:
        """How far apart two boxes are, seen square at the face, along the axis on which they are furthest apart."""
        return max(self.x0 - other.x1, other.x0 - self.x1, self.y0 - other.y1, other.y0 - self.y1)


def body_of(taken: Taken) -> Body:
    """The body of a solid: the same one for all who ask, as its sections are asked for again and again."""
    known = _KNOWN.pop(id(taken), None)
    if known is None or known.taken is not taken:
        known = Body(taken)
    _KNOWN[id(taken)] = known
    if len(_KNOWN) > REMEMBERED:
        del _KNOWN[next(iter(_KNOWN))]
    return known


class Body:
    """A solid that a joint takes, cut off at the board's sides."""

    def __init__(self, taken: Taken) -> None:
        self.taken = taken
        self.depths = taken.depths
        self._sections: dict[float, Region] = {}
        self._board = (taken.board.length, taken.board.width)

    def section(self, depth: float) -> Region:
        """What is taken at a depth, within the board."""
        if depth not in self._sections:
            self._sections[depth] = self._clipped(self.taken.section(depth))
        return self._sections[depth]

    @property
    def middle(self) -> float:
        """Half way down."""
        return (self.depths[0] + self.depths[-1]) / 2.0

    @property
    def slabs(self) -> tuple[tuple[float, float], ...]:
        """From each depth that matters to the next."""
        return slabs_of(self.depths)

    @cached_property
    def shadow(self) -> Region:
        """All that is taken at any depth, seen square at the face."""
        return union(*(self.section(depth) for slab in self.slabs for depth in ends_of(slab)))

    @cached_property
    def box(self) -> Bounds | None:
        """Its bounds; None where it takes nothing from the board."""
        if self.shadow.is_empty:
            return None
        x0, y0, x1, y1 = self.shadow.bounds
        return Bounds(x0, y0, self.depths[0], x1, y1, self.depths[-1])

    @cached_property
    def volume(self) -> float:
        """Of the wood that it takes, mm³."""
        return sum(
            (high - low) / 2.0 * self.section(depth).area for low, high in self.slabs for depth in gauss(low, high)
        )

    def _clipped(self, region: Region) -> Region:
        length, width = self._board
        if region.is_empty:
            return region
        x0, y0, x1, y1 = region.bounds
        if x0 >= 0.0 and y0 >= 0.0 and x1 <= length and y1 <= width:
            return region
        if x1 <= 0.0 or y1 <= 0.0 or x0 >= length or y0 >= width:
            return Region.empty()
        return within(region, 0.0, 0.0, length, width)


def slabs_of(depths: tuple[float, ...]) -> tuple[tuple[float, float], ...]:
    """The slabs between neighbouring depths, none thinner than can be cut."""
    return tuple((low, high) for low, high in pairwise(depths) if high - low > 2.0 * WITHIN)


def ends_of(slab: tuple[float, float]) -> tuple[float, float]:
    """Depths just inside both ends of a slab."""
    return slab[0] + WITHIN, slab[1] - WITHIN


def gauss(low: float, high: float) -> tuple[float, float]:
    """The two depths of Gauss's rule; each weighs half."""
    middle, off = (low + high) / 2.0, (high - low) * GAUSS
    return middle - off, middle + off


_KNOWN: dict[int, Body] = {}
"""By the identity of what is taken, which its body keeps alive; the one asked for last comes last."""
