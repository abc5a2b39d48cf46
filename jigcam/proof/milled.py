"""What the strokes of a text clear at one height, as an exact region."""

from __future__ import annotations

import numpy as np

from jigcam.geometry import Path, Region, disc, swept, union
from jigcam.proof.outline import Outline
from jigcam.proof.strokes import Strokes
from jigcam.proof.sweeps import Work
from jigcam.proof.target import INSIDE

BY_THE_WALL = 0.5
"""Strokes this much farther from a wall than the tool's radius do not shape it, mm."""
MANY = 24
"""Strokes beyond which only those by the wall are united first."""


def milled(work: Work, z: float, wall: Region | None = None) -> Region:
    """The region that a straight bit clears at height z (file frame).

    wall: where its outline is wanted; with many strokes only those near it are united, and holes far from it stay.
    """
    travel = work.travel.take(np.flatnonzero(work.cuts)).below(z + INSIDE)
    if not len(travel):
        return Region.empty()
    radius = float(work.envelope.radius(np.array([z + INSIDE - float(travel.lowest.min())]))[0])
    strokes = travel.strokes
    if wall is not None and len(strokes) > MANY:
        middle = strokes.at(np.full(len(strokes), 0.5))
        near = Outline(wall).edge_distance(middle) <= radius + BY_THE_WALL + strokes.length / 2.0
        strokes = strokes.take(np.flatnonzero(near))
    return union(*(swept(path, radius) if isinstance(path, Path) else disc(*path, radius) for path in chains(strokes)))


def chains(strokes: Strokes) -> list[Path | tuple[float, float]]:
    """The strokes as paths, each going on where the one before ended; the same stroke twice is taken once.

    Points (plunges) come back as such unless a path starts or ends there.
    """
    key = np.round(np.column_stack([strokes.a, strokes.b, strokes.sweep]), 6)
    strokes = strokes.take(np.sort(np.unique(key, axis=0, return_index=True)[1]))
    moving = strokes.length > 0.0
    lines = strokes.take(np.flatnonzero(moving))
    paths: list[Path | tuple[float, float]] = []
    if len(lines):
        starts = np.flatnonzero(np.concatenate([[True], (np.abs(lines.a[1:] - lines.b[:-1]) > INSIDE).any(axis=1)]))
        bulge = np.tan(lines.sweep / 4.0)
        for first, last in zip(starts, [*starts[1:], len(lines)], strict=True):
            rows = np.column_stack([lines.a[first:last], bulge[first:last]])
            paths.append(Path(np.vstack([rows, [*lines.b[last - 1], 0.0]])))
    ends = np.concatenate([lines.a, lines.b])
    for point in np.unique(strokes.a[~moving], axis=0):
        if not len(ends) or np.hypot(*(ends - point).T).min() > INSIDE:
            paths.append((float(point[0]), float(point[1])))
    return paths


def filled(region: Region) -> Region:
    """Without its holes: the slug within a ring cut through has fallen out."""
    return union(*(Region((outline,)) for outline in region.outlines))
