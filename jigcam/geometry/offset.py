"""Offsets of regions and what follows from them: openings by a disc, and the region that a round tool sweeps.

The raw offset curve moves every segment sideways by d and joins the ends with arcs of radius d about the vertices,
turning with the corner where it is convex and *against* the way of travel where it is concave; an arc that is offset
past its centre comes out inverted. This is the convolution of the boundary with a circle, whose winding number round a
point p is the Euler characteristic of region ∩ disc(p, d): pieces less holes [1]. It is positive exactly where the disc
meets the region, unless the disc swallows a hole whole; a hole that fits into such a disc vanishes in the offset, so it
is left out beforehand. Inward the same holds of the complement, with the small parts left out. So the offset is the
positive region of one arrangement. Its distance from the source is measured all the same: an outline that crosses
itself by less than the tolerance, as rounding leaves them, has no true inside there, and takes a slower way.

[1] L. Guibas, L. Ramshaw, J. Stolfi, "A kinetic framework for computational geometry", FOCS 1983 (from memory).
"""

from __future__ import annotations

import math

import numpy as np

from jigcam.errors import InputError
from jigcam.geometry.boolean import combine, difference, positive, union
from jigcam.geometry.enclosing import enclosing_disc
from jigcam.geometry.nearest import nearest_distance
from jigcam.geometry.path import Path
from jigcam.geometry.region import Region
from jigcam.geometry.segment import ComplexArray, FloatArray, Segments
from jigcam.geometry.shapes import disc
from jigcam.tolerances import TOLERANCES

WELD = 0.1 * TOLERANCES.same_point
"""Ends of neighbouring offset segments nearer than this are joined without an arc."""

CUSP = 0.01
"""Corners within this angle (rad) of turning right back are looked at more closely."""

RUN = 16
"""Segments of a path that are swept at once; more would cross each other for nothing where the path is dense."""


def offset(region: Region, d: float) -> Region:
    """All points within d of the region for d > 0; all points at least −d inside it for d < 0.

    The loops of the region may touch but not overlap; `union(region)` makes any region so. Convex corners
    are rounded by arcs (concave ones when shrinking). The boundary lies at |d| from the region's within
    `tolerances.curve`; what is thinner than `tolerances.same_point` is dropped.

    Raises InputError where d is not finite, GeometryError as `union` does.
    """
    if not math.isfinite(d):
        raise InputError("an offset is a length", found=f"{d}")
    if d == 0.0 or region.is_empty:
        return region
    loops = [loop.as_segments() for loop in region.loops if not _vanishes(loop, d)]
    result = combine([Segments.joined([_raw_offset(loop, d) for loop in loops])], positive)
    return result if _is_at(result, region, abs(d)) else _offset_by_strokes(region, d)


def opening(region: Region, r: float) -> Region:
    """What a disc of radius r can cover without leaving the region: all of it except corners tighter than r.

    Raises InputError unless r ≥ 0 and finite, GeometryError as `union` does.
    """
    if not r >= 0.0:
        raise InputError("the radius of an opening is not negative", found=f"{r} mm")
    return offset(offset(region, -r), r)


def swept(path: Path, r: float) -> Region:
    """All points within r of the path: what a cutter of radius r takes away on it.

    Raises InputError unless r > 0 and finite, GeometryError as `union` does.
    """
    if not (math.isfinite(r) and r > 0.0):
        raise InputError("the radius of a sweep is positive", found=f"{r} mm")
    there = path.as_segments()
    if not len(there):
        return disc(*path.start, r)
    runs = [there.take(slice(i, i + RUN)) for i in range(0, len(there), RUN)]
    # There and back again encloses nothing; its offset is the path's.
    closed = [_raw_offset(Segments.joined([run, run.reversed()]), r) for run in runs]
    parts = [combine([loop], positive) for loop in closed]
    return parts[0] if len(parts) == 1 else union(*parts)


def _is_at(result: Region, source: Region, distance: float) -> bool:
    """Whether the boundary of a result lies at a distance from that of its source."""
    if result.is_empty:
        return True
    curve = result.as_segments()
    probes = np.concatenate([curve.start, curve.at(np.full(len(curve), 0.5))])
    return bool((np.abs(nearest_distance(probes, source.as_segments()) - distance) <= TOLERANCES.curve).all())


def _offset_by_strokes(region: Region, d: float) -> Region:
    """The same by adding or taking away what a disc sweeps along the boundary: slower, but blind to orientation.

    Needed where an outline crosses itself by less than the tolerance, as the sides of a needle can after rounding:
    its winding numbers there, times the size of the disc, are wrong, while a sweep has no inside to be wrong about.
    """
    strokes = union(*(swept(Path(np.vstack([loop.vertices, loop.vertices[:1]])), abs(d)) for loop in region.loops))
    return union(region, strokes) if d > 0.0 else difference(region, strokes)


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
    # A corner that turns right back may need a hair more than half a turn: that one is made of two halves.
    whole = joint & (np.abs(turn) <= math.pi)
    halves = joint & ~whole
    middle = loop.end - 1j * d * ends * np.exp(0.5j * turn)
    joints = [
        Segments(last, first[after], np.tan(0.25 * turn)).take(whole),
        Segments(last, middle, np.tan(0.125 * turn)).take(halves),
        Segments(middle, first[after], np.tan(0.125 * turn)).take(halves),
    ]
    return Segments.joined([moved.take(moved.start != moved.end), *joints])


def _turns(loop: Segments, arriving: ComplexArray, leaving: ComplexArray) -> FloatArray:
    """Angle from each segment's end to the next one's start, rad, within π or a hair beyond.

    In a cusp, where the way turns back on itself, the sign tells a needle of the inside (+) from one of the outside
    (−). Tangents are not trusted with it: a little way along, the two sides lie in the order that they keep. Where they
    coincide, as at the end of a path run there and back, the way turns round a tip of the inside.
    """
    turn = np.angle(leaving * np.conj(arriving))
    cusp = np.flatnonzero(np.abs(turn) > math.pi - CUSP)
    if len(cusp):
        before, after = loop.take(cusp), loop.take((cusp + 1) % len(loop))
        bend = np.minimum(before.radius, after.radius)
        reach = np.minimum(np.minimum(before.length, after.length), 0.5 * bend)
        back = before.at(1.0 - reach / before.length) - before.end
        ahead = after.at(reach / after.length) - after.start
        # Seen from the tip, the way on lies anticlockwise of the way back only round a needle of the outside.
        outside = (np.angle(ahead * np.conj(back)) > 0.0) & (np.abs(ahead - back) > TOLERANCES.same_point)
        way = np.where(outside, -1.0, 1.0)
        turn[cusp] = np.where(np.sign(turn[cusp]) == way, turn[cusp], turn[cusp] + way * 2.0 * math.pi)
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
