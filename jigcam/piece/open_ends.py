"""Boards in cuts that run out of a board: what holds them along such a cut, and how far they stand out of it.

A bottom in grooves that run right through is as long as from groove to groove of the boards at its ends, and not as
long as the groove along its edge. Where one of its ends or edges lies in nothing, it goes as far as the cut does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from jigcam.findings import Finding
from jigcam.job.board import TO_FIT
from jigcam.wood.meeting import FAR

if TYPE_CHECKING:
    from jigcam.piece.space import Assembled, Contact
    from jigcam.units import Voice
    from jigcam.wood.meeting import Meeting, Size

ENDS: Final[dict[Size, tuple[str, str]]] = {
    "length": ("left end", "right end"),
    "width": ("lower edge", "upper edge"),
}
"""Where a size of a board begins, and where it ends."""
LONG: Final[dict[Size, str]] = {"length": "long", "width": "wide"}
"""How large a board is by a size."""
SEEN: Final = 0.5
"""mm that a board may stand out of a cut before it is worth a word (common practice, no source)."""


def runs_out(meeting: Meeting) -> bool:
    """Whether b may be pushed along its cut and out of it."""
    return meeting.free is not None and meeting.leaves >= FAR


def held_ends(name: str, size: Size, meetings: Iterable[Meeting]) -> frozenset[str]:
    """Of the two ends of a size of a board those that lie in another one."""
    return frozenset(each.b_at for each in meetings if each.b == name and each.b_at in ENDS[size])


def follows_across(meeting: Meeting, meetings: Iterable[Meeting]) -> bool:
    """Whether the size that lies along a meeting's cut follows from what holds its ends, as the cut runs out."""
    return bool(meeting.fits and runs_out(meeting) and held_ends(meeting.b, meeting.fits[0], meetings))


@dataclass(frozen=True, eq=False)
class OpenEnd:
    """An end or edge of b that lies in no other board, at an open end of a cut along which b lies.

    beyond: how far the cut runs on from there, mm; negative where b stands out of it.
    """

    contact: Contact
    size: Size
    end: str
    beyond: float


def open_ends(piece: Assembled) -> Iterator[OpenEnd]:
    """Those of boards that another joint holds at their other end, so that it is known how they lie along the cut."""
    meetings = [each.meeting for each in piece.contacts]
    for contact in piece.contacts:
        meeting = contact.meeting
        if meeting.fits is None or meeting.free is None or not runs_out(meeting):
            continue
        size = meeting.fits[0]
        held = held_ends(meeting.b, size, meetings)
        if len(held) != 1:
            continue
        stands = piece.motion(contact.b).then(piece.motion(contact.a).inverse())
        way = np.array(meeting.free[0])
        wanted = [each for each in (meeting.motion, meeting.turned) if each is not None]
        nearest = min(wanted, key=lambda each: float(np.abs(each.turn - stands.turn).max()))
        shift = float((stands.shift - nearest.shift) @ way)
        (end,) = set(ENDS[size]) - held
        # The board's own direction from its held end to the free one, seen along the cut.
        out = stands.turned([1.0, 0.0, 0.0] if size == "length" else [0.0, 1.0, 0.0]) @ way
        last = (out > 0.0) == (end == ENDS[size][1])
        beyond = meeting.beyond[1 if last else 0]
        if beyond is not None:
            yield OpenEnd(contact, size, end, beyond - shift if last else beyond + shift)


def stands_out_findings(piece: Assembled, voice: Voice) -> Iterator[Finding]:
    """Boards that reach out of the open end of the cuts along them, each said once, by how much at most."""
    furthest: dict[tuple[str, str], OpenEnd] = {}
    for each in open_ends(piece):
        key = (each.contact.b.name, each.end)
        if key not in furthest or each.beyond < furthest[key].beyond:
            furthest[key] = each
    for (name, end), each in furthest.items():
        if each.beyond < -SEEN:
            board, out = each.contact.b.board, -each.beyond
            yield Finding(
                "caution",
                "stands-out",
                each.contact.meeting.joint,
                f"the {end} of {name} stands {voice.rule(out)} out of the open end of its groove in "
                f"{each.contact.a.name}: flush with it {board.name} is {voice.rule(getattr(board, each.size) - out)} "
                f'{LONG[each.size]}, which {each.size} = "{TO_FIT}" works out',
            )
