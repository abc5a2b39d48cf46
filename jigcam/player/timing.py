"""When the bit is where: the time of the setup sheet, spread over the strokes of a file.

There is one model of time, `toolpath.time`: feeds, the acceleration of each axis, slower corners. The strokes of the
text are timed by it, and come to what the sheet says of the planned program: what little rounding and the ends of
operations make of it is shared out evenly. What moves nothing that is drawn is a *pause* before a stroke: the way to a
place from one that the text does not say, and the change of a bit.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from jigcam.gcode import RAPID
from jigcam.player.numbers import plain
from jigcam.toolpath import Move, seconds
from jigcam.toolpath.time import TOOL_CHANGE, move_seconds

if TYPE_CHECKING:
    from jigcam.gcode import Reading
    from jigcam.kit import Machine
    from jigcam.proof.travel import Travel
    from jigcam.toolpath import Program
    from jigcam.toolpath.program import Kind

TICKS = 10_000
"""In a second: in these the page is told when strokes end, so that their rounding does not add up."""
TOGETHER = 1e-9
"""A stroke that begins this near to the end of the one before goes on from it, mm."""
CHANGED = "the bit is changed"
TRAVELS = "on the way there"
"""What a pause is for, in words."""


def begins_apart(travel: Travel) -> np.ndarray:
    """(n,) whether each stroke begins elsewhere than the one before ends; the first does."""
    begin = np.column_stack([travel.strokes.a, travel.z0])
    end = np.column_stack([travel.strokes.b, travel.z1])
    apart = np.ones(len(travel), bool)
    if len(travel):
        apart[1:] = (np.abs(begin[1:] - end[:-1]) > TOGETHER).any(axis=1)
    return apart


@dataclass(frozen=True)
class Timing:
    """The strokes of a text in time. motions: of the reading, as the proof takes them, with each bit's number; program:
    as planned; None for a text of another's, whose own time then counts."""

    reading: Reading
    motions: np.ndarray
    travel: Travel
    machine: Machine
    program: Program | None = None

    @cached_property
    def seconds(self) -> float:
        """Of the whole file, as its setup sheet has them."""
        return seconds(self.program, self.machine) if self.program else self.own

    @property
    def own(self) -> float:
        """The same from the text alone, s."""
        return float(self._moving.sum()) + self._changing

    @cached_property
    def pauses(self) -> list[list[int | float | str]]:
        """[stroke, seconds, words] of what is done before a stroke begins."""
        share, changes, found = self._share, set(self._changes), []
        for k in np.flatnonzero((self._moving[:, 0] > 0.0) | np.isin(np.arange(len(self.travel)), self._changes)):
            change = TOOL_CHANGE[self.machine.tool_change] if int(k) in changes else 0.0
            took = share * float(self._moving[k, 0]) + change
            found.append([int(k), plain(took), CHANGED if change else TRAVELS])
        return found

    @cached_property
    def ticks(self) -> list[int]:
        """How long each stroke takes with the pause before it, in `TICKS`."""
        each = self._share * self._moving.sum(axis=1)
        each[self._changes] += TOOL_CHANGE[self.machine.tool_change]
        ends: np.ndarray = np.rint(np.cumsum(each) * TICKS).astype(np.int64)
        ticks: list[int] = np.diff(ends, prepend=0).tolist()
        return ticks

    @property
    def _share(self) -> float:
        """By what the time of the text is stretched to that of the sheet."""
        moving = float(self._moving.sum())
        return (self.seconds - self._changing) / moving if moving else 1.0

    @property
    def _changing(self) -> float:
        return len(self._changes) * TOOL_CHANGE[self.machine.tool_change]

    @cached_property
    def _changes(self) -> list[int]:
        """Strokes before which the bit is changed; the first bit is in the spindle, as the sheet has it."""
        reading = self.reading
        places = [each.before for each in reading.tool_changes]
        if self.machine.tool_change == "pause":
            places += [each.before for each in reading.stops if each.kind == "pause"]
        found = np.searchsorted(self.travel.motion, sorted(set(places)))
        return sorted({int(k) for k in found if 0 < k < len(self.travel)})

    @cached_property
    def _moving(self) -> np.ndarray:
        """(n, 2) seconds of the way to where each stroke begins, where that is elsewhere, and of the stroke."""
        travel, strokes = self.travel, self.travel.strokes
        count, apart = len(travel), begins_apart(travel)
        out = np.zeros((count, 2))
        if not count:
            return out
        rows = self.motions[travel.motion]
        rapid = (rows["kind"] == RAPID) | ~(rows["feed"] > 0.0)
        begin = np.column_stack([strokes.a, travel.z0]).tolist()
        columns = (strokes.b, travel.z1, strokes.arc, strokes.centre, strokes.sweep, rapid, rows["feed"])
        table = list(zip(*(column.tolist() for column in columns), strict=True))
        at = (0.0, 0.0, self.program.clear_height) if self.program else tuple(begin[0])
        # Where a bit is changed the machine stands still.
        for first, last in pairwise([0, *self._changes, count]):
            moves, places = [], []
            for k in range(first, last):
                if apart[k]:
                    moves.append(Move("rapid", *begin[k]))
                    places.append((k, 0))
                (x, y), z, arc, (cx, cy), sweep, fast, feed = table[k]
                kind: Kind = "arc" if arc else "rapid" if fast else "line"
                moves.append(Move(kind, x, y, z, feed, cx, cy, sweep > 0.0))
                places.append((k, 1))
            for (k, part), took in zip(places, move_seconds(moves, self.machine, at), strict=True):
                out[k, part] = took
            at = moves[-1].point
        return out
