"""Two cuts in one board: the wood that both take, and the thinnest wood that stays between them. Board frame, mm."""

from __future__ import annotations

from functools import cached_property
from math import hypot

import numpy as np
import numpy.typing as npt

from jigcam.geometry import Region, intersection
from jigcam.geometry.nearest import nearest
from jigcam.geometry.segment import as_complex, as_pairs
from jigcam.piece.body import WITHIN, Body, ends_of, gauss, slabs_of
from jigcam.tolerances import TOLERANCES
from jigcam.values import dataclass

FloatArray = npt.NDArray[np.float64]

STEP = 2.0
"""Between places along an outline from which the distance to another is taken, mm; corners and arcs come beside it."""
EVEN = 0.02
"""Places where a web is no thicker than this above its least count as its thinnest, mm."""
PLACES = 9
"""Places of a web that are kept, as far apart as they come."""
GRID = 5
"""Places along either side of the grid over a ground between two faces."""
LONG = 3.0
"""See `Between.alongside`."""
SMALL = 1e-3
"""Less shared wood than this (mm³, mm²) is rounding."""


@dataclass(frozen=True, eq=False)
class Web:
    """The thinnest wood between two cuts. size: mm; 0 where they touch.

    from_a, to_b: (k, 3) x, y, depth of places on the walls of either, the nearest to each other. behind: whether one
    cut lies behind the other, seen square at a face, so that the wood is the ground of both.
    """

    size: float
    from_a: FloatArray
    to_b: FloatArray
    behind: bool

    @property
    def place(self) -> tuple[float, float]:
        """x, y of its middle."""
        middles = 0.5 * (self.from_a[:, :2] + self.to_b[:, :2])
        x, y = middles[int(np.hypot(*(middles - middles.mean(axis=0)).T).argmin())]
        return float(x), float(y)


@dataclass(frozen=True)
class Between:
    """Two cuts of different joints in one board."""

    a: Body
    b: Body

    @property
    def common(self) -> tuple[float, ...]:
        """The depths that matter where both are cut, ascending; none where one ends above the other."""
        low, high = max(self.a.depths[0], self.b.depths[0]), min(self.a.depths[-1], self.b.depths[-1])
        inside = {d for d in (*self.a.depths, *self.b.depths) if low < d < high}
        return tuple(sorted({low, high, *inside})) if high - low > 2.0 * WITHIN else ()

    @cached_property
    def _shared(self) -> tuple[float, Region]:
        volume, widest = 0.0, Region.empty()
        for low, high in slabs_of(self.common):
            for depth in gauss(low, high):
                region = met(self.a.section(depth), self.b.section(depth))
                volume += (high - low) / 2.0 * region.area
                if region.area > widest.area:
                    widest = region
        return (volume, widest) if volume > SMALL else (0.0, Region.empty())

    @property
    def volume(self) -> float:
        """Of the wood that both take, mm³."""
        return self._shared[0]

    @property
    def shared(self) -> Region:
        """The widest section of that wood, board frame."""
        return self._shared[1]

    @property
    def share(self) -> float:
        """How much of the smaller of both the other takes too."""
        return self.volume / min(self.a.volume, self.b.volume) if self.volume else 0.0

    @property
    def alongside(self) -> bool:
        """Whether they lie in each other lengthwise, rather than cross: the wood that both take is long for its widths.

        Where two strips cross at a right angle, half the outline of what they share is the sum of their widths; it is
        `LONG` times as much where they cross at less than 20°.
        """
        widths = sum(2.0 * body.shadow.area / body.shadow.length for body in (self.a, self.b))
        return self.shared.length / 2.0 > LONG * widths

    @cached_property
    def web(self) -> Web | None:
        """The wood between them; None where they take the same wood.

        Where one ends above the other, what counts is from floor to floor; where both are cut at one depth, from wall
        to wall, at the ends of slopes, where straight walls come nearest.
        """
        if self.volume:
            return None
        if not self.common:
            return self._over()
        found = [
            _beside(self.a.section(depth), self.b.section(depth), (low + high) / 2.0)
            for low, high in slabs_of(self.common)
            for depth in ends_of((low, high))
        ]
        return min((web for web in found if web is not None), key=lambda web: web.size, default=None)

    def _over(self) -> Web | None:
        """From the floor of the one to the floor of the other."""
        deeper = self.a.depths[0] >= self.b.depths[-1] - 2.0 * WITHIN
        here, there = (self.a.depths[0], self.b.depths[-1]) if deeper else (self.a.depths[-1], self.b.depths[0])
        inward = WITHIN if deeper else -WITHIN
        one, other = self.a.section(here + inward), self.b.section(there - inward)
        rise = abs(there - here)
        ground = met(one, other)
        if ground.area > SMALL:
            spots = _spots(ground)
            return Web(rise, _at(spots, here), _at(spots, there), behind=True)
        web = _beside(one, other, here)
        if web is None:
            return None
        to_b = _at(web.to_b[:, :2], there)
        return Web(hypot(web.size, rise), web.from_a, to_b, behind=False)


def met(a: Region, b: Region) -> Region:
    """What two regions share, asked of their boxes first."""
    if a.is_empty or b.is_empty:
        return Region.empty()
    (ax0, ay0, ax1, ay1), (bx0, by0, bx1, by1) = a.bounds, b.bounds
    if ax0 >= bx1 or bx0 >= ax1 or ay0 >= by1 or by0 >= ay1:
        return Region.empty()
    return intersection(a, b)


def _beside(a: Region, b: Region, depth: float) -> Web | None:
    """The web between two sections that share nothing, given at a depth."""
    if a.is_empty or b.is_empty:
        return None
    on_a, across, gap_a = _across(a, b)
    on_b, back, gap_b = _across(b, a)
    gap = np.concatenate([gap_a, gap_b])
    least = float(gap.min())
    thin = np.flatnonzero(gap <= least + EVEN)
    rows = thin[np.unique(np.linspace(0, len(thin) - 1, PLACES).round().astype(np.intp))]
    size = least if least > TOLERANCES.same_point else 0.0
    return Web(size, _at(np.vstack([on_a, back])[rows], depth), _at(np.vstack([across, on_b])[rows], depth), False)


def _across(a: Region, b: Region) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Places along the outline of `a` (k, 2), the nearest on that of `b`, and how far that is."""
    rows = [loop.points(TOLERANCES.facet) for loop in a.loops]
    rows += [loop.at(np.arange(0.0, loop.length, STEP))[0] for loop in a.loops]
    points = as_complex(np.vstack(rows))
    segments = b.as_segments()
    gap, index = nearest(points, segments)
    its = segments.take(index)
    foot = its.at(np.clip(its.foot(points)[1], 0.0, 1.0))
    return as_pairs(points), as_pairs(foot), gap


def _spots(region: Region) -> FloatArray:
    """Places well inside a region (k, 2), on a grid over it."""
    x0, y0, x1, y1 = region.bounds
    share = (np.arange(GRID) + 0.5) / GRID
    grid = np.array([(x0 + u * (x1 - x0), y0 + v * (y1 - y0)) for u in share for v in share])
    depth = region.signed_distance(grid)
    inside = grid[depth > min(0.25, 0.5 * float(depth.max()))]
    return inside if len(inside) else grid[[int(depth.argmax())]]


def _at(points: FloatArray, depth: float) -> FloatArray:
    return np.column_stack([points, np.full(len(points), depth)])
