"""Numbers to text: lengths in the units of the job, the nearest fraction on a rule, angles and slopes."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Final, NamedTuple

from jigcam.errors import InputError
from jigcam.units.parse import INCH

SMALLEST_RULED: Final = 0.8
"""Lengths below this are clearances, which no rule shows, mm."""
EXACT: Final = 1e-3
"""A division of a rule that is this near is the length itself, mm."""
_PLACES: Final = {"in": 3, "mm": 2}


class Fraction64(NamedTuple):
    """A length as a rule shows it. error_mm: how much larger the fraction is than the length it stands for."""

    text: str
    error_mm: float


def format_length(mm: float, unit: str, places: int | None = None) -> str:
    """`mm` in `unit`, with the unit: "0.756 in", "3/4 in", "19.2 mm".

    places: decimals, all of them written; left out, as many as matter in a workshop (3 in inches, 2 in millimetres),
    without trailing zeros, and what is a division of an inch rule as the rule has it: 7/8 in, not 0.875 in. Halves are
    rounded away from zero, and nothing is ever "-0". Raises InputError for another unit.

    >>> format_length(19.2024, "in"), format_length(19.2024, "mm"), format_length(19.2024, "mm", 2)
    ('0.756 in', '19.2 mm', '19.20 mm')
    """
    if unit not in _PLACES:
        raise InputError("the unit is not known", found=repr(unit), wanted='"in" or "mm"')
    if unit == "in" and places is None and abs(mm) >= INCH / 64.0 - EXACT:
        fraction = nearest_fraction(mm)
        if abs(fraction.error_mm) < EXACT:
            return fraction.text
    value = mm / INCH if unit == "in" else mm
    return f"{_decimal(value, _PLACES[unit] if places is None else places, strip=places is None)} {unit}"


def nearest_fraction(mm: float, denominator: int = 64) -> Fraction64:
    """The nearest fraction of an inch with a denominator of at most `denominator`, a power of two: "1-3/8 in".

    >>> fraction = nearest_fraction(35.0)
    >>> fraction.text, round(fraction.error_mm, 3)
    ('1-3/8 in', -0.075)
    """
    steps = math.floor(mm / INCH * denominator + 0.5)
    size = Fraction(abs(steps), denominator)
    whole, rest = divmod(size, 1)
    parts = [str(whole)] if whole or not rest else []
    parts += [f"{rest.numerator}/{rest.denominator}"] if rest else []
    sign = "-" if steps < 0 else ""
    return Fraction64(f"{sign}{'-'.join(parts)} in", steps * INCH / denominator - mm)


RULE_STEP = {"in": INCH / 32.0, "mm": 0.5}
"""From line to line of a rule, mm."""


def rule_division(mm: float, unit: str, finer: int = 1) -> float:
    """The length, mm, at which a rule is read for `mm`: half a millimetre, or a 32nd of an inch.

    What is itself a 64th stays one, as it is on the rule too. finer: the division is so many times as fine.

    >>> rule_division(38.83, "mm"), format_length(rule_division(35.0, "in"), "in")
    (39.0, '1-3/8 in')
    >>> format_length(rule_division(25.4 * 3 / 64, "in"), "in")
    '3/64 in'
    """
    if unit == "in" and abs(nearest_fraction(mm).error_mm) < EXACT:
        return mm
    step = RULE_STEP[unit] / finer
    return math.floor(mm / step + 0.5) * step


def format_angle(angle: float, places: int = 2) -> str:
    """`angle` (rad) in degrees: "8.13°", without trailing zeros."""
    return f"{_decimal(math.degrees(angle), places, strip=True)}°"


def format_slope(angle: float, places: int = 2) -> str:
    """The slope of a flank that leans by `angle` (rad, more than 0): "1:7.12"."""
    return f"1:{_decimal(1 / math.tan(angle), places, strip=True)}"


def _decimal(value: float, places: int, *, strip: bool) -> str:
    """`value` rounded to `places`, halves away from zero as people do, after the last noise of the float is gone."""
    rounded = Decimal(f"{value:.9f}").quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
    text = f"{rounded:f}"
    if strip and "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.removeprefix("-") if not rounded else text


def counted(number: int, one: str, several: str = "") -> str:
    """A number with what it counts, one or several of it; several: left out, `one` and an s.

    >>> counted(1, "lane"), counted(3, "lane"), counted(1, "corner is", "corners are")
    ('1 lane', '3 lanes', '1 corner is')
    """
    return f"{number} {one if number == 1 else several or f'{one}s'}"


def length_text(mm: float, units: str | None) -> str:
    """A length (mm) as errors say it, be it ever so odd: in "in", or else in mm."""
    return f"{mm / INCH:.4g} in" if units == "in" else f"{mm:g} mm"
