"""What the year does to a whole piece: which gaps between its boards close, which open, and what slides along what.

Each board swells across its grain and through its thickness, and not along (`wood.seasons`). From the first board on
the others are carried along by the joints that hold them: at a stop, at the lower edge of a corner, in the middle
elsewhere. Where boards come back to each other the two ways round differ: so much the gap there changes, and where two
boards grow unlike along their joint one slides on the other. Boards are not bent: small shares, turns left out. mm.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from jigcam.piece.assembly import box_of
from jigcam.wood.meeting import FAR
from jigcam.wood.seasons import Moving

if TYPE_CHECKING:
    from jigcam.piece.assembly import PartAssembly
    from jigcam.piece.space import Contact, Copy, Placed
    from jigcam.wood.seasons import Season

FloatArray = npt.NDArray[np.float64]

ACROSS = np.pi / 2.0
"""The direction across the grain, rad."""
EDGEWISE = 0.99
"""A joint whose way out has at least this cosine to the way across the grain of its board is at an edge of it."""


@dataclass(frozen=True, eq=False)
class JointLine:
    """Where b meets a, in the world. out: (3,) unit vector out of a toward b. ends: (2, 3), of the line along which
    they meet; held: the place of it at which a holds b."""

    contact: Contact
    out: FloatArray
    ends: FloatArray
    held: FloatArray

    @classmethod
    def of(cls, contact: Contact, a: Placed, b: Placed) -> JointLine:
        """From the box of b, whose end or edge next to a meets it."""
        box, free = box_of(b), contact.meeting.free
        normal = a.motion.turned([0.0, 0.0, 1.0])
        if free is None:
            # In a corner, or where faces touch, the joint runs across a; b comes off along the way it leaves.
            out, along = a.motion.turned(contact.meeting.apart[0]), a.motion.turned([0.0, 1.0, 0.0])
        else:
            out = normal * np.sign(float((box.middle - box_of(a).middle) @ normal))
            along = a.motion.turned(free[0])
        units = box.halves / np.linalg.norm(box.halves, axis=1)[:, None]
        into, wide = int(np.abs(units @ out).argmax()), int(np.abs(units @ along).argmax())
        foot = box.middle - np.sign(float(units[into] @ out)) * box.halves[into]
        reach = np.sign(float(units[wide] @ along)) * box.halves[wide] if wide != into else np.zeros(3)
        ends = np.array([foot - reach, foot + reach])
        return cls(contact, out, ends, _held(contact, ends))

    @property
    def along(self) -> FloatArray:
        """(3,) unit vector from one end to the other; 0 where it has no length."""
        way: FloatArray = self.ends[1] - self.ends[0]
        return way / max(float(np.linalg.norm(way)), 1e-9)


@dataclass(frozen=True)
class SeasonalChange:
    """What a season changes in one place where boards meet, mm. gap: how much it opens (below 0: closes); None where
    the joint holds b in place. slides: how far an end of b moves along a, from where it is held: the greater."""

    line: JointLine
    gap: float | None
    slides: float


@dataclass(frozen=True, eq=False)
class PieceSeason:
    """A part of a piece in one season. Boards whose wood nobody named do not move."""

    part: PartAssembly
    season: Season

    @cached_property
    def _lines(self) -> list[JointLine]:
        placed = {each.copy: each for each in self.part.placed}
        return [JointLine.of(each, placed[each.a], placed[each.b]) for each in self.part.contacts if each.meeting.apart]

    @cached_property
    def _growth(self) -> Mapping[Copy, FloatArray]:
        """(3, 3) by board: how far a place is carried off another, from the way between them, world."""
        found = {}
        for each in self.part.placed:
            moving = Moving.of(each.copy.board)
            shares = np.zeros(3)
            if moving is not None:
                points = self.season.change
                shares = np.array([0.0, moving.in_plane(ACROSS, points), moving.through(points)])
            turn = each.motion.turn
            found[each.copy] = turn @ np.diag(shares) @ turn.T
        return found

    @cached_property
    def _carried(self) -> tuple[Mapping[Copy, FloatArray], Sequence[JointLine]]:
        """How far the origin of the world is carried, seen from each board, and the joints that are left to close."""
        carried = {self.part.placed[0].copy: np.zeros(3)}
        left = list(self._lines)
        while True:
            reach = [e for e in left if (e.contact.a in carried) != (e.contact.b in carried)]
            if not reach:
                return carried, left
            line = next((e for e in reach if not self._laid_in(e)), reach[0])
            if between := [
                e for e in reach if self._laid_in(line) and self._laid_in(e) and e.contact.b == line.contact.b
            ][1:]:
                # Nothing holds a panel at one of its edges more than at the other: each has its share, and both close.
                ways = [self._with(e, carried) for e in (line, *between)]
                carried[line.contact.b] = np.mean(ways, axis=0)
                continue
            left.remove(line)
            a, b = line.contact.a, line.contact.b
            carried[b if a in carried else a] = self._with(line, carried)

    def _with(self, line: JointLine, carried: Mapping[Copy, FloatArray]) -> FloatArray:
        """How far the origin is carried, seen from the board that a line joins to one that is carried already."""
        a, b = line.contact.a, line.contact.b
        by: FloatArray = (self._growth[a] - self._growth[b]) @ line.held
        return carried[a] + by if a in carried else carried[b] - by

    def _laid_in(self, line: JointLine) -> bool:
        """Whether an edge of b lies in a, as a panel's does, and not an end or a corner: across the grain of b."""
        b = next(each for each in self.part.placed if each.copy == line.contact.b)
        across = abs(float(b.motion.inverse().turned(line.out)[1]))
        return line.contact.meeting.free is not None and across > EDGEWISE

    def place(self, copy: Copy, point: FloatArray) -> FloatArray:
        """How far a place of a board is carried, (3,)."""
        carried: FloatArray = self._carried[0][copy] + self._growth[copy] @ point
        return carried

    @cached_property
    def changes(self) -> tuple[SeasonalChange, ...]:
        """Of each place where boards meet, in the order of the joints."""
        left = self._carried[1]
        return tuple(self._change(line, closes=line in left) for line in self._lines)

    @property
    def size(self) -> FloatArray:
        """(3,) how much the whole grows along the edges of its first board, mm."""
        points, moved = [], []
        for each in self.part.placed:
            box = box_of(each)
            corners = box.middle + np.array([(x, y, z) for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)]) @ box.halves
            points.append(corners)
            moved.append(corners + np.array([self.place(each.copy, corner) for corner in corners]))
        before, after = np.vstack(points), np.vstack(moved)
        grown: FloatArray = np.ptp(after, axis=0) - np.ptp(before, axis=0)
        return grown

    def _change(self, line: JointLine, *, closes: bool) -> SeasonalChange:
        a, b = line.contact.a, line.contact.b
        off = [self.place(b, end) - self.place(a, end) for end in line.ends]
        held = self.place(b, line.held) - self.place(a, line.held)
        slides = max(((each - held) @ line.along for each in off), key=abs)
        return SeasonalChange(line, float(held @ line.out) if closes else None, float(slides))


def _held(contact: Contact, ends: FloatArray) -> FloatArray:
    """A stop holds b at its end; a corner at the lower edges, which are flush; else it is held in the middle."""
    free = contact.meeting.free
    if free is None:
        lower: FloatArray = ends[0]
        return lower
    _, least, most = free
    open_start, open_finish = least <= -FAR, most >= FAR
    if open_start == open_finish:
        middle: FloatArray = ends.mean(axis=0)
        return middle
    held: FloatArray = ends[0] if open_finish else ends[1]
    return held
