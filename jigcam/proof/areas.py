"""How much of a layer is cut too far or left, as areas: exact for short files, counted on the grid for long ones.

Asked only where the distances have found a fault; the verdict does not rest on them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from jigcam.geometry import GeometryError, Path, Region, difference, disc, intersection, swept, union
from jigcam.proof.milled import chains
from jigcam.proof.removal import Cleaned
from jigcam.proof.report import LayerResult
from jigcam.proof.sweeps import Work, sweeps
from jigcam.proof.target import INSIDE, Target
from jigcam.tolerances import TOLERANCES
from jigcam.values import dataclass

FEW = 400
"""Strokes up to which the swept ground is united exactly."""


@dataclass(frozen=True)
class Areas:
    """Measures the faults of layers. works: all bits; taken: the stock as columns."""

    target: Target
    works: Sequence[Work]
    taken: Cleaned

    def measured(self, layer: LayerResult) -> LayerResult:
        """A layer with its areas, where it has a fault; as it is where it has none."""
        if layer.gouge <= TOLERANCES.gouge and layer.left <= TOLERANCES.left:
            return layer
        low, high = layer.low + INSIDE, layer.high - INSIDE
        keep, must = self.target.keep(high), self.target.must(low)
        bitten = self._area(keep, high, gone=True) if layer.gouge > TOLERANCES.gouge else 0.0
        standing = self._area(must, low, gone=False) if layer.left > TOLERANCES.left else 0.0
        return replace(layer, gouge_area=bitten, left_area=standing)

    def _area(self, region: Region, z: float, *, gone: bool) -> float:
        """Area of the part of a region that is gone, or not gone, at height z; mm²."""
        if region.is_empty:
            return 0.0
        groups = [group for work in self.works for group in sweeps(work, z, region)]
        if sum(len(group.strokes) for group in groups) <= FEW:
            try:
                ground = [
                    swept(chain, group.radius) if isinstance(chain, Path) else disc(*chain, group.radius)
                    for group in groups
                    for chain in chains(group.strokes)
                ]
                cut = union(*ground) if ground else Region.empty()
                return (intersection(region, cut) if gone else difference(region, cut)).area
            except GeometryError:
                pass  # counted instead
        grid = self.taken.grid
        columns = np.flatnonzero((self.taken.floor <= z + 2.0 * INSIDE) == gone)
        return float(region.contains(grid.points(columns)).sum()) * grid.pitch**2
