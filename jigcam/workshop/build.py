"""A whole job made in memory: every joint planned, every file written to text, read back and proved."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import by_gravity, stops
from jigcam.joints import design, kind
from jigcam.making.built import Built
from jigcam.making.by_hand import check_tools, offering
from jigcam.making.made_joint import MadeJoint, Progress, made_joint
from jigcam.making.told import Told
from jigcam.piece import MadeTexts, Piece, PieceJoint, as_cut, drawn_stops, piece_of, together_findings
from jigcam.piece.order_of_work import work_order
from jigcam.piece.runs import runs_of
from jigcam.workshop.shared import alone_on_sheet, plan_sheet, whole_sheet

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jigcam.findings import Finding
    from jigcam.job import Entry, Job
    from jigcam.kit import Kit
    from jigcam.making.work_order import WorkOrder


@dataclass(frozen=True)
class PlannedJob:
    """A job whose joints are planned, in the order of work. piece: they, and with one asked for all others as drawn,
    on their boards.

    together: what there is to say of the boards put together, as `jigcam piece` says it; nothing where one joint alone
    was asked for.
    """

    joints: tuple[MadeJoint, ...]
    piece: Piece
    together: tuple[Told, ...] = ()


def plan_joint(entry: Entry, job: Job, kit: Kit) -> MadeJoint:
    """One joint, planned and written to text but not proved. Raises `Refused`, and InputError for unknown tools."""
    its = kind(entry.kind)
    joint = its.design(entry, job)
    if stops(joint.findings):
        raise Refused(f"{entry.name} cannot be cut as drawn", joint.findings)
    try:
        check_tools(entry, kit)
        plan = its.plan(joint, entry, job, kit)
    except Refused as refused:
        raise offering(refused, entry, lambda other: _try(other, job, kit)) from refused
    made = made_joint(plan, job, joint=joint)
    return made if entry.template is None else _with(made, alone_on_sheet(entry))


def _try(entry: Entry, job: Job, kit: Kit) -> None:
    """Plans a joint for nothing but to know whether it can be made. Raises as `plan_joint`."""
    its = kind(entry.kind)
    joint = its.design(entry, job)
    if stops(joint.findings):
        raise Refused(f"{entry.name} cannot be cut as drawn", joint.findings)
    check_tools(entry, kit)
    its.plan(joint, entry, job, kit)


def _sheet(name: str, job: Job, kit: Kit, asked: str | None) -> MadeJoint:
    """The joints of a sheet that several share. asked: the one that was, where not all were."""
    entries = job.sheets[name]
    made = plan_sheet(name, entries, job, kit)
    return made if asked is None else _with(made, whole_sheet(name, entries, asked))


def _with(made: MadeJoint, finding: Finding) -> MadeJoint:
    return replace(made, findings=(*made.findings, finding))


def plan_job(job: Job, kit: Kit, joint: str | None = None, progress: Progress | None = None) -> tuple[MadeJoint, ...]:
    """All joints, or the one named, planned. Raises as `planned_job`."""
    return planned_job(job, kit, joint, progress).joints


def planned_job(job: Job, kit: Kit, joint: str | None = None, progress: Progress | None = None) -> PlannedJob:
    """All joints, or the one named, planned, and looked at together on their boards.

    Raises `Refused` with the findings of all that are refused, or of joints that cannot be in one board; InputError.
    """
    tell = progress or (lambda step, share: None)
    together = _goes_together(job) if joint is None else ()
    entries = job.joints if joint is None else (job.joint(joint),)
    made: list[MadeJoint] = []
    refusals: list[Refused] = []
    done: set[str] = set()
    for number, entry in enumerate(entries):
        tell(f"plan of joint {number + 1} of {len(entries)}", number / len(entries))
        if entry.template in done:
            continue
        try:
            if entry.template in job.sheets:
                done.add(entry.template)
                made.append(_sheet(entry.template, job, kit, joint))
            else:
                made.append(plan_joint(entry, job, kit))
        except Refused as refused:
            refusals.append(refused)
    if refusals:
        findings = [f for each in refusals for f in each.findings] + [f for each in made for f in each.findings]
        raise Refused("; ".join(dict.fromkeys(each.what for each in refusals)), by_gravity(findings))
    piece = _piece(job, made, None if joint is None else frozenset(name for each in made for name in each.joints))
    made = _in_order(made, piece.order)
    told = [each.finding for each in piece.as_drawn]
    if stops(told):
        raise Refused(_cannot(stops(told)[0].where), by_gravity([*told, *(f for each in made for f in each.findings)]))
    return PlannedJob(tuple(made), piece, together)


def build_job(job: Job, kit: Kit, joint: str | None = None, progress: Progress | None = None) -> Built:
    """Plans and proves a job. Raises `Refused` where a finding of a rule or of the proof stops it; InputError."""
    planned = planned_job(job, kit, joint, progress)
    proofs = tuple(each.proved(each.texts, progress) for each in planned.joints)
    pairs = zip(planned.joints, proofs, strict=True)
    cut = as_cut(planned.piece, [MadeTexts(each, each.texts, proof.outcome) for each, proof in pairs])
    return proved(
        Built(
            job,
            kit,
            planned.joints,
            proofs,
            (*planned.piece.as_drawn, *cut, *planned.together),
            _boards(job),
            planned.piece.order,
            _runs(job, planned.joints),
        )
    )


def proved(built: Built) -> Built:
    """The same, if nothing of it stops. Raises `Refused`."""
    if stops(built.findings):
        raise Refused("the proof found faults; nothing was written", built.findings)
    return built


def _boards(job: Job) -> dict[str, tuple[str, ...]]:
    """See `Built.boards`."""
    found: dict[str, dict[str, None]] = {}
    contacts = piece_of(job).contacts
    told = {each.meeting.joint for each in contacts if each.meeting.corner or each.meeting.a_opposite}
    for each in contacts:
        if each.meeting.joint not in told:
            found.setdefault(each.meeting.joint, {})[each.a.name] = None
    return {joint: tuple(names) for joint, names in found.items() if len(names) > 1}


def _runs(job: Job, joints: Iterable[MadeJoint]) -> dict[str, int]:
    """See `Built.runs`."""
    piece = piece_of(job)
    return {
        file.file: runs_of(file.setup, each.joints, each.plan.setups, each.taken, piece)
        for each in joints
        for file in each.files
    }


def _goes_together(job: Job) -> tuple[Told, ...]:
    """What is said of the boards together, before time is spent on plans.

    Raises `Refused`, with what the trade has to say of the joints as drawn too.
    """
    found = together_findings(job, piece_of(job))
    if not stops(found):
        return tuple(Told((), "as drawn", each) for each in found)
    # Cautions too: a joint that takes nothing is often why another board is in the way.
    told = [finding for finding in found if finding.level != "note"]
    raise Refused("the boards do not go together", by_gravity([*told, *drawn_stops(job)]))


def _piece(job: Job, made: list[MadeJoint], only: frozenset[str] | None) -> Piece:
    """The joints as planned; those that are not asked for as drawn, where they can be drawn."""
    planned = {}
    for each in made:
        for name in each.joints:
            taken = tuple(some for some in each.taken if some.joint == name)
            # A sheet that several joints share is laid once, at the first of them.
            setups = each.plan.setups if name == each.joints[0] else ()
            planned[name] = PieceJoint(name, taken, setups)
    joints = []
    for entry in job.joints:
        if entry.name in planned:
            joints.append(planned[entry.name])
            continue
        try:
            joints.append(PieceJoint(entry.name, design(entry, job).taken()))
        except Refused:
            continue  # it is refused when it is asked for
    by_joint = {name: each.plan.setups for each in made for name in each.joints}
    order = work_order(job, [body for each in joints for body in each.bodies], by_joint, piece_of(job))
    return Piece(tuple(joints), job.voice, only, order)


def _in_order(made: list[MadeJoint], order: WorkOrder) -> list[MadeJoint]:
    """Joints and sheets in the order in which they are begun; what takes no wood comes last."""
    places = {sheet: place for place, sheet in enumerate(order.sheets)}
    return sorted(made, key=lambda each: places.get(each.name, len(places)))


def _cannot(where: str) -> str:
    return f"{where} cannot be in one board as drawn"
