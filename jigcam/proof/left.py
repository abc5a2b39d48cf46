"""What is left standing: the greatest distance of any place that must be cut from what the tool has swept.

Branch and bound over squares. D(p), the distance of a place from the swept ground, is the least over all strokes of
(distance from the stroke − its radius); asked for is the greatest D in the region. From below it is bounded by D of any
place of the region: the best so far is kept, exactly, and each square gives a place to try. From above one stroke alone
bounds D. Over P, the part of a square that lies in the region, D is at most the greatest distance from that stroke −
its radius. Distance from a straight stroke is convex, so over a convex cover of P it is greatest at a corner of the
cover; `covers.farthest` has the same for arcs. D is also at most the mean of two strokes: between passes side by side
each alone is too far from the other's side, and their mean is half of what parts them all the way (`_by_two`). A square
whose bound is no more than the best D and what is allowed on top (`enough`) is settled, and dropped. Others are
quartered.

*The cover* is the square, cut by the tangents of the outline where one stroke of it crosses the square, or two that
meet in a corner without wood in it or that face each other; where it is one arc, by its circle too. So walls cut true
are settled by large squares, whose number does not grow with the exactness asked for.

*What remains*: the answer is never too large but for rounding. A settled square hides at most `known`, or `COARSE` of
the answer. Squares are dropped unsettled once half a side is `SMALLEST`: each had a place tried within 2·√2 halves of
all of its part, and D changes no faster than the place moves, so nothing in it is more than 2·√2 · 5e-5 = 1.5e-4 mm
beyond that place, nor that place more than `FACET` beyond the best (`try_places`): 6.5e-4 mm in all, less than a tenth
of what a cut may leave.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from jigcam.geometry.pairs import spread
from jigcam.proof.covers import CORNERS, ROUNDING, Cover, convex_bound, farthest, polygon_of
from jigcam.proof.outline import Near, Outline, bounds_of
from jigcam.proof.strokes import FACET
from jigcam.proof.whole import Swept, not_whole
from jigcam.values import dataclass

KNOWN = 5e-4
"""The answer is known within this, mm: a twentieth of what a cut may leave."""
COARSE = 2e-3
"""Much left need not be known better than this share of it: 2 mm of wood left are told within 4 µm."""
SMALLEST = 5e-5
"""Half side of the smallest squares, mm: what they hide is less than a third of `KNOWN`."""
MOST_SQUARES = 2_000
"""Squares looked at in one go, four quarters of each handful: enough for numpy's rows to pay, few enough to be held."""
MOST_ACROSS = 48
"""Squares along the longer side at the start, at most; they are as wide as the widest tool where that makes fewer."""
DIAGONAL = float(np.sqrt(2.0))  # half a diagonal of a square over half its side
BENDS_TO, BENDS_BY = 0.7, 1.3
"""Up to s = 0.7 r a circle leaves its tangent by r − √(r² − s²), at most 1.17 times s²/2r (derived): less than 1.3."""


@dataclass(frozen=True)
class Left:
    """The thickest wood left: its size is the distance from the swept ground, mm; 0 if none. place: (2,) or None."""

    size: float
    place: np.ndarray | None


NOTHING_LEFT = Left(0.0, None)


def beyond(points: np.ndarray, sweeps: Sequence[Swept]) -> tuple[np.ndarray, np.ndarray]:
    """Signed distances (k, len(sweeps)) of points from each swept ground, positive outside, and the nearest strokes."""
    gap = np.full((len(points), len(sweeps)), np.inf)
    nearest = np.zeros((len(points), len(sweeps)), np.intp)
    if len(points):
        for column, sweep in enumerate(sweeps):
            if len(sweep.strokes):
                nearest[:, column] = sweep.strokes.tree.nearest(points)
                gap[:, column] = sweep.strokes.distance(points, nearest[:, column]) - sweep.radius
    return gap, nearest


def thickest_left(must: Outline, sweeps: Sequence[Swept], known: float = KNOWN) -> Left:
    """The greatest distance from the swept ground of a place in `must`; 0 where all of it is swept.

    Some place has it, and no place more by more than `known` (mm) or `COARSE` of it, or than what the smallest squares
    hide. Without any stroke nothing is swept, and all of `must` is left: the size is then that of its bounds.
    """
    sweeps = [sweep for sweep in sweeps if len(sweep.strokes)]
    if must.is_empty:
        return NOTHING_LEFT
    x0, y0, x1, y1 = bounds_of(must.region)
    if not sweeps:
        return Left(max(x1 - x0, y1 - y0), must.strokes.a[0])
    search = _Search(must, sweeps, known)
    search.try_places(must.strokes.a)
    rest = not_whole(must, sweeps, search.enough)
    if not rest.is_empty:
        search.look_through(rest)
    return Left(search.best, search.place)


