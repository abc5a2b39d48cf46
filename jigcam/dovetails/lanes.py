"""Lanes that clear the waste between tails or pins, shared by the ways in which they are cut."""

from __future__ import annotations

from collections.abc import Sequence

from jigcam.dovetails.layout import Strip
from jigcam.toolpath.gap import Gap, Line, Mouth, Wall
from jigcam.toolpath.gap_run import Ending, Pass, clearing_run, lane_passes
from jigcam.toolpath.track import Cutter, Run

THROUGH_STEP, BLIND_STEP = 0.85, 0.6
"""Distance of lanes in bit diameters: right through a board straight lanes leave nothing between them; at a floor they
leave ridges, which the finishing pass must not feel."""


def cleared(
    gaps: Sequence[Gap],
    cutter: Cutter,
    mouth: Mouth,
    levels: Sequence[float],
    *,
    relieve: bool = False,
    then: Sequence[Ending] | None = None,
) -> list[Run]:
    """One clearing run in lanes for each gap. relieve: its corners too, at each level, as there the bit is buried.
    then: what is cut next in each of them."""
    every = [lane_passes(gap, cutter, mouth, levels, _lane_step(gap, cutter), alike=relieve) for gap in gaps]
    endings = then or len(gaps) * [None]
    return [
        clearing_run(passes, cutter, mouth, relieve=relieve, then=ending)
        for passes, ending in zip(every, endings, strict=True)
    ]


def lane_pass(level: float, gap: Gap, cutter: Cutter) -> Pass:
    """All lanes of a gap at a level."""
    return Pass(level, gap, gap.lanes(_lane_step(gap, cutter)))


def _lane_step(gap: Gap, cutter: Cutter) -> float:
    return (BLIND_STEP if gap.floor else THROUGH_STEP) * cutter.bit.diameter


def walls_at(strip: Strip, share: float) -> tuple[Wall, Wall]:
    """The sides of a strip at a share of its length, straight along the grain."""
    return Wall(Line(strip.lower.at(share)), strip.lower.edge), Wall(Line(strip.upper.at(share)), strip.upper.edge)
