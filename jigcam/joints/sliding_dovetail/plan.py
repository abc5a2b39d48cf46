"""A sliding dovetail planned: socket flat and tail standing on the machine, by a template, or the work by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.findings import stops
from jigcam.joints.sliding_dovetail.by_template import plan_by_template
from jigcam.joints.sliding_dovetail.choice import choose_bits
from jigcam.joints.sliding_dovetail.glue import Glue
from jigcam.joints.sliding_dovetail.season import season_findings
from jigcam.joints.sliding_dovetail.sliding_plan import SlidingPlan
from jigcam.joints.sliding_dovetail.strategy import socket_setup, tail_setup

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.sliding_dovetail.entry import SlidingDovetailEntry
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.kit import Kit
    from jigcam.making.plan import Plan


def plan_sliding(joint: SlidingDovetail, entry: SlidingDovetailEntry, job: Job, kit: Kit) -> Plan:
    """The clampings that cut a sliding dovetail; none by hand.

    Raises `Refused` where it cannot be cut as drawn or with the kit; InputError for a bit that is not in the kit and a
    climate that is none.
    """
    voice = job.voice
    if stops(joint.findings):
        raise Refused(f"{joint.name} cannot be cut as drawn", joint.findings)
    if entry.way == "template":
        return plan_by_template(joint, entry, job, kit)
    season, glue = season_findings(joint, job, kit), Glue.of(joint, job, kit)
    if entry.way == "hand":
        findings = (*joint.findings, *season)
        return SlidingPlan(joint.name, (), findings, kit, voice, joint=joint, by_hand=True, tail_way="hand", glue=glue)
    choice = choose_bits(joint, entry, kit, voice)
    if stops(choice.joint.findings):
        raise Refused(f"{joint.name} cannot be cut with the flanks of {choice.bit.name}", choice.joint.findings)
    socket, far = socket_setup(choice, kit, voice)
    setups = (socket, tail_setup(choice, kit, voice)) if entry.tail_way == "upright" else (socket,)
    findings = tuple(dict.fromkeys([*choice.joint.findings, *season, *choice.findings, *far]))
    return SlidingPlan(
        joint.name,
        setups,
        findings,
        kit,
        voice,
        joint=choice.joint,
        by_hand=False,
        tail_way=entry.tail_way,
        glue=glue,
        bit=choice.bit,
    )
