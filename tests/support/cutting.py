"""An independent judge of tool paths: plain numpy distances and pyclipper, nothing of the planner's own geometry.

Regions come in as vertices with bulges and are faceted here; moves are sampled here; the stock is a grid of heights.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import pyclipper

from jigcam.geometry import Region
from jigcam.kit import Bit, Machine
from jigcam.toolpath import Move

SCALE = 1e5
"""Units of pyclipper's integers in a millimetre."""
CHORD = 1e-3
"""Gap between arcs and the chords that pyclipper and the test for inside see, mm. Distances are exact."""


class Curve:
    """Lines and arcs, for distances: starts and ends (m, 2), centres (m, 2) and sweeps (m,), 0 for a line."""

    def __init__(self, rows: Iterable[tuple[complex, complex, float]]) -> None:
        """rows: start, end, sweep (rad, signed)."""
        table = list(rows)
        self.a = np.array([row[0] for row in table])
        self.b = np.array([row[1] for row in table])
        self.sweep = np.array([row[2] for row in table])
        arc = self.sweep != 0.0
        half = np.where(arc, 0.5 * self.sweep, 1.0)
        self.centre = 0.5 * (self.a + self.b) + 0.5j * (self.b - self.a) / np.tan(half)
        self.radius = np.abs(self.a - self.centre)

    @classmethod
    def around(cls, region: Region) -> Curve:
        """The boundary of a region."""
        return cls(row for loop in region.loops for row in _rows(loop.vertices))

    def distance(self, points: np.ndarray) -> np.ndarray:
        """From points (k, 2), mm."""
        p = points[:, 0] + 1j * points[:, 1]
        out = np.full(len(p), np.inf)
        for i in range(len(self.a)):
            out = np.minimum(out, self._one(p, i))
        return out

    def _one(self, p: np.ndarray, i: int) -> np.ndarray:
        a, b, sweep = self.a[i], self.b[i], self.sweep[i]
        if sweep == 0.0:
            way = b - a
            size = abs(way) ** 2
            t = np.clip(((p - a) * np.conj(way)).real / size, 0.0, 1.0) if size else 0.0
            return np.abs(p - a - t * way)
        spoke = p - self.centre[i]
        turn = np.angle(spoke / (a - self.centre[i])) * np.sign(sweep) % (2.0 * np.pi)
        ends = np.minimum(np.abs(p - a), np.abs(p - b))
        return np.where(turn <= abs(sweep), np.abs(np.abs(spoke) - self.radius[i]), ends)


def _rows(vertices: np.ndarray) -> Iterator[tuple[complex, complex, float]]:
    for (x0, y0, bulge), (x1, y1, _) in zip(vertices, np.roll(vertices, -1, axis=0), strict=True):
        if (x0, y0) != (x1, y1):
            yield complex(x0, y0), complex(x1, y1), 4.0 * math.atan(bulge)


def facets(region: Region) -> list[np.ndarray]:
    """Each loop as a chain of points (m, 2), on the curve and within `CHORD` of it."""
    return [np.vstack([_chain(*row) for row in _rows(loop.vertices)]) for loop in region.loops]


def _chain(a: complex, b: complex, sweep: float) -> np.ndarray:
    if sweep == 0.0:
        return np.array([(a.real, a.imag)])
    centre = 0.5 * (a + b) + 0.5j * (b - a) / math.tan(0.5 * sweep)
    count = max(1, math.ceil(abs(sweep) / (2.0 * math.acos(max(0.0, 1.0 - CHORD / abs(a - centre))))))
    turn = centre + (a - centre) * np.exp(1j * sweep * np.arange(count) / count)
    return np.column_stack([turn.real, turn.imag])


def inside(points: np.ndarray, chains: Sequence[np.ndarray]) -> np.ndarray:
    """Whether each point (k, 2) is in the even-odd inside of the chains."""
    odd = np.zeros(len(points), dtype=bool)
    px, py = points.T
    for chain in chains:
        for (x0, y0), (x1, y1) in zip(chain, np.roll(chain, -1, axis=0), strict=True):
            if y0 != y1:
                odd ^= ((y0 > py) != (y1 > py)) & (x0 + (py - y0) / (y1 - y0) * (x1 - x0) > px)
    return odd


def shrunk(chains: Sequence[np.ndarray], by: float) -> list[np.ndarray]:
    """The chains moved inward by pyclipper."""
    offset = pyclipper.PyclipperOffset(2.0, CHORD * SCALE)
    for chain in chains:
        whole = np.round(chain * SCALE).astype(np.int64).tolist()
        offset.AddPath(whole, pyclipper.JT_ROUND, pyclipper.ET_CLOSEDPOLYGON)
    return [np.array(path, dtype=float) / SCALE for path in offset.Execute(-by * SCALE)]


def chords(chains: Sequence[np.ndarray]) -> Curve:
    """Closed chains of points as lines."""
    rows = []
    for chain in chains:
        points = chain[:, 0] + 1j * chain[:, 1]
        rows += [(p, q, 0.0) for p, q in zip(points, np.roll(points, -1), strict=True)]
    return Curve(rows)


