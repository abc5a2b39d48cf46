"""A whole job made in memory: every joint planned, every file written to text, read back and proved."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import by_gravity, stops
from jigcam.joints import kind
from jigcam.making.built import Built
from jigcam.making.by_hand import check_tools, offering
from jigcam.making.made_joint import MadeJoint, Progress, made_joint

if TYPE_CHECKING:
    from jigcam.job import Entry, Job
    from jigcam.kit import Kit


def plan_joint(entry: Entry, job: Job, kit: Kit) -> MadeJoint:
    """One joint, planned and written to text but not proved. Raises `Refused`, and InputError for unknown tools."""
    its = kind(entry.kind)
    joint = its.design(entry, job)
    if stops(joint.findings):
        raise Refused(f"{entry.name} cannot be cut as drawn", joint.findings)
    try:
        check_tools(entry, kit, template=its.guided is not None)
        plan = its.plan(joint, entry, job, kit)
    except Refused as refused:
        raise offering(refused, entry) from refused
    return made_joint(plan, job)


def plan_job(job: Job, kit: Kit, joint: str | None = None, progress: Progress | None = None) -> tuple[MadeJoint, ...]:
    """All joints, or the one named, planned. Raises `Refused` with the findings of all that are refused; InputError."""
    tell = progress or (lambda step, share: None)
    entries = job.joints if joint is None else (job.joint(joint),)
    made: list[MadeJoint] = []
    refusals: list[Refused] = []
    for number, entry in enumerate(entries):
        tell(f"plan of joint {number + 1} of {len(entries)}", number / len(entries))
        try:
            made.append(plan_joint(entry, job, kit))
        except Refused as refused:
            refusals.append(refused)
    if refusals:
        findings = [f for each in refusals for f in each.findings] + [f for each in made for f in each.findings]
        raise Refused("; ".join(dict.fromkeys(each.what for each in refusals)), by_gravity(findings))
    return tuple(made)


def build_job(job: Job, kit: Kit, joint: str | None = None, progress: Progress | None = None) -> Built:
    """Plans and proves a job. Raises `Refused` where a finding of a rule or of the proof stops it; InputError."""
    made = plan_job(job, kit, joint, progress)
    return proved(Built(job, kit, made, tuple(each.proved(each.texts, progress) for each in made)))


def proved(built: Built) -> Built:
    """The same, if nothing of it stops. Raises `Refused`."""
    if stops(built.findings):
        raise Refused("the proof found faults; nothing was written", built.findings)
    return built
