"""Router bits, known by their profile: the radius at every height above the tip."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, Final, Literal, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import model_validator

from jigcam.document.fields import Flag, Name, Rpm, a_length, a_whole_number, an_angle
from jigcam.document.model import Model
from jigcam.document.reading import Misfit
from jigcam.errors import InputError
from jigcam.units import format_angle, format_length

BitKind = Literal["straight", "dovetail", "ball", "vee", "round-over"]

_Blamed = tuple[str, InputError]  # a key, and what is wrong with it
_AS_SOLD: Final = 0.05  # mm; catalogues round the lengths of a bit
WHOLE_ANGLE: Final = 0.05
"""A vee bit whose edges are, by this share, just as long as those of one of half its angle was read off its label."""


class Bit(Model):
    """A bit. Lengths in mm, angle in radians; heights are measured from the tip.

    name: as jobs call it. kind: of cutter. diameter: of the cutter at its widest; on a dovetail bit that is the tip.
    angle: of the flank from the axis, for dovetail and vee bits (a vee of 60° between its flanks has 30°), 0 for all
    others. cutting_length: height of the cutting edges. overall_length: from tip to the end of the shank. shank: its
    diameter. flutes: edges that cut. plunges: whether it cuts at its centre and may go straight down. corner_radius: of
    the quarter circle on a round-over bit, 0 for all others. max_rpm: as marked on the bit, if it is. material: of its
    edges, as a note.
    """

    name: Name
    kind: BitKind
    diameter: Annotated[float, a_length("a diameter", high=150.0)]
    angle: Annotated[float, an_angle("an angle of the flank", 0.0, 85.0)] = 0.0
    cutting_length: Annotated[float, a_length("a cutting length", high=300.0)]
    overall_length: Annotated[float, a_length("an overall length", high=500.0)]
    shank: Annotated[float, a_length("a shank diameter", high=50.0)]
    flutes: Annotated[int, a_whole_number("a number of flutes", 1, 12)] = 2
    plunges: Flag = False
    corner_radius: Annotated[float, a_length("a corner radius", low=0.0, high=75.0)] = 0.0
    max_rpm: Rpm | None = None
    material: Name | None = None

    @property
    def radius(self) -> float:
        """Half the diameter, mm."""
        return self.diameter / 2

    @property
    def neck(self) -> float:
        """Diameter at the top of the cutting length, mm: D − 2h·tan α on a dovetail bit, D on all others."""
        lean = self.cutting_length * math.tan(self.angle) if self.kind == "dovetail" else 0.0
        return self.diameter - 2 * lean

    @property
    def upright_walls(self) -> bool:
        """Whether it leaves walls at a right angle to its floor, and a flat floor: a straight bit."""
        return self.kind == "straight"

    @property
    def undercuts(self) -> bool:
        """Whether it is wider at its tip than above, so that it can only leave a slot by the way it came."""
        return self.neck < self.diameter

    @property
    def edges_a_board(self) -> bool:
        """Whether it only rounds over edges, and makes no cut of its own."""
        return self.kind == "round-over"

    @property
    def pointed(self) -> bool:
        """Whether it cuts with a point, so that a line is as wide as it is deep: a vee bit."""
        return self.kind == "vee"

    @property
    def point(self) -> float:
        """Height of its point, mm: where its flanks come to its diameter, or end; 0 for a bit without a point."""
        return min(self.cutting_length, self.radius / math.tan(self.angle)) if self.pointed else 0.0

    @property
    def quarter_circle(self) -> float:
        """Radius of the quarter circle that its profile starts with at the tip, mm; 0 for straight lines only."""
        return self.radius if self.kind == "ball" else self.corner_radius

    def radius_at(self, height: ArrayLike) -> NDArray[np.float64]:
        """Radius in mm of the turning bit at each `height` (mm above the tip, any shape); same shape comes back.

        The cutter up to and including the cutting length, the shank above it up to and including the overall length.
        Below the tip and above the end of the shank there is no bit: −inf, so that nothing is within that radius. The
        tip itself is the limit of the profile: 0 for ball and vee.
        """
        h = np.asarray(height, dtype=np.float64)
        r = np.where(h <= self.cutting_length, self._cutter(h), self.shank / 2)
        return np.where((h >= 0) & (h <= self.overall_length), r, -np.inf)

    def _cutter(self, h: NDArray[np.float64]) -> NDArray[np.float64]:
        """Radius of the cutter at heights within the cutting length; arbitrary but finite elsewhere."""
        radius, corner = self.radius, self.corner_radius
        if self.kind == "dovetail":
            return radius - h * math.tan(self.angle)
        if self.kind == "vee":
            return np.minimum(h * math.tan(self.angle), radius)
        if self.kind == "ball":
            low = np.clip(h, 0.0, radius)
            return np.sqrt(low * (2 * radius - low))
        if self.kind == "round-over":
            # A hollow quarter circle about (radius, 0): it leaves the wood's edge with a radius of `corner`.
            low = np.clip(h, 0.0, corner)
            return radius - np.sqrt((corner - low) * (corner + low))
        return np.full_like(h, radius)

    @model_validator(mode="after")
    def _can_be_made(self) -> Self:
        check = {"dovetail": self._dovetail, "vee": self._vee, "ball": self._ball, "round-over": self._round_over}
        faults = list(self._any_bit())
        faults += check[self.kind]() if self.kind in check else ()
        if faults:
            raise Misfit(*(((key,), error) for key, error in faults))
        return self

    def _any_bit(self) -> Iterator[_Blamed]:
        if self.cutting_length >= self.overall_length:
            yield (
                "cutting_length",
                InputError(
                    "the cutting length leaves no shank",
                    found=both_units(self.cutting_length),
                    wanted=f"less than the overall length of {both_units(self.overall_length)}",
                ),
            )
        if self.angle != 0 and self.kind not in ("dovetail", "vee"):
            yield (
                "angle",
                InputError(f"a {self.kind} bit has no sloped flank", found=format_angle(self.angle), wanted="no angle"),
            )
        if self.corner_radius != 0 and self.kind != "round-over":
            yield (
                "corner_radius",
                InputError(
                    f"a {self.kind} bit has no quarter circle",
                    found=both_units(self.corner_radius),
                    wanted="no corner_radius",
                ),
            )

    def _dovetail(self) -> Iterator[_Blamed]:
        if self.angle == 0:
            yield "angle", _no_flank("a dovetail bit", "as it is marked on the bit")
        if self.neck <= 0:
            yield (
                "angle",
                InputError(
                    "the flanks meet below the top of the cutting length",
                    found=format_angle(self.angle),
                    wanted=f"less than {format_angle(math.atan(self.radius / self.cutting_length))}, "
                    "or a shorter cutting length",
                ),
            )

    def _vee(self) -> Iterator[_Blamed]:
        if self.angle == 0:
            yield "angle", _no_flank("a vee bit", "half of the angle between its flanks")
        elif (needed := self.radius / math.tan(self.angle)) > self.cutting_length + _AS_SOLD:
            yield (
                "cutting_length",
                InputError(
                    "the flanks do not reach the diameter",
                    found=both_units(self.cutting_length),
                    wanted=f"at least {both_units(needed)}",
                    mend="is the angle that of one flank from the axis?",
                ),
            )
        elif abs(self.radius / math.tan(self.angle / 2.0) / self.cutting_length - 1.0) < WHOLE_ANGLE:
            half = format_angle(self.angle / 2.0)
            yield (
                "angle",
                InputError(
                    "an angle that is surely the whole one, from flank to flank",
                    found=f"{format_angle(self.angle)}, with edges {both_units(self.cutting_length)} long",
                    wanted="the angle of one flank from the axis: half of what the label says",
                    mend=f"did you mean {half.removesuffix('°')}?",
                ),
            )

    def _ball(self) -> Iterator[_Blamed]:
        if self.cutting_length < self.radius - _AS_SOLD:
            yield (
                "cutting_length",
                InputError(
                    "the cutting length is less than the ball",
                    found=both_units(self.cutting_length),
                    wanted=f"at least half the diameter, {both_units(self.radius)}",
                ),
            )

    def _round_over(self) -> Iterator[_Blamed]:
        if not 0 < self.corner_radius <= min(self.radius, self.cutting_length) + _AS_SOLD:
            yield (
                "corner_radius",
                InputError(
                    "the quarter circle does not fit the bit",
                    found=both_units(self.corner_radius),
                    wanted="more than 0, at most half the diameter and at most the cutting length",
                ),
            )


def _no_flank(what: str, mend: str) -> InputError:
    return InputError(
        f"{what} needs the angle of its flank from the axis", found="nothing", wanted="degrees, more than 0", mend=mend
    )


def both_units(mm: float) -> str:
    """A length in both units: a model does not know in which its file was written."""
    return f"{format_length(mm, 'mm')} ({format_length(mm, 'in')})"
