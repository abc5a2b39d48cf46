"""The operations that cut flat sockets with a straight bit alone: their sloping walls in terraces."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import partial

from jigcam.dovetails.cuts import EndCut
from jigcam.dovetails.lanes import lane_pass, walls_at
from jigcam.dovetails.layout import Strip
from jigcam.dovetails.undercut_pins import STEP, STOCK
from jigcam.dovetails.undercut_runs import opened_in_steps
from jigcam.making.upright import LEAD
from jigcam.toolpath.gap import Gap, Mouth, blind_gap
from jigcam.toolpath.gap_run import clearing_run, terrace_run
from jigcam.toolpath.gap_terraces import wall_terraces_run
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.operations import operation
from jigcam.toolpath.pocket import ALLOWANCE
from jigcam.toolpath.program import Operation
from jigcam.toolpath.track import Cutter
from jigcam.units import Voice, counted


def terraced(cut: EndCut, cutter: Cutter, mouth: Mouth, voice: Voice) -> list[Operation]:
    """Sockets from the outside face: opened in steps with their floors, then each wall in terraces, to and fro.

    Where corners are relieved every terrace goes round walls and floor, as its corners are its own.
    """
    steepest = max(abs(angle) for angle in cut.way.layout.slopes)
    terraces = even_levels(cut.depth, cut.scallop / math.sin(steepest))
    steps = tuple(even_levels(cut.depth, STEP / math.sin(steepest)))
    high = voice.length(cut.depth / len(terraces), 4 if voice.inch else 3)
    note = f"{counted(len(terraces), 'terrace')} of {high}."

    def gap_of(strip: Strip, level: float) -> Gap:
        return blind_gap(*walls_at(strip, -level / cut.depth), cutter.radius, cut.floor, lead=LEAD)

    if cut.relieved or len(steps) >= len(terraces):
        return _all_round(cut, cutter, mouth, gap_of, terraces, note)

    def opened_at(strip: Strip, level: float) -> Gap:
        bottom = next(step for step in steps if step <= level)
        return gap_of(strip.grown(-STOCK, cut.depth), bottom)

    slopes = [
        wall_terraces_run(partial(gap_of, strip), partial(opened_at, strip), cutter, mouth, terraces)
        for strip in cut.strips
    ]
    return [*opened_in_steps(cut, cutter, mouth, voice, steps), operation("cut the slopes", cutter, slopes, note)]


def _all_round(
    cut: EndCut,
    cutter: Cutter,
    mouth: Mouth,
    gap_of: Callable[[Strip, float], Gap],
    terraces: Sequence[float],
    note: str,
) -> list[Operation]:
    """Each slab roughed to the width at its bottom, then walls and floor in one round at each terrace."""
    levels = even_levels(cut.depth, cutter.feeds.depth_per_pass)
    rough = []
    for strip in cut.strips:
        insets = [gap_of(strip, level).inset(ALLOWANCE) for level in levels]
        passes = [lane_pass(*each, cutter) for each in zip(levels, insets, strict=True)]
        rough.append(clearing_run(passes, cutter, mouth))
    finish = [
        terrace_run(partial(gap_of, strip), cutter, mouth, terraces, relieve=cut.relieved) for strip in cut.strips
    ]
    return [
        operation("clear the sockets", cutter, rough, "In from the end, and back the same way."),
        operation("cut the slopes", cutter, finish, note),
    ]
