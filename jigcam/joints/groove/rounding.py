"""How the ends of a mate are rounded over for the round ends of its groove, and what stays open beside them."""

from __future__ import annotations

from math import hypot, sqrt
from typing import TYPE_CHECKING, Final

from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.kit import Bit, Kit
    from jigcam.units import Voice
    from jigcam.wood import Mate

UNSEEN: Final = 0.02
"""A gap up to this is none, mm."""
FITS: Final = 0.5
"""A bit whose rounding leaves no more open will do, mm: more is seen (common practice, no source)."""


def open_beside(radius: float, thickness: float) -> float:
    """What stays open in a round end of the same thickness, mm, where the edge is rounded to `radius` from both faces.

    Derived, for half a thickness h. Too small a radius r leaves a flat, whose corners touch when the tip is h − r short
    of the end. Too large a one brings the two arcs to a tip √(2rh − h²) beyond where they leave the faces; the widest
    gap beside it lies on the line through the middles of the half circle and of the arc.
    """
    half = thickness / 2.0
    if radius <= half:
        return half - radius
    ahead = sqrt(2.0 * radius * half - half**2) - half
    return hypot(ahead, radius - half) - (radius - half)


@dataclass(frozen=True, slots=True)
class Rounding:
    """A mate's rounding with a kit, mm. bit: the round-over bit of the kit nearest to half the thickness, if any."""

    thickness: float
    bit: Bit | None

    @classmethod
    def of(cls, mate: Mate, kit: Kit) -> Rounding:
        """With the bits that the router takes; none without a router."""
        half = mate.thickness / 2.0
        router = kit.router
        bits = [bit for bit in kit.bits if router is not None and bit.edges_a_board and router.takes(bit)]
        return cls(mate.thickness, min(bits, key=lambda bit: (abs(bit.corner_radius - half), bit.name), default=None))

    @property
    def open(self) -> float:
        """What stays open beside the edge that the bit leaves."""
        return open_beside(self.bit.corner_radius, self.thickness) if self.bit else 0.0

    def words(self, voice: Voice) -> str:
        """With what it is rounded."""
        if self.bit is None:
            return "with plane and file, as the kit has no round-over bit"
        bit, radius = self.bit, self.bit.corner_radius
        if self.open <= UNSEEN:
            return f"with {bit.name}"
        stays = f"its radius of {voice.rule(radius)} leaves a "
        if radius < self.thickness / 2.0:
            stays += f"flat of {voice.rule(self.thickness - 2.0 * radius)}, and {voice.rule(self.open)} stays open "
            stays += "beyond it unless the corners of the flat are eased with a file"
        else:
            stays += f"pointed edge, and {voice.rule(self.open)} stays open beside it"
        if self.open <= FITS:
            return f"with {bit.name}: {stays}"
        return f"with plane and file, as no round-over bit of the kit fits; of the nearest, {bit.name}, {stays}"
