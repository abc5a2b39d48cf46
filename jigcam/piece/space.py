"""The boards of a piece in space: which there are, how they meet, where each stands.

A *copy* is one real board: a job's board may be cut twice, or for both hands. Copies are matched to the meetings that
the joints tell, each place of a copy used once; then one copy of each part is put down, and every other where its
meetings put it. What is left over are equations that have to hold: see `closing`. mm; the *world* is the body frame of
the first copy of a part.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from jigcam.wood.meeting import FAR, FloatArray, Meeting, Motion

if TYPE_CHECKING:
    from jigcam.job import Board

SAME_WAY = 1e-6
"""Two directions whose cosines differ by less are one."""
CLOSES = 0.1
"""mm beside the play of a joint: what hands and clamps bring together (common practice, no source)."""
NEAR = 50.0
"""mm; a board further off a place of a further board that is alike was never meant to reach it (no source)."""


@dataclass(frozen=True, slots=True)
class Copy:
    """One real board. name: told apart from all others of the piece; number: among those of its board, from 1;
    opposite: its hand."""

    board: Board = field(compare=False)
    name: str
    number: int
    opposite: bool


@dataclass(frozen=True, slots=True, eq=False)
class Contact:
    """A meeting between two copies. guessed: it is on a further board that is alike, where b may not come at all. open:
    the job does not say which end or edge of b it is."""

    meeting: Meeting
    a: Copy
    b: Copy
    guessed: bool = False
    open: bool = False

    @property
    def where(self) -> str:
        """In words: the joint and both copies."""
        its, own = self.meeting.b_at, self.meeting.a_at.removeprefix("the ")
        return f"{self.meeting.joint}: the {its} of {self.b.name} in the {own} of {self.a.name}"


@dataclass(frozen=True, slots=True, eq=False)
class Placed:
    """A copy where it stands. motion: from its body frame to the world. part: number of what hangs together with it."""

    copy: Copy
    motion: Motion
    part: int


@dataclass(frozen=True, slots=True, eq=False)
class Closing:
    """An equation of the piece. contact: where it has to hold. off: how far b stands from where the joint wants it,
    (3,) mm in the world, its freedom taken off. gap: of that, along the way in which b comes off a; negative where it
    stands too deep. aside: the rest, mm. turned: whether b stands another way round."""

    contact: Contact
    off: FloatArray
    gap: float
    aside: float
    turned: bool

    @property
    def error(self) -> float:
        """How far off, mm."""
        return float(np.linalg.norm(self.off))

    @property
    def agrees(self) -> bool:
        """Whether hands and clamps bring it together, or b only stays off and is still held."""
        meeting = self.contact.meeting
        allowed = CLOSES + meeting.play
        held_off = 0.0 < self.gap <= meeting.stands_off and self.aside <= allowed
        return not self.turned and (self.error <= allowed or held_off)

    @property
    def far(self) -> bool:
        """Whether b is nowhere near its place."""
        return self.turned or self.error > NEAR


@dataclass(frozen=True, slots=True)
class LeftOpen:
    """Of what a job leaves open. swapped: boards that enter by the other end or edge than usual; last_first: boards of
    which the last one comes to the first corner of a ring; left_out: contacts that are none, by where they would be."""

    swapped: frozenset[str] = frozenset()
    last_first: frozenset[str] = frozenset()
    left_out: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, eq=False)
class Assembled:
    """A piece in space. contacts: all; closing: of those by which no copy was placed.

    choice: by which it was put together; missed: how far off those are that it leaves out; empty: places in a board to
    which nothing comes, as there are fewer boards than the joints want.
    """

    placed: tuple[Placed, ...]
    contacts: tuple[Contact, ...]
    closing: tuple[Closing, ...]
    choice: LeftOpen = field(default_factory=LeftOpen)
    missed: tuple[Closing, ...] = ()
    empty: tuple[tuple[Copy, Meeting], ...] = ()

    def motion(self, copy: Copy) -> Motion:
        """From a copy's body frame to the world."""
        return next(each.motion for each in self.placed if each.copy == copy)

    @property
    def parts(self) -> tuple[tuple[Placed, ...], ...]:
        """What hangs together, part by part."""
        numbers = dict.fromkeys(each.part for each in self.placed)
        return tuple(tuple(each for each in self.placed if each.part == number) for number in numbers)

    def apart(self, contact: Contact) -> FloatArray:
        """The directions in which b comes off a, (n, 3), in the world; and all between them."""
        return self.motion(contact.a).turned(np.array(contact.meeting.apart))


