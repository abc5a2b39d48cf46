"""Corners of a ring where the engagement rises: the bit meets the wood ahead before it has turned.

Rings have uncut wood on their right. Where one turns left, into an inside corner of the pocket, the band that it takes
lies ahead of it as well as beside it, so the last stretch before the corner is cut slower.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from jigcam.geometry import Path

SHARP = 0.6
"""rad; a turn by less is no corner (common practice, no source)."""
SLOWER = 0.6
"""Feed into a corner, of the feed along (common practice, no source)."""


def stretches(path: Path, reach: float) -> Iterator[tuple[float, float, bool]]:
    """An open path in pieces: from station, to station, and whether it is one of `reach` mm that ends in a corner."""
    segments = path.as_segments()
    ends = np.cumsum(segments.length)
    turns = np.angle(segments.tangent(np.zeros(len(segments)))[1:] / segments.tangent(np.ones(len(segments)))[:-1])
    at = 0.0
    for corner in ends[:-1][turns > SHARP].tolist():
        before = max(at, corner - reach)
        if before > at:
            yield at, before, False
        if corner > before:
            yield before, corner, True
        at = corner
    if ends[-1] > at:
        yield at, float(ends[-1]), False
