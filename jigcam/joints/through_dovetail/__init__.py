"""Through dovetails: tails and pins that show on both outsides of a corner. `jigcam.dovetails` has what they are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.dovetails.joint import Dovetail, dovetail
from jigcam.joints.through_dovetail.entry import ThroughDovetailEntry
from jigcam.making.kind import Kind, starter_in

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.kit import Kit
    from jigcam.making.plan import Plan
    from jigcam.wood import Meeting


def _plan(joint: Dovetail, entry: ThroughDovetailEntry, job: Job, kit: Kit) -> Plan:
    from jigcam.dovetails.plan import plan_dovetail

    return plan_dovetail(joint, entry, job, kit)


def _meets(joint: Dovetail, entry: ThroughDovetailEntry, job: Job) -> tuple[Meeting, ...]:
    from jigcam.dovetails.meets import dovetail_meets

    return dovetail_meets(joint, entry, job)


ALSO = ("dovetail", "dovetails", "through dovetails", "dovetail joint", "common dovetail", "carcase dovetail")
NEAR = ("mitred dovetail", "mitered dovetail", "secret dovetail")

KIND = Kind(ThroughDovetailEntry, dovetail, _plan, starter_in(__name__), meets=_meets, also=ALSO, near=NEAR)

__all__ = ["KIND", "Dovetail", "ThroughDovetailEntry", "dovetail"]
