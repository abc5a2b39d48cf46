"""How much of a router's base rests on the sheet as its bushing rides round the opening, and whether it would tip.

The base is a disc about the bushing's centre. It rests on the sheet less the opening. The router tips where the centre
of its base lies outside the convex hull of what carries it. Screw holes and marks are too small to count.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jigcam.geometry import Region

Floats = npt.NDArray[np.float64]

FACET = 0.01
"""Arcs are taken as chords within this, mm: less than 1 in 10 000 of the area under the smallest base."""
STEP = 4.0
"""Distance between the places of the ride that are looked at, mm."""
DIRECTIONS = 120
"""Directions in which the hull is probed; also the points along the base's rim."""


@dataclass(frozen=True, slots=True)
class Support:
    """The worst of a ride. fraction: of the base's area that rests on the sheet, at (x, y), mm.

    lever: least distance (mm) of the base's centre from the edge of the hull of its support, over the whole ride, found
    at lever_at; negative where it is outside. tips: whether it is, or on the edge. base_radius: of the router, mm.
    """

    fraction: float
    x: float
    y: float
    lever: float
    lever_at: tuple[float, float]
    base_radius: float

    @property
    def tips(self) -> bool:
        """Whether the router would fall into the opening or off the sheet if it were let go."""
        return self.lever <= 0.0


def support(sheet: Region, opening: Region, ride: Region, base_radius: float) -> Support:
    """The worst support over a ride. sheet: finished outline; opening: within it; ride: of the bushing's centre; mm."""
    centres = stations(ride)
    fractions = supported_fraction(centres, sheet, opening, base_radius)
    levers = _levers(centres, sheet, opening, base_radius)
    worst, least = int(fractions.argmin()), int(levers.argmin())
    return Support(
        fraction=float(fractions[worst]),
        x=float(centres[worst, 0]),
        y=float(centres[worst, 1]),
        lever=float(levers[least]),
        lever_at=(float(centres[least, 0]), float(centres[least, 1])),
        base_radius=base_radius,
    )


def stations(ride: Region, step: float = STEP) -> Floats:
    """Points (k, 2) of a ride: along its edge, at most `step` mm apart, and twice as far apart within.

    Near the sheet's rim the support is worst on the ride's edge; over a wide opening it is worst in the middle.
    """
    x0, y0, x1, y1 = ride.bounds
    grid = np.stack(np.meshgrid(np.arange(x0, x1, 2.0 * step), np.arange(y0, y1, 2.0 * step)), axis=-1).reshape(-1, 2)
    runs = [grid[ride.contains(grid)]]
    for loop in ride.loops:
        count = max(2, int(np.ceil(loop.length / step)))
        runs += [loop.vertices[:, :2], loop.at(np.linspace(0.0, loop.length, count, endpoint=False))[0]]
    return np.vstack(runs)


def supported_fraction(centres: npt.ArrayLike, sheet: Region, opening: Region, base_radius: float) -> Floats:
    """For each centre (k, 2) the share (k,) of a disc of base_radius about it that lies on the sheet off the opening.

    Exact for lines; arcs are taken as chords within `FACET`.
    """
    points = np.asarray(centres, dtype=float)
    on_sheet = _disc_overlap(points, _edges(sheet), base_radius) - _disc_overlap(points, _edges(opening), base_radius)
    return on_sheet / (np.pi * base_radius**2)


def _edges(region: Region) -> Floats:
    """Directed chords (m, 2, 2) of all loops, the inside on the left."""
    loops = [loop.points(FACET) for loop in region.loops]
    return np.vstack([np.stack([points, np.roll(points, -1, axis=0)], axis=1) for points in loops])


def _disc_overlap(centres: Floats, edges: Floats, r: float) -> Floats:
    """Area (k,) that each disc shares with the polygon of the edges.

    Each edge closes a triangle with the centre; the disc's share of it is a triangle between the edge's crossings with
    the rim, and a sector on either side.
    """
    p = edges[None, :, 0] - centres[:, None]
    q = edges[None, :, 1] - centres[:, None]
    way = q - p
    a = np.maximum((way * way).sum(-1), 1e-30)
    b, c = (p * way).sum(-1), (p * p).sum(-1) - r * r
    root = b * b - a * c
    half = np.sqrt(np.maximum(root, 0.0))
    crosses = root > 0.0
    t0 = np.where(crosses, np.clip((-b - half) / a, 0.0, 1.0), 0.0)
    t1 = np.where(crosses, np.clip((-b + half) / a, 0.0, 1.0), 0.0)
    inner, outer = p + t0[..., None] * way, p + t1[..., None] * way
    area = _cross(inner, outer) + r * r * (_angle(p, inner) + _angle(outer, q))
    shared: Floats = 0.5 * area.sum(-1)
    return shared


def _cross(p: Floats, q: Floats) -> Floats:
    product: Floats = p[..., 0] * q[..., 1] - p[..., 1] * q[..., 0]
    return product


def _angle(p: Floats, q: Floats) -> Floats:
    """Signed angle from p to q, rad."""
    angle: Floats = np.arctan2(_cross(p, q), (p * q).sum(-1))
    return angle


def _levers(centres: Floats, sheet: Region, opening: Region, r: float) -> Floats:
    """For each centre, how far it lies inside the hull of its support, (k,), mm; negative outside.

    That is the least, over all directions, of the furthest that the support reaches from the centre in that direction.
    The support's extreme points are on the rim of the base, or on edges of the sheet or of the opening.
    """
    turn = np.linspace(0.0, 2.0 * np.pi, DIRECTIONS, endpoint=False)
    unit = np.column_stack([np.cos(turn), np.sin(turn)])
    rim = (centres[:, None] + r * unit).reshape(-1, 2)
    carried = (sheet.contains(rim) & ~opening.contains(rim)).reshape(len(centres), DIRECTIONS)
    # Of the rim, what is carried nearest to a direction, on either side of it, reaches furthest in it.
    ahead, back = _last(carried), DIRECTIONS - 1 - _last(carried[:, ::-1])[:, ::-1]
    reached = r * (unit @ unit.T)
    every = np.arange(DIRECTIONS)
    reach = np.maximum(reached[every, ahead], reached[every, back])
    reach[~carried.any(axis=1)] = -np.inf
    spots = np.vstack([loop.at(np.arange(0.0, loop.length, STEP))[0] for loop in (*sheet.loops, *opening.loops)])
    arm = spots[None] - centres[:, None]
    within = (arm * arm).sum(-1) <= r * r
    for i in range(len(centres)):
        if within[i].any():
            reach[i] = np.maximum(reach[i], (arm[i, within[i]] @ unit.T).max(0))
    lever: Floats = reach.min(-1)
    return lever


def _last(rows: npt.NDArray[np.bool_]) -> npt.NDArray[np.intp]:
    """For each place (k, n) of rows that run in a circle, the last true one up to there; any where none is."""
    count = rows.shape[1]
    twice = np.where(np.hstack([rows, rows]), np.arange(2 * count), 0)
    last: npt.NDArray[np.intp] = np.maximum.accumulate(twice, axis=1)[:, count:] % count
    return last
