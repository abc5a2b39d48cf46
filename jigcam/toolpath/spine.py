"""A spine: one pass along the middle of a narrow region that clears all of it, or nearly so.

Moved in nearly as far as it goes, a narrow region is a thin loop round its middle; half of that loop, from one far end
to the other, is the spine. A ring-shaped region keeps one whole loop. What the bit leaves from there is found by the
exact difference.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from jigcam.geometry import Path, Region, difference, offset, swept
from jigcam.toolpath.loops import station

COVER = 2e-3
"""mm by which the reach of a pass is taken short, so that rounding leaves nothing between two of them."""
TINY = 5e-4
"""mm; pieces thinner than twice this are within what rounding makes of the rings."""
HALVINGS = 9
"""How near to its end the inset that is left of a region is found: radius / 2**9."""
TURN = 0.05
"""mm; segments shorter than this at the ends of a spine are turns of the thin loop that it is half of."""
SHORT = 0.02
"""mm; a spine is at least this long, so that it has a direction."""


class Spine(NamedTuple):
    """A pass, open or closed, and the pieces of the region that it does not clear."""

    path: Path
    missed: tuple[Region, ...]


def thick(region: Region) -> tuple[Region, ...]:
    """The pieces of a region, without those that are too thin to matter."""
    return tuple(part for part in region.parts if not offset(part, -TINY).is_empty)


def spines(region: Region, radius: float) -> Iterator[Spine]:
    """Passes along the middle of a narrow connected region, shortest first, each with what it leaves."""
    thin, inset = _innermost(region, radius)
    paths: list[Path] = []
    for loop in thin.loops:
        paths += _halves(loop) if len(thin.loops) == 1 else [loop]
    paths += [_lengthened(path, inset) for path in paths if not path.closed and path.length > TURN]
    paths.sort(key=lambda path: path.length)
    for path in paths:
        yield Spine(path, thick(difference(region, swept(path, radius - COVER))))


def _innermost(region: Region, radius: float) -> tuple[Region, float]:
    """The region moved in as far as it goes in one piece, up to one radius, and how far that is."""
    low, high, thin = 0.0, radius, region
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        there = offset(region, -middle)
        if len(there.parts) != 1:
            high = middle
        else:
            low, thin = middle, there
    return thin, low


def _halves(loop: Path) -> list[Path]:
    """Both ways along a loop between the two of its points that are furthest apart, the ends a little short of them."""
    points = loop.points(0.05)
    points = points[:: max(1, len(points) // 300)]
    gap = np.hypot(*(points[:, None] - points[None, :]).transpose(2, 0, 1))
    a, b = np.unravel_index(int(np.argmax(gap)), gap.shape)
    if gap[a, b] < SHORT:
        middle = points.mean(axis=0)
        return [Path.through(middle + np.array([(-0.5 * SHORT, 0.0), (0.5 * SHORT, 0.0)]))]
    first, second = sorted(station(loop, (float(x), float(y))) for x, y in (points[a], points[b]))
    halves = [loop.substring(first, second), loop.substring(second, first + loop.length)]
    return [*map(_trimmed, halves), *halves]


def _trimmed(path: Path) -> Path:
    """An open path without the tiny turns at its ends, which are those of the thin loop that it is taken from."""
    segments = path.as_segments()
    long = np.flatnonzero(segments.length > TURN)
    return path if not len(long) else Path.from_segments(segments.take(slice(int(long[0]), int(long[-1]) + 1)))


def _lengthened(path: Path, by: float) -> Path:
    """An open path with straight pieces of that length at both ends: they reach into square corners."""
    (start, end), (first, last) = path.at(np.array([0.0, path.length]))
    table = path.vertices
    return Path(np.vstack([[*(start - by * first), 0.0], table[:-1], [*end, 0.0], [*(end + by * last), 0.0]]))
