"""Which boards a piece is made of, and which of them meet: the meetings of a job's joints on real boards.

How many there are of a board the job says (`count`, or another board that is `like` it), or its joints do: both hands,
both ends of a corner that closes into a ring, a groove that is cut again. Of what the job leaves open the first board
that has the place free is taken, and in a ring one that does not meet the same board twice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from jigcam.errors import Refused
from jigcam.joints import design, kind
from jigcam.piece.space import Assembled, Contact, Copy, assembled
from jigcam.wood.meeting import Meeting

if TYPE_CHECKING:
    from jigcam.job import Board, Job


def piece_of(job: Job) -> Assembled:
    """The job's boards in space. Joints that cannot even be drawn join nothing."""
    meetings = meetings_of(job)
    copies = copies_of(job, meetings)
    return assembled(copies, list(_matched(copies, meetings)))


def meetings_of(job: Job) -> tuple[Meeting, ...]:
    """How the joints of a job hold its boards."""
    found: list[Meeting] = []
    for entry in job.joints:
        meets = kind(entry.kind).meets
        if meets is None:
            continue
        try:
            joint = design(entry, job)
        except Refused:
            continue  # `make` says why
        found += meets(joint, entry, job)
    return tuple(found)


def copies_of(job: Job, meetings: Sequence[Meeting]) -> tuple[Copy, ...]:
    """Every real board, in the order of the job; first those as drawn, then those for the opposite hand."""
    likes: dict[str, list[Board]] = {}
    for board in job.boards.values():
        likes.setdefault(board.like or board.name, []).append(board)
    own = [copy for name, boards in likes.items() for copy in _copies(name, boards, meetings)]
    order = list(job.boards)
    return tuple(sorted(own, key=lambda copy: order.index(copy.board.name)))


def _copies(name: str, boards: Sequence[Board], meetings: Sequence[Meeting]) -> Iterator[Copy]:
    """Of a board, and of those that are like it, the board itself first."""
    mirrored = any(each.a == name and each.a_opposite for each in meetings)
    others = sum(board.count or 1 for board in boards if board.name != name)
    wanted = max(1, max(1 + mirrored, _asked(name, meetings)) - others)
    total = 0
    for board in sorted(boards, key=lambda each: each.name != name):
        count = board.count or (wanted if board.name == name else 1)
        yield from _numbered(board, count, total, mirrored=mirrored)
        total += count


def _numbered(board: Board, count: int, before: int, *, mirrored: bool) -> Iterator[Copy]:
    """before: how many there are already of what it is like."""
    for number in range(1, count + 1):
        # Of a board that is cut for both hands every other one is the mirrored one.
        opposite = mirrored and (before + number) % 2 == 0
        if count == 1:
            name = board.name
        elif mirrored and count == 2:
            name = f"{board.name}, opposite hand" if opposite else board.name
        else:
            name = f"{board.name} {number}"
        yield Copy(board, name, number, opposite)


def _asked(name: str, meetings: Sequence[Meeting]) -> int:
    """How many of a board its joints want: as many as come to one other board; in a ring of corners two of either."""
    guests = Counter((each.a, each.a_opposite) for each in meetings if each.b == name)
    corners = Counter(each.b for each in meetings if each.a == name and each.corner)
    return max([1, *guests.values(), *corners.values()])


def _matched(copies: Sequence[Copy], meetings: Sequence[Meeting]) -> Iterator[Contact]:
    """Each meeting on each copy that it is for, with the copy that it brings there, as long as there are any."""
    both = {_kin(copy) for copy in copies if copy.opposite}
    taken: set[tuple[Copy, str]] = set()
    met: set[frozenset[Copy]] = set()
    for joint in dict.fromkeys(each.joint for each in meetings):
        own = [each for each in meetings if each.joint == joint]
        for a in copies:
            for meeting in own:
                hand = meeting.a_opposite if _kin(a) in both else None
                if not _is(a, meeting.a) or hand not in (None, a.opposite):
                    continue
                found = _partner(a, meeting, copies, taken, met)
                if found is not None:
                    its, b = found
                    taken |= {(a, f"{joint}: {its.a_at}"), (b, its.b_at)}
                    met.add(frozenset((a, b)))
                    yield Contact(its, a, b)


def _partner(
    a: Copy, meeting: Meeting, copies: Sequence[Copy], taken: set[tuple[Copy, str]], met: set[frozenset[Copy]]
) -> tuple[Meeting, Copy] | None:
    """The copy that comes to a place of a board, and by which of its ends or edges."""
    for its in (meeting, *meeting.others):
        free = [copy for copy in copies if _is(copy, its.b) and copy != a and (copy, its.b_at) not in taken]
        if free:
            return its, min(free, key=lambda copy: frozenset((a, copy)) in met)
    return None


def _kin(copy: Copy) -> str:
    """The board that it is one of, or is like."""
    return copy.board.like or copy.board.name


def _is(copy: Copy, name: str) -> bool:
    """Whether a joint that names a board means this copy too."""
    return name in (copy.board.name, copy.board.like)
