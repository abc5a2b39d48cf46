"""Half-blind dovetails, for drawers: a lap hides the ends of the tails. `jigcam.dovetails` has what they are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.dovetails.joint import Dovetail, dovetail
from jigcam.joints.half_blind_dovetail.entry import HalfBlindDovetailEntry
from jigcam.making.kind import Kind, starter_in

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.kit import Kit
    from jigcam.making.plan import Plan
    from jigcam.wood import Meeting


def _plan(joint: Dovetail, entry: HalfBlindDovetailEntry, job: Job, kit: Kit) -> Plan:
    from jigcam.dovetails.plan import plan_dovetail

    return plan_dovetail(joint, entry, job, kit)


def _meets(joint: Dovetail, entry: HalfBlindDovetailEntry, job: Job) -> tuple[Meeting, ...]:
    from jigcam.dovetails.meets import dovetail_meets

    return dovetail_meets(joint, entry, job)


ALSO = ("half blind dovetail", "lapped dovetail", "drawer dovetail", "half blind dovetails", "single lap dovetail")
NEAR = ("blind dovetail", "full blind dovetail", "double lap dovetail")

KIND = Kind(HalfBlindDovetailEntry, dovetail, _plan, starter_in(__name__), meets=_meets, also=ALSO, near=NEAR)

__all__ = ["KIND", "Dovetail", "HalfBlindDovetailEntry", "dovetail"]
