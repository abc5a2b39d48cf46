"""Milling a template: marks, the opening, the holes, and last the outline with its tabs."""

from __future__ import annotations

from collections.abc import Sequence

from jigcam.findings import Finding
from jigcam.geometry import Path, Region, offset
from jigcam.kit import Kit
from jigcam.template import Hole, Stroke, TemplatePlan, Text
from jigcam.toolpath import engrave
from jigcam.toolpath.feeds import choose
from jigcam.toolpath.frame import extent, reached, too_large
from jigcam.toolpath.hole import can_make, drills, hole_run, not_made
from jigcam.toolpath.humps import Hump, humps_over
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.outline import around, finish_ring, finishing_note, rough_ring
from jigcam.toolpath.planned import Planned, operation, planned
from jigcam.toolpath.pocket import ALLOWANCE, Pocket, pocket
from jigcam.toolpath.program import Operation, Program
from jigcam.toolpath.time import shared_seconds
from jigcam.toolpath.track import Cutter, Run

THROUGH = 0.25
"""mm that the last pass goes below the sheet, into the spoilboard (common practice, no source)."""


def template_programs(plan: TemplatePlan, kit: Kit, *, units: str = "mm") -> Planned:
    """The programs that mill a template from its blank.

    units: of lengths in findings and sheet lines. File frame: zero at the blank's lower left corner, top face. Raises
    `Refused` where the path is larger than the machine.
    """
    where, machine, sheet = plan.cut.joint, kit.machine, plan.in_file_frame()
    thickness = plan.blank[2]
    through = thickness + THROUGH
    cutter = Cutter(plan.cutter, choose(plan.cutter, kit.sheet.material, machine, through, units=units), machine)
    findings: list[Finding] = []
    cutters = [cutter]
    operations: list[Operation] = []
    if plan.marker is not None and sheet.marks:
        feeds = choose(plan.marker, kit.sheet.material, machine, engrave.DEPTH, units=units, at_once=True)
        writer = Cutter(plan.marker, feeds, machine)
        cutters.insert(0, writer)
        operations.append(operation("engrave the marks", writer, _mark_runs(sheet.marks, writer)))
    opening = pocket(sheet.opening, cutter, even_levels(through, cutter.feeds.depth_per_pass))
    operations += _opening_operations(opening, cutter, units)
    findings += _cleared_or_outlined(sheet.opening, opening, cutter, through, where)
    drilled, bored, missing = _hole_runs(sheet.holes, cutter, through, where, units)
    findings += missing
    if drilled:
        # All out to one height: a run of cycles that changes heights is not read alike by every control.
        operations.append(operation("drill the holes", cutter, drilled, "Straight down, in pecks.", hops=False))
    if bored:
        operations.append(operation("bore the holes", cutter, bored, f"Helical, {machine.finishing}."))
    operations += _outline_operations(sheet, cutter, through, units)
    need = extent(move for each in operations for move in each.moves)
    if not reached(need, machine):
        raise too_large([need], machine, where, units)
    program = Program(
        f"{where}, template",
        "template",
        plan.blank,
        "lower left corner, top",
        plan.placement,
        tuple(operations),
        cutter.clear,
    )
    return planned(program, machine, cutters, findings, units)


def _mark_runs(marks: Sequence[Stroke | Text], writer: Cutter) -> list[Run]:
    runs: list[Run] = []
    for mark in marks:
        if isinstance(mark, Stroke):
            runs.append(engrave.stroke_run(mark.points, writer))
        else:
            strokes = engrave.letters(mark.string, mark.x, mark.y, mark.height, mark.angle, room=mark.width)
            runs += engrave.stroke_runs(strokes, writer)
    return runs


def _opening_operations(work: Pocket, cutter: Cutter, units: str) -> list[Operation]:
    return [
        operation(
            "clear the opening",
            cutter,
            work.rough,
            f"{cutter.machine.roughing.capitalize()}, from the inside out, ramped entry.",
        ),
        operation("finish the opening", cutter, work.finish, finishing_note(cutter, work.finish, units)),
    ]


def _cleared_or_outlined(opening: Region, work: Pocket, cutter: Cutter, through: float, where: str) -> list[Finding]:
    """A note where cutting round the waste would be quicker than clearing it, and why it is cleared all the same."""
    levels = even_levels(through, cutter.feeds.depth_per_pass)
    loops = offset(opening, -(cutter.radius + ALLOWANCE)).loops
    cored = [rough_ring(loop, cutter, levels) for loop in loops]
    clearing = sum(shared_seconds([operation("", cutter, work.rough)], cutter.machine))
    coring = sum(shared_seconds([operation("", cutter, cored)], cutter.machine))
    core = offset(opening, -(2.0 * cutter.radius + ALLOWANCE))
    if coring >= clearing or core.is_empty:
        return []
    says = (
        f"The opening is cleared, which takes {clearing - coring:.0f} s longer than cutting round its waste: that "
        "would come loose, or hang on tabs that leave stubs on the edge that guides the bushing."
    )
    return [Finding("note", "cleared", where, says)]


def _hole_runs(
    holes: Sequence[Hole], cutter: Cutter, through: float, where: str, units: str
) -> tuple[list[Run], list[Run], list[Finding]]:
    """Runs of the holes that are drilled, of those that are bored, and cautions for those that no bit makes."""
    drilled: list[Run] = []
    bored: list[Run] = []
    by_hand: dict[tuple[float, str], list[tuple[float, float]]] = {}
    for hole in (each for each in holes if not each.by_hand):
        why = can_make(cutter.bit, hole.diameter, through)
        if why:
            by_hand.setdefault((hole.diameter, why), []).append((hole.x, hole.y))
        else:
            runs = drilled if drills(cutter.bit, hole.diameter) else bored
            runs.append(hole_run(hole.x, hole.y, hole.diameter, cutter, -through))
    cautions = [not_made(places, diameter, why, where, units) for (diameter, why), places in by_hand.items()]
    return drilled, bored, cautions


def _outline_operations(sheet: TemplatePlan, cutter: Cutter, through: float, units: str) -> list[Operation]:
    """Round the sheet, clockwise where the machine is to climb, over its tabs."""
    thickness = sheet.blank[2]
    levels = even_levels(through, cutter.feeds.depth_per_pass)
    ramp = None if cutter.bit.plunges else cutter.feeds.ramp_angle

    def loops(grown: float) -> list[Path]:
        return [loop.reversed() for loop in offset(sheet.sheet, grown).loops]

    def humps(loop: Path) -> list[Hump]:
        return humps_over(sheet.tabs, loop, -thickness, -through, ramp)

    centres = offset(sheet.sheet, cutter.radius)
    rough = [rough_ring(loop, cutter, levels, humps(loop)) for loop in loops(cutter.radius + ALLOWANCE)]
    finish = [
        finish_ring(loop, cutter, [-through], around(centres), (ALLOWANCE, ALLOWANCE), humps(loop))
        for loop in loops(cutter.radius)
    ]
    tabs = f"{len(sheet.tabs)} tabs."
    note = finishing_note(cutter, finish, units)
    return [
        operation("cut the outline", cutter, rough, f"{cutter.machine.roughing.capitalize()}, ramped entry; {tabs}"),
        operation("finish the outline", cutter, finish, f"{note} {tabs}"),
    ]
