"""Convex covers of the parts of squares that a region holds, and bounds over them on the distance from strokes.

A *cover* is the hull of up to 13 corners: those of a square that two half planes cut. Lengths in mm. Nothing here is
searched: `proof.left` asks for bounds, and quarters the squares whose bounds do not settle them.
"""

from __future__ import annotations

import numpy as np

from jigcam.proof.strokes import Strokes
from jigcam.values import dataclass

ROUNDING = 1e-9
"""mm by which half planes are set outward: rounding of places some metres from the origin stays below it."""
WITHIN_SQUARE = 1e-6
"""Share of half a side by which a computed corner may lie outside the cover that it is a corner of."""
CORNERS = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
SIDES = np.array([[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]])


def polygon_of(
    squares: np.ndarray, half: float, normal: np.ndarray, offset: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Corners of squares cut by two half planes each: the square's, those on its sides, and where the cuts meet. Those
    count that are in the square and beyond no cut, with a slack that takes one too many rather than one too few."""
    count = len(squares)
    points = np.full((count, 13, 2), np.nan)
    points[:, :4] = squares[:, None, :] + half * CORNERS
    side_offset = squares @ SIDES.T + half
    with np.errstate(invalid="ignore", divide="ignore"):
        for slot in (0, 1):
            for side in range(4):
                points[:, 4 + 4 * slot + side] = _meeting(
                    np.broadcast_to(SIDES[side], (count, 2)), side_offset[:, side], normal[:, slot], offset[:, slot]
                )
        points[:, 12] = _meeting(normal[:, 0], offset[:, 0], normal[:, 1], offset[:, 1])
        real = np.isfinite(points).all(axis=2)
        slack = ROUNDING + WITHIN_SQUARE * half
        real &= (np.abs(points - squares[:, None, :]) <= half + slack).all(axis=2)
        for slot in (0, 1):
            real &= ~(np.einsum("kij,kj->ki", points, normal[:, slot]) > offset[:, slot, None] + slack)
    return points, real


def _meeting(n0: np.ndarray, d0: np.ndarray, n1: np.ndarray, d1: np.ndarray) -> np.ndarray:
    """Where the lines n · x = d meet, row by row."""
    determinant = n0[:, 0] * n1[:, 1] - n0[:, 1] * n1[:, 0]
    x = (d0 * n1[:, 1] - d1 * n0[:, 1]) / determinant
    y = (d1 * n0[:, 0] - d0 * n1[:, 0]) / determinant
    return np.column_stack([x, y])


@dataclass(frozen=True)
class Cover:
    """Covers of the region's parts of k squares.

    corners (k, 13, 2) and which of them are real: a convex hull. centre (k, 2): of a circle; within, outside: radii
    about it that hold the part, or keep it out; ±inf where there is none.
    """

    corners: np.ndarray
    real: np.ndarray
    half: float
    centre: np.ndarray
    within: np.ndarray
    outside: np.ndarray


def farthest(part: Cover, strokes: Strokes, index: np.ndarray) -> np.ndarray:
    """(k,) bound on the distance of a part's places from stroke `index` (k,); −inf for a part without corners."""
    rows, columns = np.nonzero(part.real)
    which, points = index[rows], part.corners[rows, columns]
    bound = np.full(len(index), -np.inf)
    np.maximum.at(bound, rows, strokes.distance(points, which))
    arc = strokes.arc[index]
    if arc.any():
        bound[arc] = _farthest_arc(part, rows, points, which, strokes, index)[arc]
    return bound


def _farthest_arc(
    part: Cover, rows: np.ndarray, points: np.ndarray, which: np.ndarray, strokes: Strokes, index: np.ndarray
) -> np.ndarray:
    """The same for arcs, (k,): from the circle where the arc faces all corners, else from the better of its ends.

    An arc of at most half a turn faces a convex wedge; if all corners lie in it, so does their hull, and the distance
    there is ||p − c| − r|: at most the greatest |p − c| less r, or r less the least. The greatest is at a corner; the
    least may be on a chord between two, of at most a diagonal: √(least² − 2·half²). A circle that holds the part, or
    keeps it out, bounds both by its radius and how far apart the centres are: exactly, for a wall about the centre of
    the arc, however large the square. Distance from an end is convex too, and no less than from the arc.
    """
    count = len(index)
    keep = strokes.arc[which]
    rows, points, which = rows[keep], points[keep], which[keep]
    reach = np.hypot(*(points - strokes.centre[which]).T)
    least, most = np.full(count, np.inf), np.full(count, -np.inf)
    np.minimum.at(least, rows, reach)
    np.maximum.at(most, rows, reach)
    inner = np.sqrt(np.maximum(least**2 - 2.0 * part.half**2, 0.0))
    apart = np.hypot(*(np.nan_to_num(strokes.centre[index]) - part.centre).T)
    most, inner = np.minimum(most, part.within + apart), np.maximum(inner, part.outside - apart)
    circle = np.maximum(most - strokes.radius[index], strokes.radius[index] - inner)
    turned_away = np.zeros(count, bool)
    turned_away[rows[~strokes.facing(points, which)]] = True
    to_a, to_b = np.full(count, -np.inf), np.full(count, -np.inf)
    np.maximum.at(to_a, rows, np.hypot(*(points - strokes.a[which]).T))
    np.maximum.at(to_b, rows, np.hypot(*(points - strokes.b[which]).T))
    ends = np.minimum(to_a, to_b)
    farthest: np.ndarray = np.where(turned_away, ends, np.minimum(circle, ends))
    return farthest


def convex_bound(corners: np.ndarray, real: np.ndarray, strokes: Strokes, index: np.ndarray) -> np.ndarray:
    """(k, 13) at each corner a convex function that over their hull is nowhere below the distance from stroke `index`;
    −inf at those that are not real.

    Distance from a straight stroke is one. An arc that faces all corners is ||p − c| − r| away: |p − c| − r is one, and
    r − |p − c| is at most r − u · (p − c) for any unit vector u; the better, the nearer p lies to that way from c.
    Else it is distance from one place of the arc.
    """
    rows, columns = np.nonzero(real)
    points, which = corners[rows, columns], index[rows]
    values = strokes.distance(points, which)
    if strokes.arc[index].any():
        count = np.maximum(real.sum(axis=1), 1)[:, None]
        middle = np.where(real[:, :, None], corners, 0.0).sum(axis=1) / count
        foot = strokes.foot(middle, index)[1]
        on = strokes.arc[which]
        turned_away = np.zeros(len(index), bool)
        turned_away[rows[on][~strokes.facing(points[on], which[on])]] = True
        spoke, way = points - strokes.centre[which], (middle - strokes.centre[index])[rows]
        long = np.hypot(*way.T)
        way = np.where(long[:, None] > 0.0, way / np.where(long > 0.0, long, 1.0)[:, None], [1.0, 0.0])
        radius = strokes.radius[which]
        round_ = np.maximum(np.hypot(*spoke.T) - radius, radius - np.einsum("ij,ij->i", spoke, way))
        round_ = np.where(turned_away[rows], np.hypot(*(points - foot[rows]).T), round_)
        values = np.where(on, round_, values)
    above = np.full(real.shape, -np.inf)
    above[rows, columns] = values
    return above
