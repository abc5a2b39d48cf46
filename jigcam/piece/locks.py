"""Boards that lock each other: the fewest of them, what each joint asks for, and the least change that opens them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt

from jigcam.findings import Finding
from jigcam.piece.blocking import comes_off, mask_of, members
from jigcam.piece.ways import from_side, listed, side_words

if TYPE_CHECKING:
    from jigcam.job import Job
    from jigcam.piece.assembly import PartAssembly

FloatArray = npt.NDArray[np.float64]

SLIDING: Final = ("groove", "sliding-dovetail")
"""Kinds along whose cut a board can slide, where an end of it is open."""
CORNERS: Final = ("through-dovetail", "half-blind-dovetail")
"""Kinds whose tails and pins can change places."""
MENDS: Final = 3
"""So many changes are offered at the most."""


@dataclass(frozen=True, eq=False)
class Lock:
    """Boards of a part, by number, none of which can go in last."""

    part: PartAssembly
    boards: tuple[int, ...]

    @cached_property
    def core(self) -> tuple[int, ...]:
        """As few of them as lock each other already."""
        kept = mask_of(self.boards)
        for board in reversed(self.boards):
            fewer = kept & ~(1 << board)
            if fewer & (fewer - 1) and self.part.blocking.locked(fewer):
                kept = fewer
        return tuple(members(kept))

    def finding(self, job: Job) -> Finding:
        """What it is, in the words of the shop."""
        names = [self.part.placed[number].copy.name for number in self.core]
        asks = "; ".join(dict.fromkeys(self._asks()))
        mends = [*dict.fromkeys(self._mends(job))][:MENDS]
        if mends:
            cure = f"what opens them: {', or '.join(mends)}"
        else:
            cure = "no change of one joint alone opens them: join one of these boards in another way"
        says = (
            f"{listed(names)} lock each other: whichever is left for the last cannot go in straight. {_start(asks)}. "
            f"None of these ways is left once the others are together; {cure}"
        )
        return Finding("stop", "locked", listed(names), says)

    def _asks(self) -> Iterator[str]:
        """What each joint between the boards asks for."""
        placed = self.part.placed
        for hold, contact in zip(self.part.holds, self.part.contacts, strict=True):
            if hold.a not in self.core or hold.b not in self.core:
                continue
            a, b = placed[hold.a].copy.name, placed[hold.b].copy.name
            ways = [from_side(-ray, placed[hold.a]) for ray in hold.apart]
            if not ways:
                yield f"{b} goes into {a} no way at all ({contact.meeting.joint}: both its ends are stopped)"
                continue
            says = f"{b} goes onto {a} {' or '.join(ways)} alone ({contact.meeting.joint})"
            covers = [*dict.fromkeys(self._covers(hold.a, hold.b, hold.apart))]
            yield f"{says}, and that is covered by {listed(covers)}" if covers else says

    def _covers(self, a: int, b: int, rays: FloatArray) -> Iterator[str]:
        """Boards that stand where b would slide out along the face of a."""
        out = self.part.placed[a].motion.turned([0.0, 0.0, 1.0])
        for ray in rays:
            if abs(float(ray @ out)) > 0.5:
                continue
            meets = self.part.boxes.meets(ray)[b]
            for other in self.core:
                if other not in (a, b) and meets[other]:
                    yield self.part.placed[other].copy.name

    def _mends(self, job: Job) -> Iterator[str]:
        """Changes of one joint that bring the boards together, the lesser first."""
        joints = dict.fromkeys(
            hold.joint for hold in self.part.holds if hold.a in self.core and hold.b in self.core
        )
        kinds = {name: job.joint(name).kind for name in joints}
        for name in joints:
            if kinds[name] in SLIDING:
                yield from self._opened(name)
        for name in joints:
            if kinds[name] in CORNERS and self._opens(name, self._swapped(name)):
                yield f"let tails and pins of {name} change places"

    def _opened(self, name: str) -> Iterator[str]:
        """An end of a groove or socket that runs out."""
        for key, sign in (("start", -1.0), ("finish", 1.0)):
            wider: list[FloatArray | None] = []
            sides: list[str] = []
            for hold, contact in zip(self.part.holds, self.part.contacts, strict=True):
                free = contact.meeting.free
                if hold.joint != name or free is None:
                    wider.append(None)
                    continue
                way = sign * self.part.placed[hold.a].motion.turned(free[0])
                wider.append(np.vstack([hold.apart, way]))
                if not comes_off(hold.apart, way):
                    sides.append(side_words(way, self.part.placed[hold.a]))
            if sides and self._opens(name, wider):
                where = " or ".join(dict.fromkeys(sides))
                yield f'let {name} run out at the {where} (its {key} = "open")'

    def _swapped(self, name: str) -> list[FloatArray | None]:
        """A corner the other way round: the board that was let in comes off square to its own face."""
        found: list[FloatArray | None] = []
        for hold in self.part.holds:
            out = self.part.placed[hold.b].motion.turned([0.0, 0.0, 1.0])
            found.append(out.reshape(1, 3) if hold.joint == name else None)
        return found

    def _opens(self, name: str, apart: Sequence[FloatArray | None]) -> bool:
        return self.part.opens(self.boards, self.part.freed(name, apart))


def lock_findings(parts: Sequence[PartAssembly], job: Job) -> list[Finding]:
    """A stop for each set of boards that no order brings together."""
    return [Lock(part, boards).finding(job) for part in parts for boards in part.locked]


def _start(says: str) -> str:
    return says[:1].upper() + says[1:]
