"""What a bit bears, in the judge's own numbers."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

WORK = 0.08
"""Work of cutting wood and sheet goods, J/mm³ (common practice, no source; the number the proof has)."""


@dataclass(frozen=True)
class Build:
    """What bends of a bit: length out of the collet and of the edges, diameter of core and shank, mm; N/mm²."""

    out: float
    edge: float
    core: float
    shank: float
    modulus: float

    @property
    def gives(self) -> float:
        """mm/N at the tip: a stepped cantilever, δ = F·L³/(3·E·I), I = π·d⁴/64."""
        core, shank = (math.pi * d**4 / 64.0 for d in (self.core, self.shank))
        return (self.edge**3 / core + (self.out**3 - self.edge**3) / shank) / (3.0 * self.modulus)


def chip_of(diameter: float) -> float:
    """Greatest usual chip load in MDF by diameter, mm (common practice, no source)."""
    table = ((3.2, 0.18), (6.35, 0.41), (9.5, 0.58), (12.7, 0.69))
    if diameter <= table[0][0]:
        return table[0][1]
    for (d0, c0), (d1, c1) in pairwise(table):
        if diameter <= d1:
            return c0 + (c1 - c0) * (diameter - d0) / (d1 - d0)
    return table[-1][1]