@dataclass(frozen=True)
class Stroke:
    """One chord of a move: plan view from a to b, heights z0 to z1."""

    move: int
    a: np.ndarray
    b: np.ndarray
    z0: float
    z1: float
    rapid: bool


def strokes(moves: Sequence[Move], tol: float = 0.02) -> Iterator[Stroke]:
    """The moves as chords, rounded to the last digit that a file has."""
    x, y, z = (round(v, 4) for v in moves[0].point)
    for number, move in enumerate(moves):
        ex, ey, ez = (round(v, 4) for v in move.point)
        points = [(x, y), (ex, ey)]
        if move.kind == "arc":
            cx, cy = x + round(move.cx - x, 4), y + round(move.cy - y, 4)
            radius, start = math.hypot(x - cx, y - cy), math.atan2(y - cy, x - cx)
            assert abs(math.hypot(ex - cx, ey - cy) - radius) < 0.002, "radii at both ends (NISTIR 6556, 3.5.3)"
            sweep = (math.atan2(ey - cy, ex - cx) - start) % math.tau
            sweep = sweep if move.ccw else sweep - math.tau
            assert abs(sweep) <= math.pi + 4e-4 / radius, "at most half a turn, in the digits of a file"
            count = max(1, math.ceil(abs(sweep) / (2.0 * math.acos(max(0.0, 1.0 - tol / radius)))))
            angles = start + sweep * np.arange(1, count) / count
            points[1:1] = list(zip(cx + radius * np.cos(angles), cy + radius * np.sin(angles), strict=True))
        heights = np.linspace(z, ez, len(points))
        for i in range(len(points) - 1):
            yield Stroke(
                number, np.array(points[i]), np.array(points[i + 1]), heights[i], heights[i + 1], move.kind == "rapid"
            )
        x, y, z = ex, ey, ez


def centre_ways(moves: Sequence[Move]) -> Iterator[tuple[complex, complex, float, float, float, bool]]:
    """Every move seen from above: start, end, sweep, heights at both, whether it is a rapid; in a file's digits."""
    x, y, z = (round(v, 4) for v in moves[0].point)
    for move in moves:
        ex, ey, ez = (round(v, 4) for v in move.point)
        sweep = 0.0
        if move.kind == "arc":
            cx, cy = x + round(move.cx - x, 4), y + round(move.cy - y, 4)
            sweep = (math.atan2(ey - cy, ex - cx) - math.atan2(y - cy, x - cx)) % math.tau
            sweep = sweep if move.ccw else sweep - math.tau
        yield complex(x, y), complex(ex, ey), sweep, z, ez, move.kind == "rapid"
        x, y, z = ex, ey, ez


def gouge(moves: Sequence[Move], region: Region, radius: float) -> float:
    """How far the cuts of a bit reach beyond a region, mm; negative if they keep clear of its boundary."""
    chains, edge = facets(region), Curve.around(region)
    points = []
    for a, b, sweep, z0, z1, _ in centre_ways(moves):
        if min(z0, z1) < -1e-6:
            t = np.linspace(0.0, 1.0, max(3, math.ceil(abs(b - a) / 0.5)))
            if sweep:
                centre = 0.5 * (a + b) + 0.5j * (b - a) / math.tan(0.5 * sweep)
                points.append(centre + (a - centre) * np.exp(1j * sweep * t))
            else:
                points.append(a + t * (b - a))
    where = np.concatenate(points)
    pairs = np.column_stack([where.real, where.imag])
    gap = edge.distance(pairs)
    return float(radius - np.where(inside(pairs, chains), gap, -gap).min())


def left_over(
    moves: Sequence[Move], region: Region, radius: float, level: float, *, short: float = 0.0, spacing: float = 0.5
) -> float:
    """How far the worst point of a region lies from what was cut at or below a level, mm; corners out of reach apart.

    short: what the cuts may leave at the walls.
    """
    chains = facets(region)
    low = [way[:3] for way in centre_ways(moves) if max(way[3:5]) <= level + 1e-6 and not way[5]]
    if not low:
        return math.inf
    reach = shrunk(chains, radius + short + 2e-3)  # a way exactly as wide as the bit may count as one or not
    if not reach:
        return 0.0
    points = np.vstack([_grid(chains, spacing), *(_beside(chain) for chain in chains)])
    to_reach = np.where(inside(points, reach), 0.0, chords(reach).distance(points))
    points = points[to_reach <= radius - 5e-3]
    return float((Curve(low).distance(points) - radius).max()) if len(points) else 0.0


def _grid(chains: Sequence[np.ndarray], spacing: float) -> np.ndarray:
    everything = np.vstack(chains)
    low, high = everything.min(axis=0), everything.max(axis=0)
    spacing = max(spacing, float((high - low).max()) / 120.0)
    xs, ys = (np.arange(a, b, spacing) for a, b in zip(low, high, strict=True))
    grid = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    return grid[inside(grid, chains)]


