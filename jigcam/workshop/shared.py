"""The joints of a job that share a sheet, planned together."""

from __future__ import annotations

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


def plan_sheet(name: str, entries: Sequence[Entry], job: Job, kit: Kit) -> MadeJoint:
    """The joints of one sheet, planned and written to text but not proved.

    Raises `Refused`, and InputError for unknown tools.
    """
    from jigcam.making.shared_sheet import SharedJoints, shared_plan
    from jigcam.making.sheet_plan import SheetJoint, plan_openings

    joints = tuple(design(entry, job) for entry in entries)
    drawn = SharedJoints(name, joints)
    if stops(drawn.findings):
        raise Refused(f"{name}: a joint of the sheet cannot be cut as drawn", drawn.findings)
    asked = []
    for entry, joint in zip(entries, joints, strict=True):
        check_tools(entry, kit)
        its = kind(entry.kind).sharing
        assert its is not None, "the job's entries have been asked whether they share a sheet"
        asked.append(SheetJoint(entry, joint, its))
    plan = plan_openings(name, asked, kit, job.voice)
    members = [
        each.sharing.plan(each.joint, each.entry, job, kit, opening)
        for each, opening in zip(asked, plan.sheet.openings, strict=True)
    ]
    return made_joint(shared_plan(plan.sheet, members, plan.laid, kit, job.voice), job, sheet_folder(name), joint=drawn)


def alone_on_sheet(entry: Entry) -> Finding:
    """The note for a joint whose sheet no other joint names."""
    says = f"no other joint of the job has template = {entry.template}: its sheet has this opening alone"
    return Finding("note", "alone-on-sheet", entry.name, says)


def whole_sheet(name: str, entries: Sequence[Entry], asked: str) -> Finding:
    """The note that more is made than was asked for."""
    others = ", ".join(entry.name for entry in entries if entry.name != asked)
    says = f"{asked} shares the sheet {name}, so all of the sheet is made, for {others} too"
    return Finding("note", "whole-sheet", name, says)
