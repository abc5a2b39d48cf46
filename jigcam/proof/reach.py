"""What no path of the bits used could clear without a bite into the wood to keep."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from jigcam.geometry import Region, intersection, offset, union
from jigcam.proof.heights import heights_of
from jigcam.proof.sweeps import Work, flat_tips
from jigcam.proof.target import INSIDE, Target
from jigcam.tolerances import TOLERANCES


class Reach:
    """Where the bits of some works may stand in a drawing; what it has worked out for one height it keeps for others.

    A bit may stand wherever it hardly bites between its tip and the face; what is not within its radius of such a
    place is out of reach. The tip is taken where this bit works lowest in the layer, or at
    the layer's bottom.
    """

    def __init__(self, target: Target, works: Sequence[Work]) -> None:
        self.target = target
        self.works = works
        self._tips = [flat_tips([work]) for work in works]
        self._barred: dict[tuple[int, float], Region] = {}
        self._shut: dict[tuple[int, float, float], Region] = {}

    def out_of_reach(self, z: float) -> Region | None:
        """Ground at height z that none of the bits could clear without a bite: None if no bit reaches that height.

        GeometryError where the outlines of the drawing defy it.
        """
        result: Region | None = None
        for number, work in enumerate(self.works):
            tip = self._tip(number, z)
            if tip is None:
                continue
            radius = _slender(work, z - tip)
            key = number, tip, radius
            if key not in self._shut:
                self._shut[key] = offset(self._barred_to(number, tip), -radius)
            shut = self._shut[key]
            result = shut if result is None else intersection(result, shut)
        return result

    def _tip(self, number: int, z: float) -> float | None:
        """Where a bit works lowest in the layer of height z, or the layer's bottom where it works only below that, as
        it could have stopped there; None if it does not work below z."""
        tips = self._tips[number]
        tips = tips[tips <= z + INSIDE]
        if not len(tips):
            return None
        layer = next((part for part in self.target.layers if part.low < z < part.high), None)
        within = tips[tips >= layer.low - 2.0 * INSIDE] if layer is not None else tips
        if layer is not None and not len(within):
            return layer.low
        return float(within.min() if len(within) else tips.max())

    def _barred_to(self, number: int, tip: float) -> Region:
        """Where a bit whose tip is at that height must not stand.

        Of heights at which the drawing is the same, that counts at which the bit is widest.
        """
        key = number, tip
        if key not in self._barred:
            work = self.works[number]
            widest: dict[int, tuple[Region, float]] = {}
            for part in self.target.layers:
                if part.high <= tip + 2.0 * INSIDE:
                    continue
                for height in heights_of(part, [work]):
                    if height > tip:
                        keep, radius = self.target.keep(height), _slender(work, height - tip)
                        widest[id(keep)] = keep, max(radius, widest.get(id(keep), (keep, 0.0))[1])
            self._barred[key] = union(*(offset(keep, radius) for keep, radius in widest.values()))
        return self._barred[key]


def _slender(work: Work, height: float) -> float:
    """Radius of a bit, less half of what it may bite: it can then stand in a groove just as wide as itself."""
    radius = float(work.envelope.radius(np.array([max(height, 0.0)]))[0])
    return max(radius - TOLERANCES.gouge / 2.0, 0.0)
