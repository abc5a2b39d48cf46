"""Plane motions as 2×3 matrices [[a, b, dx], [c, d, dy]] that act on column vectors (x, y)."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from jigcam.errors import InputError
from jigcam.geometry.segment import FloatArray


def identity() -> FloatArray:
    """Leaves every point where it is."""
    return np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])


def translation(dx: float, dy: float) -> FloatArray:
    """Moves by (dx, dy), mm."""
    return np.array([[1.0, 0.0, dx], [0.0, 1.0, dy]])


def rotation(a: float) -> FloatArray:
    """Turns by a (rad, anticlockwise) about the origin; quarter turns are exact."""
    quarter = 2.0 * a / math.pi
    if quarter == round(quarter):
        cos, sin = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarter) % 4]
    else:
        cos, sin = math.cos(a), math.sin(a)
    return np.array([[cos, -sin, 0.0], [sin, cos, 0.0]])


def scaling(by: float) -> FloatArray:
    """Makes everything so many times as large, from the origin."""
    return np.array([[by, 0.0, 0.0], [0.0, by, 0.0]])


def mirror_x(length: float) -> FloatArray:
    """Takes x to length − x: the opposite hand of a board of that length."""
    return np.array([[-1.0, 0.0, length], [0.0, 1.0, 0.0]])


def mirror_y(width: float) -> FloatArray:
    """Takes y to width − y."""
    return np.array([[1.0, 0.0, 0.0], [0.0, -1.0, width]])


def compose(first: npt.ArrayLike, then: npt.ArrayLike) -> FloatArray:
    """The motion that does `first` and then `then`: apply(compose(A, B), p) = apply(B, apply(A, p)).

    Raises InputError where one of them is no finite 2×3 matrix.
    """
    return np.ascontiguousarray((_square(then) @ _square(first))[:2])


def invert(matrix: npt.ArrayLike) -> FloatArray:
    """The motion that undoes `matrix`. Raises InputError where there is none, or `matrix` is no finite 2×3 one."""
    square = _square(matrix)
    linear = square[:2, :2]
    if abs(float(np.linalg.det(linear))) < 1e-12:
        raise InputError("a motion that flattens the plane cannot be undone")
    back = np.linalg.inv(linear)
    return np.column_stack([back, -back @ square[:2, 2]])


def apply(matrix: npt.ArrayLike, points: npt.ArrayLike) -> FloatArray:
    """Points (k, 2), or one (2,), moved; the same shape comes back. Raises InputError for no finite 2×3 matrix."""
    square = _square(matrix)
    return np.asarray(points, dtype=float) @ square[:2, :2].T + square[:2, 2]


def scale_of(matrix: npt.ArrayLike) -> float:
    """By how much a motion that keeps shapes scales lengths, negative where it mirrors.

    Raises InputError for a shear or an uneven scale, which would turn arcs into something else, and for what is no
    finite 2×3 matrix.
    """
    linear = _square(matrix)[:2, :2]
    (a, b), (c, d) = linear.tolist()
    det = a * d - b * c
    scale = math.sqrt(abs(det))
    # Columns as long as the scale says and square to each other; on four numbers, as every path that moves asks it.
    uneven = max(abs(a * a + c * c - scale * scale), abs(b * b + d * d - scale * scale), abs(a * b + c * d))
    if scale < 1e-12 or uneven > 1e-9 * scale * scale:
        raise InputError("arcs can only be moved, turned, mirrored or scaled evenly", found=str(linear.tolist()))
    return math.copysign(scale, det)


def _square(matrix: npt.ArrayLike) -> FloatArray:
    """As 3×3. Raises InputError where it is no finite 2×3 matrix."""
    table = np.asarray(matrix, dtype=float)
    if table.shape != (2, 3) or not np.isfinite(table).all():
        raise InputError("a motion is a finite 2×3 matrix", found=str(matrix))
    return np.vstack([table, [0.0, 0.0, 1.0]])
