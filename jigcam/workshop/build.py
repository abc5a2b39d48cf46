"""A whole job made in memory: every joint planned, every file written to text, read back and proved."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import by_gravity, stops
from jigcam.joints import design, kind
from jigcam.making.built import Built
from jigcam.making.made_joint import MadeJoint, Progress, made_joint
from jigcam.piece import MadeTexts, Piece, PieceJoint, as_cut

if TYPE_CHECKING:
    from jigcam.job import Entry, Job
    from jigcam.kit import Kit


@dataclass(frozen=True)
class PlannedJob:
    """A job whose joints are planned. piece: they, and with one asked for all others as drawn, on their boards."""

    joints: tuple[MadeJoint, ...]
    piece: Piece


def plan_joint(entry: Entry, job: Job, kit: Kit) -> MadeJoint:
    """One joint, planned and written to text but not proved. Raises `Refused`, and InputError for unknown tools."""
    its = kind(entry.kind)
    joint = its.design(entry, job)
    if stops(joint.findings):
        raise Refused(f"{entry.name} cannot be cut as drawn", joint.findings)
    return made_joint(its.plan(joint, entry, job, kit), job, joint=joint)


def plan_job(job: Job, kit: Kit, joint: str | None = None, progress: Progress | None = None) -> tuple[MadeJoint, ...]:
    """All joints, or the one named, planned. Raises as `planned_job`."""
    return planned_job(job, kit, joint, progress).joints


def planned_job(job: Job, kit: Kit, joint: str | None = None, progress: Progress | None = None) -> PlannedJob:
    """All joints, or the one named, planned, and looked at together on their boards.

    Raises `Refused` with the findings of all that are refused, or of joints that cannot be in one board; InputError.
    """
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
    piece = _piece(job, made, joint)
    told = [each.finding for each in piece.as_drawn]
    if stops(told):
        raise Refused(_cannot(stops(told)[0].where), by_gravity([*told, *(f for each in made for f in each.findings)]))
    return PlannedJob(tuple(made), piece)


def build_job(job: Job, kit: Kit, joint: str | None = None, progress: Progress | None = None) -> Built:
    """Plans and proves a job. Raises `Refused` where a finding of a rule or of the proof stops it; InputError."""
    planned = planned_job(job, kit, joint, progress)
    proofs = tuple(each.proved(each.texts, progress) for each in planned.joints)
    pairs = zip(planned.joints, proofs, strict=True)
    cut = as_cut(planned.piece, [MadeTexts(each, each.texts, proof.outcome) for each, proof in pairs])
    return proved(Built(job, kit, planned.joints, proofs, (*planned.piece.as_drawn, *cut)))


def proved(built: Built) -> Built:
    """The same, if nothing of it stops. Raises `Refused`."""
    if stops(built.findings):
        raise Refused("the proof found faults; nothing was written", built.findings)
    return built


def _piece(job: Job, made: list[MadeJoint], only: str | None) -> Piece:
    """The joints as planned; those that are not asked for as drawn, where they can be drawn."""
    planned = {each.name: PieceJoint(each.name, each.taken, each.plan.setups) for each in made}
    joints = []
    for entry in job.joints:
        if entry.name in planned:
            joints.append(planned[entry.name])
            continue
        try:
            joints.append(PieceJoint(entry.name, design(entry, job).taken()))
        except Refused:
            continue  # it is refused when it is asked for
    return Piece(tuple(joints), job.voice, only)


def _cannot(where: str) -> str:
    return f"{where} cannot be in one board as drawn"
