"""Which real boards meet: each meeting of a job's joints on the copies that it is for.

Of what the job leaves open the first copy that has the place free is taken, and in a ring one that does not meet the
same board twice.
"""

from __future__ import annotations

from collections.abc import Sequence

from jigcam.piece.space import Contact, Copy, LeftOpen
from jigcam.wood.meeting import Meeting

Place = tuple[Copy, Meeting]


def matched(
    copies: Sequence[Copy], meetings: Sequence[Meeting], choice: LeftOpen
) -> tuple[tuple[Contact, ...], tuple[Place, ...]]:
    """The contacts, and the places in a board to which none of those comes that the job says how many there are of."""
    contacts = _Contacts(copies, choice)
    # A joint is cut in all alike boards, but whether something comes to each of them only space can tell: these last.
    again: list[Place] = []
    for joint in dict.fromkeys(each.joint for each in meetings):
        own = [each for each in meetings if each.joint == joint]
        seen: set[tuple[int, bool]] = set()
        for a in copies:
            for number, meeting in enumerate(own):
                if not contacts.is_for(meeting, a):
                    continue
                if (number, a.opposite) in seen and not meeting.corner:
                    again.append((a, meeting))
                else:
                    contacts.add(a, meeting, guessed=False)
                seen.add((number, a.opposite))
        unmade = [each for number, each in enumerate(own) if number not in {other for other, _ in seen}]
        contacts.empty += [(next(copy for copy in copies if _is(copy, each.a)), each) for each in unmade]
    for a, meeting in again:
        contacts.add(a, meeting, guessed=True)
    return tuple(contacts.found), tuple(contacts.empty)


class _Contacts:
    """Contacts as they are found: each place of a copy is used once."""

    def __init__(self, copies: Sequence[Copy], choice: LeftOpen) -> None:
        self.found: list[Contact] = []
        self.empty: list[Place] = []
        self._copies, self._choice = copies, choice
        self._both_hands = {_kin(copy) for copy in copies if copy.opposite}
        self._taken: set[tuple[Copy, str]] = set()
        self._met: set[frozenset[Copy]] = set()
        self._joined: set[tuple[Copy, Copy, str]] = set()

    def is_for(self, meeting: Meeting, a: Copy) -> bool:
        """Whether a copy has the meeting's place. Of a board without its mirror image all are as drawn."""
        if not _is(a, meeting.a):
            return False
        if _kin(a) in self._both_hands:
            return meeting.a_opposite in (None, a.opposite)
        return not meeting.a_opposite

    def add(self, a: Copy, meeting: Meeting, *, guessed: bool) -> None:
        """The contact at a place of a, with the copy that comes there."""
        partner = self._partner(a, meeting)
        if partner is None:
            counted = any(copy.board.count is not None for copy in self._copies if _is(copy, meeting.b))
            self.empty += [(a, meeting)] if counted and not guessed else []
            return
        its, b = partner
        self._taken |= {(a, f"{its.joint}: {its.a_at}"), (b, its.b_at)}
        self._joined.add((a, b, its.joint))
        self._met.add(frozenset((a, b)))
        self.found.append(Contact(its, a, b, guessed=guessed, open=bool(meeting.others)))

    def _partner(self, a: Copy, meeting: Meeting) -> tuple[Meeting, Copy] | None:
        """The copy that comes to a place of a board, and by which of its ends or edges."""
        ways = (meeting, *meeting.others)
        for its in reversed(ways) if meeting.b in self._choice.swapped else ways:
            last_first = its.corner and its.b in self._choice.last_first
            copies = reversed(self._copies) if last_first else self._copies
            free = [copy for copy in copies if _is(copy, its.b) and self._is_free(a, its, copy)]
            if free:
                return its, min(free, key=lambda copy: frozenset((a, copy)) in self._met)
        return None

    def _is_free(self, a: Copy, its: Meeting, b: Copy) -> bool:
        """Whether b's place is; no board enters one groove or row of grooves by both its ends."""
        twice = not its.corner and (a, b, its.joint) in self._joined
        return b != a and not twice and (b, its.b_at) not in self._taken


def _kin(copy: Copy) -> str:
    """The board that it is one of, or is like."""
    return copy.board.like or copy.board.name


def _is(copy: Copy, name: str) -> bool:
    """Whether a joint that names a board means this copy too."""
    return name in (copy.board.name, copy.board.like)
