"""The loose tenon that goes into a mortise and its mate: its size, and how it is made."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.units import Voice

SHORTER = 1.5
"""mm by which a tenon is shorter than both of its mortises together, for glue and dust (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class LooseTenon:
    """A tenon, mm. thickness, width: across, the play taken off; length: along the grain. play: in all, for glue."""

    thickness: float
    width: float
    length: float
    play: float

    @property
    def edge_radius(self) -> float:
        """To which its edges are rounded from both faces, so that they seat in round ends: a half round."""
        return self.thickness / 2.0

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm."""
        return {
            "thickness_mm": round(self.thickness, 4),
            "width_mm": round(self.width, 4),
            "length_mm": round(self.length, 4),
            "edge_radius_mm": round(self.edge_radius, 4),
        }

    def words(self, voice: Voice) -> str:
        """Its size."""
        return (
            f"{voice.rule(self.thickness)} thick, {voice.rule(self.width)} wide, {voice.rule(self.length)} long, edges "
            f"rounded to a radius of {voice.rule(self.edge_radius)}"
        )

    def lines(self, count: int, voice: Voice) -> Iterator[str]:
        """How so many of them are made from stock, a sentence each."""
        yield (
            f"Plane a strip of straight-grained hardwood to {voice.rule(self.thickness)}, and rip it "
            f"{voice.rule(self.width)} wide, its grain along the strip; long enough for {count} of "
            f"{voice.rule(self.length)} and a hand's breadth more to hold."
        )
        yield (
            f"Round both edges of the strip over from both faces to a radius of {voice.rule(self.edge_radius)}, half "
            "its thickness, so that they come out as half rounds, as the mortise's ends are."
        )
        yield (
            "Plane by thin shavings and try the strip in a mortise: it goes in by hand, and does not fall out; the "
            f"play of {voice.length(self.play)} in all is for the glue."
        )
        yield (
            f"Cut the strip into {'tenons' if count > 1 else 'a tenon'} of {voice.rule(self.length)}, ease the ends, "
            "and cut a shallow groove along each face, by which glue and air come out."
        )
