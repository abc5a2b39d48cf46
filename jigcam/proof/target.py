"""What a file is meant to do to a piece of stock: what it must remove, what it may, and what it has to keep clear of.

Frame: the file frame, mm, z zero on the top of the stock, z up. Everything here is a drawing; nothing in it knows how
it is cut.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise
from typing import Literal

import numpy as np

from jigcam.geometry import Path, Region, difference, rectangle, union, within
from jigcam.geometry.pairs import overlaps_within
from jigcam.proof.outline import bounds_of
from jigcam.proof.strokes import Strokes

APART = 0.01
"""Bounds further apart than twice this have nothing to do with each other, mm: far more than what a union joins."""
INSIDE = 1e-3
"""How far inside a layer its section is taken: above its bottom and below its top, mm."""

Section = Callable[[float], Region]


@dataclass(frozen=True)
class Stock:
    """A box: x0 to x1, y0 to y1, from z = 0 down to −thickness.

    Its `region` raises InputError unless x0 < x1 and y0 < y1.
    """

    x0: float
    y0: float
    x1: float
    y1: float
    thickness: float

    @classmethod
    def of_size(cls, width: float, height: float, thickness: float) -> Stock:
        """With its lower left corner at the origin."""
        return cls(0.0, 0.0, width, height, thickness)

    @cached_property
    def region(self) -> Region:
        """Seen from above."""
        return rectangle(self.x0, self.y0, self.x1, self.y1)


@dataclass(frozen=True)
class Removal:
    """A solid to remove.

    section(z): the region that may go at height z; needed(z): the part of it that has to, all of it if None. levels:
    the heights, descending from its top to its bottom, between which its walls are plain: upright or evenly sloped.
    prismatic: the section is the same at all heights of a layer.
    """

    name: str
    section: Section
    levels: tuple[float, ...]
    needed: Section | None = None
    prismatic: bool = True

    @classmethod
    def prism(
        cls, name: str, region: Region, depth: float, *, top: float = 0.0, needed: Region | None = None
    ) -> Removal:
        """Upright walls from `top` down to −depth. needed: the part that has to go; all of it if None."""
        return cls(name, lambda _: region, (top, -depth), None if needed is None else lambda _: needed)

    def covers(self, z: float) -> bool:
        """Whether it reaches height z."""
        return self.levels[-1] <= z <= self.levels[0]


@dataclass(frozen=True)
class Mark:
    """Lines engraved `width` wide and `depth` deep with whatever profile; paths on the middle of the lines."""

    paths: tuple[Path, ...]
    width: float
    depth: float

    @cached_property
    def strokes(self) -> Strokes:
        """The lines."""
        return Strokes.along(self.paths)


@dataclass(frozen=True)
class KeepOut:
    """A clamp, a screw, a stop: nothing of the tool may enter x0 to x1, y0 to y1 below `height`.

    Its `region` raises InputError unless x0 < x1 and y0 < y1.
    """

    x0: float
    y0: float
    x1: float
    y1: float
    height: float
    name: str = "keep-out"

    @cached_property
    def region(self) -> Region:
        """Seen from above."""
        return rectangle(self.x0, self.y0, self.x1, self.y1)


@dataclass(frozen=True)
class Layer:
    """Heights low to high between which the drawing has one law. upright: the same section at all of them."""

    low: float
    high: float
    upright: bool


@dataclass(frozen=True)
class Target:
    """The drawing of one clamping.

    spoil: how far a through cut may go on below the stock, mm. held: places that screws or clamps hold, (x, y); without
    any, the largest piece is taken to be held. clear_height: z from which the tool may travel freely, None if unknown.
    units: what the file was said to be written in, None if nothing was said. length_offsets: each bit that a changer
    puts in has to be given its length offset (G43 H) before it moves in z. told: the comments that the file is to have,
    as people are to read and obey them; None if nothing was said of them. asked: whatever the file says it is, it was
    asked for as this one. gone: what files that are run before take out of the stock, which eases the load on the bit
    and decides nothing else; opened: the same of what was taken from below, with the other face up.
    """

    stock: Stock
    removals: tuple[Removal, ...] = ()
    marks: tuple[Mark, ...] = ()
    keep_outs: tuple[KeepOut, ...] = ()
    held: tuple[tuple[float, float], ...] = ()
    spoil: float = 0.0
    clear_height: float | None = None
    units: Literal["mm", "in"] | None = None
    length_offsets: bool = False
    told: tuple[str, ...] | None = None
    asked: bool = False
    gone: tuple[Removal, ...] = ()
    opened: tuple[Removal, ...] = ()
    _memory: dict[tuple[str, object], Region] = field(default_factory=dict, repr=False, compare=False)

    @property
    def bottom(self) -> float:
        """The lowest height that the tool may reach."""
        return -self.stock.thickness - self.spoil

    @cached_property
    def layers(self) -> tuple[Layer, ...]:
        """From the top of the stock to its bottom."""
        heights = {0.0, -self.stock.thickness}
        heights |= {z for removal in self.removals for z in removal.levels}
        heights |= {-mark.depth for mark in self.marks}
        inside = sorted((z for z in heights if -self.stock.thickness <= z <= 0.0), reverse=True)
        layers = []
        for high, low in pairwise(inside):
            if high - low > 2.0 * INSIDE:
                middle = (high + low) / 2.0
                layers.append(Layer(low, high, all(r.prismatic for r in self.removals if r.covers(middle))))
        return tuple(layers)

    def may(self, z: float) -> Region:
        """What may be gone at height z, marks apart; it may reach beyond the stock."""
        return self._at("may", z, lambda: united(self._sections(z, needed=False)))

    def must(self, z: float) -> Region:
        """What has to be gone at height z: within the stock, marks apart."""
        return self._at("must", z, lambda: self._within(united(self._sections(z, needed=True))))

    def keep(self, z: float) -> Region:
        """The wood that has to stay at height z, marks apart."""
        return self._at("keep", z, lambda: self._without(self.may(z)))

    def marks_at(self, z: float) -> tuple[Mark, ...]:
        """The marks that reach height z."""
        return tuple(mark for mark in self.marks if z >= -mark.depth)

    def _inside(self, region: Region) -> bool:
        """Whether a region lies wholly within the stock, seen from above."""
        if region.is_empty:
            return True
        (x0, y0, x1, y1), stock = bounds_of(region), self.stock
        return stock.x0 < x0 and stock.y0 < y0 and x1 < stock.x1 and y1 < stock.y1

    def _within(self, region: Region) -> Region:
        stock = self.stock
        return region if self._inside(region) else within(region, stock.x0, stock.y0, stock.x1, stock.y1)

    def _without(self, region: Region) -> Region:
        """The stock less a region; what lies wholly within it becomes holes as it is."""
        if self._inside(region):
            return Region((*self.stock.region.loops, *(loop.reversed() for loop in region.loops)))
        return difference(self.stock.region, region)

    def _sections(self, z: float, *, needed: bool) -> list[Region]:
        at = [removal for removal in self.removals if removal.covers(z)]
        return [(removal.needed if needed and removal.needed else removal.section)(z) for removal in at]

    def _at(self, kind: str, z: float, make: Callable[[], Region]) -> Region:
        """Remembers each answer; in an upright layer all heights share one."""
        layer = next((layer for layer in self.layers if layer.low < z < layer.high), None)
        key = (kind, layer if layer is not None and layer.upright else z)
        if key not in self._memory:
            self._memory[key] = make()
        return self._memory[key]


def united(regions: list[Region]) -> Region:
    """All of them in one. Those whose bounds keep apart stand as they are: only neighbours have to be united, and of
    many joints in one sheet at as many depths hardly any are. Raises GeometryError where a union fails."""
    if len(regions) == 1:
        return regions[0]
    some = [region for region in regions if not region.is_empty]
    parts = [group[0] if len(group) == 1 else union(*group) for group in neighbours(some)]
    return parts[0] if len(parts) == 1 else Region(tuple(loop for part in parts for loop in part.loops))


def neighbours(regions: list[Region]) -> list[list[Region]]:
    """The regions in groups, bounds of different groups more than twice `APART` from each other; in order of the first
    of each."""
    if len(regions) < 2:
        return [regions] if regions else []
    x0, y0, x1, y1 = np.array([region.bounds for region in regions]).T
    group = list(range(len(regions)))
    pairs = overlaps_within((x0 - APART, y0 - APART, x1 + APART, y1 + APART))
    for i, j in zip(*(each.tolist() for each in pairs), strict=True):
        one, other = _root(group, i), _root(group, j)
        group[max(one, other)] = min(one, other)
    found: dict[int, list[Region]] = {}
    for place, region in enumerate(regions):
        found.setdefault(_root(group, place), []).append(region)
    return list(found.values())


def _root(group: list[int], place: int) -> int:
    """The first of the group that a place is in; the way there is made shorter."""
    while group[place] != place:
        group[place] = group[group[place]]
        place = group[place]
    return place
