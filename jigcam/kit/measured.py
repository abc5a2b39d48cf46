"""What a test cut has shown of a bit in a bushing: the kit's optional tables `[[measured]]`.

An opening that measures t across, whose groove measures w, gives the true B − d = t − w of that pair: the sum of what
bit, bushing and their axes are really like. It replaces the nominal difference of the diameters from then on.

The difference does not say which of the two is off, and only the bit takes of the bushing's play in its opening: a cut
that is W wide leaves W − d. Where the bit was measured as well, its diameter decides. Where it was not, a difference
smaller than the nominal one is given to the bit, as if it were larger, as far as a bit may be off (`BIT_OFF`), and the
rest and a larger one to the bushing: of all that the test cut may mean the case with the least play.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from typing import Annotated, Any, Final

from pydantic import BeforeValidator

from jigcam.document.fields import Name, Size
from jigcam.document.model import Model
from jigcam.document.positions import Key
from jigcam.errors import InputError, unknown_name
from jigcam.kit.bit import Bit
from jigcam.kit.router import Bushing
from jigcam.units import INCH, MM, Voice
from jigcam.units.parse import shown

MOST: Final = 1.0
"""mm; a true difference further from the nominal one than this is a slip, not a tool."""
BIT_OFF: Final = 0.2
"""mm; a bit is larger than it is sold by no more than this (common practice, no source)."""
LIKELY: Final = 0.3
"""mm; a slip is named where its correction comes as near as this to the nominal difference."""


def _date(value: Any) -> datetime.date:
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return value
    try:
        return datetime.date.fromisoformat(value)
    except (TypeError, ValueError):
        raise InputError("not a date", found=shown(value), wanted="a date such as 2024-05-31") from None


class Measured(Model):
    """A test cut. bit, bushing: names in the kit. opening, width: as measured across opening and groove, mm. date: of
    the cut. diameter: of the bit, as measured, mm; left out: it was not."""

    bit: Name
    bushing: Name
    opening: Size
    width: Size
    date: Annotated[datetime.date, BeforeValidator(_date)]
    diameter: Size | None = None

    @property
    def difference(self) -> float:
        """The true B − d, mm."""
        return self.opening - self.width

    def tools(self, bit: Bit, bushing: Bushing) -> tuple[Bit, Bushing]:
        """Bit and bushing of the kit at the sizes at which they act together; see the head of the module."""
        excess = min(BIT_OFF, max(0.0, bushing.outside - bit.diameter - self.difference))
        size = bit.diameter + excess if self.diameter is None else self.diameter
        return sized(bit, size), bushing.model_copy(update={"outside": size + self.difference})


def sized(bit: Bit, diameter: float) -> Bit:
    """A bit as wide as it was measured; the bit itself where that is its size."""
    return bit if diameter == bit.diameter else bit.model_copy(update={"diameter": diameter})


def slip(
    bit: Bit,
    bushing: Bushing,
    opening: float,
    width: float,
    others: Sequence[tuple[Bit, Bushing]] = (),
    voice: Voice = MM,
    diameter: float | None = None,
) -> InputError | None:
    """The error for a measurement that cannot be, with the likely slip; None for one that can.

    opening, width: mm. diameter: of the bit as measured, if it was. others: pairs of the kit that may have been in the
    router instead. voice: to speak in.
    """
    nominal = bushing.outside - bit.diameter
    if diameter is not None and (fault := no_diameter(bit, width, diameter, voice)) is not None:
        return fault
    narrow = width < bit.diameter - MOST
    if abs(opening - width - nominal) <= MOST and width < opening and not narrow:
        return None

    says = voice.length
    if width >= opening:
        what = "the groove is wider than its opening"
    else:
        what = "the groove is narrower than its bit" if narrow else "the true difference is too far off"
    found = f"opening {says(opening)}, groove {says(width)}: a difference of {says(opening - width)}"
    wanted = f"a groove narrower by {says(nominal)}, within {says(MOST)}: {bit.name} in {bushing.name}"
    return InputError(what, found=found, wanted=wanted, mend=_likely(bit, bushing, opening, width, others))


def no_diameter(bit: Bit, width: float, diameter: float, voice: Voice) -> InputError | None:
    """The error for a bit that cannot be so wide, with a groove that measured `width`, mm; None for one that can."""
    if abs(diameter - bit.diameter) <= MOST and width >= diameter - LIKELY:
        return None

    says = voice.length
    if abs(diameter - bit.diameter) > MOST:
        wanted = f"{says(bit.diameter)}, within {says(MOST)}"
        mend = "measure over the tips of its edges, or mend its diameter in the kit"
    else:
        wanted = f"at most the groove's {says(width)}: a bit cuts no groove narrower than itself"
        mend = "measure both again, the groove at several places"
    return InputError(f"that is no diameter of {bit.name}", found=says(diameter), wanted=wanted, mend=mend)


def _likely(bit: Bit, bushing: Bushing, opening: float, width: float, others: Sequence[tuple[Bit, Bushing]]) -> str:
    """The slip that explains a measurement best, or a general advice."""
    nominal = bushing.outside - bit.diameter

    def near(difference: float, wanted: float) -> bool:
        return abs(difference - wanted) <= LIKELY

    slips = ((INCH, "measured in inches and given in mm"), (1.0 / INCH, "measured in mm and given in inches"))
    for factor, slipped in slips:
        for t, w, which in (
            (factor, 1.0, "the opening was"),
            (1.0, factor, "the groove was"),
            (factor, factor, "opening and groove were"),
        ):
            if near(opening * t - width * w, nominal) and width * w > bit.diameter - MOST:
                return f"{which} {slipped}: a factor of 25.4"
    if near(width - opening, nominal):
        return "opening and groove were exchanged: the groove is the narrower one"
    if near(opening - width, nominal / 2.0):
        return "the difference is one offset, and an opening holds two: were both sizes taken wall to wall?"
    # A pair that shares a tool with the one named is the likelier exchange.
    for other_bit, other in sorted(others, key=lambda pair: pair[0].name != bit.name and pair[1].name != bushing.name):
        passes = other.inside > max(other_bit.diameter, other_bit.shank)
        if passes and near(opening - width, other.outside - other_bit.diameter):
            return f"that is what {other_bit.name} in {other.name} would cut: which pair was in the router?"
    return "measure again, both across, at the same place; is this the pair that was in the router?"


def misfits(
    measured: Sequence[Measured], bits: Sequence[Bit], bushings: Sequence[Bushing], voice: Voice
) -> Iterator[tuple[Key, InputError]]:
    """The faults of a kit's measurements: tools it does not have, a pair told twice, and what cannot be."""
    by_bit, by_bushing = {each.name: each for each in bits}, {each.name: each for each in bushings}
    seen: set[tuple[str, str]] = set()
    for number, each in enumerate(measured):
        at: Key = ("measured", number)
        if each.bit not in by_bit:
            yield (*at, "bit"), unknown_name("bit", each.bit, by_bit)
        if each.bushing not in by_bushing:
            yield (*at, "bushing"), unknown_name("bushing", each.bushing, by_bushing)
        if each.bit not in by_bit or each.bushing not in by_bushing:
            continue
        if (each.bit, each.bushing) in seen:
            yield (
                at,
                InputError(
                    "a pair is measured twice",
                    found=f"{each.bit} in {each.bushing}",
                    wanted="one [[measured]] for each pair, the latest",
                ),
            )
        seen.add((each.bit, each.bushing))
        bit, bushing = by_bit[each.bit], by_bushing[each.bushing]
        fault = slip(bit, bushing, each.opening, each.width, voice=voice)
        if fault is not None:
            yield (*at, "width"), fault
        elif each.diameter is not None:
            fault = no_diameter(bit, each.width, each.diameter, voice)
            if fault is not None:
                yield (*at, "diameter"), fault
