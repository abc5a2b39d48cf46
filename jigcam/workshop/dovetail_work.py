"""A through dovetail cut by the machine: a file for each bit of each clamping, and the corners put together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.drawing.scenes.dovetail import scene_dovetail
from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.gcode import read
from jigcam.geometry import apply
from jigcam.job.slug import slug
from jigcam.joints.through_dovetail import plan_dovetail
from jigcam.proof import Removal, Stock, Target
from jigcam.proof.assembly import CutFile as Placed
from jigcam.toolpath.dovetail_program import dovetail_programs
from jigcam.workshop.cutfile import CutFile, cut_file
from jigcam.workshop.dovetail_fit import ContactFit, fit_corner, fit_facts, fit_findings, placed
from jigcam.workshop.dovetail_sheet import dovetail_sheet
from jigcam.workshop.header import header
from jigcam.workshop.targets import keep_outs
from jigcam.workshop.work import Chain, JointWork

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.through_dovetail import DovetailPlan, EndCut, ThroughDovetail
    from jigcam.kit import Kit
    from jigcam.toolpath import Planned, Program
    from jigcam.units import Unit


def dovetail_work(joint: ThroughDovetail, job: Job, kit: Kit) -> JointWork:
    """The files that cut a through dovetail, in the order in which they are run. Raises `Refused`."""
    plan = plan_dovetail(joint, kit)
    if stops(plan.findings):
        raise Refused(f"{joint.name} cannot be cut with the kit {kit.name}", plan.findings)
    folder = job.folders[joint.name]
    planned = [(cut, dovetail_programs(cut, kit, units=job.units)) for cut in plan.cuts]
    findings = [*plan.findings, *(finding for _, each in planned for finding in each.findings)]
    files = _files(planned, folder, findings, job, kit)

    def chain(texts: Mapping[str, str]) -> Chain:
        return _chain(plan, files, texts, kit, job.units)

    sheet = dovetail_sheet(plan, job, kit, [file for _, file in files], [each for _, each in planned])
    return JointWork(
        joint.name,
        folder,
        tuple(file for _, file in files),
        tuple(dict.fromkeys(findings)),
        tuple(sheet),
        {"joint": scene_dovetail(plan, units=job.units)},
        chain,
    )


def _files(
    planned: Sequence[tuple[EndCut, Planned]], folder: str, findings: Sequence[Finding], job: Job, kit: Kit
) -> list[tuple[EndCut, CutFile]]:
    """Numbered in the order in which they are run."""
    files: list[tuple[EndCut, CutFile]] = []
    for cut, each in planned:
        for program in each.programs:
            clears = cut.drawing(program.bits)[0] is cut.cleared
            what = slug(f"{cut.board.name} {cut.end} {'clear between ' if clears else ''}{cut.purpose}")
            name = f"{folder}/{len(files) + 1:02d}-{what}.nc"
            lines = header(kit, job.title, name, cut.joint, cut.board.name, "as drawn", program, findings)
            target = end_target(cut, program, kit, job)
            file = cut_file(
                name,
                cut.joint,
                cut.board.name,
                "as drawn",
                program,
                target,
                kit.machine,
                lines,
                place={"end": cut.end, "face": cut.face},
            )
            files.append((cut, file))
    return files


def end_target(cut: EndCut, program: Program, kit: Kit, job: Job) -> Target:
    """What a file has to do to the end of a board: one that clears the way for another bit has a drawing of its own."""
    matrix = np.asarray(program.placement, dtype=float)
    upright = cut.setup == "upright"
    size = (cut.board.width, cut.board.thickness) if upright else (cut.board.length, cut.board.width)
    corners = apply(matrix, np.array([[0.0, 0.0], size]))
    (x0, y0), (x1, y1) = corners.min(axis=0), corners.max(axis=0)
    may, must = cut.drawing(program.bits)
    removal = Removal(
        cut.purpose,
        lambda z: may.section(z).transformed(matrix),
        may.levels(),
        lambda z: must.section(z).transformed(matrix),
        prismatic=cut.plumb or may is cut.cleared,
    )
    # A file with both bits clears the way itself.
    before = cut.cleared if may is not cut.cleared and len(program.bits) == 1 else None
    return Target(
        Stock(float(x0), float(y0), float(x1), float(y1), cut.board.length if upright else cut.board.thickness),
        (removal,),
        keep_outs=keep_outs(kit.machine.keep_out, job.keep_out, cut.setup),
        clear_height=program.clear_height,
        units=kit.machine.output_units,
        gone=()
        if before is None
        else (Removal("cleared", lambda z: before.section(z).transformed(matrix), before.levels()),),
    )


def _chain(
    plan: DovetailPlan, files: Sequence[tuple[EndCut, CutFile]], texts: Mapping[str, str], kit: Kit, units: Unit
) -> Chain:
    """Every corner put together from the texts."""
    parts = [
        (cut, Placed.of(read(texts[file.file]), kit.machine, file.tools, placed(cut, file.program.placement)))
        for cut, file in files
    ]
    pared = plan.joint.stock.pare > 0.0
    every: list[ContactFit] = []
    corners: list[dict[str, Any]] = []
    findings: list[Finding] = []
    for tails_end, pins_end in plan.joint.ends:
        tails = [(cut, part) for cut, part in parts if cut.of_tails and cut.end == tails_end]
        pins = [(cut, part) for cut, part in parts if not cut.of_tails and cut.end == pins_end]
        fits = fit_corner(plan, tails, pins)
        every += fits
        corners.append(
            {
                "tails": f"{plan.joint.tail_board.name}, {tails_end} end",
                "pins": f"{plan.joint.pin_board.name}, {pins_end} end",
                **fit_facts(fits),
            }
        )
        where = f"{plan.joint.name}, {tails_end} end of {plan.joint.tail_board.name}"
        findings += fit_findings(fits, where, pared=pared, units=units)
    whole = fit_facts(every)
    del whole["contacts"]
    return Chain(fit={**whole, "corners": corners}, findings=tuple(findings))
