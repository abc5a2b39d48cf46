"""How two boards meet that loose tenons join: the faces or ends in which the mortises lie touch each other."""

from __future__ import annotations

from math import cos, sin
from typing import TYPE_CHECKING

import numpy as np

from jigcam.wood.meeting import FloatArray, Meeting, Motion, end_normal, end_point, face_frame

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.mortise.entry import MortiseEntry
    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.joints.mortise.row import Row


def mortise_meets(joint: Mortise, entry: MortiseEntry, job: Job) -> tuple[Meeting, ...]:
    """The first board is `a`, its mate `b`; none where the job names no mate. They come apart square to the joint."""
    if len(joint.rows) < 2:
        return ()
    here, there = joint.rows
    point, along, out = _place(here)
    its, way, inward = _place(there)
    # The lengths of the mortises are one direction, and the surfaces look at each other.
    source, target = (_axes(along, out), _axes(way, -inward))
    turn = source @ target.T
    motion = Motion(turn, point - turn @ its)
    x, y, z = out.tolist()
    meeting = Meeting(
        joint.name,
        here.board.name,
        there.board.name,
        here.where,
        there.where,
        motion,
        ((x, y, z),),
        a_opposite=False,
        play=joint.clearance,
    )
    return (meeting,)


def _place(row: Row) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Centre of the first mortise, the direction of its length, and the way out of the wood; body frame."""
    (x, y), (ux, uy) = row.at, (cos(row.angle), sin(row.angle))
    if row.face is not None:
        frame = face_frame(row.board, row.face)
        return frame([x, y, 0.0]), frame.turned([ux, uy, 0.0]), frame.turned([0.0, 0.0, 1.0])
    assert row.end is not None, "a row lies in a face or in an end"
    centre = end_point(row.board, row.end, x, y)
    return centre, end_point(row.board, row.end, x + ux, y + uy) - centre, end_normal(row.end)


def _axes(along: FloatArray, out: FloatArray) -> FloatArray:
    """A right-handed frame of both directions, as columns."""
    return np.column_stack([along, np.cross(out, along), out])
