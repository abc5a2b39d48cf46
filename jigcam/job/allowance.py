"""What is bought beyond the finished size of a board: the optional table `[allowance]` of a job."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Final

from pydantic import AfterValidator

from jigcam.document.fields import LARGEST, Size, a_length, a_list, a_number
from jigcam.document.model import Model
from jigcam.errors import InputError
from jigcam.units import INCH, Unit

More = Annotated[float, a_length("an allowance", 0.0, LARGEST)]
_EIGHTH: Final = INCH / 8.0


def _ascending(sizes: tuple[float, ...]) -> tuple[float, ...]:
    """The thicknesses in ascending order; raises InputError for none."""
    if not sizes:
        raise InputError("no thickness is on the list", found="[]", wanted="at least one, or no key")
    return tuple(sorted(sizes))


class Allowance(Model):
    """How much larger than finished a board is sawn out, mm, and of which stock.

    length: sawn longer by; left out: 1 in, or 25 mm in a metric job. width: sawn wider by; left out: 1/4 in, or 6 mm.
    thickness: what planing both faces flat takes at least; left out: 3/16 in, or 5 mm. stock: the thicknesses, as sawn,
    that can be bought; left out: 4/4 to 16/4 in, or 20 to 100 mm. waste: what is bought beside the boards, for knots,
    splits and offcuts, in % of them; left out: 20.
    """

    length: More | None = None
    width: More | None = None
    thickness: More | None = None
    stock: Annotated[tuple[Size, ...], a_list(None, "a list of thicknesses"), AfterValidator(_ascending)] | None = None
    waste: Annotated[float, a_number("waste in %", 0.0, 300.0)] | None = None

    def usual(self, units: Unit) -> Allowance:
        """The same, with what the trade of those units does where this one is silent."""
        said = {key: value for key in Allowance.model_fields if (value := getattr(self, key)) is not None}
        return USUAL[units].model_copy(update=said)


USUAL: Final[Mapping[Unit, Allowance]] = {
    "in": Allowance(
        length=1.0 * INCH,
        width=2.0 * _EIGHTH,
        thickness=1.5 * _EIGHTH,
        stock=tuple(n * 2.0 * _EIGHTH for n in (4, 5, 6, 8, 10, 12, 16)),
        waste=20.0,
    ),
    "mm": Allowance(
        length=25.0,
        width=6.0,
        thickness=5.0,
        stock=(20.0, 27.0, 32.0, 40.0, 50.0, 60.0, 65.0, 70.0, 80.0, 100.0),
        waste=20.0,
    ),
}
"""Length, width and waste: common practice, no source. Thickness: rules of the National Hardwood Lumber Association
have stock of 4/4 surfaced on two sides to 13/16 in, of 5/4 to 1-1/16 and of 6/4 to 1-5/16, 3/16 in less each (from
memory); 5 mm is the same, rounded. Stock in inches: the standard thicknesses of the same rules, in quarters, from 4/4,
below which hardly a yard keeps any; in mm: those of EN 1313-2 for sawn hardwood (both from memory)."""
