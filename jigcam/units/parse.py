"""Text to numbers: lengths to millimetres, angles and slopes to radians.

Arithmetic is done in exact fractions and rounded once, so that `7/16`, `0.4375 in` and the number 0.4375 in an inch
file are the same float.
"""

from __future__ import annotations

import math
import re
import unicodedata
from fractions import Fraction
from typing import Final, Literal

from jigcam.errors import InputError
from jigcam.units.slips import likely_lengths

Unit = Literal["in", "mm"]

INCH: Final = 25.4
"""Millimetres in an inch, exactly (NIST SP 811, Appendix B)."""

_EXACT_INCH: Final = Fraction(127, 5)
_LONGEST_TEXT: Final = 40
_LARGEST_NUMBER: Final = 1e9

_UNITS: Final[dict[str, Unit]] = {
    "in": "in",
    "in.": "in",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "″": "in",
    "”": "in",
    "''": "in",
    "mm": "mm",
}

_DIGITS = r"[0-9]+"
_DECIMAL = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)"
_NUMBER = re.compile(
    rf"""(?P<sign>[+-]?)\s*
    (?: (?:(?P<whole>{_DIGITS})(?:-\s?|\s+))? (?P<over>{_DIGITS})\s*/\s*(?P<under>{_DIGITS})
      | (?P<decimal>{_DECIMAL}) )
    \s*(?P<rest>.*)""",
    re.VERBOSE,
)
_SLOPE = re.compile(rf"({_DECIMAL})\s*:\s*({_DECIMAL})")

_LENGTH_WANTED: Final = 'a length, such as "7/16 in", "1-3/8 in" or "9.5 mm"'
_ANGLE_WANTED: Final = 'an angle in degrees, such as 8, "8 deg" or "8°"'
_TEMPERATURE_WANTED: Final = 'a temperature, such as 21, "21 C" or "70 F"'
_WARMEST_ROOM: Final = 50  # °C
_SLOPE_WANTED: Final = 'a slope of one across for so many along, such as "1:7", or in degrees, "8 deg"'
_POWER_WANTED: Final = 'a power, such as 800, "800 W", "0.8 kW" or "1-1/4 hp"'
_DEGREES: Final = ("deg", "degree", "degrees", "°")

_WATTS: Final = {
    "": Fraction(1),
    "w": Fraction(1),
    "watt": Fraction(1),
    "watts": Fraction(1),
    "kw": Fraction(1000),
    "hp": Fraction("745.69987"),
}
"""Watts in a unit of power; the mechanical horsepower, 550 ft lbf/s (745.69987 W, from memory)."""


def parse_length(text: str | int | float, unit: str | None) -> float:
    """Length in mm of `text`; a bare number takes `unit`.

    text: a number, or text with a decimal (`9.5 mm`), a fraction (`7/16`) or a mixed number (`1-3/8 in`, `1 3/8"`);
    a sign is allowed, a sensible range is the caller's matter. unit: "in", "mm", or None where bare numbers have none.
    Raises InputError for anything else, NaN and infinity included.

    >>> parse_length("1-3/8 in", "mm"), parse_length("1-3/8", "in"), parse_length(1.375, "in")
    (34.925, 34.925, 34.925)
    """
    if unit not in (None, "in", "mm"):
        raise InputError("the unit is not known", found=repr(unit), wanted='"in" or "mm"')
    value, rest = _number(text, _LENGTH_WANTED)
    said = _UNITS.get(rest.lower() or unit or "")
    if said is None:
        if rest:
            raise InputError(
                "the unit of a length is not known" if rest[:1].isalpha() else "not a length",
                found=shown(text),
                wanted="in or mm" if rest[:1].isalpha() else _LENGTH_WANTED,
                mend=_likely(str(text), unit) or ("write the decimal with a point" if rest.startswith(",") else ""),
            )
        bare = str(text).strip()
        raise InputError(
            "a length without a unit",
            found=shown(text),
            wanted=f'"{bare} in" or "{bare} mm"',
            mend="write the unit beside the number, or give --units in or --units mm",
        )
    return float(value * _EXACT_INCH if said == "in" else value)


def _likely(text: str, unit: str | None) -> str:
    """A question for the length that was likely meant; "" where none is likely that can be read."""
    for each in likely_lengths(_spelt_out(text)):
        try:
            parse_length(each, unit or "in")
        except InputError:
            continue
        return f'did you mean "{each}"?'
    return ""


def parse_angle(text: str | int | float) -> float:
    """Angle in radians of `text` in degrees: a number, `8 deg` or `8°`. Raises InputError for anything else."""
    value, rest = _number(text, _ANGLE_WANTED)
    if rest.lower() not in ("", *_DEGREES):
        raise InputError("not an angle in degrees", found=shown(text), wanted=_ANGLE_WANTED)
    return math.radians(value)


