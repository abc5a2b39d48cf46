"""Many line and arc segments at once, as arrays; the arithmetic under paths and regions.

Points are complex numbers here (x + iy): a product turns and scales, so no 2×2 matrices are needed.
A segment goes from `start` to `end`; its *bulge* is tan(sweep / 4), positive where it turns anticlockwise, 0 for a
line, and never more than half a turn. Formulas avoid the centre of an arc where they can: the centre of a nearly
straight arc is far away and drowns in rounding, while chord, sagitta and power of a point do not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
ComplexArray = npt.NDArray[np.complex128]
IntArray = npt.NDArray[np.int64]
BoolArray = npt.NDArray[np.bool_]

STRAIGHT = 1e-8
"""A bulge smaller than this is a line: over a chord of a metre the arc would leave it by 5 nm."""


@dataclass(frozen=True, slots=True)
class Segments:
    """m segments. start, end: complex (m,); bulge: (m,), |bulge| ≤ 1, none between 0 and `STRAIGHT`."""

    start: ComplexArray
    end: ComplexArray
    bulge: FloatArray

    @classmethod
    def of_rows(cls, rows: npt.ArrayLike) -> Segments:
        """From rows [x0, y0, x1, y1, bulge]; rows of no length are dropped, tiny bulges become lines."""
        table = np.asarray(rows, dtype=float).reshape(-1, 5)
        return cls.of_lasting(table[(table[:, 0] != table[:, 2]) | (table[:, 1] != table[:, 3])])

    @classmethod
    def of_lasting(cls, table: FloatArray) -> Segments:
        """The same from a table (m, 5) in which every row has a length."""
        bulge = table[:, 4]
        bulge = np.where(np.abs(bulge) < STRAIGHT, 0.0, bulge) if bulge.any() else np.zeros(len(table))
        return cls(table[:, 0] + 1j * table[:, 1], table[:, 2] + 1j * table[:, 3], bulge)

    @classmethod
    def joined(cls, many: Sequence[Segments]) -> Segments:
        """All segments of many, in order."""
        if not many:
            return cls.of_rows(np.empty((0, 5)))
        return cls(
            np.concatenate([s.start for s in many]),
            np.concatenate([s.end for s in many]),
            np.concatenate([s.bulge for s in many]),
        )

    def __len__(self) -> int:
        return len(self.start)

    def take(self, index: IntArray | BoolArray | slice) -> Segments:
        """Those chosen by an index, mask or slice, in its order."""
        return Segments(self.start[index], self.end[index], self.bulge[index])

    @property
    def straight(self) -> bool:
        """Whether all are lines: sines and cosines of nothing, which come to 1 exactly, need not be asked for."""
        return not self.bulge.any()

    @property
    def chord(self) -> ComplexArray:
        """End minus start."""
        return self.end - self.start

    @property
    def sweep(self) -> FloatArray:
        """Angle turned through, rad, signed; 0 for a line."""
        return 4.0 * np.arctan(self.bulge)

    @property
    def length(self) -> FloatArray:
        """Lengths along the curve, mm."""
        chord = np.abs(self.chord)
        return chord if self.straight else chord / _sinc(0.5 * np.abs(self.sweep))

    @property
    def centre(self) -> ComplexArray:
        """Centres of the arcs; nan for lines."""
        with np.errstate(divide="ignore", invalid="ignore"):
            lift = (1.0 - self.bulge**2) / (4.0 * self.bulge)
        lift = np.where(self.bulge == 0.0, np.nan, lift)
        return 0.5 * (self.start + self.end) + 1j * lift * self.chord

    @property
    def radius(self) -> FloatArray:
        """Radii of the arcs, positive; inf for lines."""
        with np.errstate(divide="ignore"):
            return np.abs(self.chord) * (1.0 + self.bulge**2) / (4.0 * np.abs(self.bulge))

    @property
    def area(self) -> FloatArray:
        """Signed area swept by the line from the origin (½∮ x dy − y dx): the sum over a closed loop is its area."""
        triangle: FloatArray = 0.5 * (np.conj(self.start) * self.end).imag
        if self.straight:
            return triangle
        sweep = self.sweep
        straight = self.bulge == 0.0
        radius = np.where(straight, 0.0, self.radius)
        return triangle + np.where(straight, 0.0, 0.5 * radius**2 * (sweep - np.sin(sweep)))

    def at(self, t: FloatArray) -> ComplexArray:
        """Points at the fractions t of the lengths (element by element); the very ends at 0 and 1."""
        if self.straight:
            return np.where(t == 1.0, self.end, self.start + self.chord * t)
        half = 0.5 * self.sweep
        turn = np.exp(-1j * (1.0 - t) * half)
        return np.where(t == 1.0, self.end, self.start + self.chord * turn * t * _sinc(t * half) / _sinc(half))

    def tangent(self, t: FloatArray) -> ComplexArray:
        """Unit directions of travel at the fractions t."""
        chord = self.chord
        direction: ComplexArray = chord / np.abs(chord)
        if not self.straight or np.shape(t) != chord.shape:
            direction = direction * np.exp(1j * (t - 0.5) * self.sweep)
        return direction

    def boxes(self, margin: float = 0.0) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """Bounds x0, y0, x1, y1 of each segment, tight, widened by `margin` on every side."""
        x0 = np.minimum(self.start.real, self.end.real)
        y0 = np.minimum(self.start.imag, self.end.imag)
        x1 = np.maximum(self.start.real, self.end.real)
        y1 = np.maximum(self.start.imag, self.end.imag)
        arcs = np.flatnonzero(self.bulge)
        if len(arcs):
            some = self.take(arcs)
            centre, radius = some.centre, some.radius
            for way, low, edge in ((1, x0, -1), (1j, y0, -1), (1, x1, 1), (1j, y1, 1)):
                extreme = centre + edge * way * radius
                on = some.in_sector(extreme, centre)
                value = extreme.real if way == 1 else extreme.imag
                low[arcs[on]] = value[on]
        return x0 - margin, y0 - margin, x1 + margin, y1 + margin

    def in_sector(self, point: ComplexArray, centre: ComplexArray) -> BoolArray:
        """Whether each point lies in the sector of each arc (element by element, shapes broadcast)."""
        to_point = np.conj(point - centre)
        from_start = (np.conj(self.start - centre) * np.conj(to_point)).imag
        to_end = (to_point * (self.end - centre)).imag
        turn = np.sign(self.bulge)
        return (from_start * turn >= 0.0) & (to_end * turn >= 0.0)

    def side(self, point: ComplexArray) -> FloatArray:
        """Positive left of the line or of the arc's whole circle, seen along travel; negative right (shapes broadcast).

        With the chord from −1 to 1 and q = u + iv the point, s the bulge, the circle through the arc is
        s(|q|² − 1) + (s² − 1)v = 0, which is the chord itself for s = 0.
        """
        q = (2.0 * point - (self.start + self.end)) / self.chord
        s = self.bulge
        return (1.0 - s * s) * q.imag - s * (q.real**2 + q.imag**2 - 1.0)

    def foot(self, point: ComplexArray) -> tuple[FloatArray, FloatArray]:
        """Distance to the nearest point of each segment, mm, and its fraction t along it (shapes broadcast)."""
        chord, s = self.chord, self.bulge
        half = 0.5 * np.abs(chord)
        q = (2.0 * point - (self.start + self.end)) / chord
        u, v = q.real, q.imag
        arc = s != 0.0
        # In the frame of `side` the centre is i·k and the power of the point is |q|² − 1 − 2kv.
        safe = np.where(arc, s, 1.0)
        k = (1.0 - safe * safe) / (2.0 * safe)
        radius = (1.0 + safe * safe) / (2.0 * np.abs(safe))
        from_centre = np.hypot(u, v - k)
        to_circle = np.abs(u * u + v * v - 1.0 - 2.0 * k * v) / (from_centre + radius)
        # Angle from the middle of the arc, which lies at −i·s, seen from the centre.
        angle = np.arctan2(u, (k - v) * np.sign(safe))
        full = 4.0 * np.arctan(np.abs(safe))
        t = np.where(arc, 0.5 + angle / full, 0.5 * (u + 1.0))
        inside = (t >= 0.0) & (t <= 1.0)
        to_end = np.sqrt((np.abs(u) - 1.0) ** 2 + v * v)
        gap = np.where(inside, np.where(arc, to_circle, np.abs(v)), to_end) * half
        t = np.where(inside, t, np.where(u > 0.0, 1.0, 0.0))
        return gap, t

    def distance(self, point: ComplexArray) -> FloatArray:
        """Distance from each point to each segment, mm (shapes broadcast)."""
        return self.foot(point)[0]

    def parts(self, t0: FloatArray, t1: FloatArray) -> Segments:
        """The part of each from fraction t0 to t1 ≥ t0, on the same curve."""
        return Segments(self.at(t0), self.at(t1), np.tan((t1 - t0) * np.arctan(self.bulge)))

    def reversed(self) -> Segments:
        """Each run backwards, in reversed order."""
        return Segments(self.end[::-1], self.start[::-1], -self.bulge[::-1])

    def facets(self, tol: float) -> IntArray:
        """How many equal chords keep within `tol` of each segment: at least 1, sagitta r(1 − cos(φ/2)) ≤ tol."""
        sweep = np.abs(self.sweep)
        radius = np.where(sweep == 0.0, 1.0, self.radius)
        step = 2.0 * np.arccos(np.clip(1.0 - tol / radius, 0.0, 1.0))
        return np.maximum(1, np.ceil(sweep / step - 1e-9)).astype(np.int64)


def _sinc(x: FloatArray) -> FloatArray:
    """sin(x)/x, 1 at 0."""
    return np.sinc(x / np.pi)


def as_complex(points: npt.ArrayLike) -> ComplexArray:
    """(k, 2) numbers, or one pair, as complex (k,)."""
    pairs = np.asarray(points, dtype=float).reshape(-1, 2)
    return pairs[:, 0] + 1j * pairs[:, 1]


def as_pairs(points: ComplexArray) -> FloatArray:
    """Complex numbers of any shape as pairs in a last axis of two."""
    return np.stack([points.real, points.imag], axis=-1)
