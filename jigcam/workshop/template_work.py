"""A groove by way of a template: files that mill the sheet, the ride of the bushing in it, the mate in the groove."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from jigcam.drawing.scenes import scene_groove
from jigcam.drawing.scenes.template import scene_template
from jigcam.findings import Finding
from jigcam.geometry import mirror_x, rectangle
from jigcam.proof import ride
from jigcam.template import plan_template
from jigcam.toolpath import template_programs
from jigcam.workshop.axes_apart import groove_envelope
from jigcam.workshop.groove_fit import groove_fit
from jigcam.workshop.sheet import template_sheet
from jigcam.workshop.template_files import milled_opening, template_files
from jigcam.workshop.work import Chain, JointWork

if TYPE_CHECKING:
    from jigcam.job import Entry, Job
    from jigcam.joints import Cut, Groove
    from jigcam.kit import Kit
    from jigcam.template import TemplatePlan
    from jigcam.units import Unit
    from jigcam.workshop.cutfile import CutFile


def template_work(groove: Groove, entry: Entry, job: Job, kit: Kit) -> JointWork:
    """The files that mill the template of a groove. One sheet serves both hands. Raises `Refused`."""
    cuts = groove.cuts()
    plan = plan_template(
        cuts[0],
        kit,
        bit=kit.bit(entry.bit) if entry.bit else None,
        bushing=kit.bushing(entry.bushing) if entry.bushing else None,
        both_hands=len(cuts) > 1,
        units=job.units,
    )
    planned = template_programs(plan, kit, units=job.units)
    findings = tuple(dict.fromkeys([*groove.findings, *plan.findings, *planned.findings]))
    files = template_files(plan, planned, job, kit, job.folders[groove.name], findings, both_hands=len(cuts) > 1)
    return JointWork(
        groove.name,
        job.folders[groove.name],
        tuple(files),
        findings,
        tuple(template_sheet(groove, plan, planned, files, job, kit)),
        {
            "template": scene_template(plan, units=job.units, base_radius=kit.router.base_radius),
            "groove": scene_groove(cuts, units=job.units, mate=groove.mate),
        },
        lambda texts: _chain(groove, cuts, plan, files, texts, kit, job.units),
    )


def _chain(
    groove: Groove,
    cuts: tuple[Cut, ...],
    plan: TemplatePlan,
    files: list[CutFile],
    texts: Mapping[str, str],
    kit: Kit,
    units: Unit,
) -> Chain:
    """From the text of the milling file: the sheet as milled, the ride in it for each hand, the mate in the groove."""
    opening = milled_opening(plan, files, texts, kit)
    gouge = left = 0.0
    corners: tuple[Any, ...] = ()
    findings: list[Finding] = []
    fits: dict[str, Any] = {}
    for cut in cuts:
        # The sheet is turned over for the opposite hand: everything on it is mirrored along the grain.
        hand = opening if cut.hand == "as drawn" else opening.transformed(mirror_x(cut.board.length))
        ridden = ride(
            hand,
            plan.bushing.outside,
            plan.bit.diameter,
            cut.solid.section(0.0),
            rectangle(0.0, 0.0, cut.board.length, cut.board.width),
            centreline=cut.centreline,
            eccentricity=kit.router.eccentricity or 0.0,
            milled_with=plan.cutter.diameter,
            depth=cut.solid.depth,
            where=f"{groove.name}, {cut.hand}",
            units=units,
        )
        gouge, left = max(gouge, ridden.gouge_mm), max(left, ridden.left_mm)
        findings += ridden.findings
        if cut.hand == "as drawn":
            corners = ridden.left_for_chisel
            facts, says = groove_fit(groove, ridden.cut, cut.centreline, groove.name, units)
            apart, warns = groove_envelope(groove, ridden, cut.centreline, units, groove.name)
            fits = {**facts, "play_mm": None if ridden.play_mm is None else round(ridden.play_mm, 4), **apart}
            findings += [*says, *warns]
    return Chain(gouge, left, corners, fits, tuple(findings))
