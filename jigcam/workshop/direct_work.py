"""A groove cut directly in its board by the machine: one file for each hand."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from jigcam.gcode import read
from jigcam.geometry import invert
from jigcam.proof import filled, milled_region
from jigcam.toolpath import direct_programs
from jigcam.workshop.cutfile import CutFile, cut_file
from jigcam.workshop.groove_fit import groove_fit
from jigcam.workshop.header import header
from jigcam.workshop.sheet import direct_sheet
from jigcam.workshop.targets import board_target, keep_outs
from jigcam.workshop.work import Chain, JointWork

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.geometry import Region
    from jigcam.job import Entry, Job
    from jigcam.joints import Cut, Groove
    from jigcam.kit import Kit
    from jigcam.toolpath import Planned


def direct_work(groove: Groove, entry: Entry, job: Job, kit: Kit) -> JointWork:
    """The files that cut a groove, as drawn and for the opposite hand. Raises `Refused`."""
    from jigcam.drawing.scenes import scene_groove

    folder = job.folders[groove.name]
    cuts = groove.cuts()
    plans = {cut.hand: direct_programs(cut, kit, entry.bit, units=job.units) for cut in cuts}
    findings = [*groove.findings, *(f for planned in plans.values() for f in planned.findings)]
    files = {cut.hand: _file(cut, plans[cut.hand], folder, findings, job, kit) for cut in cuts}

    def chain(texts: Mapping[str, str]) -> Chain:
        facts: dict[str, Any] = {}
        findings: list[Finding] = []
        for cut in cuts:
            file = files[cut.hand]
            where = groove.name if cut.hand == "as drawn" else f"{groove.name}, {cut.hand}"
            milled = _milled(cut, file, texts[file.file], kit)
            each, says = groove_fit(groove, milled, cut.centreline, where, job.units)
            facts = each if cut.hand == "as drawn" else {**facts, "opposite": each}
            findings += says
        return Chain(fit=facts, findings=tuple(findings))

    return JointWork(
        groove.name,
        folder,
        tuple(files.values()),
        tuple(dict.fromkeys(findings)),
        tuple(direct_sheet(groove, job, kit, [(files[hand], plans[hand]) for hand in files])),
        {"groove": scene_groove(cuts, units=job.units, mate=groove.mate)},
        chain,
    )


def _milled(cut: Cut, file: CutFile, text: str, kit: Kit) -> Region:
    """The groove as a text leaves it half way down, in the face frame.

    Only the walls are looked at; wood that stands between them is for the file's own proof.
    """
    placement = file.program.placement
    wall = cut.solid.section(0.0).transformed(placement)
    milled = milled_region(read(text), kit.machine, file.tools, -cut.solid.depth / 2.0, wall=wall)
    return filled(milled).transformed(invert(placement))


def _file(cut: Cut, planned: Planned, folder: str, findings: list[Finding], job: Job, kit: Kit) -> CutFile:
    (program,) = planned.programs
    name = f"{folder}/groove{'-opposite' if cut.hand == 'opposite' else ''}.nc"
    target = board_target(
        cut.board,
        [cut.solid],
        program.placement,
        clear_height=program.clear_height,
        units=kit.machine.output_units,
        keep_outs=keep_outs(kit.machine.keep_out, job.keep_out, "flat"),
    )
    lines = header(kit, job.title, name, cut.joint, cut.board.name, cut.hand, program, findings)
    return cut_file(name, cut.joint, cut.board.name, cut.hand, program, target, kit.machine, lines)
