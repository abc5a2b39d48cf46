"""Bit, bushing and their sums in words: by the names that they are sold by, what was measured beside them, and in
digits that agree with each other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigcam.units import INCH, Voice

if TYPE_CHECKING:
    from jigcam.template.pairs import Pair

SAME = 1e-3
"""mm; a tool that acts as one this near to its nominal size acts as it is sold."""


def pair_marks(pair: Pair, voice: Voice) -> list[str]:
    """What a template is marked with: whoever takes it from the wall looks for tools by the sizes they are sold by.

    One line, or two where a test cut has shown that a tool acts as one of another size.
    """
    bit, bushing = pair.sold or (pair.bit, pair.bushing)
    said = voice.length
    one, other = f"bit {said(bit.diameter)}", f"bushing {said(bushing.outside)}"
    as_bit = acts_as(bit.diameter, pair.bit.diameter, voice, measured=pair.bit_measured)
    as_bushing = acts_as(bushing.outside, pair.bushing.outside, voice)
    return [f"{one}{as_bit}", f"{other}{as_bushing}"] if as_bit or as_bushing else [f"{one} {other}"]


def acts_as(sold: float, size: float, voice: Voice, *, measured: bool = False) -> str:
    """What follows the size that a tool is sold by, mm, where it was found to be of another; else nothing."""
    if abs(size - sold) <= SAME:
        return ""
    return f", {'measured' if measured else 'acts as'} {_decimals(size, voice, 3 if voice.inch else 2)}"


@dataclass(frozen=True, slots=True)
class Sums:
    """The sums of an opening, as they are said. difference: bushing less bit; offset: half of it, at each wall."""

    difference: str
    opening: str
    offset: str

    @classmethod
    def of(cls, width: float, difference: float, voice: Voice) -> Sums:
        """For a cut of that width, mm: two offsets as said make just the difference as said, and lead to the opening.

        Where the usual places do not lead there, difference and opening are said to one more.
        """
        unit, usual = INCH if voice.inch else 1.0, 3 if voice.inch else 2

        def rounded(mm: float, places: int) -> float:
            return float(voice.length(mm, places).split()[0])

        opening = width + difference
        sum_of_both = rounded(width, usual) + rounded(difference, usual)
        places = usual if abs(sum_of_both - rounded(opening, usual)) < 1e-9 else usual + 1
        whole = rounded(difference, places)
        halves = places if abs(2.0 * round(whole / 2.0, places) - whole) < 1e-9 else places + 1
        half = voice.rule(difference / 2.0)
        if halves > usual and not ("/" in half and "(" not in half):  # a division of a rule is as exact as can be
            half = voice.length(whole / 2.0 * unit, halves)
        return cls(
            _decimals(difference, voice, places),
            voice.rule(opening) if places == usual else _decimals(opening, voice, places),
            half,
        )


def _decimals(mm: float, voice: Voice, places: int) -> str:
    """A length in so many decimals, or the fraction of an inch that it is; mm without idle zeros, as is usual."""
    said = voice.length(mm)
    return said if "/" in said or (not voice.inch and places == 2) else voice.length(mm, places)
