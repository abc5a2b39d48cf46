"""The stack of lengths under a router's base: sheet, collar, bit and cut have to add up.

Heights count downward from the base, which slides on the sheet; the sheet lies on the board's face. The bit reaches
through the bushing and the sheet to the bottom of the cut: projection = sheet thickness + depth. All lengths in mm.
"""

from __future__ import annotations

from jigcam.kit import Bit, Bushing, Router
from jigcam.values import dataclass

COLLAR_SPARE = 1.0
"""A collar is at least this much shorter than the template is thick (common practice, no source)."""
REACH_SPARE = 2.0
"""mm; less than this between what a bit can reach and what it has to, and the collet's nut nears the bushing (common
practice, no source)."""
SLENDER = 4.0
"""A bit that projects more than this many times its diameter bends under a hand-held router (common practice)."""


@dataclass(frozen=True, slots=True)
class Stack:
    """Lengths of one set-up, mm.

    sheet: thickness of the template. depth: of the cut. collar: of the bushing below the base. reach: of the bit below
    the base, with its shank held by the router's grip and the collet's nut down at the bushing's flange, above the base
    plate. cutting: length of the
    bit's cutting edges from the tip. diameter: of the bit.
    """

    sheet: float
    depth: float
    collar: float
    reach: float
    cutting: float
    diameter: float

    @classmethod
    def of(cls, bit: Bit, bushing: Bushing, *, sheet: float, depth: float, router: Router) -> Stack:
        """The stack of a bit and a bushing in a router over a sheet, for a cut of the given depth."""
        return cls(sheet, depth, bushing.collar, router.reach(bit), bit.cutting_length, bit.diameter)

    @property
    def projection(self) -> float:
        """How far the bit's tip is set below the base at full depth."""
        return self.sheet + self.depth

    @property
    def collar_spare(self) -> float:
        """Room between the collar's lower rim and the board; ≤ 0 and the collar touches the work."""
        return self.sheet - self.collar

    @property
    def reach_spare(self) -> float:
        """What the bit could still be lowered; negative where it is too short."""
        return self.reach - self.projection

    @property
    def slenderness(self) -> float:
        """Projection over cutting diameter."""
        return self.projection / self.diameter

    def passes(self, each: float = 5.0) -> tuple[float, ...]:
        """Depths of cut to set in turn for hand routing, equal steps of at most `each` mm down to the full depth.

        About 3 to 6 mm a pass: common practice, no source.
        """
        count = max(1, -int(-(self.depth - 1e-9) // each))
        return tuple(self.depth * (i + 1) / count for i in range(count))
