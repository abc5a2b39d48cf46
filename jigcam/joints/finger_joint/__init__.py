"""Finger joints: fingers of two boards that mesh at a corner, square, equally wide, cut standing up.

A *cheek* is the side of a finger, across the board; a *slot* is what is cut out between two fingers of a board, and
ends at its *baseline*, as far from the end as the other board is thick.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.joints.finger_joint.entry import FingerJointEntry
from jigcam.joints.finger_joint.joint import FingerJoint, finger_joint
from jigcam.joints.finger_joint.rule_table import RULES
from jigcam.making.kind import Kind, starter_in

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.kit import Kit
    from jigcam.making.plan import Plan
    from jigcam.wood import Meeting


def _plan(joint: FingerJoint, entry: FingerJointEntry, job: Job, kit: Kit) -> Plan:
    from jigcam.joints.finger_joint.plan import plan_fingers

    return plan_fingers(joint, entry, job, kit)


def _meets(joint: FingerJoint, entry: FingerJointEntry, job: Job) -> tuple[Meeting, ...]:
    from jigcam.joints.finger_joint.meets import finger_meets

    return finger_meets(joint, entry, job)


ALSO = ("finger joints", "box joint", "comb joint", "fingers", "box joints")
NEAR = ("knuckle joint", "wooden hinge", "corner lock")

KIND = Kind(FingerJointEntry, finger_joint, _plan, starter_in(__name__), RULES, meets=_meets, also=ALSO, near=NEAR)

__all__ = ["KIND", "RULES", "FingerJoint", "FingerJointEntry", "finger_joint"]
