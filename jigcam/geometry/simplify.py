"""Closed loops with as few segments as their shape needs: collinear lines and arcs of one circle joined."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np

from jigcam.geometry.segment import BoolArray, ComplexArray, Segments


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
        probes = (before.end[some], before.take(some).at(half), loop.take(some).at(half))
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
    count = len(run)
    if count == 1:
        return [run]
    probes = np.concatenate([run.start[1:], run.at(np.full(count, 0.5))])
    candidate = _one_curve(run)
    if candidate is not None and _covers(candidate, probes, tol):
        return [candidate]
    half = count // 2
    return [*_joined(run.take(slice(0, half)), tol), *_joined(run.take(slice(half, count)), tol)]


def _one_curve(run: Segments) -> Segments | None:
    """The run from its start to its end as one line or as equal arcs of one circle; None where it has no such form."""
    sweep = float(run.sweep.sum())
    start, end = run.start[0], run.end[-1]
    pieces = max(1, math.ceil(abs(sweep) / math.pi - 1e-7))
    if pieces == 1:
        if start == end:
            return None
        bulge = max(-1.0, min(1.0, math.tan(0.25 * sweep)))
        return Segments(np.array([start]), np.array([end]), np.array([bulge]))
    longest = run.take(np.array([int(np.argmax(run.length))]))
    if longest.bulge[0] == 0.0:
        return None
    centre = longest.centre[0]
    inner = centre + (start - centre) * np.exp(1j * sweep * np.arange(1, pieces) / pieces)
    points = np.concatenate([[start], inner, [end]])
    bulge = max(-1.0, min(1.0, math.tan(0.25 * sweep / pieces)))
    return Segments(points[:-1], points[1:], np.full(pieces, bulge))


def _covers(curve: Segments, probes: ComplexArray, tol: float) -> bool:
    """Whether all the probes lie within `tol` of the curve."""
    return bool((curve.distance(probes[:, None]).min(axis=1) <= tol).all())
