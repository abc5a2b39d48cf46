"""Links: smooth ways from the end of one path onto another, so that the bit need not stop between rings."""

from __future__ import annotations

import cmath
import math

import numpy as np

from jigcam.geometry import Path, Region
from jigcam.toolpath.loops import Point, heading, path_is_inside, place

AHEAD = (3.0, 2.0, 1.2)
"""How far along the new path a link meets it, in distances between the two, tried in turn."""
TIGHTEST = 0.5
"""Radius that a link has at least, in bit radii."""


def smooth_link(start: Point, way: Point, loop: Path, s: float, gap: float, ground: Region,
                radius: float) -> tuple[Path, float] | None:  # fmt: skip
    """Two arcs from a point, along its direction `way`, onto a closed path, and the station where they meet it.

    s: station of the loop that is nearest to the point, gap: the distance there, mm. ground: region that the link may
    not leave. radius: of the bit. None where no such link fits.
    """
    for ahead in AHEAD:
        there = s + ahead * gap
        link = biarc(start, way, place(loop, there), heading(loop, there))
        if link is not None and least_radius(link) >= TIGHTEST * radius and path_is_inside(ground, link):
            return link, there
    return None


def biarc(p: Point, along_p: Point, q: Point, along_q: Point) -> Path | None:
    """Two arcs that leave p and reach q along the given unit directions; None where one would turn too far.

    The tangents of both arcs at the joint have one length d: |q − p − d (a + b)|² = (2 d)² for directions a and b (D).
    """
    a, b = complex(*along_p), complex(*along_q)
    start, end = complex(*p), complex(*q)
    v = end - start
    along = _dot(v, a + b)
    spread = 2.0 * (1.0 - _dot(a, b))
    if spread < 1e-9:
        if along <= 1e-9:
            return None
        d = _dot(v, v) / (2.0 * along)
    else:
        d = (math.sqrt(along * along + spread * _dot(v, v)) - along) / spread
    joint = 0.5 * (start + end + d * (a - b))
    if d <= 0.0 or abs(joint - start) < 1e-6 or abs(end - joint) < 1e-6:
        return None
    turns = [cmath.phase((joint - start) / a), cmath.phase(b / (end - joint))]
    if max(map(abs, turns)) > 0.45 * math.pi:
        return None
    bulges = [*(math.tan(0.5 * turn) for turn in turns), 0.0]
    return Path(np.array([(z.real, z.imag, bulge) for z, bulge in zip((start, joint, end), bulges, strict=True)]))


def least_radius(path: Path) -> float:
    """Radius of its tightest arc, mm; inf without arcs."""
    return float(path.as_segments().radius.min())


def _dot(a: complex, b: complex) -> float:
    return a.real * b.real + a.imag * b.imag

