"""What one bit does in a file: its profile and its strokes, and what they clear at a height."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from jigcam.geometry import Region
from jigcam.proof.envelope import Envelope
from jigcam.proof.outline import bounds_of
from jigcam.proof.target import INSIDE
from jigcam.proof.travel import Travel
from jigcam.proof.whole import Swept

GROUPS = 64
"""Different radii at one height that are kept apart; more are rounded down to this many."""
FLOOR = 1e-4
"""Heights of floors nearer than this are one, mm."""


@dataclass(frozen=True)
class Work:
    """What one bit does: its travel, and which of the strokes cut on purpose (a feed, the spindle turning)."""

    envelope: Envelope
    travel: Travel
    cuts: np.ndarray

    def take(self, index: np.ndarray) -> Work:
        """Only the strokes at those places."""
        return Work(self.envelope, self.travel.take(index), self.cuts[index])


def flat_tips(works: Iterable[Work]) -> np.ndarray:
    """Heights at which tips move level, ascending, each once."""
    heights = [work.travel.z0[(work.travel.z0 == work.travel.z1) & work.cuts] for work in works]
    return np.unique(np.round(np.concatenate(heights) / FLOOR) * FLOOR) if heights else np.empty(0)


def sweeps(work: Work, z: float, region: Region) -> list[Swept]:
    """What a work clears of a region at height z: its cutting strokes that reach it, by the tool's radius there."""
    return [] if region.is_empty else sweeps_of(work, z, bounds_of(region))


def sweeps_of(work: Work, z: float, box: tuple[float, float, float, float]) -> list[Swept]:
    """The same of a box x0, y0, x1, y1."""
    x0, y0, x1, y1 = box
    boxes, reach = work.travel.strokes.boxes, work.envelope.largest
    near = (boxes[:, 0] <= x1 + reach) & (boxes[:, 2] >= x0 - reach)
    near &= (boxes[:, 1] <= y1 + reach) & (boxes[:, 3] >= y0 - reach)
    pieces, radius, _ = work.travel.take(np.flatnonzero(work.cuts & near)).pieces(work.envelope, z + INSIDE)
    keep = radius > 0.0
    pieces, radius = pieces.take(keep), radius[keep]
    if not len(pieces):
        return []
    rounded = np.floor(radius / 1e-4 + 1e-6) * 1e-4
    if (rounded == rounded[0]).all():
        return [Swept(pieces.strokes, float(radius.min()))]
    if len(np.unique(rounded)) > GROUPS:
        span = rounded.max() - rounded.min()
        rounded = rounded.min() + np.floor((rounded - rounded.min()) / span * (GROUPS - 1)) * span / (GROUPS - 1)
    groups = []
    for value in np.unique(rounded)[::-1]:
        rows = np.flatnonzero(rounded == value)
        groups.append(Swept(pieces.strokes.take(rows), float(radius[rows].min())))
    return groups
