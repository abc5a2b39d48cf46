"""Closed loops with as few segments as their shape needs: collinear lines and arcs of one circle joined."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np

from jigcam.geometry.segment import BoolArray, Segments

PROBES = np.array([0.125, 0.25, 0.5, 0.75, 0.875])
"""Fractions of a segment at which a curve that takes its place is compared with it."""


def simplified(loop: Segments, tol: float) -> Segments:
    """A closed loop with neighbours joined that lie on one line or circle within `tol`.

    Arcs come out with at most half a turn, a whole circle as two half turns. A vertex that is dropped lies within `tol`
    of the new curve, and so do the middles of the segments it joined, however many there were.
    """
    count = len(loop)
    if count < 2:
        return loop
    smooth = _smooth(loop, tol)
    if not smooth.any():
        return loop
    # smooth[k]: the joint between k − 1 and k. Begin the walk at a joint that is a corner, if there is one.
    first = int(np.argmin(smooth)) if not smooth.all() else 0
    order = np.roll(np.arange(count), -first)
    corners = np.flatnonzero(~smooth[order])
    bounds = [*corners.tolist(), count] if len(corners) else [0, count]
    parts = [part for a, b in pairwise(bounds) for part in _joined(loop.take(order[a:b]), tol)]
    return Segments.joined(parts)


def _smooth(loop: Segments, tol: float) -> BoolArray:
    """For each joint with the segment before: whether both lie on one line, or turn the same way on one circle."""
    before = loop.take(np.roll(np.arange(len(loop)), 1))
    if loop.straight:
        # Of lines a corner is told by how far it stands off the line across it: most loops have nothing but corners.
        across = loop.end - before.start
        rise = np.abs((np.conj(across) * before.chord).imag)
        if (rise > tol * np.abs(across)).all():
            return np.zeros(len(loop), dtype=bool)
    both = before.sweep + loop.sweep
    whole = Segments(before.start, loop.end, np.tan(0.25 * np.clip(both, -math.pi, math.pi)))
    short = np.abs(whole.chord) > tol
    # Where both together pass half a turn (or close), compare the circles themselves.
    fits = np.zeros(len(loop), dtype=bool)
    small = (np.abs(both) <= math.pi + 1e-7) & short
    some = np.flatnonzero(small)
    if len(some):
        curve = whole.take(some)
        half = np.full(len(some), 0.5)
        fits[some] = curve.distance(before.end[some]) <= tol
        # Few joints are left then; the middles of both sides are asked of these alone.
        rest = fits[some]
        some, curve, half = some[rest], curve.take(rest), half[rest]
        probes = (before.take(some).at(half), loop.take(some).at(half))
        fits[some] = np.all([curve.distance(p) <= tol for p in probes], axis=0)
    large = np.flatnonzero(~small & (before.bulge * loop.bulge > 0.0))
    if len(large):
        a, b = before.take(large), loop.take(large)
        half = np.full(len(large), 0.5)
        centre, radius = a.centre, a.radius
        fits[large] = np.all([np.abs(np.abs(p - centre) - radius) <= tol for p in (b.at(half), b.end)], axis=0)
    return fits


def _joined(run: Segments, tol: float) -> list[Segments]:
    """A run of segments with smooth joints as one line or the fewest arcs; its halves in turn where that is untrue."""
    if len(run) == 1:
        return [run]
    candidate = _one_curve(run, tol)
    if candidate is not None and _covers(candidate, run, tol) and _covers(run, candidate, tol):
        return [candidate]
    half = len(run) // 2
    return [*_joined(run.take(slice(0, half)), tol), *_joined(run.take(slice(half, len(run))), tol)]


def _one_curve(run: Segments, tol: float) -> Segments | None:
    """The run from its start to its end as one line or as equal arcs of one circle; None where it has no such form."""
    start, end = run.start[0], run.end[-1]
    longest = run.take(np.array([int(np.argmax(run.length))]))
    if longest.bulge[0] == 0.0:
        return None if start == end else Segments(np.array([start]), np.array([end]), np.zeros(1))
    # The circle is the longest segment's; how far round it the run goes is asked of its ends, for the sweeps of
    # segments as short as the tolerance say nothing, and of the sum only how many whole turns it makes.
    centre, radius = longest.centre[0], float(longest.radius[0])
    sweep = float(np.angle((end - centre) / (start - centre)))
    sweep += 2.0 * math.pi * round((float(run.sweep.sum()) - sweep) / (2.0 * math.pi))
    # Half a turn and a hair, as rounding leaves it, is half a turn.
    pieces = max(1, math.ceil((abs(sweep) - tol / radius) / math.pi))
    inner = centre + (start - centre) * np.exp(1j * sweep * np.arange(1, pieces) / pieces)
    points = np.concatenate([[start], inner, [end]])
    if (points[1:] == points[:-1]).any():
        return None
    bulge = max(-1.0, min(1.0, math.tan(0.25 * sweep / pieces)))
    return Segments(points[:-1], points[1:], np.full(pieces, bulge))


def _covers(curve: Segments, other: Segments, tol: float) -> bool:
    """Whether the joints of the other curve and points along it lie within `tol` of the first."""
    probes = np.append(other.at(PROBES[:, None]).ravel(), other.start[1:])
    return bool((curve.distance(probes[:, None]).min(axis=1) <= tol).all())
