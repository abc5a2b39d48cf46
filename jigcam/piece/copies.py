"""Which boards a piece is made of, and which of them meet: the meetings of a job's joints on real boards.

How many there are of a board the job says (`count`, or another board that is `like` it), or its joints do: both hands,
both ends of a corner that closes into a ring, a groove that is cut again. What the job leaves open (which end enters,
whether a board reaches the other one of two that are alike) is what lets the piece close.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from jigcam.errors import InputError, Refused
from jigcam.joints import design, kind
from jigcam.piece.matching import matched
from jigcam.piece.space import CLOSES, Assembled, Closing, Copy, LeftOpen, assembled
from jigcam.wood.meeting import Meeting

if TYPE_CHECKING:
    from jigcam.job import Board, Entry, Job

ALIKE = 1e-6
"""Sines; boards whose directions differ by less lie alike."""


def piece_of(job: Job, choice: LeftOpen | None = None, *, sizes_known: bool = True) -> Assembled:
    """The job's boards in space. Joints that cannot even be drawn join nothing.

    choice: of what the job leaves open; None: the one that closes best. sizes_known: whether how far something is off
    tells what comes where; else only which way round it stands does.
    """
    meetings = meetings_of(job)
    copies = copies_of(job, meetings)
    if choice is not None:
        return _chosen(copies, meetings, choice)
    return _best(copies, meetings, _off_place if sizes_known else _other_way_round)


def _chosen(copies: Sequence[Copy], meetings: Sequence[Meeting], choice: LeftOpen) -> Assembled:
    contacts, empty = matched(copies, meetings, choice)
    kept = [each for each in contacts if each.where not in choice.left_out]
    return replace(assembled(copies, kept), choice=choice, empty=empty)


def _best(copies: Sequence[Copy], meetings: Sequence[Meeting], wrong: Callable[[Closing], bool]) -> Assembled:
    """Of each board the other end is taken, where the job does not say which enters, or the other one of two in a
    ring, where less is wrong then; contacts of further boards that are alike are left out where they are nowhere
    near."""
    piece = _chosen(copies, meetings, LeftOpen())
    for name in dict.fromkeys(each.b for each in meetings if each.others or each.corner):
        if not any(map(wrong, piece.closing)):
            break
        choice, own = piece.choice, frozenset({name})
        others = [replace(choice, swapped=choice.swapped | own)] if _is_open(name, meetings) else []
        others += [replace(choice, last_first=choice.last_first | own)] if _asked(name, meetings) > 1 else []
        ways = [piece, *(_chosen(copies, meetings, each) for each in others)]
        piece = min(ways, key=lambda way: _faults(way, wrong))
    apart = tuple(each for each in piece.closing if each.contact.guessed and wrong(each) and each.far)
    if not apart:
        return piece
    left_out = frozenset(each.contact.where for each in apart)
    return replace(_chosen(copies, meetings, replace(piece.choice, left_out=left_out)), missed=apart)


def _faults(piece: Assembled, wrong: Callable[[Closing], bool]) -> tuple[int, int]:
    """Of several ways to put boards together that with the least of these is meant."""
    return sum(each.turned for each in piece.closing), sum(map(wrong, piece.closing))


def _off_place(closing: Closing) -> bool:
    """Whether it is a question of what comes where, and not of a length that is a little wrong."""
    return closing.far or closing.aside > CLOSES + closing.contact.meeting.play


def _other_way_round(closing: Closing) -> bool:
    return closing.turned


def _is_open(name: str, meetings: Sequence[Meeting]) -> bool:
    return any(each.b == name and each.others for each in meetings)


def meetings_of(job: Job) -> tuple[Meeting, ...]:
    """How the joints of a job hold its boards."""
    return tuple(each for entry in job.joints for each in _meetings(_Drawn.of(entry, job)))


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A joint, and the sizes of the boards that it names: as long as these stay, it holds them in the same way.

    number: of the entry, which the job keeps alive.
    """

    number: int
    sizes: tuple[tuple[str, float, float, float], ...]
    entry: Entry = field(compare=False)
    job: Job = field(compare=False)

    @classmethod
    def of(cls, entry: Entry, job: Job) -> _Drawn:
        boards = [job.boards[name] for name in names_in(entry, job)]
        sizes = tuple((each.name, each.length, each.width, each.thickness) for each in boards)
        return cls(id(entry), sizes, entry, job)


def names_in(entry: Entry, job: Job) -> tuple[str, ...]:
    """The boards that a joint names, each once."""
    return tuple(dict.fromkeys(text for text in _texts(entry.model_dump()) if text in job.boards))


def _texts(value: object) -> Iterator[str]:
    """Every text in a value, at any depth."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict | list | tuple):
        for each in value.values() if isinstance(value, dict) else value:
            yield from _texts(each)


@lru_cache(maxsize=4096)
def _meetings(drawn: _Drawn) -> tuple[Meeting, ...]:
    meets = kind(drawn.entry.kind).meets
    if meets is None:
        return ()
    try:
        return meets(design(drawn.entry, drawn.job), drawn.entry, drawn.job)
    except (Refused, InputError):
        return ()  # of a joint that cannot be drawn; `make` says why


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
    places: list[Meeting] = []
    for each in meetings:
        # Joints that hold it in one and the same place, as two tenons of a rail do, are joints of one board.
        if each.b == name and not any(_holds_alike(each, other) for other in places):
            places.append(each)
    guests = Counter((each.a, each.a_opposite) for each in places)
    corners = Counter(each.b for each in meetings if each.a == name and each.corner)
    return max([1, *guests.values(), *corners.values()])


def _holds_alike(one: Meeting, other: Meeting) -> bool:
    """Whether two joints want the same board in the same place on the same one."""
    if (one.a, one.a_opposite, one.joint == other.joint) != (other.a, other.a_opposite, False):
        return False
    turned = np.allclose(one.motion.turn, other.motion.turn, rtol=0.0, atol=ALIKE)
    return bool(turned and np.allclose(one.motion.shift, other.motion.shift, rtol=0.0, atol=CLOSES))
