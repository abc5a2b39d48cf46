"""The operations that cut flat sockets with a straight bit and then a dovetail bit: see `undercut_pins`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from jigcam.dovetails.cuts import EndCut
from jigcam.dovetails.lanes import walls_at
from jigcam.dovetails.layout import Strip
from jigcam.dovetails.undercut_pins import OFF_FLOOR, STOCK, wall_runs
from jigcam.making.upright import LEAD
from jigcam.toolpath.gap import Gap, Line, Mouth, Wall, blind_gap
from jigcam.toolpath.gap_opening import opening_run
from jigcam.toolpath.gap_run import terrace_run, wall_run
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.operations import operation
from jigcam.toolpath.pocket import ALLOWANCE
from jigcam.toolpath.program import Operation
from jigcam.toolpath.track import Cutter
from jigcam.units import Voice, counted


def opened_in_steps(cut: EndCut, cutter: Cutter, mouth: Mouth, voice: Voice, steps: Sequence[float]) -> list[Operation]:
    """Sockets from the outside face with a straight bit: cleared, then walls and floor step by step.

    steps: z of their bottoms, descending; the walls keep `STOCK`, and above the bottom of a step more.
    """
    length = cut.way.layout.length
    levels = even_levels(-steps[-1], cutter.feeds.depth_per_pass)

    def gap_of(strip: Strip, level: float) -> Gap:
        left = strip.grown(-STOCK, length)
        return blind_gap(*walls_at(left, -level / length), cutter.radius, cut.floor, lead=LEAD)

    rough = [
        opening_run([(level, gap_of(strip, level).inset(ALLOWANCE)) for level in levels], cutter, mouth)
        for strip in cut.strips
    ]
    finish = [terrace_run(partial(gap_of, strip), cutter, mouth, steps) for strip in cut.strips]
    high = voice.length(-steps[0])
    note = (
        f"{counted(len(steps), 'step')} of {high}, and the floors to size; the walls keep {voice.rule(STOCK)} and more."
    )
    return [
        operation("open the sockets", cutter, rough, "In from the end, to and fro."),
        operation("cut the floors", cutter, finish, note),
    ]


def web_opened(cut: EndCut, cutter: Cutter, mouth: Mouth, depth: float) -> tuple[Operation, ...]:
    """What the steps left at the inside face, with the straight bit, and the floor there. depth: mm."""
    length = cut.way.layout.length
    gaps = [
        blind_gap(*walls_at(strip.grown(-STOCK, length), 1.0), cutter.radius, cut.floor, lead=LEAD)
        for strip in cut.strips
    ]
    levels = even_levels(depth, cutter.feeds.depth_per_pass)
    rough = [opening_run([(level, gap.inset(ALLOWANCE)) for level in levels], cutter, mouth) for gap in gaps]
    finish = [wall_run(gap, cutter, mouth, -depth) for gap in gaps]
    return (
        operation("open the web", cutter, rough, "In from the end, to and fro."),
        operation("cut the floors", cutter, finish, "One pass of the full depth, in from the end."),
    )


def walls_undercut(cut: EndCut, cutter: Cutter, mouth: Mouth) -> tuple[Operation, ...]:
    """Each wall in one pass of the full depth with the dovetail bit, in from the end and out beside the wall."""
    bit = cut.bit
    runs = []
    for strip in cut.strips:
        run = wall_runs(strip, bit, cut.depth)
        low, high = Wall(Line(run.low - bit.radius)), Wall(Line(run.high + bit.radius))
        gap = blind_gap(low, high, bit.radius, cut.floor - OFF_FLOOR, lead=LEAD)
        runs.append(wall_run(replace(gap, floor=False), cutter, mouth, -cut.depth))
    note = "Full depth at once, in from the end and back the same way; never lifted in a socket."
    return (operation("cut the walls", cutter, runs, note),)
