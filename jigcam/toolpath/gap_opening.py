"""Clears a gap with a floor in as little way as it takes: lanes along it, or to and fro across it, where that is less.

To and fro half of the lanes cut against the feed: nothing of them is left to be seen, as the walls keep an allowance.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from jigcam.toolpath.gap import Gap, Mouth
from jigcam.toolpath.gap_run import Pass, Trail, clearing_run
from jigcam.toolpath.track import Cutter, Run

STEP = 0.6
"""Distance of lanes in bit diameters: no ridge between them is felt by the finishing pass (common practice, no
source)."""
OUTERMOST = 0.5
"""Where the first lane across is, in radii of the bit from the mouth."""


def opening_run(openings: Sequence[tuple[float, Gap]], cutter: Cutter, mouth: Mouth) -> Run:
    """Clears a gap between two walls and a floor, level by level.

    openings: z of each level in mm, descending, and the gap as it is there. The bit goes down before the mouth and
    comes back to it through ground that is cleared.
    """
    step = STEP * cutter.bit.diameter
    gap = openings[0][1]
    lanes = gap.lanes(step)
    if 2.0 * gap.last * len(lanes) <= gap.last + gap.width * len(_depths(gap, cutter.radius, step)):
        return clearing_run([Pass(level, each, each.lanes(step)) for level, each in openings], cutter, mouth)
    trail = Trail.starting(cutter, mouth, gap.first, gap.low.at(gap.first))
    for number, (level, each) in enumerate(openings):
        side, other = each.low, each.high
        if number:
            trail.go(each.first, side.at(each.first))
        trail.track.sink(level)
        for e in _depths(each, cutter.radius, step):
            trail.cut(e, side.at(e))
            trail.cut(e, other.at(e))
            side, other = other, side
        middle = 0.5 * (each.low.at(each.last) + each.high.at(each.last))
        trail.go(each.last, middle)
        trail.go(each.first, middle)
    return trail.track.finished()


def _depths(gap: Gap, radius: float, step: float) -> list[float]:
    """e of the lanes across a gap, from its mouth to its floor."""
    first = min(OUTERMOST * radius, gap.last)
    count = max(1, math.ceil((gap.last - first) / step - 1e-9))
    return [first + k / count * (gap.last - first) for k in range(count + 1)]
