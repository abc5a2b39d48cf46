"""How far the tool goes into wood that has to stay: exact least distances of its path from that wood.

At one height a tool of radius R whose centre passes at distance g from the wood to keep cuts R − g into it. g is the
least distance of stroke and outline, so no spike is missed between samples.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from jigcam.proof.closest import closest
from jigcam.proof.outline import Outline
from jigcam.proof.strokes import Strokes
from jigcam.proof.target import Mark

PROBES = 33
"""Places tried along a stroke that runs through wood."""
SPACING = 0.25
"""Places along a stroke at which its distance from a mark's lines is taken, mm: between two that lie on a line it can
stray only where the line itself turns."""
MOST_PLACES = 2000
"""Such places on one stroke at most: one longer than marks ever are strays from them at its ends already."""
BATCH = 2500
"""Strokes looked at in one go."""
MOST_PROBED = 4000
"""Strokes probed in full at most; beyond that the rest is known to gouge by the tool's radius at least."""


@dataclass(frozen=True)
class Bite:
    """Per stroke: how deep it cuts into the wood to keep (mm, ≤ 0 for none) and the (k, 2) place of the tool there."""

    depth: np.ndarray
    place: np.ndarray


def bites(keep: Outline, strokes: Strokes, radius: np.ndarray, marks: Sequence[Mark] = ()) -> Bite:
    """The bite of each stroke, with the tool's radius (k,), into `keep`. What lies within a mark may be cut as well."""
    depth = np.full(len(strokes), -np.inf)
    place = strokes.a.copy()
    if keep.is_empty or not len(strokes):
        return Bite(depth, place)
    most = np.full(len(strokes), np.inf)
    for mark in marks:
        most = np.minimum(most, _beyond(mark, strokes, radius))
    # Strokes that keep within a mark need no closer look.
    rows = np.flatnonzero(most > 0.0)
    if len(rows) < len(strokes):
        closer = bites(keep, strokes.take(rows), radius[rows])
        depth[:] = most
        depth[rows], place[rows] = np.minimum(closer.depth, most[rows]), closer.place
        return Bite(depth, place)
    if len(strokes) > BATCH:
        for k in range(0, len(strokes), BATCH):
            part = slice(k, k + BATCH)
            closer = bites(keep, strokes.take(part), radius[part])
            depth[part], place[part] = closer.depth, closer.place
        return Bite(np.minimum(depth, most), place)
    reach = np.maximum(radius, 0.0)[:, None]
    boxes = strokes.boxes + np.hstack([-reach, -reach, reach, reach])
    i, j = keep.strokes.tree.meeting(boxes)
    gap, where = closest(strokes, i, keep.strokes, j)
    order = np.lexsort((-gap, i))  # the least gap of each stroke comes last and stays
    depth[i[order]] = radius[i[order]] - gap[order]
    place[i[order]] = where[order]
    crossing = np.zeros(len(strokes), bool)
    crossing[i[gap <= 0.0]] = True
    middle = strokes.at(np.full(len(strokes), 0.5))
    _probe(keep, strokes, radius, np.flatnonzero(crossing | keep.inside(middle)), depth, place)
    return Bite(np.minimum(depth, most), place)


def _probe(keep: Outline, strokes: Strokes, radius: np.ndarray, through: np.ndarray, depth: np.ndarray,
           place: np.ndarray) -> None:  # fmt: skip
    """Deepens the bite of strokes that run through the wood: there the tool's centre itself lies inside it."""
    depth[through] = np.maximum(depth[through], radius[through])
    through = through[:MOST_PROBED]
    if len(through):
        owner = np.repeat(through, PROBES)
        points = strokes.at(np.tile(np.linspace(0.0, 1.0, PROBES), len(through)), owner)
        bite = (radius[owner] + keep.depth(points)).reshape(-1, PROBES)
        best = bite.argmax(axis=1)
        deeper = bite.max(axis=1) >= depth[through]
        rows = through[deeper]
        depth[rows] = bite.max(axis=1)[deeper]
        place[rows] = points.reshape(-1, PROBES, 2)[np.arange(len(through)), best][deeper]


def _beyond(mark: Mark, strokes: Strokes, radius: np.ndarray) -> np.ndarray:
    """(k,) how far the tool reaches beyond a mark, mm; not above 0 where it keeps within it."""
    if not len(mark.strokes):
        return np.full(len(strokes), np.inf)
    line = mark.strokes.tree.nearest(strokes.at(np.full(len(strokes), 0.5)))
    # Distance from one straight line is convex along a straight stroke: its ends tell.
    off = np.maximum(mark.strokes.distance(strokes.a, line), mark.strokes.distance(strokes.b, line))
    off[strokes.arc | mark.strokes.arc[line]] = np.inf
    beyond = radius + off - mark.width / 2.0
    # Others run along several lines, or along round ones.
    rows = np.flatnonzero(beyond > 0.0)
    if len(rows):
        counts = np.clip(np.ceil(strokes.length[rows] / SPACING), PROBES, MOST_PLACES).astype(np.intp)
        owner = np.repeat(np.arange(len(rows)), counts)
        rank = np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts)
        points = strokes.at(rank / (counts[owner] - 1), rows[owner])
        off = np.zeros(len(rows))
        np.maximum.at(off, owner, mark.strokes.distance(points, mark.strokes.tree.nearest(points)))
        beyond[rows] = np.minimum(beyond[rows], radius[rows] + off - mark.width / 2.0)
    return beyond
