"""The hand-held router, its guide bushings, and the sheets that templates are made of."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import model_validator

from jigcam.document.fields import Flag, Name, Rpm, a_known, a_length, a_list
from jigcam.document.model import Model
from jigcam.document.reading import Misfit
from jigcam.errors import InputError
from jigcam.kit.bit import Bit, both_units

Diameter = Annotated[float, a_length("a diameter", high=150.0)]
Speeds = Annotated[tuple[Rpm, Rpm], a_list(2, "two speeds in rpm, lowest and highest: [10000, 22000]")]
Collets = Annotated[tuple[Diameter, ...], a_list(None, 'a list of shank diameters, such as ["1/2", "1/4"]')]

FARTHEST_AXES = 2.0
"""mm; axes of bushing and bit farther apart than this are a slip of the pen."""
LEAST_WALL = 0.5
"""mm of a bushing's collar, at least: half of the usual wall, as bushings are about 3/32 in less inside than outside
(common practice, no source), and thinner ones bend under a router."""
BASE_PLATE = 8.0
"""mm of a bit's reach that the router's base takes, where the kit does not say: plate, flange of the bushing and nut
take about 10 mm in all (from memory)."""
FLANGE = 2.0
"""mm of a bit's reach that a bushing's flange and ring take above the base plate, where the kit does not say (from
memory)."""
COLLET_FIT = 0.03
"""mm; a shank this near to the size of a collet belongs to it. 8 mm and 5/16 in (7.94 mm) do not mix."""


def rising(speeds: tuple[float, float], key: str) -> list[tuple[tuple[str], InputError]]:
    """The fault of two speeds in the wrong order."""
    if speeds[0] <= speeds[1]:
        return []
    return [
        (
            (key,),
            InputError(
                "the lowest speed is above the highest",
                found=f"[{speeds[0]:g}, {speeds[1]:g}]",
                wanted="lowest first",
                mend=f"[{speeds[1]:g}, {speeds[0]:g}]",
            ),
        )
    ]


def holds(collets: tuple[float, ...], shank: float) -> bool:
    """Whether one of the collets takes that shank."""
    return any(abs(collet - shank) <= COLLET_FIT for collet in collets)


class Router(Model):
    """The hand-held router, mm.

    collets: shank diameters that it takes. base_radius: of its round base. speeds: lowest and highest rpm. grip: length
    of shank that has to be in the collet, at least. base_plate: from the underside of the base up to where the collet's
    nut can come down at the lowest. flange: what a guide bushing's flange and ring stand above that. eccentricity:
    distance between the axes of bushing and bit, as measured by turning the router; left out: not known.
    """

    collets: Collets
    base_radius: Annotated[float, a_length("a base radius", high=500.0)]
    speeds: Speeds
    grip: Annotated[float, a_length("a grip on the shank", high=100.0)]
    base_plate: Annotated[float, a_length("a thickness of the base plate", 0.0, 100.0)] = BASE_PLATE
    flange: Annotated[float, a_length("a thickness of a flange", 0.0, 50.0)] = FLANGE
    eccentricity: Annotated[float, a_length("a distance of two axes", 0.0, FARTHEST_AXES)] | None = None

    def reach(self, bit: Bit) -> float:
        """How far a bit comes below the base through a guide bushing at most, with its shank held by the grip, mm."""
        return bit.overall_length - self.grip - self.base_plate - self.flange

    def takes(self, bit: Bit) -> bool:
        """Whether one of the collets fits the bit's shank."""
        return holds(self.collets, bit.shank)

    @model_validator(mode="after")
    def _is_one(self) -> Self:
        if faults := rising(self.speeds, "speeds"):
            raise Misfit(*faults)
        return self


class Bushing(Model):
    """A guide bushing, mm.

    name: as jobs call it. outside, inside: diameters of its collar. collar: how far it stands below the base.
    """

    name: Name
    outside: Diameter
    inside: Diameter
    collar: Annotated[float, a_length("the length of a collar", high=100.0)]

    @model_validator(mode="after")
    def _has_a_wall(self) -> Self:
        wall = (self.outside - self.inside) / 2.0
        if wall < LEAST_WALL:
            what = "the bushing has no wall" if wall <= 0.0 else "the wall of the bushing is too thin to be one"
            fault = InputError(
                what,
                found=f"inside {both_units(self.inside)}, outside {both_units(self.outside)}",
                wanted=f"a wall of at least {both_units(LEAST_WALL)}, so an inside of at most "
                f"{both_units(self.outside - 2.0 * LEAST_WALL)}",
                mend="measure both, the inside with the smaller jaws; about 3/32 in less inside than outside is usual",
            )
            raise Misfit((("inside",), fault))
        return self


class Sheet(Model):
    """Template stock, mm.

    material: a name in profiles/sheets.toml. thickness: as measured. sawn_to_size: whether blanks are sawn to the
    template's own size before the machine has them, so that no outline is milled.
    """

    material: Annotated[str, a_known("sheet material", "materials")]
    thickness: Annotated[float, a_length("a thickness", 0.5, 100.0)]
    sawn_to_size: Flag = False
