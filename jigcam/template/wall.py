"""The wall of sheet that stays between two openings, and carries the bushing in both of them."""

from __future__ import annotations

import numpy as np

from jigcam.geometry import Region, intersection
from jigcam.geometry.nearest import nearest
from jigcam.geometry.segment import as_complex, as_pairs
from jigcam.values import dataclass

STEP = 0.25
"""Between the places of an outline from which the other one is looked for, mm: on the roundest end of a groove the
thinnest place is then found within 1 µm."""
SHARED = 1e-3
"""Openings that share less than this (mm²) are apart."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class SheetWall:
    """What stays between two regions where they come nearest. size: mm, 0 where they meet; a, b: its two ends."""

    size: float
    a: Point
    b: Point


def wall_between(one: Region, other: Region) -> SheetWall:
    """The thinnest wall between two regions, mm; of size 0 where they touch or share something."""
    there, back = _nearest(one, other), _nearest(other, one)
    wall = min(there, SheetWall(back.size, back.b, back.a), key=lambda wall: wall.size)
    if intersection(one, other).area > SHARED:
        return SheetWall(0.0, wall.a, wall.b)
    return wall


def _nearest(one: Region, other: Region) -> SheetWall:
    """From the outline of `one`, looked at in places, to that of `other`."""
    rows = [loop.vertices[:, :2] for loop in one.loops]
    rows += [loop.at(np.arange(0.0, loop.length, STEP))[0] for loop in one.loops]
    points = as_complex(np.vstack(rows))
    segments = other.as_segments()
    gap, index = nearest(points, segments)
    least = int(gap.argmin())
    its = segments.take(index[[least]])
    foot = as_pairs(its.at(np.clip(its.foot(points[[least]])[1], 0.0, 1.0)))[0]
    here = as_pairs(points[[least]])[0]
    return SheetWall(float(gap[least]), (float(here[0]), float(here[1])), (float(foot[0]), float(foot[1])))