@dataclass(frozen=True)
class _Squares:
    """k squares of one size that the region reaches into: middles (k, 2), half a side, and the strokes of the outline
    within half a diagonal of each. Squares without such a stroke lie wholly in the region."""

    middles: np.ndarray
    half: float
    near: Near

    def __len__(self) -> int:
        return len(self.middles)

    @property
    def touching(self) -> np.ndarray:
        """(k,) how many strokes are near each."""
        return np.bincount(self.near.i, minlength=len(self))

    def take(self, keep: np.ndarray) -> _Squares:
        """Those of a mask."""
        return _Squares(self.middles[keep], self.half, self.near.among(keep))

    def some(self) -> Iterator[_Squares]:
        """The same, a handful at a time."""
        number = np.arange(len(self))
        for k in range(0, len(self), MOST_SQUARES // 4):
            yield self.take((number >= k) & (number < k + MOST_SQUARES // 4))


class _Search:
    def __init__(self, must: Outline, sweeps: Sequence[Swept], known: float) -> None:
        self.must = must
        self.sweeps = sweeps
        self.known = known
        self.best = 0.0
        self.place: np.ndarray | None = None
        self.round = np.empty(0)

    @property
    def enough(self) -> float:
        """What is no farther off than this needs no further look, mm. It only grows, so what was dropped stays so."""
        return self.best + max(self.known, COARSE * self.best)

    def look_through(self, must: Outline) -> None:
        """Looks for the farthest place of a region."""
        self.must = must
        # For each round stroke of the outline: no place within its circle is farther off than this, D of its centre and
        # the radius, as D changes no faster than the place moves.
        arcs = np.flatnonzero(must.strokes.sweep > 0.0)
        self.round = np.full(len(must.strokes), np.inf)
        self.round[arcs] = beyond(must.strokes.centre[arcs], self.sweeps)[0].min(axis=1) + must.strokes.radius[arcs]
        heap = [some for first in self._first() for some in self._unsettled(first).some()]
        while heap:
            rest = self._unsettled(self._quarters(heap.pop()))
            if rest.half > SMALLEST:
                heap.extend(rest.some())

    def _first(self) -> Iterator[_Squares]:
        """Squares that cover the region. One without a stroke within half a diagonal lies on the side of its middle."""
        x0, y0, x1, y1 = bounds_of(self.must.region)
        longer = max(x1 - x0, y1 - y0)
        widest = max(sweep.radius for sweep in self.sweeps)
        size = min(longer, max(widest, 1.0, longer / MOST_ACROSS))
        columns, rows = max(1, int(np.ceil((x1 - x0) / size))), max(1, int(np.ceil((y1 - y0) / size)))
        half = max((x1 - x0) / columns, (y1 - y0) / rows) / 2.0
        gx, gy = np.meshgrid(x0 + half * (2 * np.arange(columns) + 1), y0 + half * (2 * np.arange(rows) + 1))
        middles = np.column_stack([gx.ravel(), gy.ravel()])
        near = self.must.near(middles, np.full(len(middles), half * DIAGONAL))
        free = np.bincount(near.i, minlength=len(middles)) == 0
        keep = ~free
        keep[free] = self.must.inside(middles[free])
        return _Squares(middles, half, near).take(keep).some()

    def _quarters(self, squares: _Squares) -> _Squares:
        """The quarters of squares that the region reaches into. What is near a quarter is near the whole as well."""
        half = squares.half / 2.0
        middles = (squares.middles[:, None, :] + CORNERS[None] * half).reshape(-1, 2)
        counts = squares.touching
        owner, pair = spread(np.repeat(np.cumsum(counts) - counts, 4), np.repeat(counts, 4))
        j = squares.near.j[pair]
        near = Near(owner, j, self.must.strokes.distance(middles[owner], j))
        close = near.within(np.full(len(middles), half * DIAGONAL))
        # No outline comes between a middle and the nearest stroke near the whole square: that one tells the side.
        open_ = (np.bincount(close.i, minlength=len(middles)) == 0) & np.repeat(counts > 0, 4)
        keep = np.ones(len(middles), bool)
        keep[open_] = self.must.inside_by(middles[open_], near.among(open_))
        return _Squares(middles, half, close).take(keep)

    def try_places(self, points: np.ndarray) -> np.ndarray:
        """Takes note of the farthest of some places of the region; returns the nearest strokes (k, sweeps). The tree
        knows arcs by chords: only the farthest is looked at exactly, and others may be beyond the best by `FACET`."""
        gap, nearest = beyond(points, self.sweeps)
        if len(points):
            left = gap.min(axis=1)
            worst = int(left.argmax())
            if left[worst] > self.best:
                exact = self._exactly(points[worst], gap[worst])
                if exact > self.best:
                    self.best, self.place = exact, points[worst].copy()
        return nearest

    def _exactly(self, point: np.ndarray, gap: np.ndarray) -> float:
        """Distance of one place from the swept ground, without the chords by which the tree knows arcs."""
        least = np.inf
        for sweep, known in zip(self.sweeps, gap, strict=True):
            _, near = sweep.strokes.tree.within(point[None], known + sweep.radius + FACET)
            found = sweep.strokes.distance(np.repeat(point[None], len(near), axis=0), near)
            least = min(least, float(found.min(initial=np.inf)) - sweep.radius)
        return least

    def _unsettled(self, rest: _Squares) -> _Squares:
        """Those that may hold a place farther off than the farthest known by more than is allowed. Each tool bounds a
        square by its stroke nearest to the place tried; a cover without corners holds no part of the region."""
        squares, half, j, touching = rest.middles, rest.half, rest.near.j, rest.touching
        if not len(squares):
            return rest
        first = np.cumsum(touching) - touching
        # A place of the region in or by each square: its middle, or the nearest on the outline.
        places = squares.copy()
        edged = touching > 0
        if edged.any():
            places[edged] = self.must.strokes.foot(squares[edged], j[first[edged]])[1]
        nearest = self.try_places(places)
        corners, real = self._part(squares, half, touching, first, j)
        alone = np.where(touching == 1, j[np.minimum(first, len(j) - 1)], -1) if len(j) else np.full(len(squares), -1)
        circles = self._circles(alone)
        bound = np.where(alone >= 0, self.round[alone], np.inf)
        part = Cover(corners, real, half, *circles)
        lone = np.zeros(len(squares), np.intp)
        for column, sweep in enumerate(self.sweeps):
            one = farthest(part, sweep.strokes, nearest[:, column]) - sweep.radius
            lone[one < bound] = column
            bound = np.minimum(bound, one)
        bound[~real.any(axis=1)] = -np.inf
        open_ = np.flatnonzero(bound > self.enough)
        if len(open_):
            bound[open_] = np.minimum(
                bound[open_], self._by_two(corners[open_], real[open_], lone[open_], nearest[open_, lone[open_]])
            )
        return rest.take(bound > self.enough)

    def _by_two(self, corners: np.ndarray, real: np.ndarray, tool: np.ndarray, stroke: np.ndarray) -> np.ndarray:
        """(k,) bound on D over covers with corners (k, 13, 2), of which some are real, by the mean of two strokes: the
        one given for each, with its tool (k,), and the one nearest to the corner that is farthest from it."""
        first = self._above(corners, real, tool, stroke)
        worst = corners[np.arange(len(corners)), first.argmax(axis=1)]
        gap, nearest = beyond(worst, self.sweeps)
        other = gap.argmin(axis=1)
        second = self._above(corners, real, other, nearest[np.arange(len(worst)), other])
        bound: np.ndarray = ((first + second) / 2.0).max(axis=1)
        return bound

    def _above(self, corners: np.ndarray, real: np.ndarray, tool: np.ndarray, stroke: np.ndarray) -> np.ndarray:
        """(k, 13) at each corner a convex function that is nowhere below distance from a stroke − radius of its tool;
        −inf at those that are not real."""
        above = np.full(real.shape, -np.inf)
        for column in np.unique(tool):
            rows = np.flatnonzero(tool == column)
            sweep = self.sweeps[column]
            above[rows] = convex_bound(corners[rows], real[rows], sweep.strokes, stroke[rows]) - sweep.radius
        return above

    def _circles(self, alone: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Centres (k, 2) and radii of circles within which, and of those outside which, the region's part lies (k,)."""
        strokes = self.must.strokes
        arc = (alone >= 0) & strokes.arc[alone]
        hollow = strokes.sweep[alone] < 0.0
        within = np.where(arc & ~hollow, strokes.radius[alone], np.inf)
        outside = np.where(arc & hollow, strokes.radius[alone], -np.inf)
        return np.where(arc[:, None], strokes.centre[alone], 0.0), within, outside

    def _part(
        self, squares: np.ndarray, half: float, touching: np.ndarray, first: np.ndarray, j: np.ndarray
    ) -> tuple[np.ndarray, np.ndarray]:
        """Corners (k, 13, 2) of a convex cover of the region's part of each square, and which of them are real.

        Half planes cut away only what is plainly outside. One stroke: its tangent. Two: both tangents, where the region
        is what both have on their left: they meet in a convex corner (convex ones, where they meet at both ends), or do
        not meet and face each other. Else the whole square is the cover, until smaller ones part them.
        """
        count = len(squares)
        normal, offset = np.zeros((count, 2, 2)), np.full((count, 2), np.inf)
        one, two = touching == 1, touching == 2
        single = np.flatnonzero(one)
        pair = np.flatnonzero(two)
        e, f = j[first[pair]], j[np.minimum(first[pair] + 1, len(j) - 1)]
        after = self.must.following
        meet = ((after[e] == f) & self.must.convex[e]) | ((after[f] == e) & self.must.convex[f])
        both = (after[e] == f) & (after[f] == e)
        meet &= ~both | (self.must.convex[e] & self.must.convex[f])
        strip = ~meet & (after[e] != f) & (after[f] != e)
        if strip.any():
            meet[strip] = self._between(squares[pair[strip]], e[strip], f[strip])
        pair, e, f = pair[meet], e[meet], f[meet]
        for slot, rows, strokes in ((0, single, j[first[single]]), (0, pair, e), (1, pair, f)):
            normal[rows, slot], offset[rows, slot] = self._tangent(squares[rows], half, strokes)
        for slot, line, arc in ((1, e, f), (0, f, e)):
            rows = self._ends_in_round(line, arc, half)
            normal[pair[rows], slot], offset[pair[rows], slot] = self._joint(line[rows], arc[rows])
        return polygon_of(squares, half, normal, offset)

    def _ends_in_round(self, line: np.ndarray, arc: np.ndarray, half: float) -> np.ndarray:
        """(k,) whether a straight stroke runs on into a round one whose whole circle is known to be settled.

        What lies beyond their joint then needs no further look, as it is within the circle.
        """
        strokes, after = self.must.strokes, self.must.following
        settled = self.round[arc] <= self.enough
        joined = (after[line] == arc) ^ (after[arc] == line)
        smooth = np.where(after[line] == arc, self.must.smooth[line], self.must.smooth[arc])
        in_line: np.ndarray = ~strokes.arc[line] & settled & joined & smooth & (half * DIAGONAL < strokes.radius[arc])
        return in_line

    def _joint(self, line: np.ndarray, arc: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Half planes normal · x ≤ offset on the near side of the joints of lines with arcs."""
        strokes = self.must.strokes
        along = self.must.direction(strokes.a[line], line)
        onward = (self.must.following[line] == arc)[:, None]
        normal, place = np.where(onward, along, -along), np.where(onward, strokes.b[line], strokes.a[line])
        return normal, np.einsum("ij,ij->i", normal, place) + ROUNDING

    def _between(self, squares: np.ndarray, e: np.ndarray, f: np.ndarray) -> np.ndarray:
        """(k,) whether the region lies between two strokes that cross a square: each sees the other on its left."""
        foot_e, foot_f = (self.must.strokes.foot(squares, strokes)[1] for strokes in (e, f))
        along_e, along_f = self.must.direction(foot_e, e), self.must.direction(foot_f, f)
        way = foot_f - foot_e
        left_of_e = along_e[:, 0] * way[:, 1] - along_e[:, 1] * way[:, 0]
        left_of_f = along_f[:, 1] * way[:, 0] - along_f[:, 0] * way[:, 1]
        on_the_left: np.ndarray = (left_of_e > ROUNDING) & (left_of_f > ROUNDING)
        return on_the_left

    def _tangent(self, squares: np.ndarray, half: float, strokes: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Half planes normal · x ≤ offset that hold all of the region near squares crossed by one stroke each."""
        outline = self.must.strokes
        foot = outline.foot(squares, strokes)[1]
        along = self.must.direction(foot, strokes)
        outward = np.column_stack([along[:, 1], -along[:, 0]])
        # A hollow arc bends beyond its tangent: by about s²/2r at s from the foot, for s up to a diagonal.
        hollow = outline.sweep[strokes] < 0.0
        radius = np.where(hollow, outline.radius[strokes], np.inf)
        far = 2.0 * half * DIAGONAL
        bend = np.where(far < BENDS_TO * radius, BENDS_BY * far**2 / (2.0 * radius), np.inf)
        return outward, np.einsum("ij,ij->i", outward, foot) + bend + ROUNDING
