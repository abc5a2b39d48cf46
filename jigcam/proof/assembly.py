"""Parts put together as they were cut: where the wood of each begins along a line through both.

A *part* is a board with the files that cut it, each placed in a frame that all parts share, so that what was cut lying
flat meets what was cut standing up. Frame: the shared one, mm.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Protocol

import numpy as np

from jigcam.gcode import Reading
from jigcam.kit import Bit, Machine
from jigcam.proof.changes import changed_by_hand
from jigcam.proof.left import beyond
from jigcam.proof.prove import works_of
from jigcam.proof.strokes import FACET
from jigcam.proof.sweeps import Work, sweeps_of
from jigcam.proof.target import INSIDE
from jigcam.proof.travel import travel_of
from jigcam.proof.whole import Swept

STEPS = 15
"""Halvings of the interval in which wood begins: a tenth of a micron of three millimetres."""
SAME_HEIGHT = 1e-6
"""Points nearer in height are looked at together, mm."""
AROUND = 1.0
"""Strokes that reach within this of the points are looked at, mm."""
LEVEL = 1e-12
"""A unit vector that rises by no more is level."""
EXACT = 1e-9
"""Rounding of a distance, mm."""
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
        return self._beyond(points)[0] < 0.0

    def seen_along(self, points: np.ndarray, ways: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(k,) the same, and how far it is known to stay so from each point along its way (k, 3), to and fro, mm.

        Level in the file, distance from the swept ground changes no faster than the place moves; upright, nothing is
        said.
        """
        beyond_, slack = self._beyond(points)
        level = np.abs(ways @ self.matrix[2, :3]) < LEVEL
        # Farther off than `AROUND` not all strokes were looked at.
        far = np.minimum(np.abs(beyond_), AROUND) - slack
        return beyond_ < 0.0, np.where(level, np.maximum(far, 0.0), 0.0)

    def _beyond(self, points: np.ndarray) -> tuple[np.ndarray, float]:
        """(k,) signed distance of points from the swept ground at their height, negative within; and its error.

        From afar it may be less than the true one, and more where it is over `AROUND`.
        """
        placed = points @ self.matrix[:, :3].T + self.matrix[:, 3]
        low, high = self._bounds
        beyond_ = np.maximum(low - placed[:, :2], placed[:, :2] - high).max(axis=1)
        met = np.flatnonzero(beyond_ <= 0.0)
        beyond_[met], slack = AROUND, EXACT
        heights, group = np.unique(np.round(placed[met, 2] / SAME_HEIGHT), return_inverse=True)
        for number in range(len(heights)):
            rows = met[group == number]
            some = placed[rows, :2]
            swept = self._swept(float(placed[rows[0], 2]), some.min(axis=0), some.max(axis=0))
            if swept:
                beyond_[rows] = beyond(some, swept)[0].min(axis=1)
                # The search tree knows arcs by chords, and so may miss the nearest by as much.
                slack = FACET if any(each.strokes.arc.any() for each in swept) else slack
        return beyond_, slack

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
            looked = (*(low - AROUND).tolist(), *(high + AROUND).tolist())
            # It looks a little above the height it is asked for, at which floors would count as gone.
            swept = tuple(group for work in self.works for group in sweeps_of(work, z - INSIDE, looked))
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

    def look(distance: np.ndarray, rows: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Whether the places of those rows are cut, and how far along their ways they stay so for sure."""
        points = places[rows] + distance[:, None] * ways[rows]
        cut, wood, still = np.zeros(len(rows), bool), np.full(len(rows), np.inf), np.zeros(len(rows))
        for file in files:
            here, sure = _seen_along(file, points, ways[rows])
            cut |= here
            still = np.where(here, np.maximum(still, sure), still)
            wood = np.where(here, wood, np.minimum(wood, sure))
        return cut, np.where(cut, still, wood)

    low, high = np.full(len(places), -within), np.full(len(places), within)
    # Both ends in one look: the ground between them is then swept once.
    cut, sure = (np.split(each, 2) for each in look(np.concatenate([low, high]), np.tile(np.arange(len(places)), 2)))
    never, always = ~cut[0], cut[1]
    cut_until, wood_since = low + sure[0], high - sure[1]
    for _ in range(STEPS):
        middle = 0.5 * (low + high)
        gone = middle <= cut_until
        rows = np.flatnonzero(~(never | always | gone) & (middle < wood_since))
        if len(rows):
            here = middle[rows]
            gone[rows], still = look(here, rows)
            cut_until[rows] = np.where(gone[rows], here + still, cut_until[rows])
            wood_since[rows] = np.where(gone[rows], wood_since[rows], here - still)
        low, high = np.where(gone, middle, low), np.where(gone, high, middle)
    found = 0.5 * (low + high)
    return np.where(never, -within, np.where(always, within, found))


def _seen_along(file: Cutting, points: np.ndarray, ways: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(k,) whether points are cut away, and how far along their ways that is known to stay so, mm; 0 for unknown."""
    if isinstance(file, PlacedFile):
        return file.seen_along(points, ways)
    return file.gone(points), np.zeros(len(points))
