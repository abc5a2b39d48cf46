"""The drawings of a built job's boards, with the fit of each joint as its files cut it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.piece import piece_of
from jigcam.piece.board_drawing import board_drawings

if TYPE_CHECKING:
    from jigcam.drawing.model import Drawing
    from jigcam.job import Job
    from jigcam.making.built import Built


def drawings_of_boards(built: Built) -> dict[str, Drawing]:
    """By the names of the boards, in the order of the job; of boards that are cut."""
    voice = built.job.voice
    fits = {
        each.joint: each.outcome.fit.brief(voice)
        for proof in built.proofs
        for each in proof.each()
        if each.outcome.fit is not None
    }
    taken = [each for joint in built.joints for each in joint.taken]
    found = board_drawings(taken, voice, fits, built.job.title, _of_the_other_hand(built.job))
    return {name: found[name] for name in built.job.boards if name in found}


def _of_the_other_hand(job: Job) -> dict[str, set[str]]:
    """By the name of a board the joints by which its mirrored copy is held."""
    found: dict[str, set[str]] = {}
    for each in piece_of(job).contacts:
        for copy in (each.a, each.b):
            if copy.opposite:
                found.setdefault(copy.board.name, set()).add(each.meeting.joint)
    return found