def _beside(chain: np.ndarray) -> np.ndarray:
    """Points on the boundary itself, about a millimetre apart."""
    after = np.roll(chain, -1, axis=0)
    out = [chain]
    for a, b in zip(chain, after, strict=True):
        count = math.ceil(float(np.hypot(*(b - a))))
        out.append(a + (np.arange(count)[:, None] + 0.5) / max(1, count) * (b - a))
    points = np.vstack(out)
    return points[:: max(1, len(points) // 1000)]


class Stock:
    """A grid of heights of the wood that still stands, cut move by move, and what was done that should not be."""

    def __init__(self, bounds: tuple[float, float, float, float], radius: float, spacing: float = 0.5) -> None:
        x0, y0, x1, y1 = bounds
        self.xs, self.ys = np.arange(x0, x1, spacing), np.arange(y0, y1, spacing)
        self.top = np.zeros((len(self.ys), len(self.xs)))
        self.radius, self.spacing = radius, spacing
        self.plunges: list[int] = []
        self.rapids: list[int] = []

    def cut(self, moves: Iterable[Move], *, steepest: float = math.tan(math.radians(6.0))) -> None:
        """Cuts all moves in order; notes rapids through wood and descents into it that are too steep."""
        for stroke in strokes(list(moves), tol=0.02):
            window = self._window(stroke)
            if window is None:
                continue
            rows, columns, gap, height = window
            under = gap <= self.radius
            if not under.any():
                continue
            wood = self.top[rows, columns]
            fall = stroke.z0 - stroke.z1
            length = float(np.hypot(*(stroke.b - stroke.a)))
            deep = (gap <= self.radius - 1.5 * self.spacing) & (wood > height + 0.05)
            if stroke.rapid and deep.any():
                self.rapids.append(stroke.move)
            if not stroke.rapid and fall > 1e-6 and fall > steepest * length and deep.any():
                self.plunges.append(stroke.move)
            wood[under] = np.minimum(wood[under], height[under])

    def _window(self, stroke: Stroke):
        low = np.minimum(stroke.a, stroke.b) - self.radius
        high = np.maximum(stroke.a, stroke.b) + self.radius
        i0, i1 = np.searchsorted(self.ys, [low[1], high[1]])
        j0, j1 = np.searchsorted(self.xs, [low[0], high[0]])
        if i0 == i1 or j0 == j1 or min(stroke.z0, stroke.z1) >= 0.0:
            return None
        rows, columns = slice(i0, i1), slice(j0, j1)
        x, y = np.meshgrid(self.xs[columns], self.ys[rows])
        way = stroke.b - stroke.a
        length = float(way @ way)
        t = np.clip(((x - stroke.a[0]) * way[0] + (y - stroke.a[1]) * way[1]) / length, 0.0, 1.0) if length else 1.0
        gap = np.hypot(x - stroke.a[0] - t * way[0], y - stroke.a[1] - t * way[1])
        return rows, columns, gap, stroke.z0 + t * (stroke.z1 - stroke.z0) + np.zeros_like(gap)


def feeds_over(moves: Sequence[Move], machine: Machine) -> list[int]:
    """Moves whose feed asks more of an axis than it has."""
    out = []
    at = moves[0].point
    for number, move in enumerate(moves):
        way = np.abs(np.subtract(move.point, at))
        length = float(np.sqrt((way**2).sum()))
        if move.kind != "rapid" and length:
            share = way / length
            if move.kind == "arc":
                spoke = math.hypot(at[0] - move.cx, at[1] - move.cy)
                turn = math.atan2(move.y - move.cy, move.x - move.cx) - math.atan2(at[1] - move.cy, at[0] - move.cx)
                flat = spoke * min(turn % math.tau, -turn % math.tau)
                whole = math.hypot(flat, way[2])
                share = np.array([flat / whole, flat / whole, way[2] / whole])
            if not move.feed > 0.0 or (move.feed * share > np.array(machine.max_feed) * (1.0 + 1e-9)).any():
                out.append(number)
        at = move.point
    return out


def low_rapids(moves: Sequence[Move], least: float = 1.0) -> list[int]:
    """Rapids that go across less than `least` mm above the stock, or anywhere below it."""
    out = []
    at = moves[0].point
    for number, move in enumerate(moves):
        across = math.dist(at[:2], move.point[:2]) > 1e-9
        if move.kind == "rapid" and ((across and min(at[2], move.z) < least) or (not across and move.z < 0.0)):
            out.append(number)
        at = move.point
    return out


def a_bit(diameter: float, **more) -> Bit:
    """A straight bit for tests."""
    fields = {
        "name": f"straight {diameter:g}",
        "kind": "straight",
        "diameter": diameter,
        "cutting_length": 30.0,
        "overall_length": 60.0,
        "shank": 6.0,
        "flutes": 2,
    }
    return Bit(**{**fields, **more})
