"""Regions that joints are made of."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from jigcam.errors import InputError
from jigcam.geometry.path import Path
from jigcam.geometry.region import Region
from jigcam.tolerances import TOLERANCES


def rectangle(x0: float, y0: float, x1: float, y1: float) -> Region:
    """The rectangle with sides along the axes. Raises InputError unless x0 < x1 and y0 < y1."""
    if not (x0 < x1 and y0 < y1):
        raise InputError("a rectangle has a width and a height", found=f"x {x0:g} to {x1:g}, y {y0:g} to {y1:g}")
    return Region((Path.through([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], closed=True),))


def disc(cx: float, cy: float, r: float) -> Region:
    """The disc of radius r about (cx, cy): two half turns. Raises InputError unless r > 0."""
    _positive("radius of a disc", r)
    return Region((Path(np.array([(cx + r, cy, 1.0), (cx - r, cy, 1.0)]), closed=True),))


def capsule(p0: npt.ArrayLike, p1: npt.ArrayLike, r: float) -> Region:
    """All points within r of the line from p0 to p1: two lines and two half turns, a disc where p0 = p1.

    Raises InputError unless r > 0.
    """
    _positive("radius of a capsule", r)
    a, b = np.asarray(p0, dtype=float), np.asarray(p1, dtype=float)
    if np.hypot(*(b - a)) < TOLERANCES.same_point:
        return disc(float(a[0]), float(a[1]), r)
    left = _left(a, b) * r
    corners = [a - left, b - left, b + left, a + left]
    return Region((Path(np.column_stack([corners, [0.0, 1.0, 0.0, 1.0]]), closed=True),))


def slot(p0: npt.ArrayLike, p1: npt.ArrayLike, width: float) -> Region:
    """A round-ended slot: p0 and p1 are its extreme ends on the centreline, the round ends included.

    Raises InputError unless 0 < width ≤ distance of p0 and p1.

    >>> groove = slot((0, 0), (80, 0), width=12)
    >>> groove.bounds
    (0.0, -6.0, 80.0, 6.0)
    >>> groove.loops[0].vertices[:, 2].tolist()  # a line and half a turn, twice
    [0.0, 1.0, 0.0, 1.0]
    """
    _positive("width of a slot", width)
    a, b = np.asarray(p0, dtype=float), np.asarray(p1, dtype=float)
    length = float(np.hypot(*(b - a)))
    if length < width - TOLERANCES.same_point:
        raise InputError("a round-ended slot is at least as long as wide", found=f"{length:g} by {width:g} mm")
    along = (b - a) / length * 0.5 * min(width, length)
    return capsule(a + along, b - along, 0.5 * width)


def bar(p0: npt.ArrayLike, p1: npt.ArrayLike, width: float) -> Region:
    """A square-ended bar about the centreline from p0 to p1. Raises InputError unless both sizes are positive."""
    _positive("width of a bar", width)
    a, b = np.asarray(p0, dtype=float), np.asarray(p1, dtype=float)
    _positive("length of a bar", float(np.hypot(*(b - a))))
    left = _left(a, b) * 0.5 * width
    return Region((Path.through([a - left, b - left, b + left, a + left], closed=True),))


def polygon(points: npt.ArrayLike) -> Region:
    """The polygon with those corners (n, 2), in either direction. Raises InputError for fewer than three corners."""
    pairs = np.asarray(points, dtype=float).reshape(-1, 2)
    if len(pairs) < 3:
        raise InputError("a polygon has three corners or more", found=f"{len(pairs)}")
    loop = Path.through(pairs, closed=True)
    return Region((loop if loop.area >= 0.0 else loop.reversed(),))


def _left(a: npt.NDArray[np.float64], b: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Unit vector to the left of the way from a to b."""
    way = (b - a) / np.hypot(*(b - a))
    return np.array([-way[1], way[0]])


def _positive(what: str, value: float) -> None:
    if not (np.isfinite(value) and value > 0.0):
        raise InputError(f"the {what} is positive", found=f"{value:g} mm")
