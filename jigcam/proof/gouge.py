"""How far the tool goes into wood that has to stay: exact least distances of its path from that wood.

At one height a tool of radius R whose centre passes at distance g from the wood to keep cuts R − g into it. g is the
least distance of stroke and outline, so no spike is missed between samples.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from jigcam.proof.closest import closest
from jigcam.proof.outline import Near, Outline
from jigcam.proof.straying import straying
from jigcam.proof.strokes import Strokes
from jigcam.proof.target import Mark
from jigcam.values import dataclass

PROBES = 33
"""Places tried along a stroke that runs through wood."""
BATCH = 2500
"""Strokes looked at in one go."""
BESIDE = 1e-3
"""Walls are looked for this much farther off than the tool reaches, mm: a true path passes them just at its radius."""
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
    through, far = np.zeros(len(strokes), bool), np.zeros(len(strokes), bool)
    for k in range(0, len(strokes), BATCH):
        part = slice(k, k + BATCH)
        depth[part], place[part], through[part], far[part] = _sideways(keep, strokes.take(part), radius[part])
    # Of what passes no wall near enough to tell on which side of it, the outline as a whole knows.
    rows = np.flatnonzero(far)
    through[rows] = keep.inside(strokes.at(np.full(len(rows), 0.5), rows))
    _probe(keep, strokes, radius, np.flatnonzero(through), depth, place)
    return Bite(np.minimum(depth, most), place)


def _sideways(
    keep: Outline, strokes: Strokes, radius: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Per stroke: how deep it cuts into the outline and the place of the tool there; whether its middle runs through
    the wood or it crosses the outline; and whether it is too far from the outline to know."""
    depth, place = np.full(len(strokes), -np.inf), strokes.a.copy()
    reach = np.maximum(radius, 0.0) + BESIDE
    boxes = strokes.boxes + np.column_stack([-reach, -reach, reach, reach])
    i, j = keep.strokes.box_tree.meeting(boxes)
    gap, where = closest(strokes, i, keep.strokes, j)
    order = np.lexsort((-gap, i))  # the least gap of each stroke comes last and stays
    depth[i[order]] = radius[i[order]] - gap[order]
    place[i[order]] = where[order]
    through = np.zeros(len(strokes), bool)
    through[i[gap <= 0.0]] = True
    middle = strokes.at(np.full(len(strokes), 0.5))
    near = Near(i, j, keep.strokes.distance(middle[i], j)).within(reach)
    sided = np.bincount(near.i, minlength=len(strokes)) > 0
    through[sided] |= keep.inside_by(middle[sided], near.among(sided))
    return depth, place, through, ~sided & ~through


def _probe(
    keep: Outline, strokes: Strokes, radius: np.ndarray, through: np.ndarray, depth: np.ndarray, place: np.ndarray
) -> None:
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
    room = mark.width / 2.0 - radius
    return straying(strokes, mark.strokes, room)[0] - room
