"""Lengths, places and feeds in the words of findings, in the units of the job."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from jigcam.units import INCH, Unit, format_length

HORSEPOWER = 745.69987
"""Watts in a mechanical horsepower, 550 ft lbf/s (from memory)."""


@dataclass(frozen=True, slots=True)
class Wording:
    """How the proof says numbers, finer than a voice at the bench. units: of the job; what comes in is mm, mm/min."""

    units: Unit = "mm"

    def length(self, mm: float, places: int = 3) -> str:
        """A length with its unit; places: decimals in mm, one more in inches."""
        return format_length(mm, self.units, places + (self.units == "in"))

    def number(self, mm: float, places: int = 3) -> str:
        """The same without its unit, beside another that has one."""
        return self.length(mm, places).removesuffix(f" {self.units}")

    def spot(self, point: Iterable[float], places: int = 3) -> str:
        """Coordinates with their unit: x and y, or all three; what is not known is left out."""
        named = zip("xyz", map(float, point), strict=False)
        known = [f"{axis} {self.number(value, places)}" for axis, value in named if value == value]
        return f"{' '.join(known)} {self.units}" if known else "an unknown place"

    def place(self, line: int, point: Iterable[float], places: int = 3) -> str:
        """Where a finding is: line and coordinates."""
        return f"line {line}, {self.spot(point, places)}"

    def feed(self, per_minute: float) -> str:
        """A feed, mm/min."""
        return f"{self.number(per_minute, 0)} {self.units}/min"

    def power(self, watts: float) -> str:
        """A power: in watts, and horsepower beside where the job is in inches."""
        return f"{watts:.0f} W" + (f" ({watts / HORSEPOWER:.2f} hp)" if self.units == "in" else "")

    def speed(self, metres_a_second: float) -> str:
        """The speed of an edge, in the way in which bits are marked: m/s, or feet a minute."""
        feet = metres_a_second * 60.0 * 1000.0 / (12.0 * INCH)
        return f"{feet:.0f} ft/min" if self.units == "in" else f"{metres_a_second:.0f} m/s"

    def area(self, mm2: float) -> str:
        """An area, mm²: in square centimetres or square inches."""
        return f"{mm2 / INCH**2:.1f} in²" if self.units == "in" else f"{mm2 / 100.0:.1f} cm²"


MILLIMETRES = Wording()
