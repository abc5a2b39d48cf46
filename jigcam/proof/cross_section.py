"""How much wood is gone at a height, and how deep a file cuts: measures for whoever draws the cut and compares.

The verdict does not rest on them: it rests on distances (`gouge`, `left`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from jigcam.gcode import Reading
from jigcam.geometry import GeometryError, Path, Region, disc, intersection, swept
from jigcam.kit import Machine
from jigcam.proof.changes import changed_by_hand, doubted
from jigcam.proof.milled import chains
from jigcam.proof.outline import bounds_of
from jigcam.proof.prove import works_of
from jigcam.proof.sweeps import Work, sweeps
from jigcam.proof.target import INSIDE, Target, neighbours, united
from jigcam.proof.tools import Tools
from jigcam.proof.travel import Travel, travel_of
from jigcam.proof.whole import Swept

FEW = 400
"""Strokes that reach one height, and whose ground touches, up to which it is united."""
MANY = 6000
"""The same in all, however far apart; as of letters and holes: each by itself is small."""


@dataclass(frozen=True)
class CrossSection:
    """What is gone of a stock at height z (mm, file frame). area: mm²; edge: length of its outline, mm."""

    z: float
    area: float
    edge: float


@dataclass(frozen=True)
class VirtualCut:
    """A text as cut virtually: with each bit by its tool number, where its tip goes. Frame of the file, mm."""

    motions: np.ndarray
    works: dict[int, Work]
    target: Target

    @classmethod
    def of(cls, reading: Reading, target: Target, machine: Machine, tools: Tools) -> VirtualCut:
        """The cut that the proof judges: with bits changed, and heights unknown, as it takes them."""
        motions = doubted(changed_by_hand(reading, machine), machine).motions
        return cls(motions, works_of(motions, travel_of(motions), tools, machine), target)

    @property
    def travel(self) -> Travel:
        """All strokes whose place is known, in the order of the text."""
        return travel_of(self.motions)

    @property
    def depth(self) -> float:
        """How deep the tip of any bit goes below the face while it cuts, mm; no more than the stock is thick."""
        lowest = [float(work.travel.lowest[work.cuts].min()) for work in self.works.values() if work.cuts.any()]
        return min(max(0.0, -min(lowest, default=0.0)), self.target.stock.thickness)

    def at(self, z: float) -> CrossSection | None:
        """What is gone at height z; None where more strokes reach it than are united in a sensible time."""
        stock = self.target.stock.region
        # `sweeps` looks a little above the height that it is given, to be on the safe side; here it is to be just that.
        groups = [group for work in self.works.values() for group in sweeps(work, z - INSIDE, stock)]
        count = sum(len(group.strokes) for group in groups)
        if count > MANY:
            return None
        try:
            ground = list(_ground(groups))
            if count > FEW and any(_size(each) > FEW for each in neighbours(ground)):
                return None
            gone = self._within_stock(united(ground)) if ground else Region.empty()
        except GeometryError:
            return None
        return CrossSection(z, gone.area, gone.length)

    def _within_stock(self, region: Region) -> Region:
        """The part of a region that is stock; all of it, as it is, where it keeps off the edges."""
        if region.is_empty:
            return region
        (x0, y0, x1, y1), stock = bounds_of(region), self.target.stock
        if stock.x0 < x0 and stock.y0 < y0 and x1 < stock.x1 and y1 < stock.y1:
            return region
        return intersection(stock.region, region)


def _size(regions: Sequence[Region]) -> int:
    """About how many strokes swept them: each has two sides."""
    return sum(len(loop.vertices) for region in regions for loop in region.loops) // 2


def _ground(groups: Sequence[Swept]) -> Iterator[Region]:
    """What each unbroken run of strokes of one radius clears."""
    for group in groups:
        for chain in chains(group.strokes):
            yield swept(chain, group.radius) if isinstance(chain, Path) else disc(*chain, group.radius)
