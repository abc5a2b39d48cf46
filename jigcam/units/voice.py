"""The voice of a job: numbers in the units in which its maker is spoken to."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from jigcam.units.format import (
    EXACT,
    SMALLEST_RULED,
    format_angle,
    format_length,
    format_slope,
    nearest_fraction,
    rule_division,
)
from jigcam.units.parse import INCH, Unit

HORSEPOWER: Final = 745.69987
"""Watts in a mechanical horsepower, 550 ft lbf/s (from memory)."""
STEP: Final[dict[Unit, float]] = {"in": INCH * 1e-4, "mm": 1e-3}
"""The last place that is told of what was measured in a virtual cut, mm."""


@dataclass(frozen=True, slots=True)
class Voice:
    """Says lengths (mm), feeds (mm/min) and angles (rad) in one unit.

    >>> Voice("in").rule(13.386), Voice("mm").rule(13.386)
    ('0.527 in (17/32 less 0.004)', '13.39 mm')
    """

    units: Unit

    @property
    def inch(self) -> bool:
        """Whether the maker's rule is divided in fractions of an inch."""
        return self.units == "in"

    def length(self, mm: float, places: int | None = None) -> str:
        """A length, to as many places as matter in a workshop, or to so many: see `format_length`."""
        return format_length(mm, self.units, places)

    def rule(self, mm: float) -> str:
        """A length to be marked or set: in inches that of a rule, or as a calliper shows it, with the nearest 64th.

        Clearances, which no rule shows, are said as they are.
        """
        fraction = nearest_fraction(mm)
        off = fraction.error_mm
        if not self.inch or abs(mm) < SMALLEST_RULED or abs(off) < EXACT:
            return self.length(mm)
        said = f"{abs(off) / INCH:.3f}"
        beside = "" if said == "0.000" else f" {'less' if off > 0.0 else 'plus'} {said}"
        return f"{self.length(mm, 3)} ({fraction.text.removesuffix(' in')}{beside})"

    def mark(self, mm: float) -> str:
        """Where a line is drawn with rule and knife: the nearest 64th, or half millimetre."""
        step = INCH / 64.0 if self.inch else 0.5
        return self.rule(math.floor(mm / step + 0.5) * step)

    def ruled(self, mm: float) -> str:
        """A running figure of a layout by hand, as one reads it from a rule: see `rule_division`."""
        return self.rule(rule_division(mm, self.units))

    def at_least(self, mm: float) -> str:
        """A size that may be larger, in one that a rule shows: rounded up to a 32nd, or a whole millimetre."""
        return self.rule(self.ruled_up(mm))

    def ruled_up(self, mm: float) -> float:
        """The same size, mm."""
        step = INCH / 32.0 if self.inch else 1.0
        return math.ceil(mm / step - 1e-9) * step

    def up_to(self, mm: float) -> str:
        """A size that may be smaller, in one that a rule shows: rounded down to a 32nd, or a whole millimetre."""
        step = INCH / 32.0 if self.inch else 1.0
        return self.rule(math.floor(mm / step + 1e-9) * step)

    def drill(self, mm: float) -> str:
        """A hole for a drill, which is rather a little larger: the next 64th of an inch, or as it is in mm."""
        return self.length(math.ceil(mm / INCH * 64.0 - 1e-6) * INCH / 64.0 if self.inch else mm)

    def power(self, watts: float) -> str:
        """A power: in watts, and in an inch shop in horsepower beside: "932 W (1.25 hp)"."""
        return f"{watts:.0f} W" + (f" ({watts / HORSEPOWER:.2f} hp)" if self.inch else "")

    def about(self, mm: float) -> str:
        """Where it need not be exact: the nearest 16th, or whole millimetre."""
        step = INCH / 16.0 if self.inch else 1.0
        return self.rule(round(mm / step) * step)

    def exact(self, mm: float) -> str:
        """What was measured in a virtual cut: a tenth of a thousandth of an inch, or a micron."""
        return self.length(mm, 4 if self.inch else 3) if round(mm / STEP[self.units]) else f"0 {self.units}"

    def drawn(self, mm: float) -> str:
        """A clearance as the job has it, without zeros at its end, and a 64th as one.

        >>> Voice("in").drawn(0.0508), Voice("in").drawn(0.0381), Voice("mm").drawn(0.05)
        ('0.002 in', '0.0015 in', '0.05 mm')
        """
        number, unit = self.exact(mm).split(" ")
        fraction = nearest_fraction(mm) if self.inch else None
        if fraction is not None and abs(mm) > EXACT and abs(fraction.error_mm) < EXACT:
            return fraction.text
        return f"{number.rstrip('0').rstrip('.') if '.' in number else number} {unit}"

    def at_most(self, mm: float) -> str:
        """The same, rounded up: what is said is never less than what was found."""
        step = STEP[self.units]
        return self.exact(max(1, math.ceil(mm / step - 1e-6)) * step)

    def span(self, least: float, most: float) -> str:
        """From the least to the most, once where they are said alike."""
        low, high = self.exact(least), self.exact(most)
        return high if low == high else f"{low} to {high}"

    def size(self, *lengths: float) -> str:
        """Lengths by each other: "22 in x 11-1/4 in x 15/16 in"."""
        return " x ".join(map(self.rule, lengths))

    def feed(self, feed: float) -> str:
        """A feed, as round as it is worth: "120.0 in a minute"."""
        return f"{self.length(feed, 1 if self.inch else 0)} a minute"

    def slope(self, angle: float) -> str:
        """The slope of a flank as joiners say it, with its angle: "1:8 (7.13°)"."""
        return f"{format_slope(angle)} ({format_angle(angle)})"

    def angle(self, angle: float) -> str:
        """An angle in degrees."""
        return format_angle(angle)


MM: Final = Voice("mm")
"""In which is spoken where nobody says how."""
