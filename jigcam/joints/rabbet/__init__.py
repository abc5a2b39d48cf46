"""Rabbets: a step along an end or an edge of a board, right through or stopped.

The *shoulder* is the wall of the step, its *cheek* the floor. A rabbet without `from` and `length` runs from corner to
corner; an end of it that lies within the board is stopped, and keeps the radius of the bit at the shoulder until a
chisel has been there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.joints.rabbet.entry import RabbetEntry
from jigcam.joints.rabbet.rabbet import Rabbet, rabbet
from jigcam.joints.rabbet.rule_table import RULES
from jigcam.making.kind import Kind, starter_in

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.kit import Kit
    from jigcam.making.plan import Plan
    from jigcam.wood.meeting import Meeting


def _plan(joint: Rabbet, entry: RabbetEntry, job: Job, kit: Kit) -> Plan:
    from jigcam.joints.rabbet.plan import plan_rabbet

    return plan_rabbet(joint, entry, job, kit)


def _meets(joint: Rabbet, entry: RabbetEntry, job: Job) -> tuple[Meeting, ...]:
    from jigcam.joints.rabbet.meets import rabbet_meets

    return rabbet_meets(joint, entry, job)


ALSO = ("rebate", "stopped rabbet", "back rabbet")
NEAR = ("shiplap", "fillister", "rabbet and dado", "lap joint")

KIND = Kind(RabbetEntry, rabbet, _plan, starter_in(__name__), RULES, also=ALSO, near=NEAR, meets=_meets)

__all__ = ["KIND", "RULES", "Rabbet", "RabbetEntry", "rabbet"]
