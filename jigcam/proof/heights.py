"""The heights at which a layer of the drawing has to be looked at, so that no wall and no floor is missed."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from jigcam.proof.sweeps import Work, flat_tips
from jigcam.proof.target import INSIDE, Layer

MOST_HEIGHTS = 48
"""Heights of floors within one layer that are looked at one by one."""
WALL = 2.0
"""Heights on sloped walls are no farther apart than this, mm."""


def is_plain(layer: Layer, works: Sequence[Work]) -> bool:
    """Whether everything in a layer is upright: its walls and all bits that reach it."""
    return layer.upright and all(
        not len(work.travel) or work.envelope.straight_to >= layer.high - float(work.travel.lowest.min())
        for work in works
        if (work.travel.lowest < layer.high - INSIDE).any()
    )


def heights_of(layer: Layer, works: Sequence[Work]) -> list[float]:
    """Heights at which a layer is looked at, descending; one alone if all in it is upright."""
    low, high = layer.low + INSIDE, layer.high - INSIDE
    if is_plain(layer, works):
        return [high]
    heights = {low, high}
    tips = flat_tips(works)
    corners = np.unique(np.concatenate([work.envelope.corners for work in works])) if works else np.empty(0)
    floors = np.unique(np.round((tips[:, None] + corners[None, :]).ravel(), 3))
    floors = floors[(floors > low) & (floors < high)]
    if len(floors) > MOST_HEIGHTS:
        floors = floors[np.linspace(0, len(floors) - 1, MOST_HEIGHTS).astype(np.intp)]
    for floor in floors:
        heights |= {float(np.clip(floor - INSIDE, low, high)), float(np.clip(floor + INSIDE, low, high))}
    count = int(np.ceil((high - low) / WALL)) + 1
    heights |= {float(z) for z in np.linspace(low, high, max(count, 3))}
    return sorted(heights, reverse=True)
