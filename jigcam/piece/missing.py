"""What a job that does not come together is likely to lack: `opposite_hand` in the joint of a pair of boards, left and
right; `like` in a board that is one more of another.

What is proposed was tried: the joint is cut for both hands, and only what then closes is said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from jigcam.piece.copies import names_in, piece_of
from jigcam.piece.space import CLOSES

if TYPE_CHECKING:
    from jigcam.job import Board, Job

KEY = "opposite_hand"
"""Of joints that can be cut in the mirrored board too."""
SIZES = ("length", "width", "thickness")


def missing_other_hand(job: Job, board: str, sound: Callable[[Job], bool] | None = None) -> str:
    """The joint that holds `board` and mends the job where it is cut for both hands; "" where there is none.

    sound: whether a job is as it is wanted; None: whether its piece closes.
    """
    return next((name for name, other in _both_hands(job, board) if (sound or closes)(other)), "")


def other_hand_words(joint: str) -> str:
    """What to write, for a finding or an error."""
    return f"write {KEY} = true in {joint}: left and right are mirror images"


def closes(job: Job) -> bool:
    """Whether all boards of a job come together, and each joint gets the board that it is for."""
    piece = piece_of(job)
    return all(each.agrees for each in piece.closing) and not piece.missed and not piece.empty


def twin_of(job: Job, name: str, *, as_large: bool = False) -> str | None:
    """The board of which one that no joint names is likely one more; None where there is none, or more than one.

    Of such a board the joints want several, all of one hand, and the job does not say how many. as_large: it has to
    have the same sizes.
    """
    if name in joined(job) or job.boards[name].like is not None:
        return None
    copies: dict[str, list[bool]] = {}
    for placed in piece_of(job).placed:
        copies.setdefault(placed.copy.board.name, []).append(placed.copy.opposite)
    twins = [
        each
        for each, hands in copies.items()
        if len(hands) > 1
        and not any(hands)
        and job.boards[each].count is None
        and (not as_large or _as_large(job.boards[each], job.boards[name]))
    ]
    return twins[0] if len(twins) == 1 else None


def joined(job: Job) -> frozenset[str]:
    """The boards that joints name, and those of which others are more."""
    named = {name for entry in job.joints for name in names_in(entry, job)}
    return frozenset(named | {board.like for board in job.boards.values() if board.like is not None})


def _as_large(one: Board, other: Board) -> bool:
    return all(abs(getattr(one, size) - getattr(other, size)) <= CLOSES for size in SIZES)


def _both_hands(job: Job, board: str) -> Iterator[tuple[str, Job]]:
    """Each joint that is for one hand and names the board, and the job in which it is for both."""
    for number, entry in enumerate(job.joints):
        if getattr(entry, KEY, None) is False and board in names_in(entry, job):
            joints = (*job.joints[:number], entry.model_copy(update={KEY: True}), *job.joints[number + 1 :])
            yield entry.name, job.model_copy(update={"joints": joints})
