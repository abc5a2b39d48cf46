"""Boards that lock each other: the fewest of them, what each joint asks for, and the least change that opens them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt

from jigcam.findings import Finding
from jigcam.piece.blocking import comes_off, mask_of, members, ways
from jigcam.piece.ways import from_side, listed, side_words
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.piece.assembly import PartAssembly

FloatArray = npt.NDArray[np.float64]

ALONG: Final = 0.9999
"""Two lines whose cosine is greater are parallel."""
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

    def finding(self) -> Finding:
        """What it is, in the words of the shop."""
        names = [self.part.placed[number].copy.name for number in self.core]
        asks = "; ".join(dict.fromkeys(self._asks()))
        mends = [*dict.fromkeys(self._mends())][:MENDS]
        if mends:
            cure = f"what opens them: {', or '.join(mends)}"
        else:
            cure = "no change of the joints of one board alone opens them: join some of them in another way"
        says = (
            f"{listed(names)} lock each other, as whichever is left for the last cannot go in straight: {asks}. "
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
            goes = [from_side(-ray, placed[hold.a]) for ray in hold.apart]
            if not goes:
                yield f"{b} goes into {a} no way at all ({contact.meeting.joint}: both its ends are stopped)"
                continue
            says = f"{b} goes into {a} only {' or '.join(goes)} ({contact.meeting.joint})"
            covers = [*dict.fromkeys(self._covers(hold.a, hold.b, hold.apart))]
            yield f"{says}, which is covered by {listed(covers)}" if covers else says

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

    def _mends(self) -> Iterator[str]:
        """Changes of the joints of one board that bring the boards together, the lesser first."""
        # Along the cut of a joint that leaves a line free a board can slide, where an end of it is open.
        for board in self.core:
            its = [n for n, hold in enumerate(self.part.holds) if hold.b == board and self._line(n) is not None]
            lines = [self._line(n) for n in its]
            for way in ways([line for line in lines if line is not None]):
                yield from self._opened([n for n in its if self._runs(n, way)], way)
        corners = [n for n, hold in enumerate(self.part.holds) if self._swaps(n) and {hold.a, hold.b} & set(self.core)]
        names = [self.part.holds[n].joint for n in corners]
        groups = [{name} for name in dict.fromkeys(names)]
        for board in self.core:
            own = (self.part.holds[n] for n in corners)
            groups.append({hold.joint for hold in own if board in (hold.a, hold.b)})
        for group in groups:
            if group and self._opens(self._swapped([n for n in corners if self.part.holds[n].joint in group])):
                swaps = listed([*dict.fromkeys(self._swaps(n) for n in corners if self.part.holds[n].joint in group)])
                yield f"let {swaps} of {listed(sorted(group))} change places"

    def _swaps(self, number: int) -> str:
        """What the boards of a hold may change with each other."""
        return self.part.contacts[number].meeting.swaps

    def _line(self, number: int) -> FloatArray | None:
        """(3,) along the cut of a hold, from its start to its finish, in the world."""
        free = self.part.contacts[number].meeting.free
        return None if free is None else self.part.placed[self.part.holds[number].a].motion.turned(free[0])

    def _runs(self, number: int, way: FloatArray) -> bool:
        line = self._line(number)
        return line is not None and abs(float(line @ way)) > ALONG

    def _opened(self, some: Sequence[int], way: FloatArray) -> Iterator[str]:
        """The cuts of these holds run out along a way, where they do not yet."""
        changed = {n: np.vstack([self.part.holds[n].apart, way]) for n in some}
        says: dict[str, str] = {}
        for n in some:
            hold, line = self.part.holds[n], self._line(n)
            if line is not None and not comes_off(hold.apart, way):
                key = "finish" if float(line @ way) > 0.0 else "start"
                a = self.part.placed[hold.a]
                says.setdefault(
                    hold.joint, f'{hold.joint} run out at the {side_words(way, a)} of {a.copy.name} ({key} = "open")'
                )
        if says and self._opens(changed):
            yield f"let {listed([*says.values()])}"

    def _swapped(self, some: Sequence[int]) -> dict[int, FloatArray]:
        """Corners the other way round: the board that was let in comes off square to its own outside face."""
        return {n: self.part.placed[self.part.holds[n].b].motion.turned([[0.0, 0.0, 1.0]]) for n in some}

    def _opens(self, apart: Mapping[int, FloatArray]) -> bool:
        return self.part.opens(self.boards, apart)


def lock_findings(parts: Sequence[PartAssembly]) -> list[Finding]:
    """A stop for each set of boards that no order brings together."""
    return [Lock(part, boards).finding() for part in parts for boards in part.locked]
