"""How near strokes come to each other: exact least distances for many pairs of lines and arcs at once.

The least distance of two strokes is reached at an end of one of them, at a crossing, or where the line of shortest
distance stands square on both: from a line toward the centre of an arc, or along the line of two centres.
"""

from __future__ import annotations

import numpy as np

from jigcam.proof.strokes import Strokes

EDGE = 1e-9
"""Shares of a line this far outside 0 to 1 still count as on it."""


def closest(p: Strokes, i: np.ndarray, q: Strokes, j: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Least distance of p[i] from q[j] for each pair (k,), mm, and the (k, 2) place on p where it is reached."""
    best = np.full(len(i), np.inf)
    place = p.a[i].copy()

    def offer(gap: np.ndarray, where: np.ndarray, of: np.ndarray | slice = slice(None)) -> None:
        better = gap < best[of]
        rows = np.arange(len(best))[of][better]
        best[rows] = gap[better]
        place[rows] = where[better]

    offer(q.distance(p.a[i], j), p.a[i])
    offer(q.distance(p.b[i], j), p.b[i])
    for end in (q.a[j], q.b[j]):
        offer(*p.foot(end, i))

    p_arc, q_arc = p.arc[i], q.arc[j]
    for rows, interior in (
        (~p_arc & ~q_arc, _line_line),
        (~p_arc & q_arc, _line_arc),
        (p_arc & ~q_arc, _arc_line),
        (p_arc & q_arc, _arc_arc),
    ):
        if rows.any():
            # A pair whose ends already touch can come no nearer.
            rows &= best > 0.0
            for gap, where in interior(p, i[rows], q, j[rows]):
                offer(gap, where, rows)
    return best, place


Offers = list[tuple[np.ndarray, np.ndarray]]


def _cross(u: np.ndarray, v: np.ndarray) -> np.ndarray:
    cross: np.ndarray = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    return cross


def _line_line(p: Strokes, i: np.ndarray, q: Strokes, j: np.ndarray) -> Offers:
    """Crossings of two lines."""
    along, other, between = p.b[i] - p.a[i], q.b[j] - q.a[j], q.a[j] - p.a[i]
    denominator = _cross(along, other)
    safe = np.where(denominator == 0.0, np.inf, denominator)
    s, t = _cross(between, other) / safe, _cross(between, along) / safe
    crossing = (denominator != 0.0) & (s >= 0.0) & (s <= 1.0) & (t >= 0.0) & (t <= 1.0)
    return [(np.where(crossing, 0.0, np.inf), p.a[i] + s[:, None] * along)]


def _unit(vector: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    size = np.hypot(*vector.T)
    return vector / np.where(size > 0.0, size, 1.0)[:, None], size


def _line_and_circle(
    line: Strokes, i: np.ndarray, circle: Strokes, j: np.ndarray
) -> list[tuple[np.ndarray, np.ndarray, np.ndarray]]:
    """(gap, place on the line, place on the arc) where line and arc cross or stand nearest between their ends."""
    a, centre, radius = line.a[i], circle.centre[j], circle.radius[j]
    direction, length = _unit(line.b[i] - a)
    middle = np.einsum("ij,ij->i", centre - a, direction)
    foot = a + middle[:, None] * direction
    toward, height = _unit(foot - centre)
    nearest = centre + radius[:, None] * toward
    found = [(np.abs(height - radius), middle, foot, nearest)]
    half = np.sqrt(np.maximum(radius**2 - height**2, 0.0))
    for sign in (1.0, -1.0):
        crossing = foot + (sign * half)[:, None] * direction
        found.append((np.where(height <= radius, 0.0, np.inf), middle + sign * half, crossing, crossing))
    edge = EDGE * np.maximum(length, 1.0)
    return [
        (np.where((share >= -edge) & (share <= length + edge) & circle.facing(on_arc, j), gap, np.inf), on_line, on_arc)
        for gap, share, on_line, on_arc in found
    ]


def _line_arc(p: Strokes, i: np.ndarray, q: Strokes, j: np.ndarray) -> Offers:
    return [(gap, on_line) for gap, on_line, _ in _line_and_circle(p, i, q, j)]


def _arc_line(p: Strokes, i: np.ndarray, q: Strokes, j: np.ndarray) -> Offers:
    return [(gap, on_arc) for gap, _, on_arc in _line_and_circle(q, j, p, i)]


def _arc_arc(p: Strokes, i: np.ndarray, q: Strokes, j: np.ndarray) -> Offers:
    """Crossings of two arcs, and the four places on the line of their centres; circles about one centre need none."""
    c0, r0, c1, r1 = p.centre[i], p.radius[i], q.centre[j], q.radius[j]
    toward, apart = _unit(c1 - c0)
    offers: Offers = []

    def offer(gap: np.ndarray, on_p: np.ndarray, on_q: np.ndarray) -> None:
        ok = p.facing(on_p, i) & q.facing(on_q, j) & (apart > 0.0)
        offers.append((np.where(ok, gap, np.inf), on_p))

    for side_p in (1.0, -1.0):
        for side_q in (1.0, -1.0):
            on_p, on_q = c0 + (side_p * r0)[:, None] * toward, c1 + (side_q * r1)[:, None] * toward
            offer(np.hypot(*(on_p - on_q).T), on_p, on_q)
    safe = np.where(apart > 0.0, apart, 1.0)
    share = (apart**2 + r0**2 - r1**2) / (2.0 * safe)
    square = r0**2 - share**2
    half = np.sqrt(np.maximum(square, 0.0))
    left = np.column_stack([-toward[:, 1], toward[:, 0]])
    for sign in (1.0, -1.0):
        crossing = c0 + share[:, None] * toward + (sign * half)[:, None] * left
        offer(np.where(square >= 0.0, 0.0, np.inf), crossing, crossing)
    return offers
