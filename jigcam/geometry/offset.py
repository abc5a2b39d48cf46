"""Offsets of regions and what follows from them: openings by a disc, and the region that a round tool sweeps.

The raw offset curve moves every segment sideways by d and joins the ends with arcs of radius d about the vertices,
turning with the corner where it is convex and *against* the way of travel where it is concave; an arc that is offset
past its centre comes out inverted. This is the convolution of the boundary with a circle, whose winding number round a
point p is the Euler characteristic of region ∩ disc(p, d): pieces less holes [1]. It is positive exactly where the disc
meets the region, unless the disc swallows a hole whole; a hole that fits into such a disc vanishes in the offset, so it
is left out beforehand. Inward the same holds of the complement, with the small parts left out. So the offset is the
positive region of one arrangement, without any test of distance.

[1] L. Guibas, L. Ramshaw, J. Stolfi, "A kinetic framework for computational geometry", FOCS 1983 (from memory).
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from jigcam.errors import InputError
from jigcam.geometry.boolean import combine, positive, union
from jigcam.geometry.enclosing import enclosing_disc
from jigcam.geometry.path import Path
from jigcam.geometry.region import Region
from jigcam.geometry.segment import FloatArray, Segments
from jigcam.geometry.shapes import disc
from jigcam.tolerances import TOLERANCES

WELD = 0.1 * TOLERANCES.same_point
"""Ends of neighbouring offset segments nearer than this are joined without an arc."""


RUN = 16
"""Segments of a path that are swept at once; more would cross each other for nothing where the path is dense."""


def offset(region: Region, d: float) -> Region:
    """All points within d of the region for d > 0; all points at least −d inside it for d < 0.

    Convex corners are rounded by arcs (concave ones when shrinking). The boundary lies at |d| from the region's within
    `tolerances.curve`; what is thinner than `tolerances.same_point` is dropped.

    Raises InputError where d is not finite.
    """
    if not math.isfinite(d):
        raise InputError("an offset is a length", found=f"{d}")
    if d == 0.0 or region.is_empty:
        return region
    loops = [loop for loop in region.loops if not _vanishes(loop, d)]
    return combine([Segments.joined([_raw_offset(loop.as_segments(), d) for loop in loops])], positive)


def opening(region: Region, r: float) -> Region:
    """What a disc of radius r can cover without leaving the region: all of it except corners tighter than r."""
    if not r >= 0.0:
        raise InputError("the radius of an opening is not negative", found=f"{r} mm")
    return offset(offset(region, -r), r)


def swept(path: Path, r: float) -> Region:
    """All points within r of the path: what a cutter of radius r takes away on it. Raises InputError unless r > 0."""
    if not (math.isfinite(r) and r > 0.0):
        raise InputError("the radius of a sweep is positive", found=f"{r} mm")
    there = path.as_segments()
    if not len(there):
        return disc(*path.start, r)
    runs = [there.take(slice(i, i + RUN)) for i in range(0, len(there), RUN)]
    # There and back again encloses nothing; its offset is the path's.
    closed = [_raw_offset(Segments.joined([run, run.reversed()]), r) for run in runs]
    return union(*(combine([loop], positive) for loop in closed))


def _raw_offset(loop: Segments, d: float) -> Segments:
    """A closed loop moved to its right by d, with the joining arcs, as one closed loop."""
    count = len(loop)
    ends = loop.tangent(np.ones(count))
    starts = loop.tangent(np.zeros(count))
    after = np.roll(np.arange(count), -1)
    first, last = loop.start - 1j * d * starts, loop.end - 1j * d * ends
    turn = _turns(loop, ends, starts[after])
    point = np.abs(last - first) < WELD  # an arc moved onto its own centre
    last = np.where(point, first, last)
    joint = np.abs(first[after] - last) > WELD
    last = np.where(joint, last, first[after])
    moved = Segments(first, last, np.where(point, 0.0, loop.bulge))
    joints = Segments(last, first[after], np.tan(0.25 * turn))
    return Segments.joined([moved.take(moved.start != moved.end), joints.take(joint)])


def _turns(loop: Segments, arriving: npt.NDArray[np.complex128], leaving: npt.NDArray[np.complex128]) -> FloatArray:
    """Angle from each segment's end to the next one's start, rad, −π … π.

    In a cusp, where the way turns back on itself, the curvatures tell a needle of the inside (+π) from one of the
    outside (−π).
    """
    turn = np.angle(leaving * np.conj(arriving))
    cusp = np.flatnonzero(np.abs(turn) > math.pi - 1e-7)
    if len(cusp):
        curvature = np.sign(loop.bulge) / loop.radius
        bend = curvature[cusp] + np.roll(curvature, -1)[cusp]
        sure = np.abs(turn[cusp]) < math.pi - 1e-12
        sign = np.where(bend > 0.0, -1.0, 1.0)
        turn[cusp] = np.where((bend == 0.0) & sure, turn[cusp], sign * np.abs(turn[cusp]))
    return turn


def _vanishes(loop: Path, d: float) -> bool:
    """Whether a shrinking outline, or a hole being filled, fits into a disc of radius |d|: nothing is left of it."""
    if (loop.area > 0.0) == (d > 0.0):
        return False
    x0, y0, x1, y1 = loop.bounds
    wide, high, d = x1 - x0, y1 - y0, abs(d) * (1.0 + 1e-12)
    if max(wide, high) > 2.0 * d:
        return False
    return math.hypot(wide, high) <= 2.0 * d or enclosing_disc(loop.as_segments())[1] <= d