def parse_slope(text: str) -> float:
    """Angle in radians of a slope `1:n`, one across for n along: atan(1/n); or of text in degrees, `8 deg` or `8°`.

    Raises InputError for anything else: a bare number may be meant as either.

    >>> round(math.degrees(parse_slope("1:7")), 2), round(math.degrees(parse_slope("8 deg")), 2)
    (8.13, 8.0)
    """
    if isinstance(text, str) and text.strip().lower().endswith(_DEGREES):
        angle = parse_angle(text)
        if not angle > 0.0:
            raise InputError("a slope of nothing", found=shown(text), wanted=_SLOPE_WANTED)
        return angle
    match = _SLOPE.fullmatch(text.strip()) if isinstance(text, str) and len(text) <= _LONGEST_TEXT else None
    if match is None:
        bare = isinstance(text, int | float) and not isinstance(text, bool) and 0 < text <= _LARGEST_NUMBER
        raise InputError(
            "not a slope",
            found=shown(text),
            wanted=_SLOPE_WANTED,
            mend=f'write "1:{text:g}" or "{text:g} deg"' if bare else "",
        )
    across, along = float(match[1]), float(match[2])
    if not (across > 0 and along > 0):
        raise InputError("a slope of nothing", found=shown(text), wanted=_SLOPE_WANTED)
    return math.atan2(across, along)


def parse_power(text: str | int | float) -> float:
    """Power in watts of `text`: a number of watts, `800 W`, `0.8 kW` or `1-1/4 hp`. Raises InputError otherwise.

    >>> parse_power(800), parse_power("0.8 kW"), round(parse_power("1-1/4 hp"))
    (800.0, 800.0, 932)
    """
    value, rest = _number(text, _POWER_WANTED)
    factor = _WATTS.get(rest.lower())
    if factor is None:
        raise InputError("the unit of a power is not known", found=shown(text), wanted=_POWER_WANTED)
    return float(value * factor)


def parse_temperature(text: str | int | float) -> float:
    """Temperature in °C of `text`: `70 F`, `21 C`, `21 °C`, or a bare number, which is in °C and that of a room.

    Raises InputError for anything else: a bare number above 50 too, which is more likely meant in °F.

    >>> round(parse_temperature("70 F"), 1), parse_temperature(21)
    (21.1, 21.0)
    """
    value, rest = _number(text, _TEMPERATURE_WANTED)
    unit = rest.lower().replace("°", "").replace("deg", "").strip()
    if unit in ("f", "fahrenheit"):
        return float((value - 32) * Fraction(5, 9))
    if unit not in ("", "c", "celsius"):
        raise InputError("not a temperature", found=shown(text), wanted=_TEMPERATURE_WANTED)
    if not unit and value > _WARMEST_ROOM:
        raise InputError(
            "no room is as warm in °C",
            found=shown(text),
            wanted=_TEMPERATURE_WANTED,
            mend=f'write "{float(value):g} F" or "{float(value):g} C"',
        )
    return float(value)


def _number(text: object, wanted: str) -> tuple[Fraction, str]:
    """The exact number at the head of `text`, and the rest without blanks around it."""
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise InputError("not a number", found=shown(text), wanted=wanted)
    if isinstance(text, int | float):
        if not abs(text) <= _LARGEST_NUMBER:  # NaN is not, either; a float of a huge integer would overflow
            raise InputError("not a usable number", found=shown(text), wanted=wanted)
        return Fraction(repr(text)), ""
    if len(text) > _LONGEST_TEXT:
        raise InputError("too long to be a number", found=shown(text), wanted=wanted)
    plain = _spelt_out(text).strip()
    match = _NUMBER.fullmatch(plain)
    if match is None:
        raise InputError("nothing given" if not plain else "not a number", found=shown(text), wanted=wanted)
    value = _value(match, text, wanted)
    if value > _LARGEST_NUMBER:
        raise InputError("not a usable number", found=shown(text), wanted=wanted)
    return -value if match["sign"] == "-" else value, match["rest"].strip()


def _value(match: re.Match[str], text: str, wanted: str) -> Fraction:
    """The size of a matched number, without its sign."""
    if match["decimal"] is not None:
        return Fraction(match["decimal"])
    over, under = int(match["over"]), int(match["under"])
    if under == 0:
        raise InputError("a fraction over nothing", found=shown(text), wanted=wanted)
    if match["whole"] is not None and over >= under:
        raise InputError("a mixed number whose fraction is not less than one", found=shown(text), wanted=wanted)
    return int(match["whole"] or 0) + Fraction(over, under)


def _spelt_out(text: str) -> str:
    """`text` with ½ and its like written as ` 1/2`, and every minus and fraction bar as the plain one."""
    parts = []
    for char in text:
        kind, *codes = unicodedata.decomposition(char).split() or [""]
        if kind == "<fraction>":
            parts.append(" " + "".join(chr(int(code, 16)) for code in codes))
        else:
            parts.append(char)
    return "".join(parts).translate({0x2044: "/", 0x2212: "-", 0x2013: "-"})


def shown(value: object) -> str:
    """A value as it stands in a file, for the field `found` of an error, on one line and cut short if it is long.

    Characters that do not print are escaped, so that no text from a file can act on a terminal.
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list | tuple):
        text = "[" + ", ".join("[…]" if isinstance(item, list | tuple) else shown(item) for item in value[:9]) + "]"
    elif isinstance(value, dict):
        text = "a table"
    elif isinstance(value, str):
        text = "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in f'"{value[:60]}"')
    elif isinstance(value, int) and abs(value) > _LARGEST_NUMBER**2:
        text = "a whole number of many digits"
    else:
        text = str(value)
    return text if len(text) <= 60 else text[:57] + "…"
