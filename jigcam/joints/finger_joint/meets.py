"""How the boards of a finger joint meet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.wood.meeting import OFF_CORNER, Meeting, corner

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.finger_joint.entry import FingerJointEntry
    from jigcam.joints.finger_joint.joint import FingerJoint


def finger_meets(joint: FingerJoint, entry: FingerJointEntry, job: Job) -> tuple[Meeting, ...]:
    """Each corner. The fingers let `b` off inward, and outward along `a`."""
    return tuple(
        Meeting(
            joint.name,
            joint.a.name,
            joint.b.name,
            f"{a_end} end",
            f"{b_end} end",
            corner(joint.a, a_end, joint.b),
            (OFF_CORNER, (1.0 if a_end == "right" else -1.0, 0.0, 0.0)),
            play=joint.clearance,
            fits=("width", joint.a.width),
            corner=True,
        )
        for a_end, b_end in joint.ends
    )
