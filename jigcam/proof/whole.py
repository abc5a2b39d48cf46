"""Parts of a region that one stroke, or one full turn, clears as a whole: slots one bit wide, holes drilled or
bored round. They need no closer look."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from jigcam.geometry import Region
from jigcam.geometry.nearby import BoxTree
from jigcam.proof.outline import Outline
from jigcam.proof.strokes import Strokes
from jigcam.values import dataclass

TURN = 2.0 * np.pi
SAME = 1e-6
"""Round strokes whose circles differ by less than this are on one circle, mm."""


@dataclass(frozen=True)
class Swept:
    """Strokes of a tool's centre with one radius, mm: they clear all that lies within it."""

    strokes: Strokes
    radius: float


def not_whole(must: Outline, sweeps: Sequence[Swept], slack: float) -> Outline:
    """What is left of a region without the parts of which no place is farther than `slack` from what one stroke clears.

    Distance from a straight stroke, or from one place of a round one, is convex: over a part without holes it is
    greatest on its outline, and there at the ends of straight strokes. On a round one it is no greater than the
    distance of its centre and the radius, nor than that of its ends and the height of the arc over its chord. Full
    turns about one centre that leave nothing between them do as the widest of them.
    """
    outline, loops = must.strokes, len(must.region.loops)
    low, high = np.full((loops, 2), np.inf), np.full((loops, 2), -np.inf)
    np.minimum.at(low, must.loop, outline.boxes[:, :2])
    np.maximum.at(high, must.loop, outline.boxes[:, 2:])
    height = outline.radius * (1.0 - np.cos(outline.sweep / 2.0))
    arcs = np.flatnonzero(outline.arc)

    def worst(core: Strokes) -> np.ndarray:
        """(loops,) bound on the distance of each part's places from its core, the stroke with its number."""
        far = np.maximum(core.distance(outline.a, must.loop), core.distance(outline.b, must.loop)) + height
        round_ = core.distance(outline.centre[arcs], must.loop[arcs]) + outline.radius[arcs]
        far[arcs] = np.minimum(far[arcs], round_)
        most = np.full(loops, -np.inf)
        np.maximum.at(most, must.loop, far)
        return most

    middle, farthest = (low + high) / 2.0, np.full(loops, np.inf)
    for sweep in sweeps:
        core = _core(sweep.strokes.take(sweep.strokes.tree.nearest(middle)))
        farthest = np.minimum(farthest, worst(core) - sweep.radius)
        centre, radius = _full_turns(sweep.strokes, sweep.radius + slack - SAME)
        if len(radius):
            points = Strokes.lines(centre, centre)
            nearest = points.tree.nearest(middle)
            farthest = np.minimum(farthest, worst(points.take(nearest)) - radius[nearest] + SAME - sweep.radius)
    whole = (farthest <= slack) & (_areas(must) > 0.0)
    holes = np.flatnonzero(_areas(must) <= 0.0)
    boxes = np.hstack([low, high])
    whole[BoxTree(boxes).meeting(boxes[holes])[1]] = False
    if not whole.any():
        return must
    return Outline(Region(tuple(must.region.loops[k] for k in np.flatnonzero(~whole))))


def _core(strokes: Strokes) -> Strokes:
    """Straight strokes as they are, of round ones their middle."""
    middle = strokes.at(np.full(len(strokes), 0.5))
    arc = strokes.arc[:, None]
    return Strokes.lines(np.where(arc, middle, strokes.a), np.where(arc, middle, strokes.b))


def _full_turns(strokes: Strokes, reach: float) -> tuple[np.ndarray, np.ndarray]:
    """Centres (m, 2) and radii (m,) of circles that strokes cover all round, within `SAME`, one for each centre.

    It is the widest within which no place is farther from all circles about that centre than `reach`: the least of them
    has no greater radius, and the others follow in steps of twice that at most.
    """
    arcs = np.flatnonzero(strokes.arc)
    if not len(arcs):
        return np.empty((0, 2)), np.empty(0)
    cells = np.round(np.column_stack([strokes.centre, strokes.radius])[arcs] / (SAME / 4.0))
    start = (strokes.first[arcs] + np.minimum(strokes.sweep[arcs], 0.0)) % TURN
    order = np.lexsort((start, *cells.T[::-1]))
    arcs, cells, start = arcs[order], cells[order], start[order]
    fresh = np.append(True, (cells[1:] != cells[:-1]).any(axis=1))
    circle = np.cumsum(fresh) - 1
    # How far round each circle is covered, in the order of the starts; numbers keep the circles apart.
    apart = 4.0 * TURN * circle
    covered = np.maximum.accumulate(start + np.abs(strokes.sweep[arcs]) + apart) - apart
    gap = np.append(0.0, start[1:] - covered[:-1])
    gap[fresh] = -np.inf
    last = np.append(fresh[1:], True)
    gap[last] = np.maximum(gap[last], start[fresh] + TURN - covered[last])
    first = np.flatnonzero(fresh)
    full = first[np.maximum.reduceat(gap, first) * strokes.radius[arcs[first]] <= SAME / 4.0]
    centre, radius = strokes.centre[arcs[full]], strokes.radius[arcs[full]]
    fresh = np.append(True, (cells[full[1:], :2] != cells[full[:-1], :2]).any(axis=1))[: len(full)]
    far = np.where(fresh, radius, np.diff(radius, prepend=0.0) / 2.0) > reach
    group = np.cumsum(fresh) - 1
    before = np.cumsum(far)
    sound = np.flatnonzero(before == (before - far)[fresh][group])
    widest = sound[np.append(np.diff(group[sound]) > 0, True)[: len(sound)]]
    return centre[widest], radius[widest]


def _areas(outline: Outline) -> np.ndarray:
    """(loops,) area within each loop, mm², positive for those that run anticlockwise."""
    strokes = outline.strokes
    origin = strokes.a[np.searchsorted(outline.loop, outline.loop)]  # a near one: far from it digits would be lost
    a, b = strokes.a - origin, strokes.b - origin
    under = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    beside = strokes.radius**2 * (strokes.sweep - np.sin(strokes.sweep))
    return np.bincount(outline.loop, (under + beside) / 2.0, len(outline.region.loops))
