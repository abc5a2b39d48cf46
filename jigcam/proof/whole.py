"""Parts of a region that one stroke clears as a whole: slots one bit wide, drilled holes. They need no closer look."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from jigcam.geometry import Region
from jigcam.geometry.nearby import BoxTree
from jigcam.proof.outline import Outline
from jigcam.proof.strokes import Strokes


@dataclass(frozen=True)
class Swept:
    """Strokes of a tool's centre with one radius, mm: they clear all that lies within it."""

    strokes: Strokes
    radius: float


def not_whole(must: Outline, sweeps: Sequence[Swept], slack: float) -> Outline:
    """What is left of a region without the parts of which no place is farther than `slack` from what one stroke clears.

    Distance from a straight stroke, or from one place of a round one, is convex: over a part without holes it is
    greatest on its outline, and there at the ends of straight strokes. On a round one it is no greater than the
    distance of its centre and the radius, nor than that of its ends and the height of the arc over its chord.
    """
    outline, loops = must.strokes, len(must.region.loops)
    low, high = np.full((loops, 2), np.inf), np.full((loops, 2), -np.inf)
    np.minimum.at(low, must.loop, outline.boxes[:, :2])
    np.maximum.at(high, must.loop, outline.boxes[:, 2:])
    height = outline.radius * (1.0 - np.cos(outline.sweep / 2.0))
    farthest = np.full(loops, np.inf)
    for sweep in sweeps:
        core = _core(sweep.strokes.take(sweep.strokes.tree.nearest((low + high) / 2.0)))
        far = np.maximum(core.distance(outline.a, must.loop), core.distance(outline.b, must.loop)) + height
        arcs = np.flatnonzero(outline.arc)
        round_ = core.distance(outline.centre[arcs], must.loop[arcs]) + outline.radius[arcs]
        far[arcs] = np.minimum(far[arcs], round_)
        worst = np.full(loops, -np.inf)
        np.maximum.at(worst, must.loop, far)
        farthest = np.minimum(farthest, worst - sweep.radius)
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


def _areas(outline: Outline) -> np.ndarray:
    """(loops,) area within each loop, mm², positive for those that run anticlockwise."""
    strokes = outline.strokes
    origin = strokes.a[np.searchsorted(outline.loop, outline.loop)]  # a near one: far from it digits would be lost
    a, b = strokes.a - origin, strokes.b - origin
    under = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    beside = strokes.radius**2 * (strokes.sweep - np.sin(strokes.sweep))
    return np.bincount(outline.loop, (under + beside) / 2.0, len(outline.region.loops))
