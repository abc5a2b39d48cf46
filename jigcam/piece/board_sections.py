"""Sections through a board with its joints, for its drawing: what is taken in a plane, slab by slab.

A *profile* is what a cut takes in a plane: polygons with the way along the plane as x and minus the depth below the
outside face as y, mm. Walls are drawn straight between the depths that matter, which flanks and walls of joints are.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

import numpy as np

from jigcam.geometry import Region, chords, polygon, rectangle, rotation
from jigcam.piece.body import ends_of

if TYPE_CHECKING:
    from jigcam.piece.body import Body

STRAIGHT = 2.0
"""mm; a cut whose straight edges are all shorter is drawn as it lies, across the board."""


def profile(body: Body, across: Literal["x", "y"], at: float, turn: float = 0.0) -> list[Region]:
    """What a body takes in the plane x = at or y = at (`across` names it) after a turn of the board by `turn` (rad)."""
    found = []
    for slab in body.slabs:
        top, bottom = (chords(turned(body.section(depth), turn), across, at) for depth in ends_of(slab))
        if len(top) != len(bottom):
            continue
        high, low = -slab[0], -slab[1]
        found += [
            polygon([(c, low), (d, low), (b, high), (a, high)])
            for (a, b), (c, d) in zip(top, bottom, strict=True)
            if b - a > STRAIGHT * 1e-3
        ]
    return found


def turned(region: Region, turn: float) -> Region:
    """The region about the origin, anticlockwise; as it is where there is no turn."""
    return region if turn == 0.0 else region.transformed(rotation(turn))


def way_of(body: Body) -> float:
    """The angle (rad, board frame) along which a cut runs: that of its longest straight edge; along the grain where it
    has none."""
    longest, angle = STRAIGHT, 0.0
    for loop in body.section(body.middle).loops:
        rows = loop.segments()
        for x0, y0, x1, y1, bulge in rows.tolist():
            length = math.hypot(x1 - x0, y1 - y0)
            if bulge == 0.0 and length > longest + 1e-6:
                longest, angle = length, math.atan2(y1 - y0, x1 - x0)
    return angle


def across_the_cut(body: Body) -> tuple[list[Region], float, tuple[float, float]]:
    """The profile square to the way of a cut, half way along it, the angle of the plane (rad, board frame), and from
    where to where the board reaches in it, mm."""
    angle = way_of(body)
    turn = math.pi / 2.0 - angle  # the cut then runs up
    _, y0, _, y1 = turned(body.section(body.middle), turn).bounds
    level, board = (y0 + y1) / 2.0, body.taken.board
    ((first, last),) = chords(turned(rectangle(0.0, 0.0, board.length, board.width), turn), "y", level)
    return profile(body, "y", level, turn), angle - math.pi / 2.0, (first, last)


def extremes(region: Region, axis: Literal["x", "y"]) -> Sequence[tuple[float, float]]:
    """The least and the greatest place of a region along an axis, each with where it lies across, mm."""
    points = np.vstack([loop.points(0.01) for loop in region.loops])
    k = 0 if axis == "x" else 1
    low, high = points[points[:, k].argmin()], points[points[:, k].argmax()]
    return [(float(p[k]), float(p[1 - k])) for p in (low, high)]
