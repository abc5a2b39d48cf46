"""The joints of a job that share a sheet, planned together."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.job.sheets import sheet_folder
from jigcam.joints import design, kind
from jigcam.making.by_hand import check_tools
from jigcam.making.made_joint import MadeJoint, made_joint

if TYPE_CHECKING:
    from collections.abc import Sequence

    from jigcam.job import Entry, Job
    from jigcam.kit import Kit
    from jigcam.making.laid_again import Use


def plan_sheet(name: str, entries: Sequence[Entry], job: Job, kit: Kit) -> MadeJoint:
    """The joints of one sheet, planned and written to text but not proved.

    Raises `Refused`, and InputError for unknown tools.
    """
    from jigcam.making.laid_again import face_texts, layings
    from jigcam.making.shared_sheet import SharedJoints, shared_plan
    from jigcam.template import Wanted, plan_shared
    from jigcam.template.laying import Site
    from jigcam.template.sheet import STAYS

    joints = tuple(design(entry, job) for entry in entries)
    drawn = SharedJoints(name, joints)
    if stops(drawn.findings):
        raise Refused(f"{name}: a joint of the sheet cannot be cut as drawn", drawn.findings)
    wanted, sharing = [], []
    uses: list[Use] = []
    for entry, joint in zip(entries, joints, strict=True):
        check_tools(entry, kit, template=True)
        its = kind(entry.kind).sharing
        assert its is not None, "the job's entries have been asked whether they share a sheet"
        cuts = its.cuts(joint)
        bit = kit.bit(entry.bit) if entry.bit else None
        bushing = kit.bushing(entry.bushing) if entry.bushing else None
        wanted.append(Wanted(cuts[0], bit, bushing, any(cut.hand == "opposite" for cut in cuts)))
        sharing.append(its)
        uses += its.again(joint)
    home = Site.of(wanted[0].cut)
    laid = layings(uses, home)
    steps = [
        (STAYS[0], *(step for each in laid if want.cut.joint in each.joints and (step := each.step(home))))
        for want in wanted
    ]
    wanted = [replace(want, steps=moved) for want, moved in zip(wanted, steps, strict=True)]
    faces = face_texts(laid, home, both_hands=any(want.both_hands for want in wanted))
    sheet = plan_shared(name, wanted, kit, job.voice, faces)
    members = [
        its.plan(joint, entry, job, kit, opening)
        for its, joint, entry, opening in zip(sharing, joints, entries, sheet.openings, strict=True)
    ]
    return made_joint(shared_plan(sheet, members, laid, kit, job.voice), job, sheet_folder(name), joint=drawn)


def alone_on_sheet(entry: Entry) -> Finding:
    """The note for a joint whose sheet no other joint names."""
    says = f"no other joint of the job has template = {entry.template}: its sheet has this opening alone"
    return Finding("note", "alone-on-sheet", entry.name, says)


def whole_sheet(name: str, entries: Sequence[Entry], asked: str) -> Finding:
    """The note that more is made than was asked for."""
    others = ", ".join(entry.name for entry in entries if entry.name != asked)
    says = f"{asked} shares the sheet {name}, so all of the sheet is made, for {others} too"
    return Finding("note", "whole-sheet", name, says)
