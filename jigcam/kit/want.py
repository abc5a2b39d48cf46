"""What a cut wants of a bit, and what a bit lacks for it: the one place in which bits are judged by their sizes.

Which of the bits that lack nothing is the best, and in which words the others are turned down, is for each caller to
say: the stiffest for a groove, the usual size for a template, the finest for letters.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import inf
from typing import Final, Literal, Protocol

from jigcam.kit.bit import Bit
from jigcam.values import dataclass

Ability = Literal["upright_walls", "undercuts", "pointed"]
"""A property of `Bit` that a cut may ask for."""
Lack = Literal["ability", "collet", "width", "edges"]
"""What a bit lacks: it cuts another shape, its shank is held nowhere, it is too wide, its edges are too short."""

SLACK: Final = 1e-3
"""mm; a bit that misses a limit by less is taken for that size. Rounding of units stays far below it, and so the kit
may say 6 mm and the job 0.2362 in; wood and proof do not notice a micrometre (derived: both walls share it)."""


class Holder(Protocol):
    """What holds a bit by its shank: the router or the machine's spindle."""

    def takes(self, bit: Bit) -> bool:
        """Whether one of its collets fits the bit's shank."""
        ...


@dataclass(frozen=True, slots=True)
class Want:
    """What a cut asks of its bit, mm.

    ability: what the bit has to be able to do. holder: whose collets have to take its shank; None: not asked. width:
    that the bit may have at most. edges: length that its cutting edges have to have at least. Both within `SLACK`.
    """

    ability: Ability
    holder: Holder | None = None
    width: float = inf
    edges: float = 0.0

    def lacks(self, bit: Bit) -> frozenset[Lack]:
        """All that a bit lacks; empty for one that will do. Who tells only one goes through them in an order."""
        lacking: set[Lack] = set()
        if not getattr(bit, self.ability):
            lacking.add("ability")
        if self.holder is not None and not self.holder.takes(bit):
            lacking.add("collet")
        if bit.diameter > self.width + SLACK:
            lacking.add("width")
        if bit.cutting_length < self.edges - SLACK:
            lacking.add("edges")
        return frozenset(lacking)

    def met_by(self, bits: Iterable[Bit]) -> list[Bit]:
        """The bits that lack nothing, in their order."""
        return [bit for bit in bits if not self.lacks(bit)]
