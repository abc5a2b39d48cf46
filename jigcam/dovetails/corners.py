"""Inside corners and a round bit: what it reaches of a solid, and relief so that a sharp mate seats."""

from __future__ import annotations

import math

from jigcam.dovetails.solids import Drafted
from jigcam.geometry import Region, capsule, opening, union
from jigcam.values import dataclass
from jigcam.wood.solid import Solid

Point = tuple[float, float]

ROUNDED, RELIEVED = 1.3, 1.6
"""How far a corner that is left round, or relieved, reaches along its walls, in radii of the bit. With half the angle
between the walls h: 1/tan h, 1.28 at 1:4, and 2 cos h, 1.58 (derived)."""


def corner_reach(radius: float, *, relieved: bool) -> float:
    """How far an inside corner that a bit of that radius leaves round, or relieves, reaches along its walls, mm."""
    return (RELIEVED if relieved else ROUNDED) * radius


@dataclass(frozen=True, slots=True)
class InsideCorner:
    """An inside corner of a solid, from its face (top) to its bottom.

    inward: unit vector into the waste, bisecting. half_angle: between that and either wall, rad.
    """

    top: Point
    bottom: Point
    inward: Point
    half_angle: float

    def inside(self, distance: float, share: float) -> Point:
        """The point so far from the corner along its bisector, at a share of the depth."""
        x = self.top[0] + share * (self.bottom[0] - self.top[0])
        y = self.top[1] + share * (self.bottom[1] - self.top[1])
        return x + distance * self.inward[0], y + distance * self.inward[1]

    def rounds(self, radius: float, share: float) -> list[Region]:
        """What a bit of that radius clears that comes from where it touches both walls and goes on along the bisector
        until its rim passes the corner; at a share of the depth, with what its lower cuts clear above them."""
        last = self.inside(radius, share)
        return [
            capsule(self.inside(radius / math.sin(self.half_angle), share), last, radius),
            capsule(last, self.inside(radius, 1.0), radius),
        ]


@dataclass(frozen=True, slots=True)
class Opened:
    """What a round bit reaches of a solid."""

    whole: Solid
    radius: float

    @property
    def depth(self) -> float:
        """As deep as the whole."""
        return self.whole.depth

    def section(self, z: float) -> Region:
        """The opening of the section at z by the bit's disc."""
        region = self.whole.section(z)
        return region if region.is_empty else opening(region, self.radius)

    def levels(self) -> tuple[float, ...]:
        """As of the whole."""
        return self.whole.levels()


@dataclass(frozen=True, slots=True)
class Relieved:
    """A solid with its inside corners cut out by a round bit: in each the bit goes on along the bisector until its rim
    passes the corner, which takes the least wood that frees it.

    Where walls slope, it does so in every terrace; a bit is straight, so the rounds of lower terraces reach up.
    """

    whole: Solid
    radius: float
    corners: tuple[InsideCorner, ...]

    @property
    def depth(self) -> float:
        """As deep as the whole."""
        return self.whole.depth

    def section(self, z: float) -> Region:
        """The section at z and the rounds that reach through it."""
        region = self.whole.section(z)
        if region.is_empty:
            return region
        share = -z / self.depth
        return union(region, *(each for corner in self.corners for each in corner.rounds(self.radius, share)))

    def levels(self) -> tuple[float, ...]:
        """As of the whole."""
        return self.whole.levels()


def inside_corners(solid: Drafted, length: float, width: float) -> tuple[InsideCorner, ...]:
    """The corners of a solid that lie inside a board (its length and width in mm), where a round bit cannot reach."""
    corners = []
    for top, bottom in zip(solid.top, solid.bottom, strict=True):
        for k, (x, y) in enumerate(top):
            if 0.0 < x < length and 0.0 < y < width:
                corners.append(InsideCorner(top[k], bottom[k], *_bisector(top[k - 1], top[k], top[(k + 1) % len(top)])))
    return tuple(corners)


def _bisector(before: Point, corner: Point, after: Point) -> tuple[Point, float]:
    """The unit vector halfway between both neighbours of a corner, and its angle from either."""

    def unit(to: Point) -> Point:
        dx, dy = to[0] - corner[0], to[1] - corner[1]
        length = math.hypot(dx, dy)
        return dx / length, dy / length

    (ax, ay), (bx, by) = unit(before), unit(after)
    length = math.hypot(ax + bx, ay + by)
    return ((ax + bx) / length, (ay + by) / length), math.acos(length / 2.0)
