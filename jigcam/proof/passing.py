"""Where to look in a file for wood that it leaves standing: motions that pass nearest, arcs that turn away."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from jigcam.proof.sweeps import Work

SAME = 1e-3
"""Motions that pass within this of the nearest are named too, mm; two that meet there both are."""
MOST = 3
"""Motions that are named."""
ON_CIRCLE = 0.02
"""A place this near to what the whole circle of an arc would cut belongs to it, mm."""


def passing(works: Mapping[int, Work], x: float, y: float, z: float) -> list[int]:
    """The numbers of the cutting motions whose tip comes nearest to a place, ascending.

    A tip that is deeper than the place counts as level with it: it has cut there.
    """
    motions: list[np.ndarray] = []
    gaps: list[np.ndarray] = []
    for work in works.values():
        index = np.flatnonzero(work.cuts)
        if len(index):
            points = np.broadcast_to(np.array([x, y]), (len(index), 2))
            distance, foot = work.travel.strokes.foot(points, index)
            high = np.maximum(work.travel.height_at(index, foot) - z, 0.0)
            gaps.append(np.hypot(distance, high))
            motions.append(work.travel.motion[index])
    if not motions:
        return []
    gap, motion = np.concatenate(gaps), np.concatenate(motions)
    near = gap <= gap.min() + SAME
    order = np.lexsort((motion[near], gap[near]))
    named = dict.fromkeys(int(number) for number in motion[near][order])
    return sorted(list(named)[:MOST])


def turned_away(works: Mapping[int, Work], x: float, y: float, z: float) -> list[int]:
    """The numbers of the motions along an arc whose wall a place would be, if they went round the other way: G2 where
    G3 was meant, or the reverse."""
    spot = np.array([x, y])
    named: dict[int, bool] = {}
    for work in works.values():
        strokes, travel = work.travel.strokes, work.travel
        index = np.flatnonzero(work.cuts & strokes.arc & (travel.highest <= z))
        if not len(index):
            continue
        away = np.hypot(*(spot - strokes.centre[index]).T) - strokes.radius[index]
        reach = work.envelope.radius(z - travel.highest[index])
        touches = np.abs(np.abs(away) - reach) <= ON_CIRCLE
        faces = strokes.facing(np.broadcast_to(spot, (len(index), 2)), index)
        for motion, touch, face in zip(travel.motion[index], touches, faces, strict=True):
            named[int(motion)] = named.get(int(motion), True) and bool(touch) and not bool(face)
    return [motion for motion, away in named.items() if away][:MOST]
