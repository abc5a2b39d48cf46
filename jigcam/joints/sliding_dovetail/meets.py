"""How a tail board stands on its socket: shoulders on the face, slid in along it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.wood.meeting import FAR, Meeting, entering, face_frame, vector

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.joints.sliding_dovetail.entry import SlidingDovetailEntry
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail


def sliding_meets(joint: SlidingDovetail, entry: SlidingDovetailEntry, job: Job) -> tuple[Meeting, ...]:
    """The socket's board is `a`; the tail comes off through its open ends alone, the wide one where it is tapered."""
    place, shape, tail = joint.place, joint.shape, joint.tail_board
    motion, turned = entering(
        joint.board,
        joint.face,
        joint.band.at(0.0),
        joint.band.along,
        shape.tail_length,
        tail,
        joint.tail_end,
        place.first,
        up=place.up,
    )
    way = face_frame(joint.board, joint.face).turned([*joint.band.along, 0.0])
    out = []
    if not shape.stopped_start and not (shape.taper and shape.enters_at_finish):
        out.append(vector(-way))
    if not shape.stopped_finish and not (shape.taper and not shape.enters_at_finish):
        out.append(vector(way))
    # A stop, or the taper, says how far it goes in: of a stopped one it may stay out, toward where it came in.
    least, most = (0.0 if shape.stopped_start else -FAR), (0.0 if shape.stopped_finish else FAR)
    if shape.taper > 0.0:
        least = most = 0.0
    meeting = Meeting(
        joint.name,
        joint.board.name,
        tail.name,
        f"socket ({joint.face} face)",
        f"{joint.tail_end} end",
        motion,
        tuple(out),
        a_opposite=False,
        free=(vector(way), least, most),
        play=shape.clearance,
        turned=None if shape.taper > 0.0 else turned,
        fits=("width", joint.on_board[1] - joint.on_board[0]),
    )
    return (meeting,)
