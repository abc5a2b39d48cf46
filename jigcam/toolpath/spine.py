"""A spine: one pass along the middle of a narrow region that clears all of it, where there is such a pass.

Moved in nearly as far as it goes, a narrow region is a thin loop round its middle; half of that loop, from one far end
to the other, is the spine. A ring-shaped region keeps one whole loop. Whether the bit clears the region from there is
decided by the exact difference.
"""

from __future__ import annotations

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


def thick(region: Region) -> tuple[Region, ...]:
    """The pieces of a region, without those that are too thin to matter."""
    return tuple(part for part in region.parts if not offset(part, -TINY).is_empty)


def covered(region: Region, path: Path, radius: float) -> bool:
    """Whether a bit that follows a path clears a region."""
    return not thick(difference(region, swept(path, radius - COVER)))


def spine(region: Region, radius: float) -> Path | None:
    """The shortest of the candidate passes that clears a narrow connected region, or None where none does."""
    thin = _innermost(region, radius)
    candidates: list[Path] = []
    for loop in thin.loops:
        candidates += _halves(loop) if len(thin.loops) == 1 else [loop]
    for path in sorted(candidates, key=lambda path: path.length):
        if covered(region, path, radius):
            return path
    return None


def _innermost(region: Region, radius: float) -> Region:
    """The region moved in as far as it goes, up to one radius."""
    low, high, thin = 0.0, radius, region
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        there = offset(region, -middle)
        if there.is_empty:
            high = middle
        else:
            low, thin = middle, there
    return thin


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
