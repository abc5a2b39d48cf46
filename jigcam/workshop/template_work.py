"""A groove by way of a template: files that mill the sheet, the ride of the bushing in it, the mate in the groove."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from jigcam.drawing.scenes import scene_groove, scene_template
from jigcam.findings import Finding
from jigcam.gcode import read
from jigcam.geometry import Path, compose, invert, mirror_x, rectangle
from jigcam.proof import milled_region, ride
from jigcam.template import Stroke, plan_template
from jigcam.toolpath import engrave, template_programs
from jigcam.toolpath.hole import can_make
from jigcam.toolpath.template_program import THROUGH
from jigcam.workshop.cutfile import CutFile, bit_facts, cut_file, tidy
from jigcam.workshop.groove_fit import groove_fit
from jigcam.workshop.header import header
from jigcam.workshop.sheet import template_sheet
from jigcam.workshop.targets import keep_outs, template_target
from jigcam.workshop.work import Chain, JointWork

if TYPE_CHECKING:
    from jigcam.geometry import Region
    from jigcam.job import Entry, Job
    from jigcam.joints import Cut, Groove
    from jigcam.kit import Bit, Kit
    from jigcam.template import TemplatePlan
    from jigcam.toolpath import Planned, Program


def template_work(groove: Groove, entry: Entry, job: Job, kit: Kit) -> JointWork:
    """The files that mill the template of a groove. One sheet serves both hands. Raises `Refused`."""
    cuts = groove.cuts()
    plan = plan_template(
        cuts[0], kit,
        bit=kit.bit(entry.bit) if entry.bit else None,
        bushing=kit.bushing(entry.bushing) if entry.bushing else None,
        both_hands=len(cuts) > 1, units=job.units,
    )  # fmt: skip
    planned = template_programs(plan, kit, units=job.units)
    findings = tuple(dict.fromkeys([*groove.findings, *plan.findings, *planned.findings]))
    files = _files(plan, planned, groove, job, kit, findings)
    return JointWork(
        groove.name, job.folders[groove.name], tuple(files), findings,
        tuple(template_sheet(groove, plan, planned, files, job, kit)),
        {
            "template": scene_template(plan, units=job.units, base_radius=kit.router.base_radius),
            "groove": scene_groove(cuts, units=job.units, mate=groove.mate),
        },
        lambda texts: _chain(groove, cuts, plan, files, texts, kit),
    )  # fmt: skip


def _files(
    plan: TemplatePlan, planned: Planned, groove: Groove, job: Job, kit: Kit, findings: tuple[Finding, ...]
) -> list[CutFile]:
    folder = job.folders[groove.name]
    placed = plan.in_file_frame()
    milled = replace(plan, holes=tuple(
        hole for hole in plan.holes if not can_make(plan.cutter, hole.diameter, plan.blank[2] + THROUGH)))  # fmt: skip
    files = []
    for program in planned.programs:
        mills = plan.cutter in program.bits
        marks = _marks(placed, plan.marker) if plan.marker in program.bits and _engraves(program) else []
        target = template_target(
            milled, mill=mills, marks=marks, clear_height=program.clear_height, units=kit.machine.output_units,
            keep_outs=keep_outs(kit.machine.keep_out, job.keep_out, "template"),
        )  # fmt: skip
        name = f"{folder}/template{'' if mills else '-marks'}.nc"
        lines = header(kit, job.title, name, groove.name, groove.board.name, "as drawn", program, findings)
        files.append(cut_file(name, groove.name, groove.board.name, "as drawn", program, target, kit.machine, lines,
                              _guide(plan, groove)))  # fmt: skip
    return files


def _engraves(program: Program) -> bool:
    return any(operation.name == "engrave the marks" for operation in program.operations)


def _marks(placed: TemplatePlan, marker: Bit | None) -> list[tuple[list[Path], float, float]]:
    """The strokes of lines and letters, in the file frame, with the width and depth that the marking bit gives them."""
    if marker is None:
        return []
    paths: list[Path] = []
    for mark in placed.marks:
        if isinstance(mark, Stroke):
            paths.append(Path.through(mark.points))
        else:
            strokes = engrave.letters(mark.string, mark.x, mark.y, mark.height, mark.angle, room=mark.width)
            paths += [Path.through(stroke) for stroke in strokes]
    return [(paths, engrave.stroke_width(marker), engrave.DEPTH)]


def _guide(plan: TemplatePlan, groove: Groove) -> dict[str, Any]:
    """How the template is ridden: the router's bit, the bushing, and the sums, mm."""
    facts = {
        "bit": bit_facts(plan.bit),
        "bushing": {"name": plan.bushing.name, "outside": tidy(plan.bushing.outside),
                    "inside": tidy(plan.bushing.inside), "collar": tidy(plan.bushing.collar)},
        "offset": tidy(plan.offset),
        "projection": tidy(plan.stack.projection),
        "depth": tidy(plan.stack.depth),
        "base_supported": round(plan.support.fraction, 3),
    }  # fmt: skip
    if groove.opposite_hand:
        turned = compose(plan.placement, mirror_x(groove.board.length))
        facts["turned_over_for_opposite_hand"] = [[tidy(value) for value in row] for row in turned]
    return facts


def _chain(
    groove: Groove, cuts: tuple[Cut, ...], plan: TemplatePlan, files: list[CutFile], texts: Mapping[str, str], kit: Kit
) -> Chain:
    """From the text of the milling file: the sheet as milled, the ride in it for each hand, the mate in the groove."""
    file = next(each for each in files if plan.cutter in each.program.bits)
    reading = read(texts[file.file])
    middle = -plan.blank[2] / 2.0
    wall = plan.in_file_frame().opening
    milled = milled_region(reading, kit.machine, file.tools, middle, wall=wall)
    opening = _opening_in(milled, wall).transformed(invert(plan.placement))
    gouge = left = 0.0
    corners: tuple[Any, ...] = ()
    findings: list[Finding] = []
    fits: dict[str, Any] = {}
    for cut in cuts:
        # The sheet is turned over for the opposite hand: everything on it is mirrored along the grain.
        hand = opening if cut.hand == "as drawn" else opening.transformed(mirror_x(cut.board.length))
        ridden = ride(
            hand, plan.bushing.outside, plan.bit.diameter, cut.solid.section(0.0),
            rectangle(0.0, 0.0, cut.board.length, cut.board.width), centreline=cut.centreline,
            milled_with=plan.cutter.diameter, depth=cut.solid.depth, where=f"{groove.name}, {cut.hand}",
        )  # fmt: skip
        gouge, left = max(gouge, ridden.gouge_mm), max(left, ridden.left_mm)
        findings += ridden.findings
        if cut.hand == "as drawn":
            corners = ridden.left_for_chisel
            facts, says = groove_fit(groove, ridden.cut, cut.centreline, groove.name)
            fits = {**facts, "play_mm": None if ridden.play_mm is None else round(ridden.play_mm, 4)}
            findings += says
    return Chain(gouge, left, corners, fits, tuple(findings))


def _opening_in(milled: Region, wall: Region) -> Region:
    """The part of what was milled that is the opening: the one that holds a point of it."""
    from jigcam.geometry import Region

    inside = wall.loops[0].points()
    parts = [(part, float(part.signed_distance(inside).max())) for part in milled.parts]
    return max(parts, key=lambda pair: pair[1])[0] if parts else Region.empty()
