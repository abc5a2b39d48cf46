"""Links: ways from the end of one path onto another, smooth where that is quicker than to stop, step over and start."""

from __future__ import annotations

import cmath
import math

import numpy as np

from jigcam.geometry import Path, Region
from jigcam.toolpath.loops import Point, heading, path_is_inside, place
from jigcam.toolpath.track import Cutter
from jigcam.values import dataclass

AHEAD = (3.0, 2.0, 1.2, 0.8)
"""How far along the new path a link meets it, in distances between the two."""
TIGHTEST = 0.5
"""Radius that a link has at least, in bit radii."""


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast the bit goes: feed and acceleration in mm/s and mm/s²."""

    feed: float
    acceleration: float

    @classmethod
    def of(cls, cutter: Cutter) -> Pace:
        """That of a bit on its machine, by the slower of the level axes."""
        return cls(cutter.feeds.feed / 60.0, min(cutter.machine.acceleration[:2]))

    def rounding(self, path: Path) -> float:
        """Seconds along a path on which the bit need not stop: on arcs v² = a r, half of a each way (D)."""
        segments = path.as_segments()
        tops = np.minimum(self.feed, np.sqrt(math.sqrt(0.5) * self.acceleration * segments.radius))
        slowed = (self.feed - float(tops.min())) ** 2 / (self.acceleration * self.feed)
        return float((segments.length / tops).sum()) + slowed

    def stepping(self, length: float) -> float:
        """Seconds for stopping, going straight over, stopping and starting again, beyond those of the paths (D)."""
        to_speed = self.feed / self.acceleration
        if length < self.feed * to_speed:
            return to_speed + 2.0 * math.sqrt(length / self.acceleration)
        return 2.0 * to_speed + length / self.feed


def smooth_link(
    start: Point, way: Point, loop: Path, s: float, gap: float, ground: Region, cutter: Cutter
) -> tuple[Path, float] | None:
    """Two arcs from a point, along its direction `way`, onto a closed path, and the station where they meet it.

    s: station of the loop that is nearest to the point, gap: the distance there, mm. ground: region that the link may
    not leave. None where none fits that is quicker than a step straight over.
    """
    pace = Pace.of(cutter)
    fitting: list[tuple[float, Path, float]] = []
    for ahead in AHEAD:
        there = s + ahead * gap
        link = biarc(start, way, place(loop, there), heading(loop, there))
        if link is not None and least_radius(link) >= TIGHTEST * cutter.radius:
            fitting.append((pace.rounding(link), link, there))
    limit = pace.stepping(gap)
    for spent, link, there in sorted(fitting, key=lambda each: each[0]):
        if spent < limit and path_is_inside(ground, link):
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
