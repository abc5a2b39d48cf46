"""How the boards of a dovetailed corner meet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.wood.meeting import OFF_CORNER, Meeting, corner

if TYPE_CHECKING:
    from jigcam.dovetails.entry import DovetailEntry
    from jigcam.dovetails.joint import Dovetail
    from jigcam.job import Job


def dovetail_meets(joint: Dovetail, entry: DovetailEntry, job: Job) -> tuple[Meeting, ...]:
    """Each corner: the tail board is `a`, whose tails end flush with the pin board's outside, or a lap behind it."""
    return tuple(
        Meeting(
            joint.name,
            joint.tail_board.name,
            joint.pin_board.name,
            f"{tails_end} end",
            f"{pins_end} end",
            corner(joint.tail_board, tails_end, joint.pin_board, proud=joint.sizes.lap),
            (OFF_CORNER,),
            play=joint.sizes.clearance,
            fits=("width", joint.tail_board.width),
            corner=True,
            swaps="tails and pins",
        )
        for tails_end, pins_end in joint.ends
    )
