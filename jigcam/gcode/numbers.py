"""Lengths, feeds and speeds as digits: four decimals in mm, five in inches, never an exponent, never −0.

A length is first rounded to whole *ticks*, units of its last digit (0.0001 mm or 0.00001 in). Everything that must hold
for the text (which words change, whether an arc closes) is decided on ticks, so it holds for the text exactly.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

from jigcam.errors import InputError


@dataclass(frozen=True, slots=True)
class Digits:
    """How one unit of length is written.

    code: the word that states the unit. places: decimals of a length. feed_places: of a feed. unit_mm: mm per unit.
    per_unit: ticks in a unit; tick: mm in one.
    """

    unit: Literal["mm", "in"]
    code: str
    places: int
    feed_places: int
    unit_mm: float
    per_unit: int = field(init=False)
    tick: float = field(init=False)

    def __post_init__(self) -> None:
        # Asked for with every word of a file.
        object.__setattr__(self, "per_unit", 10**self.places)
        object.__setattr__(self, "tick", self.unit_mm / self.per_unit)

    def ticks(self, length: float) -> int:
        """A length in mm, rounded. Raises InputError for NaN and infinity."""
        if not math.isfinite(length):
            raise InputError("a coordinate that is no number", found=str(length), wanted="a finite length in mm")
        return round(length / self.unit_mm * self.per_unit)

    def length(self, ticks: int) -> str:
        """Ticks as text, always with all decimals: 12.5000."""
        digits = str(abs(ticks)).zfill(self.places + 1)
        sign = "-" if ticks < 0 else ""
        return f"{sign}{digits[: -self.places]}.{digits[-self.places :]}"

    def feed(self, feed: float) -> str:
        """A feed in mm/min as text in units per minute, rounded down so that no limit is passed, zeros trimmed.

        Raises InputError for a feed that is not above zero.
        """
        if not (math.isfinite(feed) and feed > 0):
            raise InputError("a cutting move without a feed", found=str(feed), wanted="mm/min above zero")
        scale: int = 10**self.feed_places
        # A millionth of the last digit makes up for the noise of conversion: 3048 mm/min is 120 in/min, not 119.99.
        steps = max(1, math.floor(feed / self.unit_mm * scale + 1e-6))
        whole, part = divmod(steps, scale)
        return f"{whole}.{part:0{self.feed_places}d}".rstrip("0").rstrip(".")


MILLIMETRES = Digits("mm", "G21", 4, 1, 1.0)
INCHES = Digits("in", "G20", 5, 2, 25.4)


def digits_for(unit: str) -> Digits:
    """The digits of "mm" or "in"."""
    return INCHES if unit == "in" else MILLIMETRES


def speed(rpm: float) -> str:
    """Turns per minute as text, whole. Raises InputError for a speed that is negative or no number."""
    if not (math.isfinite(rpm) and rpm >= 0):
        raise InputError("a spindle speed that cannot be", found=str(rpm), wanted="rpm, 0 or above")
    return str(round(rpm))
