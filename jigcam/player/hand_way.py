"""The way of a bushing in an opening, as the page plays it: one of many that a hand may take.

Pass by pass at the depths of the setup sheet. An opening is cleared from the inside out and then along the walls, a
part is left standing by one round along the wall; clockwise as seen from above, which has the wall on the left. A bit
that undercuts is let down beside the board alone, goes round, and is lifted where it began.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np

from jigcam.geometry import Path, Region, offset
from jigcam.player.numbers import TURNS, column, plain, runs
from jigcam.player.strokes import WAY_AIR, WAY_CUT
from jigcam.player.timing import TICKS
from jigcam.proof.strokes import Strokes

BESIDE = 0.45
"""Distance of the ways inside an opening from each other, of the bit's diameter: no rib stands between two."""
BY_HAND = 1500.0
"""How fast a hand is shown to go, mm/min (a picture's pace, no setting)."""
ABOVE = 3.0
"""How far the bit is shown above the board between passes, mm."""
STRAIGHT = 9
"""Places looked at along a way from one round to the next."""


class HandWay:
    """Strokes one after the other: x0, y0, x1, y1, bulge, z0, z1, how each goes, and the step and bit that they
    belong to. Frame of the board's face, mm."""

    def __init__(self) -> None:
        self.at: tuple[float, float] | None = None
        self.z = ABOVE
        self.step = self.tool = 1
        self._rows: list[tuple[float, ...]] = []

    def __len__(self) -> int:
        return len(self._rows)

    def clears(self, centres: Region, bit: float, depth: float) -> None:
        """One pass over all that the bushing's centre can reach. bit: diameter; depth: of its tip."""
        for loop in _rounds(centres, BESIDE * bit):
            if self.at is None or self.z > 0.0 or not _clear(centres, self.at, loop.start):
                self._enters(loop.start, depth)
            else:
                self._go(loop.start, WAY_CUT)
            self._round(loop)
        self._to(ABOVE)

    def goes_round(self, centres: Region, depth: float) -> None:
        """One pass along the wall, from the place that is furthest from the middle: the middle of an end."""
        for loop in centres.loops:
            x0, y0, x1, y1 = loop.bounds
            places = loop.at(np.linspace(0.0, loop.length, 400, endpoint=False))[0]
            # Of the ends, which are straight, the middle: as far along as it goes, and there the nearest to the axis.
            along = np.abs(places - ((x0 + x1) / 2.0, (y0 + y1) / 2.0))
            long = int(y1 - y0 > x1 - x0)
            far = along[:, long] > along[:, long].max() - 0.01
            number = int(np.flatnonzero(far)[along[far, 1 - long].argmin()])
            way = _begun_at(loop, number / 400.0 * loop.length).reversed()
            self._enters(way.start, depth)
            self._round(way)
            self._to(ABOVE)

    def undercuts(self, centres: Region, board: Region, bit: float, depth: float) -> None:
        """All in one pass: in over the board's edge, along the walls, what stands between, and out where it came in."""
        rounds = _rounds(centres, BESIDE * bit)[::-1]
        if not rounds:
            return
        places = rounds[0].at(np.linspace(0.0, rounds[0].length, 400, endpoint=False))[0]
        off = int(board.signed_distance(places).argmin())
        rounds[0] = _begun_at(rounds[0], off / 400.0 * rounds[0].length)
        begin = rounds[0].start
        self._enters(begin, depth)
        self._round(rounds[0])
        for before, loop in pairwise(rounds):
            near = loop.at(np.linspace(0.0, loop.length, 400, endpoint=False))[0]
            number = int(np.hypot(*(near - np.array(before.start)).T).argmin())
            way = _begun_at(loop, number / 400.0 * loop.length)
            if self.at is not None and _clear(centres, self.at, way.start):
                self._go(way.start, WAY_CUT)
                self._round(way)
        self._go(begin, WAY_CUT)
        self._to(ABOVE)

    def columns(self) -> dict[str, Any]:
        """As `strokes_of` has them."""
        rows = np.array(self._rows, float).reshape(-1, 10)
        strokes = Strokes.of_rows(rows[:, :5])
        first = [[0, *column(rows[0, [0, 1, 5]])]] if len(rows) else []
        return {
            "x": column(rows[:, 2]),
            "y": column(rows[:, 3]),
            "z": column(rows[:, 6]),
            "starts": first,
            "arcs": [
                [int(k), plain(strokes.centre[k, 0]), plain(strokes.centre[k, 1]), plain(strokes.sweep[k], TURNS)]
                for k in np.flatnonzero(strokes.arc)
            ],
            "line": runs(rows[:, 8]),
            "way": "".join(str(int(how)) for how in rows[:, 7]),
            "tool": runs(rows[:, 9]),
            "ticks": _ticks(strokes, rows[:, 6] - rows[:, 5]),
            "pauses": [],
        }

    def _enters(self, place: tuple[float, float], depth: float) -> None:
        self._to(ABOVE)
        self._go(place, WAY_AIR)
        self._to(-depth)

    def _to(self, z: float) -> None:
        """Straight up or down."""
        if self.at is not None and z != self.z:
            self._add((*self.at, *self.at, 0.0, self.z, z, WAY_CUT if z < self.z else WAY_AIR))
        self.z = z

    def _go(self, place: tuple[float, float], how: int) -> None:
        """Straight across."""
        if self.at is not None and place != self.at:
            self._add((*self.at, *place, 0.0, self.z, self.z, how))
        self.at = place

    def _round(self, loop: Path) -> None:
        """Along a loop, from its start to its start."""
        for row in loop.segments().tolist():
            self._add((*row, self.z, self.z, WAY_CUT))
        self.at = loop.end

    def _add(self, row: Sequence[float]) -> None:
        self._rows.append((*row, self.step, self.tool))


def _ticks(strokes: Strokes, rise: np.ndarray) -> list[int]:
    """How long each stroke takes, in `TICKS`. rise: of the tip, mm."""
    ends = np.cumsum(np.hypot(strokes.length, rise)) / BY_HAND * 60.0 * TICKS
    ticks: list[int] = np.diff(np.rint(ends).astype(np.int64), prepend=0).tolist()
    return ticks


def _rounds(centres: Region, beside: float) -> list[Path]:
    """The rounds of one pass, from the inside out, each clockwise; the last runs along the walls."""
    found: list[Path] = []
    ground = centres
    while not ground.is_empty:
        found = [loop.reversed() for loop in ground.loops] + found
        ground = offset(ground, -beside)
    return found


def _begun_at(loop: Path, station: float) -> Path:
    """The same round from another place, mm along it; as an open path."""
    return loop.substring(station, station + loop.length) if station else loop.substring(0.0, loop.length)


def _clear(centres: Region, start: tuple[float, float], end: tuple[float, float]) -> bool:
    """Whether the bushing can go straight from one place to another within the opening."""
    share = np.linspace(0.0, 1.0, STRAIGHT)[1:-1, None]
    places = (1.0 - share) * np.array(start) + share * np.array(end)
    return bool((centres.signed_distance(places) >= 0.0).all())
