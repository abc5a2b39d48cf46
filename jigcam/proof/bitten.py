"""Bites into the wood to keep, layer by layer from above, each measured to where the tool was allowed."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from jigcam.proof.gouge import bites
from jigcam.proof.outline import Outline
from jigcam.proof.report import Place
from jigcam.proof.sweeps import Work
from jigcam.proof.target import Layer, Mark, Target
from jigcam.proof.travel import Travel
from jigcam.tolerances import TOLERANCES
from jigcam.values import dataclass

PARTS = 8
"""Parts into which a sloping stroke is cut where its bite is in doubt."""
ROUNDS = 5
"""How often that is repeated: a ramp of 10 mm is then known within 0.3 µm of height."""


class Bites:
    """All bites of a file. Layers are given from the top of the stock to its bottom.

    What a stroke cuts at some height is measured sideways to the ground that may be cut there, or up to the height at
    which it was on such ground, whichever is less.
    """

    def __init__(self, target: Target, motions: int) -> None:
        self.target = target
        self._good = np.zeros(motions)
        self._worst = np.zeros(motions)
        self._where = np.zeros((motions, 3))

    def layer(self, layer: Layer, heights: Sequence[float], works: Sequence[Work]) -> float:
        """The greatest bite in a layer, mm, looked at in those heights (descending)."""
        spans = list(zip(heights, [*heights[1:], layer.low], strict=True))
        return max((self._at(z, down_to, work) for z, down_to in spans for work in works), default=0.0)

    def worst(self) -> list[Place]:
        """The worst bite of each motion that bites more than is allowed, worst first."""
        rows = np.flatnonzero(self._worst > TOLERANCES.gouge)
        rows = rows[np.argsort(-self._worst[rows], kind="stable")]
        places = zip(rows.tolist(), self._worst[rows].tolist(), self._where[rows].tolist(), strict=True)
        return [Place(size, x, y, z, motion) for motion, size, (x, y, z) in places]

    def _at(self, z: float, down_to: float, work: Work) -> float:
        """The greatest bite at height z, which stands for all heights from there down to `down_to`."""
        pieces, _, radius = work.travel.pieces(work.envelope, z)
        if not len(pieces):
            return 0.0
        ground = _Ground(Outline(self.target.keep(z)), self.target.marks_at(z), down_to)
        found = self._measured(pieces, radius, ground)
        self._settle(found, ground)
        fine = np.zeros(len(self._good), bool)
        fine[pieces.motion] = True
        fine[pieces.motion[found.sideways > TOLERANCES.gouge]] = False
        self._good[fine] = down_to
        self._note(found)
        return max(0.0, float(found.size.max()))

    def _measured(self, pieces: Travel, radius: np.ndarray, ground: _Ground) -> _Found:
        bite = bites(ground.keep, pieces.strokes, radius, ground.marks)
        lowest = np.maximum(pieces.lowest, ground.down_to)
        up = self._good[pieces.motion] - lowest
        return _Found(pieces, radius, bite.depth, np.minimum(bite.depth, up), bite.place, lowest)

    def _note(self, found: _Found) -> None:
        """Keeps the worst bite of each motion."""
        order = np.argsort(found.size, kind="stable")
        motion = found.pieces.motion
        rows = order[found.size[order] > self._worst[motion[order]]]
        self._worst[motion[rows]] = found.size[rows]
        self._where[motion[rows]] = np.column_stack([found.place[rows], found.lowest[rows]])

    def _settle(self, found: _Found, ground: _Ground) -> None:
        """Looks closer at sloping strokes: one may bite sideways only where it is hardly below the allowed ground.

        The worst part of each is divided again and again; what the other parts bite at most is kept beside it.
        """
        rows = np.flatnonzero((found.size > TOLERANCES.gouge) & (found.pieces.z0 != found.pieces.z1))
        parts = found.pieces.take(rows)
        rest = np.zeros(len(rows))
        for _ in range(ROUNDS):
            if not len(rows):
                return
            parts = _divided(parts)
            closer = self._measured(parts, np.repeat(found.radius[rows], PARTS), ground)
            table = closer.size.reshape(-1, PARTS)
            worst = table.argmax(axis=1)
            best = np.arange(len(rows)) * PARTS + worst
            rest = np.maximum(rest, np.partition(table, -2, axis=1)[:, -2])
            size = closer.size[best]
            found.size[rows] = np.maximum(size, rest)
            found.place[rows], found.lowest[rows] = closer.place[best], closer.lowest[best]
            again = size > np.maximum(rest, TOLERANCES.gouge)
            rows, parts, rest = rows[again], parts.take(best[again]), rest[again]


@dataclass(frozen=True)
class _Ground:
    """The drawing over some heights: the wood to keep, the marks, and the lowest of these heights."""

    keep: Outline
    marks: tuple[Mark, ...]
    down_to: float


@dataclass(frozen=True)
class _Found:
    """Pieces of strokes, the tool's radius on each, its bite sideways, the bite's size, its place and lowest height."""

    pieces: Travel
    radius: np.ndarray
    sideways: np.ndarray
    size: np.ndarray
    place: np.ndarray
    lowest: np.ndarray


def _divided(travel: Travel) -> Travel:
    """Each stroke in `PARTS` equal parts."""
    count = len(travel)
    index = np.repeat(np.arange(count), PARTS)
    t0 = np.tile(np.arange(PARTS) / PARTS, count)
    t1 = np.tile(np.arange(1, PARTS + 1) / PARTS, count)
    some = travel.take(index)
    rise = some.z1 - some.z0
    return Travel(some.strokes.between(t0, t1), some.z0 + t0 * rise, some.z0 + t1 * rise, some.motion)
