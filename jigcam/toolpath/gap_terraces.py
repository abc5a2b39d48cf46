"""Terraces on the walls of a gap that narrows with depth: each wall to and fro, the floor left as it was cut before."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from jigcam.toolpath.gap import Gap, Line, Mouth
from jigcam.toolpath.gap_run import Trail
from jigcam.toolpath.track import Cutter, Run


def wall_terraces_run(
    gap_at: Callable[[float], Gap],
    opened_at: Callable[[float], Gap],
    cutter: Cutter,
    mouth: Mouth,
    levels: Sequence[float],
) -> Run:
    """Both walls of a gap, one after the other, a terrace inward and the next one outward.

    gap_at: the gap at a level (z, mm), which each terrace cuts to its own bottom. opened_at: the gap as it was cleared
    before at that level, walls and floor, narrower than the other. levels: descending. The bit goes from one terrace to
    the next in the air before the mouth, or where the gap was cleared, at the floor, a little off the wall; so it cuts
    as much of the floor as the terrace is wider.
    """
    first = gap_at(levels[0])
    trail = Trail.starting(cutter, mouth, first.first, first.low.at(first.first))
    for side in ("low", "high"):
        if side == "high":
            trail.track.hop(*mouth.at(first.first, first.high.at(first.first)))
        for number, level in enumerate(levels):
            gap, opened = gap_at(level), opened_at(level)
            wall, off = _line(gap, side), _line(opened, side).at(opened.last)
            if number % 2 == 0:
                trail.go(gap.first, wall.at(gap.first))
                trail.track.sink(level)
                trail.cut(gap.last, wall.at(gap.last))
                trail.cut(gap.last, off)
            else:
                trail.go(gap.last, off)
                trail.track.sink(level)
                trail.cut(gap.last, wall.at(gap.last))
                trail.cut(gap.first, wall.at(gap.first))
        if len(levels) % 2:
            trail.go(first.first, off)
    return trail.track.finished()


def _line(gap: Gap, side: str) -> Line:
    return gap.low if side == "low" else gap.high
