"""The smallest disc round a set of lines and arcs."""

from __future__ import annotations

from itertools import combinations

import numpy as np

from jigcam.geometry.segment import Segments

ROUNDS = 200
"""More than any shape takes; each round adds the farthest point, and the radius grows."""


def enclosing_disc(segments: Segments) -> tuple[complex, float]:
    """Centre and radius of the smallest disc that holds all the segments, to a relative 1e-12.

    The disc of at most three points of the curve grows by the point farthest out until none is left outside.
    """
    support = [complex(segments.start[0])]
    centre, radius = support[0], 0.0
    for _ in range(ROUNDS):
        far = _farthest(segments, centre)
        if abs(far - centre) <= radius * (1.0 + 1e-12) + 1e-12:
            break
        centre, radius, support = _smallest([*support, far])
    return centre, radius


def _farthest(segments: Segments, centre: complex) -> complex:
    """The point of the segments farthest from a centre: an end, or on an arc the point beyond the arc's own centre."""
    points = [segments.start, segments.end]
    arcs = segments.take(segments.bulge != 0.0)
    if len(arcs):
        hub = arcs.centre
        way = hub - centre
        size = np.abs(way)
        beyond = hub + arcs.radius * np.where(size > 0.0, way / np.where(size > 0.0, size, 1.0), 1.0)
        points.append(beyond[arcs.in_sector(beyond, hub)])
    together = np.concatenate(points)
    return complex(together[np.argmax(np.abs(together - centre))])


def _smallest(points: list[complex]) -> tuple[complex, float, list[complex]]:
    """The smallest disc round up to four points, and those of them on its rim."""
    slack = 1.0 + 1e-13
    discs = [((a + b) / 2.0, abs(a - b) / 2.0, [a, b]) for a, b in combinations(points, 2)]
    for a, b, c in combinations(points, 3):
        u, v = b - a, c - a
        cross = (u.conjugate() * v).imag
        if cross != 0.0:
            middle = 1j * (u * abs(v) ** 2 - v * abs(u) ** 2) / (2.0 * cross)
            discs.append((a + middle, abs(middle), [a, b, c]))
    holding = [d for d in discs if all(abs(p - d[0]) <= d[1] * slack + 1e-15 for p in points)]
    return min(holding or discs[-1:], key=lambda d: d[1])
