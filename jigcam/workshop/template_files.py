"""The files that mill a template, with the drawings that they are proved against, and what they leave of the sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from jigcam.gcode import read
from jigcam.geometry import Path, Region, compose, invert, mirror_x
from jigcam.proof import filled, milled_region
from jigcam.template import Stroke
from jigcam.toolpath import engrave
from jigcam.toolpath.hole import can_make
from jigcam.toolpath.template_program import THROUGH
from jigcam.workshop.cutfile import CutFile, bit_facts, cut_file, tidy
from jigcam.workshop.header import header
from jigcam.workshop.targets import keep_outs, template_target

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.job import Job
    from jigcam.kit import Bit, Kit
    from jigcam.template import TemplatePlan
    from jigcam.toolpath import Planned, Program


def template_files(
    plan: TemplatePlan,
    planned: Planned,
    job: Job,
    kit: Kit,
    folder: str,
    findings: Sequence[Finding],
    *,
    both_hands: bool = False,
) -> list[CutFile]:
    """The files of a template, into that folder. both_hands: the sheet is also used turned over."""
    placed = plan.in_file_frame()
    milled = replace(
        plan,
        holes=tuple(
            hole
            for hole in plan.holes
            if not (hole.by_hand or can_make(plan.cutter, hole.diameter, plan.blank[2] + THROUGH))
        ),
    )
    joint, board = plan.cut.joint, plan.cut.board.name
    files = []
    for program in planned.programs:
        mills = plan.cutter in program.bits
        marks = _marks(placed, plan.marker) if plan.marker in program.bits and _engraves(program) else []
        target = template_target(
            milled,
            mill=mills,
            marks=marks,
            clear_height=program.clear_height,
            units=kit.machine.output_units,
            keep_outs=keep_outs(kit.machine.keep_out, job.keep_out, "template"),
        )
        name = f"{folder}/template{'' if mills else '-marks'}.nc"
        lines = header(kit, job.title, name, joint, board, "as drawn", program, findings)
        files.append(
            cut_file(name, joint, board, "as drawn", program, target, kit.machine, lines, _guide(plan, both_hands))
        )
    return files


def milled_opening(plan: TemplatePlan, files: Sequence[CutFile], texts: Mapping[str, str], kit: Kit) -> Region:
    """The opening as the text of the milling file leaves it half way down the sheet; in the face frame.

    Only its edge is looked at, as that guides the bushing; waste that stands within it is for the file's own proof.
    """
    file = next(each for each in files if plan.cutter in each.program.bits)
    wall = plan.in_file_frame().opening
    milled = milled_region(read(texts[file.file]), kit.machine, file.tools, -plan.blank[2] / 2.0, wall=wall)
    loops = [loop for part in wall.parts for loop in filled(_opening_in(milled, part)).loops]
    return Region(tuple(loops)).transformed(invert(plan.placement))


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


def _guide(plan: TemplatePlan, both_hands: bool) -> dict[str, Any]:
    """How the template is ridden: the router's bit, the bushing, and the sums, mm."""
    facts: dict[str, Any] = {
        "bit": bit_facts(plan.bit),
        "bushing": {
            "name": plan.bushing.name,
            "outside": tidy(plan.bushing.outside),
            "inside": tidy(plan.bushing.inside),
            "collar": tidy(plan.bushing.collar),
        },
        "offset": tidy(plan.offset),
        "projection": tidy(plan.stack.projection),
        "depth": tidy(plan.stack.depth),
        "base_supported": round(plan.support.fraction, 3),
    }
    if both_hands:
        turned = compose(mirror_x(plan.cut.board.length), plan.placement)
        facts["turned_over_for_opposite_hand"] = [[tidy(value) for value in row] for row in turned]
    return facts


def _opening_in(milled: Region, wall: Region) -> Region:
    """The part of what was milled that is the opening: the one that holds a point of it."""
    inside = wall.loops[0].points()
    parts = [(part, float(part.signed_distance(inside).max())) for part in milled.parts]
    return max(parts, key=lambda pair: pair[1])[0] if parts else Region.empty()
