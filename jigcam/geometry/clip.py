"""What of a region lies in an upright rectangle, as a board or a stock is."""

from __future__ import annotations

from itertools import combinations, pairwise

from jigcam.geometry.boolean import intersection
from jigcam.geometry.path import Path
from jigcam.geometry.region import Region
from jigcam.geometry.shapes import rectangle
from jigcam.tolerances import TOLERANCES

APART = 10.0 * TOLERANCES.same_point
"""What is nearer, but not in one place, is left to the booleans, which know what falls together, mm."""
TURNS = 1e-6
"""Sines; corners that turn by less are left to the booleans, which know what runs on straight."""
Corner = tuple[float, float]


def within(region: Region, x0: float, y0: float, x1: float, y1: float) -> Region:
    """All points of a region inside the rectangle: the same as the `intersection` with it, loops and vertices in order.

    Most of what is cut off at a board's sides are plain convex outlines that stand apart: they are cut side by side, in
    plain numbers, which takes a tenth of the time. Raises GeometryError as `intersection` does.
    """
    clipped = _clipped(region, x0, y0, x1, y1)
    return intersection(region, rectangle(x0, y0, x1, y1)) if clipped is None else clipped


def _clipped(region: Region, x0: float, y0: float, x1: float, y1: float) -> Region | None:
    """The same; None where an outline is not convex, or something comes near and does not meet."""
    found: list[list[Corner]] = []
    for loop in region.loops:
        if not loop.straight:
            return None
        corners: list[Corner] = [(x, y) for x, y, _ in loop.vertices.tolist()]
        if not _convex(corners) or any(_nearly(x, x0, x1) or _nearly(y, y0, y1) for x, y in corners):
            return None
        for axis, side, inward in ((0, x0, 1.0), (0, x1, -1.0), (1, y0, 1.0), (1, y1, -1.0)):
            corners = _cut_off(corners, axis, side, inward)
        if corners:
            if not _convex(corners):
                return None
            found.append(corners)
    for a, b in combinations(region.loops, 2):
        (ax0, ay0, ax1, ay1), (bx0, by0, bx1, by1) = a.bounds, b.bounds
        if max(ax0 - bx1, bx0 - ax1, ay0 - by1, by0 - ay1) < APART:
            return None
    started = sorted((_from_corner(corners) for corners in found), key=lambda corners: _rounded(corners[0]))
    return Region(tuple(Path.through(corners, closed=True) for corners in started))


def _nearly(value: float, low: float, high: float) -> bool:
    """Whether a coordinate is next to a side without being on it."""
    return 0.0 < abs(value - low) < APART or 0.0 < abs(value - high) < APART


def _convex(corners: list[Corner]) -> bool:
    """Whether the outline turns left at every corner, clearly, and once round."""
    ways = [(bx - ax, by - ay) for (ax, ay), (bx, by) in pairwise([*corners, corners[0]])]
    sizes = [(ux * ux + uy * uy) ** 0.5 for ux, uy in ways]
    if len(corners) < 3 or min(sizes) < APART:
        return False
    turned = zip(pairwise([*ways, ways[0]]), pairwise([*sizes, sizes[0]]), strict=True)
    if any(ux * vy - uy * vx <= TURNS * u * v for ((ux, uy), (vx, vy)), (u, v) in turned):
        return False
    # Turning left everywhere, it goes up once where it goes round once.
    ups = [uy > 0.0 or (uy == 0.0 and ux > 0.0) for ux, uy in ways]
    return sum(b and not a for a, b in pairwise([*ups, ups[0]])) == 1


def _cut_off(corners: list[Corner], axis: int, side: float, inward: float) -> list[Corner]:
    """The corners of what lies on the inner side of a line x = side or y = side; none where nothing does.

    I. E. Sutherland and G. W. Hodgman, Communications of the ACM 17 (1974), from memory.
    """
    depth = [(corner[axis] - side) * inward for corner in corners]
    if min(depth, default=0.0) >= 0.0:
        return corners
    if max(depth) <= 0.0:
        return []
    kept: list[Corner] = []
    for k, (corner, here) in enumerate(zip(corners, depth, strict=True)):
        before, there = corners[k - 1], depth[k - 1]
        if (here > 0.0 and there < 0.0) or (here < 0.0 and there > 0.0):
            share = there / (there - here)
            other = before[1 - axis] + share * (corner[1 - axis] - before[1 - axis])
            kept.append((side, other) if axis == 0 else (other, side))
        if here >= 0.0:
            kept.append(corner)
    return kept


def _from_corner(corners: list[Corner]) -> list[Corner]:
    """As loops of the booleans start: at the leftmost, then lowest, corner."""
    first = min(range(len(corners)), key=lambda k: (*_rounded(corners[k]), k))
    return corners[first:] + corners[:first]


def _rounded(corner: Corner) -> Corner:
    return round(corner[0], 6), round(corner[1], 6)
