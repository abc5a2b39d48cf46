"""Where segments cross or touch: candidate points for pairs of lines and arcs."""

from __future__ import annotations

import numpy as np

from jigcam.geometry.segment import BoolArray, ComplexArray, FloatArray, IntArray, Segments

FLAT = 1e3
"""Arcs of a greater radius (mm) get their crossings polished: their centres carry too few digits."""


def crossings(
    segments: Segments, first: IntArray, second: IntArray, tol: float
) -> tuple[IntArray, IntArray, ComplexArray]:
    """Points where segments first[k] and second[k] cross or nearly touch: both indices and the point, per point.

    Every point lies within `tol` of both segments. Two curves that touch within `tol` without crossing give the point
    between them. Curves that coincide over a length give nothing here: their ends are found as vertices on curves.
    """
    curved, curved2 = segments.bulge[first] != 0.0, segments.bulge[second] != 0.0
    a, b, points = [], [], []

    def add(i: IntArray, j: IntArray, found: tuple[BoolArray, ComplexArray]) -> None:
        valid, point = found
        a.append(i[valid])
        b.append(j[valid])
        points.append(point[valid])

    both = ~curved & ~curved2
    i, j = first[both], second[both]
    if len(i):
        add(i, j, _line_line(segments.take(i), segments.take(j)))
    one = curved != curved2
    i = np.where(curved, second, first)[one]
    j = np.where(curved, first, second)[one]
    if len(i):
        for sign in (-1.0, 1.0):
            add(i, j, _line_arc(segments.take(i), segments.take(j), sign, tol))
    both = curved & curved2
    i, j = first[both], second[both]
    if len(i):
        # The formula starts from the smaller circle: cancellation then costs least.
        swap = segments.radius[i] > segments.radius[j]
        i, j = np.where(swap, j, i), np.where(swap, i, j)
        for sign in (-1.0, 1.0):
            add(i, j, _arc_arc(segments.take(i), segments.take(j), sign, tol))
    if not a:
        none = np.empty(0, dtype=np.int64)
        return none, none, np.empty(0, dtype=np.complex128)
    i, j, point = np.concatenate(a), np.concatenate(b), np.concatenate(points)
    one_side, other_side = segments.take(i), segments.take(j)
    flat = np.flatnonzero(
        (np.minimum(one_side.radius, 1e300) > FLAT) & (one_side.bulge != 0.0)
        | (np.minimum(other_side.radius, 1e300) > FLAT) & (other_side.bulge != 0.0)
    )
    if len(flat):
        point[flat] = _polished(one_side.take(flat), other_side.take(flat), point[flat])
    keep = (one_side.distance(point) <= tol) & (other_side.distance(point) <= tol)
    return i[keep], j[keep], point[keep]


def _line_line(one: Segments, other: Segments) -> tuple[BoolArray, ComplexArray]:
    d, e = one.chord, other.chord
    cross = (np.conj(d) * e).imag
    valid = np.abs(cross) > 1e-12 * np.abs(d) * np.abs(e)
    cross = np.where(valid, cross, 1.0)
    t = (np.conj(other.start - one.start) * e).imag / cross
    return valid, one.start + t * d


def _line_arc(line: Segments, arc: Segments, sign: float, tol: float) -> tuple[BoolArray, ComplexArray]:
    along = line.chord / np.abs(line.chord)
    to_centre = (arc.centre - line.start) * np.conj(along)
    radius = arc.radius
    depth = radius - np.abs(to_centre.imag)
    half = np.sqrt(np.maximum(depth, 0.0) * (radius + np.abs(to_centre.imag)))
    return depth >= -tol, line.start + along * (to_centre.real + sign * half)


def _arc_arc(small: Segments, large: Segments, sign: float, tol: float) -> tuple[BoolArray, ComplexArray]:
    centre, radius, radius2 = small.centre, small.radius, large.radius
    way = large.centre - centre
    apart = np.abs(way)
    valid = (apart <= radius + radius2 + tol) & (apart >= radius2 - radius - tol) & (apart > 1e-9 * radius2)
    apart = np.where(valid, apart, 1.0)
    near = np.clip(0.5 * (apart + (radius - radius2) * (radius + radius2) / apart), -radius, radius)
    half = np.sqrt((radius - near) * (radius + near))
    return valid, centre + way / apart * (near + 1j * sign * half)


def _polished(one: Segments, other: Segments, point: ComplexArray) -> ComplexArray:
    """Two Newton steps towards the common point of both curves, where they cross at an angle worth the name."""
    for _ in range(2):
        gap, normal = _level(one, point)
        gap2, normal2 = _level(other, point)
        cross = (np.conj(normal) * normal2).imag
        sound = np.abs(cross) > 1e-6
        cross = np.where(sound, cross, 1.0)
        step = 1j * (gap * normal2 - gap2 * normal) / cross
        point = np.where(sound & (np.abs(step) < 1e-2), point + step, point)
    return point


def _level(segments: Segments, point: ComplexArray) -> tuple[FloatArray, ComplexArray]:
    """Signed distance to the line or whole circle, positive left of travel, and its gradient."""
    half = 0.5 * np.abs(segments.chord)
    along = segments.chord / (2.0 * half)
    s = segments.bulge
    q = (point - 0.5 * (segments.start + segments.end)) * np.conj(along) / half
    # Gradient of `side`, whose size turns the level into a distance: |∇| = 2·s·|q − c| for a circle.
    gradient = -2.0 * s * q.real + 1j * ((1.0 - s * s) - 2.0 * s * q.imag)
    level = (1.0 - s * s) * q.imag - s * (q.real**2 + q.imag**2 - 1.0)
    size = np.abs(gradient)
    # The zero of side along the gradient: with g = |∇|, distance = 2·level / (g + √(g² − 4·s·level)).
    root = np.sqrt(np.maximum(size**2 - 4.0 * np.abs(s) * level * np.sign(s), 0.0))
    return 2.0 * level / (size + root) * half, gradient / size * along
