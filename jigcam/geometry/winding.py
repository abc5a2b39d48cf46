"""How often closed loops of lines and arcs wind round points."""

from __future__ import annotations

import numpy as np

from jigcam.geometry.segment import ComplexArray, FloatArray, IntArray, Segments

PAIRS = 50_000
"""Point–segment pairs that are worked on at once: few enough for the cache."""
FEWER = 4
"""The other ray is taken where it meets so many times fewer segments. Bounds of arcs count at least half of what their
parts do, so with more than 2 it is never taken back."""
TURN = -1j
"""A quarter turn: +y becomes +x, and not a digit is lost."""


def winding_number(points: ComplexArray, segments: Segments, kinds: IntArray | None = None, count: int = 1) -> IntArray:
    """Winding numbers (count, k) of the loops of each kind round each point.

    segments: all segments of closed loops, in any order; kinds: the kind 0 … count − 1 of each (all 0 if left out).

    A ray from the point along +x counts the curves that it crosses, +1 for one that goes up. Whether a curve reaches
    across the height of a point is asked of its end points only, low ≤ y < high, so the count is a whole number
    without gaps at shared vertices; only points within rounding of a curve itself can be taken for either side of it.
    Points are sorted by height, so the pairs looked at are only those where the segment is at the point's height. Of
    shapes side by side those are nearly all: where they are many and fewer along y, the ray is one along +y.
    """
    numbers = np.zeros((count, len(points)), dtype=np.int64)
    if not len(points) or not len(segments):
        return numbers
    if kinds is None:
        kinds = np.zeros(len(segments), dtype=np.int64)
    chain, owner = monotone(segments)
    kind = kinds[owner]
    order = np.argsort(points.imag, kind="stable")
    low, spans = _met(points.imag[order], chain.start.imag, chain.end.imag)
    rows = np.flatnonzero(spans)
    total = np.cumsum(spans[rows])
    if len(rows) and total[-1] > PAIRS:
        left, _, right, _ = segments.boxes(0.0)
        _, along_y = _met(np.sort(points.real), left, right)
        if FEWER * along_y.sum() < total[-1]:
            turned = Segments(segments.start * TURN, segments.end * TURN, segments.bulge)
            return winding_number(points * TURN, turned, kinds, count)
    first = 0
    while first < len(rows):
        base = total[first - 1] if first else 0
        last = max(first + 1, int(np.searchsorted(total, base + PAIRS, side="right")))
        some = rows[first:last]
        each = spans[some]
        segment = np.repeat(some, each)
        within = np.arange(each.sum()) - np.repeat(np.cumsum(each) - each, each)
        point = order[np.repeat(low[some], each) + within]
        crossing = _crosses_right(points[point], chain.take(segment))
        for k in range(count):
            chosen = crossing if count == 1 else np.where(kind[segment] == k, crossing, 0)
            numbers[k] += np.bincount(point, weights=chosen, minlength=len(points)).astype(np.int64)
        first = last
    return numbers


def _met(heights: FloatArray, start: FloatArray, end: FloatArray) -> tuple[IntArray, IntArray]:
    """The first of ascending heights that lies between two ends, low ≤ height < high, and how many do; (k,) each."""
    low = np.searchsorted(heights, np.minimum(start, end), side="left")
    high = np.searchsorted(heights, np.maximum(start, end), side="left")
    return low, high - low


def _crosses_right(points: ComplexArray, chain: Segments) -> IntArray:
    """+1 or −1 where the segment, monotone in y and at the height of the point, passes to its right; else 0."""
    up = chain.end.imag > chain.start.imag
    left_of_curve = (chain.side(points) > 0.0) == up
    bulges_right = (chain.bulge > 0.0) == up
    # `side` asks about the whole circle; the ends tell its near half from its far half.
    before = points.real < np.minimum(chain.start.real, chain.end.real)
    beyond = points.real > np.maximum(chain.start.real, chain.end.real)
    right = np.where(bulges_right, before | left_of_curve, left_of_curve & ~beyond)
    # Beside a line that is all but level rounding may say either; its ends do not.
    right = np.where(chain.bulge == 0.0, before | (left_of_curve & ~beyond), right)
    return np.where(right, np.where(up, 1, -1), 0)


def monotone(segments: Segments) -> tuple[Segments, IntArray]:
    """The segments with arcs cut at the tops and bottoms of their circles, and the index that each part came from."""
    arcs = np.flatnonzero(segments.bulge)
    owner = np.arange(len(segments))
    if not len(arcs):
        return segments, owner
    some = segments.take(arcs)
    centre, radius = some.centre, some.radius
    # An arc of at most half a turn passes one extreme at most: the one on the side of its middle.
    middle = some.at(np.full(len(arcs), 0.5))
    extreme = centre + 1j * np.where(middle.imag >= centre.imag, radius, -radius)
    passes = some.in_sector(extreme, centre) & (extreme != some.start) & (extreme != some.end)
    # An extreme within rounding of an end would give a part of no length.
    far = 1e-9 * radius
    passes &= (np.abs(extreme - some.start) > far) & (np.abs(extreme - some.end) > far)
    cut = some.take(passes)
    if not len(cut):
        return segments, owner
    top, hub = extreme[passes], centre[passes]
    swept = np.angle((top - hub) / (cut.start - hub))
    first = Segments(cut.start, top, np.tan(0.25 * swept))
    second = Segments(top, cut.end, np.tan(0.25 * (cut.sweep - swept)))
    whole = np.ones(len(segments), dtype=bool)
    whole[arcs[passes]] = False
    chain = Segments.joined([segments.take(whole), first, second])
    return chain, np.concatenate([owner[whole], arcs[passes], arcs[passes]])
