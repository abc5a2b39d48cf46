"""Parts put together as they were cut: where the wood of each begins along a line through both.

A *part* is a board with the files that cut it, each placed in a frame that all parts share, so that what was cut lying
flat meets what was cut standing up. Frame: the shared one, mm.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field
from functools import cached_property
from typing import Protocol

import numpy as np

from jigcam.gcode import Reading
from jigcam.geometry import rectangle
from jigcam.kit import Bit, Machine
from jigcam.proof.changes import changed_by_hand
from jigcam.proof.left import beyond
from jigcam.proof.prove import works_of
from jigcam.proof.sweeps import Work, sweeps
from jigcam.proof.target import INSIDE
from jigcam.proof.travel import travel_of
from jigcam.proof.whole import Swept
from jigcam.values import dataclass

STEPS = 15
"""Halvings of the interval in which wood begins: a tenth of a micron of three millimetres."""
SAME_HEIGHT = 1e-6
"""Points nearer in height are looked at together, mm."""
AROUND = 1.0
"""Strokes that reach within this of the points are looked at, mm."""
REMEMBERED = 64
"""Heights of a file of which the swept ground is remembered: a search asks for those of its places again and again."""


@dataclass(frozen=True)
class PlacedFile:
    """One file: what its bits do, and the 3×4 motion from the shared frame to its own."""

    works: tuple[Work, ...]
    matrix: np.ndarray
    _known: dict[float, _SweptAround] = field(default_factory=dict, init=False, repr=False, compare=False)

    @classmethod
    def of(cls, reading: Reading, machine: Machine, tools: Mapping[int, Bit] | Bit, matrix: np.ndarray) -> PlacedFile:
        """From the text as read."""
        motions = changed_by_hand(reading, machine).motions
        works = works_of(motions, travel_of(motions), tools, machine)
        return cls(tuple(works.values()), np.asarray(matrix, float))

    @cached_property
    def _bounds(self) -> tuple[np.ndarray, np.ndarray]:
        """Least and greatest x, y of what the bits pass over, in the file's frame."""
        low, high = np.full(2, np.inf), np.full(2, -np.inf)
        for work in self.works:
            boxes, reach = work.travel.strokes.boxes, work.envelope.largest
            if len(boxes):
                low = np.minimum(low, boxes[:, :2].min(axis=0) - reach)
                high = np.maximum(high, boxes[:, 2:].max(axis=0) + reach)
        return low, high

    def gone(self, points: np.ndarray) -> np.ndarray:
        """(k,) whether the wood at points (k, 3) of the shared frame is cut away."""
        placed = points @ self.matrix[:, :3].T + self.matrix[:, 3]
        gone = np.zeros(len(points), bool)
        low, high = self._bounds
        met = np.flatnonzero(((placed[:, :2] >= low) & (placed[:, :2] <= high)).all(axis=1))
        heights, group = np.unique(np.round(placed[met, 2] / SAME_HEIGHT), return_inverse=True)
        for number in range(len(heights)):
            rows = met[group == number]
            gone[rows] = self._gone_at(float(placed[rows[0], 2]), placed[rows, :2])
        return gone

    def _gone_at(self, z: float, points: np.ndarray) -> np.ndarray:
        """(k,) the same for points (k, 2) of this file at one height."""
        swept = self._swept(z, points.min(axis=0), points.max(axis=0))
        if not swept:
            return np.zeros(len(points), bool)
        return np.asarray(beyond(points, swept)[0].min(axis=1) < 0.0)

    def _swept(self, z: float, low: np.ndarray, high: np.ndarray) -> tuple[Swept, ...]:
        """What the bits clear at a height of all that lies within `AROUND` of a box, or of one that holds it.

        A box that does not hold all is made larger by twice what is missing: a search that halves its steps then asks
        for nothing beyond it.
        """
        known = self._known.pop(z, None)
        if known is None or (low < known.low).any() or (high > known.high).any():
            if known is not None:
                low = known.low - 2.0 * np.maximum(known.low - low, 0.0)
                high = known.high + 2.0 * np.maximum(high - known.high, 0.0)
            looked = rectangle(*(low - AROUND), *(high + AROUND))
            # `sweeps` looks a little above the height it is asked for, at which floors would count as gone.
            swept = tuple(group for work in self.works for group in sweeps(work, z - INSIDE, looked))
            known = _SweptAround(low, high, swept)
        self._known[z] = known
        if len(self._known) > REMEMBERED:
            del self._known[next(iter(self._known))]
        return known.swept


@dataclass(frozen=True)
class _SweptAround:
    """What bits clear at one height of all that lies within `AROUND` of a box from low to high, (2,) each."""

    low: np.ndarray
    high: np.ndarray
    swept: tuple[Swept, ...]


class Cutting(Protocol):
    """Whatever cuts a part, in the shared frame."""

    def gone(self, points: np.ndarray) -> np.ndarray:
        """(k,) whether the wood at points (k, 3) of the shared frame is cut away."""
        ...


def begins(files: Sequence[Cutting], places: np.ndarray, axis: int, sense: float, within: float) -> np.ndarray:
    """(k,) where wood begins, along an axis of the shared frame, relative to places (k, 3); positive beyond them.

    As `begins_toward`, in the sense given.
    """
    step = np.zeros(3)
    step[axis] = sense
    return begins_toward(files, places, np.broadcast_to(step, places.shape), within)


def begins_toward(files: Sequence[Cutting], places: np.ndarray, ways: np.ndarray, within: float) -> np.ndarray:
    """(k,) where wood begins along unit vectors `ways` (k, 3) from places (k, 3); positive beyond them.

    The search goes from `within` before each place to `within` after it and expects ground that is cut before it and
    wood after it: −within comes back where wood stands from the start, within where there is none.
    """

    def gone(distance: np.ndarray) -> np.ndarray:
        points = places + distance[:, None] * ways
        cut = np.zeros(len(points), bool)
        for file in files:
            cut |= file.gone(points)
        return cut

    low, high = np.full(len(places), -within), np.full(len(places), within)
    never, always = ~gone(low), gone(high)
    for _ in range(STEPS):
        middle = 0.5 * (low + high)
        cut = gone(middle)
        low, high = np.where(cut, middle, low), np.where(cut, high, middle)
    found = 0.5 * (low + high)
    return np.where(never, -within, np.where(always, within, found))
