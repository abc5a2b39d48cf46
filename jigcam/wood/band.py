"""The band of a straight cut across a board: where it enters, leaves, and how near it comes to the edges.

A *band* is the endless strip of a given width along a centreline. Its own frame: `s` along the centreline from the
drawn start toward the finish, `t` across it, to the left. The board is the rectangle (0, 0)–(length, width) of a face
frame. All lengths in mm. Everything here is exact arithmetic on convex polygons; no curve is involved.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, inf, sin

PARALLEL = 1e-9
"""A direction whose component along an axis is smaller than this is square to the axis; the same in mm."""

SLANT = 0.5
"""A way whose component along an axis is under this share of it is told by the other axis alone."""

Point = tuple[float, float]

EDGES = ("x = 0", "x = length", "lower", "upper")
"""The four sides of the board in a face frame, in the order of `Band.distances`."""


def sides(face: str) -> tuple[str, str, str, str]:
    """The board's sides in the order of `EDGES`, as they are named: ends seen from the outside face.

    face: "outside", "inside", or an end, "left end" or "right end", seen square with the outside face down.
    """
    if face in ("left end", "right end"):
        first, last = ("lower edge", "upper edge") if face == "left end" else ("upper edge", "lower edge")
        return first, last, "outside face", "inside face"
    left, right = ("left end", "right end") if face == "outside" else ("right end", "left end")
    return left, right, "lower edge", "upper edge"


def toward(x: float, y: float, face: str) -> str:
    """A direction (unit vector of the face frame) as a person at the board says it: by ends and edges.

    >>> toward(0.0, 1.0, "outside"), toward(-1.0, 0.0, "inside")
    ('upper edge', 'right end')
    """
    left, right, lower, upper = sides(face)
    along, across = (right if x > 0 else left), (upper if y > 0 else lower)
    if abs(x) < SLANT:
        return across
    if abs(y) < SLANT:
        return along
    return f"{across} and the {along}"


def at_hand(side: str, face: str) -> str:
    """A side of the board with the hand at which a person has it who looks square at a face, its lower edge nearest.

    An end has the outside face nearest. Sides that lie before or behind the person are said as they are.

    >>> at_hand("right end", "inside"), at_hand("lower edge", "inside")
    ('right end (at your left)', 'lower edge')
    """
    left, right, _, _ = sides(face)
    hand = {left: "left", right: "right"}.get(side)
    return f"{side} (at your {hand})" if hand else side


def _clipped(polygon: list[Point], nx: float, ny: float, limit: float) -> list[Point]:
    """The part of a convex polygon where n·p ≤ limit (Sutherland and Hodgman, 1974)."""
    kept: list[Point] = []
    for i, q in enumerate(polygon):
        p = polygon[i - 1]
        hp, hq = nx * p[0] + ny * p[1] - limit, nx * q[0] + ny * q[1] - limit
        if (hp < 0.0 < hq) or (hq < 0.0 < hp):
            k = hp / (hp - hq)
            kept.append((p[0] + k * (q[0] - p[0]), p[1] + k * (q[1] - p[1])))
        if hq <= 0.0:
            kept.append(q)
    return kept


@dataclass(frozen=True, slots=True)
class Band:
    """A strip of `width` through (x, y) along `angle` (rad, anticlockwise from +x), on a board length × breadth."""

    x: float
    y: float
    angle: float
    width: float
    length: float
    breadth: float

    @property
    def along(self) -> Point:
        """Unit vector of s."""
        return cos(self.angle), sin(self.angle)

    def at(self, s: float, t: float = 0.0) -> Point:
        """The point at (s, t), face frame."""
        ux, uy = self.along
        return self.x + s * ux - t * uy, self.y + s * uy + t * ux

    def on_board(self, s_from: float = -inf, s_to: float = inf, t_from: float = -inf, t_to: float = inf) -> list[Point]:
        """Corners of the convex part of the board within the given stretch of s and t; empty where there is none."""
        ux, uy = self.along
        s0, t0 = ux * self.x + uy * self.y, ux * self.y - uy * self.x
        polygon: list[Point] = [(0.0, 0.0), (self.length, 0.0), (self.length, self.breadth), (0.0, self.breadth)]
        for nx, ny, limit in (
            (ux, uy, s0 + s_to),
            (-ux, -uy, -s0 - s_from),
            (-uy, ux, t0 + t_to),
            (uy, -ux, -t0 - t_from),
        ):
            if limit < inf:
                polygon = _clipped(polygon, nx, ny, limit)
        return polygon

    def span(self) -> tuple[float, float] | None:
        """Least and greatest s at which any part of the band still touches the board; None where it misses it."""
        half = self.width / 2.0
        ux, uy = self.along
        corners = self.on_board(t_from=-half, t_to=half)
        stations = [ux * (px - self.x) + uy * (py - self.y) for px, py in corners]
        return (min(stations), max(stations)) if stations else None

    def line_span(self, t: float = 0.0) -> tuple[float, float] | None:
        """Least and greatest s of the line at t (the centreline, or a wall at ± width/2) on the board, or None."""
        low, high = -inf, inf
        for start, way, limit in zip(self.at(0.0, t), self.along, (self.length, self.breadth), strict=True):
            if abs(way) < PARALLEL:
                if not -PARALLEL <= start <= limit + PARALLEL:
                    return None
                continue
            near, far = sorted((-start / way, (limit - start) / way))
            low, high = max(low, near), min(high, far)
        return (low, high) if low <= high else None

    def end_distances(self, s: float, *, outward: int, round_end: bool) -> tuple[float, float, float, float]:
        """Distance of an end's shape to each side of the board, in the order of `EDGES`; negative beyond it.

        s: the extreme of the end. outward: +1 where the end looks along +s, −1 where it looks back.
        A round end is the half disc of radius width/2, a square one the line between its corners.
        """
        half = self.width / 2.0
        ux, uy = self.along
        if not round_end:
            return self.distances([self.at(s, half), self.at(s, -half)])
        cx, cy = self.at(s - outward * half)

        def reach(nx: float, ny: float) -> float:
            """How far the half disc extends along the unit vector n, from its centre."""
            ahead = (nx * ux + ny * uy) * outward
            return half if ahead >= 0.0 else half * abs(nx * uy - ny * ux)

        return (
            cx - reach(-1.0, 0.0),
            self.length - cx - reach(1.0, 0.0),
            cy - reach(0.0, -1.0),
            self.breadth - cy - reach(0.0, 1.0),
        )

    def distances(self, points: list[Point]) -> tuple[float, float, float, float]:
        """Least distance of the points to each side of the board, in the order of `EDGES`; negative beyond it."""
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return min(xs), self.length - max(xs), min(ys), self.breadth - max(ys)