def assembled(copies: Sequence[Copy], contacts: Sequence[Contact]) -> Assembled:
    """Every copy put where its contacts want it, in the order in which they hold it best: those that leave no freedom
    first."""
    where: dict[Copy, Motion] = {}
    parts: dict[Copy, int] = {}
    used: set[int] = set()
    for root in copies:
        if root in where:
            continue
        part = max(parts.values(), default=-1) + 1
        where[root], parts[root] = Motion.none(), part
        while (step := _next(contacts, where, used)) is not None:
            contact, copy = step
            used.add(id(contact))
            stands = _best(contact, copy, contacts, where)
            where[copy], parts[copy] = _slid(stands, contact, copy, contacts, where), part
    placed = tuple(Placed(copy, where[copy], parts[copy]) for copy in copies)
    closing = tuple(_closing(each, where) for each in contacts if id(each) not in used)
    return Assembled(placed, tuple(contacts), closing)


def _next(contacts: Iterable[Contact], where: dict[Copy, Motion], used: set[int]) -> tuple[Contact, Copy] | None:
    """A contact with just one side placed, and its other side."""
    open_ones = [
        (contact, contact.b if contact.a in where else contact.a)
        for contact in contacts
        if id(contact) not in used and (contact.a in where) != (contact.b in where)
    ]
    # What may stand either way round comes late: others then say which.
    return min(
        open_ones,
        key=lambda each: (each[0].guessed, each[0].meeting.turned is not None, each[0].meeting.leaves),
        default=None,
    )


def _ways(contact: Contact, copy: Copy, where: dict[Copy, Motion]) -> Iterator[Motion]:
    """Where a contact may put one of its copies: as usual, and the other way up."""
    for motion in (contact.meeting.motion, contact.meeting.turned):
        if motion is None:
            continue
        yield motion.then(where[contact.a]) if copy == contact.b else motion.inverse().then(where[contact.b])


def _best(contact: Contact, copy: Copy, contacts: Iterable[Contact], where: dict[Copy, Motion]) -> Motion:
    """The way round that most of the copy's other contacts want too."""
    others = [
        each
        for each in contacts
        if each is not contact and copy in (each.a, each.b) and (each.b if copy == each.a else each.a) in where
    ]

    def disagreements(motion: Motion) -> int:
        return sum(not any(_same_way(motion, each) for each in _ways(other, copy, where)) for other in others)

    return min(_ways(contact, copy, where), key=disagreements)


def _same_way(a: Motion, b: Motion) -> bool:
    return bool(np.abs(a.turn - b.turn).max() < SAME_WAY)


def _slid(
    motion: Motion, contact: Contact, copy: Copy, contacts: Iterable[Contact], where: dict[Copy, Motion]
) -> Motion:
    """A copy shifted along the open cut by which it is placed, to where a joint that lies across that cut wants it.

    A bottom in grooves that run right through lies, along each, where the grooves in the other boards end.
    """
    if contact.meeting.free is None or contact.meeting.leaves < FAR:
        return motion
    way, low, high = contact.meeting.free
    here = {**where, copy: motion}
    along, sign = here[contact.a].turned(way), 1.0 if copy == contact.b else -1.0
    for other in contacts:
        if other is contact or other.guessed or copy not in (other.a, other.b) or not other.meeting.apart:
            continue
        if other.a not in here or other.b not in here:
            continue
        across = float(here[other.a].turned(other.meeting.apart[0]) @ along)
        closing = _closing(other, here)
        if abs(across) < 1.0 - SAME_WAY or closing.turned:
            continue
        by = float(closing.off @ along) * (1.0 if copy == other.b else -1.0)
        return motion.moved(sign * float(np.clip(-by * sign, low, high)) * along)
    return motion


def _closing(contact: Contact, where: dict[Copy, Motion]) -> Closing:
    """How a contact by which nothing was placed comes out."""
    a, meeting = where[contact.a], contact.meeting
    stands = where[contact.b].then(a.inverse())
    wanted = [motion for motion in (meeting.motion, meeting.turned) if motion is not None]
    here = next((motion for motion in wanted if _same_way(motion, stands)), None)
    if here is None:
        return Closing(contact, np.zeros(3), 0.0, 0.0, turned=True)
    off = stands.shift - here.shift
    if meeting.free is not None:
        way, low, high = np.array(meeting.free[0]), meeting.free[1], meeting.free[2]
        off = off - float(np.clip(off @ way, low, high)) * way
    out = np.array(meeting.apart[0]) if meeting.apart else np.zeros(3)
    gap = float(off @ out)
    return Closing(contact, a.turned(off), gap, float(np.linalg.norm(off - gap * out)), turned=False)
