"""The mate laid into the groove as it was cut, virtually."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from jigcam.joints.groove.axes_apart import AxesApart, AxesWorst
from jigcam.joints.groove.seat import seat
from jigcam.making.axes import axes_line
from jigcam.proof.fit import findings_of
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.findings import Finding
    from jigcam.geometry import Path, Region
    from jigcam.joints.groove.groove import Groove
    from jigcam.proof import Fit
    from jigcam.units import Voice
    from jigcam.wood import Mate


@dataclass(frozen=True)
class GrooveFit:
    """The mate of a groove in its best seat, mm.

    ridden: whether a bushing rode in a template; play: its room then, None where it was not measured. apart: what axes
    that are apart may make of it, where they are. opposite: the same for the opposite hand, where that is cut too.
    places: the same for every other place of a groove that is cut again or in both faces, with what tells it apart.
    """

    mate: Mate
    seat: Fit
    ridden: bool = False
    play: float | None = None
    apart: AxesApart | None = None
    opposite: GrooveFit | None = None
    places: tuple[tuple[str, GrooveFit], ...] = ()

    @property
    def everywhere(self) -> tuple[GrooveFit, ...]:
        """Of all places."""
        return self, *(fit for _, fit in self.places)

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm and degrees."""
        mate = self.mate
        facts: dict[str, Any] = {
            "mate": mate.board,
            "thickness_mm": round(mate.thickness, 4),
            "clearance_drawn_mm": round(mate.clearance, 4),
            **self.seat.as_dict(),
            "enters_mm": round(mate.enters, 4),
            "edge_radius_mm": round(mate.edge_radius, 4),
            "mate_length_mm": round(mate.length, 4),
            "notch_mm": round(mate.notch, 4),
        }
        if self.ridden:
            facts["play_mm"] = None if self.play is None else round(self.play, 4)
        if self.apart is not None:
            facts["axes_apart"] = self.apart.as_dict()
        if self.opposite is not None:
            facts["opposite"] = self.opposite.as_dict()
        if self.places:
            facts["places"] = [{"place": place, **fit.as_dict()} for place, fit in self.places]
        return facts

    def brief(self, voice: Voice) -> list[str]:
        """In a few words."""
        says = f"{self.mate.board or 'what goes in'} has {self._room(voice)} of room"
        if self.places:
            says += f" in each of {len(self.everywhere)} places"
        if self.seat.ends is not None:
            says += ", its rounded ends seat" if self._seats else ", its rounded ends do NOT seat"
        return [says]

    def lines(self, voice: Voice) -> list[str]:
        """For people."""
        mate, seated = self.mate, self.seat
        thick = f"{voice.length(mate.thickness)} thick"
        name = f"the {mate.board}, {thick}," if mate.board else f"a part {thick}"
        lines = [f"{name} has {self._room(voice)} of room in all across the groove as cut"]
        if self.places:
            lines[0] += f", in each of its {len(self.everywhere)} places"
        if seated.ends is not None:
            seats = "seat" if self._seats else "do NOT seat"
            lines.append(f"its rounded ends {seats} in the groove's round ends")
        if self.ridden:
            lines.append(axes_line(AxesWorst.of([fit.apart for fit in self.everywhere if fit.apart]), voice))
        return lines

    @property
    def _seats(self) -> bool:
        """Whether rounded ends seat everywhere."""
        return all(fit.seat.seats for fit in self.everywhere)

    def _room(self, voice: Voice) -> str:
        """Across all places: one figure, or the least and the greatest."""
        rooms = [voice.length(room) for room in sorted(fit.seat.total for fit in self.everywhere)]
        return rooms[0] if rooms[0] == rooms[-1] else f"{rooms[0]} to {rooms[-1]}"


def groove_fit(
    groove: Groove, cut: Region, centreline: Path, where: str, voice: Voice
) -> tuple[GrooveFit, list[Finding]]:
    """The fit of the groove's mate in a cut, with what is to be said.

    cut, centreline: in one frame, mm; measured from the virtual cut, never from nominal sizes.
    """
    result = seat(groove, cut, centreline)
    return GrooveFit(groove.mate, result), findings_of(result, groove.mate.clearance, where, voice.units)
