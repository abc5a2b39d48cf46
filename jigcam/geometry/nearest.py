"""Distance from many points to many segments, exactly, without trying every pair."""

from __future__ import annotations

import numpy as np

from jigcam.geometry.segment import ComplexArray, FloatArray, IntArray, Segments

PAIRS = 400_000
"""Point–segment pairs that are worked on at once; keeps the arrays in the cache and memory flat."""
GROUP = 128
"""Points that share a list of near segments when there are many of both."""


def nearest_distance(points: ComplexArray, segments: Segments) -> FloatArray:
    """Distance of each point to the nearest segment, (k,), mm; inf where there are no segments."""
    return nearest(points, segments)[0]


def nearest(points: ComplexArray, segments: Segments) -> tuple[FloatArray, IntArray]:
    """Distance of each point to the nearest segment and the index of that segment.

    Where both are many, points are sorted along a space-filling curve into small groups. From the middle of a group
    with radius ρ the segments lie at distances D; only those with D ≤ min D + 2ρ can be nearest to one of its points.
    """
    count = len(segments)
    if not count:
        return np.full(len(points), np.inf), np.full(len(points), -1, dtype=np.int64)
    if len(points) * count <= PAIRS or count <= 16 or len(points) <= GROUP:
        return _blocks(points, segments)
    order = np.argsort(z_order(points), kind="stable")
    gap = np.empty(len(points))
    index = np.empty(len(points), dtype=np.int64)
    groups = [order[i : i + GROUP] for i in range(0, len(order), GROUP)]
    middle = np.array([0.5 * (_low(points[g]) + _high(points[g])) for g in groups])
    step = max(1, PAIRS // count)
    for first in range(0, len(groups), step):
        some = groups[first : first + step]
        far = segments.distance(middle[first : first + step, None])
        for group, centre, distances in zip(some, middle[first : first + step], far, strict=True):
            reach = 2.0 * np.abs(points[group] - centre).max()
            near = np.flatnonzero(distances <= distances.min() + reach * (1.0 + 1e-9) + 1e-9)
            gap[group], inner = _blocks(points[group], segments.take(near))
            index[group] = near[inner]
    return gap, index


def z_order(points: ComplexArray) -> IntArray:
    """Place of each point on a Z-order curve (bits of x and y interleaved): near in order means near in the plane."""
    low, high = _low(points), _high(points)
    size = max((high - low).real, (high - low).imag, 1e-9)
    key = np.zeros(len(points), dtype=np.int64)
    for shift, values in ((0, points.real - low.real), (1, points.imag - low.imag)):
        cell = (values / size * 0xFFFF).astype(np.int64)
        for bit in range(16):
            key |= ((cell >> bit) & 1) << (2 * bit + shift)
    return key


def _blocks(points: ComplexArray, segments: Segments) -> tuple[FloatArray, IntArray]:
    """All pairs, a block of points at a time."""
    gap = np.empty(len(points))
    index = np.empty(len(points), dtype=np.int64)
    step = max(1, PAIRS // len(segments))
    for first in range(0, len(points), step):
        block = slice(first, first + step)
        distances = segments.distance(points[block, None])
        index[block] = distances.argmin(axis=1)
        gap[block] = distances.min(axis=1)
    return gap, index


def _low(points: ComplexArray) -> complex:
    return complex(points.real.min(), points.imag.min())


def _high(points: ComplexArray) -> complex:
    return complex(points.real.max(), points.imag.max())
