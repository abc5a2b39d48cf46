"""Places on closed paths: the nearest station, a calm one to start at, and the way round from there.

A *station* is an arc length from a path's first vertex, mm.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from jigcam.geometry import Path, Region

Point = tuple[float, float]


def station(path: Path, point: Point) -> float:
    """Where the path comes nearest to a point."""
    segments = path.as_segments()
    gap, t = segments.foot(np.array(complex(*point)))
    nearest = int(np.argmin(gap))
    before = float(segments.length[:nearest].sum())
    return before + float(t[nearest] * segments.length[nearest])


def place(path: Path, s: float) -> Point:
    """The point at a station; a closed path goes round again."""
    point, _ = path.at(s)
    return float(point[0]), float(point[1])


def heading(path: Path, s: float) -> Point:
    """The unit direction of travel at a station."""
    _, way = path.at(s)
    return float(way[0]), float(way[1])


def nearest_on(paths: Sequence[Path], point: Point) -> tuple[int, float, float]:
    """Index of the path that comes nearest to a point, the station there, and the distance."""
    gaps = [float(path.distance([point])[0]) for path in paths]
    best = int(np.argmin(gaps))
    return best, station(paths[best], point), gaps[best]


def unrolled(loop: Path, s0: float, length: float) -> Path:
    """The open path from station s0 along a closed one for `length` mm, round and round where that is more."""
    total = loop.length
    s0 = s0 % total
    if length <= total:
        return loop.substring(s0, s0 + length)
    rounds, rest = divmod(length, total)
    once = loop.substring(s0, s0 + total).vertices
    tables = [once[:-1]] * int(rounds)
    if rest > 1e-6:
        tables.append(loop.substring(s0, s0 + rest).vertices)
    else:
        tables.append(once[-1:])
    return Path(np.vstack(tables))


def round_from(loop: Path, s0: float) -> Path:
    """Once round a closed path as an open one, from station s0 back to it."""
    return unrolled(loop, s0, loop.length)


def calm_stations(loop: Path, avoid: Sequence[tuple[float, float]] = ()) -> list[float]:
    """Stations, those first that are furthest from the ends of their segments and from the given stretches."""
    lengths = loop.as_segments().length
    starts = np.cumsum(lengths) - lengths
    fractions = np.array([0.5, 0.25, 0.75, 0.1, 0.9])
    stations = (starts[:, None] + lengths[:, None] * fractions).ravel()
    calm = (lengths[:, None] * np.minimum(fractions, 1.0 - fractions)).ravel()
    total = float(lengths.sum())
    for a, b in avoid:
        middle, half = 0.5 * (a + b), 0.5 * (b - a)
        gap = np.abs((stations - middle + 0.5 * total) % total - 0.5 * total) - half
        calm = np.minimum(calm, gap)
    calmest: list[float] = stations[np.argsort(-calm, kind="stable")].tolist()
    return calmest


def calm_station(loop: Path, avoid: Sequence[tuple[float, float]] = ()) -> float:
    """The first of them."""
    return calm_stations(loop, avoid)[0]


def way_is_inside(region: Region, p: Point, q: Point, slack: float = 1e-3) -> bool:
    """Whether the straight way from p to q leaves the region nowhere by more than 2 · `slack` mm."""
    return math.dist(p, q) < slack or path_is_inside(region, Path.through([p, q]), slack)


def path_is_inside(region: Region, path: Path, slack: float = 1e-3) -> bool:
    """Whether a path leaves the region nowhere by more than 2 · `slack` mm.

    The signed distance changes by at most the way gone, so stretches with enough of it need no closer look.
    """
    if region.is_empty:
        return False
    length = path.length
    count = max(1, math.ceil(length))
    half = 0.5 * length / count
    stations = half * (2.0 * np.arange(count) + 1.0)
    while len(stations):
        gap = region.signed_distance(path.at(stations)[0])
        if (gap < -slack).any():
            return False
        if half < slack:
            return True
        near = stations[gap < half]
        half *= 0.5
        stations = np.concatenate([near - half, near + half])
    return True
