"""Sliding dovetails: a socket across a face, and the tail on another board's end that slides in from its edge."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.joints.sliding_dovetail.entry import SlidingDovetailEntry
from jigcam.joints.sliding_dovetail.joint import SlidingDovetail, sliding_dovetail
from jigcam.joints.sliding_dovetail.rule_table import RULES
from jigcam.making.kind import Kind, starter_in

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.kit import Kit
    from jigcam.making.kind import Advice
    from jigcam.making.plan import Plan
    from jigcam.wood import Meeting


def _plan(joint: SlidingDovetail, entry: SlidingDovetailEntry, job: Job, kit: Kit) -> Plan:
    from jigcam.joints.sliding_dovetail.plan import plan_sliding

    return plan_sliding(joint, entry, job, kit)


def _next_trial(joint: SlidingDovetail, entry: SlidingDovetailEntry, job: Job, kit: Kit, play: float) -> Advice:
    from jigcam.joints.sliding_dovetail.next_test import next_test

    return next_test(joint, entry, job, kit, play)


def _meets(joint: SlidingDovetail, entry: SlidingDovetailEntry, job: Job) -> tuple[Meeting, ...]:
    from jigcam.joints.sliding_dovetail.meets import sliding_meets

    return sliding_meets(joint, entry, job)


ALSO = ("dovetail housing", "dovetailed housing", "dovetail dado", "french dovetail", "tapered sliding dovetail")
NEAR = ("dovetail key batten", "sliding batten")

KIND = Kind(
    SlidingDovetailEntry,
    sliding_dovetail,
    _plan,
    starter_in(__name__),
    RULES,
    next_trial=_next_trial,
    meets=_meets,
    also=ALSO,
    near=NEAR,
)

__all__ = ["KIND", "RULES", "SlidingDovetail", "SlidingDovetailEntry", "sliding_dovetail"]
