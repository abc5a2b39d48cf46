"""Slips in writing a length, and what was likely meant: `17-32` for 17/32, `19,05 mm` for 19.05 mm.

Patterns only; whoever offers a reading checks first that it can be read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

_RULER: Final = (2, 4, 8, 16, 32, 64, 128)
"""Denominators on rulers and in inch tables."""
_INCHES_A_FOOT: Final = 12
_UNIT: Final = r"\s*(?P<unit>[A-Za-z\"'″”.]*)"
_FRACTION: Final = re.compile(rf"(?P<over>\d+)-(?P<under>\d+){_UNIT}")
_MIXED: Final = re.compile(rf"(?P<whole>\d+)(?:-|\s+|\.)(?P<over>\d+)(?:-|/|\\)(?P<under>\d+){_UNIT}")
_LEANING: Final = re.compile(rf"(?P<over>\d+)\s*\\\s*(?P<under>\d+){_UNIT}")
_SPLIT: Final = re.compile(
    r"(?P<whole>\d+)\s*(?:in|\"|″|”|'')\.?\s*(?P<over>\d+)/(?P<under>\d+)(?:\s*(?:in|\"|″|”|''))?"
)
_COMMA: Final = re.compile(rf"(?P<whole>[+-]?\d*),(?P<part>\d+){_UNIT}")
_THOUSANDS: Final = 3  # digits after a comma that may part thousands as well as decimals
_FEET: Final = re.compile(
    r"(?P<feet>\d+)\s*(?:ft|foot|feet|')\.?-?\s*(?:(?P<inches>\d+)\s*(?:in|inch|inches|\"|″|”|'')?)?"
)
_METRIC: Final = re.compile(r"(?P<number>\d+|\d*\.\d+)\s*(?P<unit>cm|centi\w+|m|met\w+|milli\w+)\.?")
_LONGEST_BOARD_M: Final = 5.0
_TENS_OF_MM: Final = {"c": 10.0, "mi": 1.0, "m": 1000.0}


def likely_lengths(text: str) -> Iterator[str]:
    """Lengths that `text`, which is none, may have been meant for, the likeliest first."""
    plain = text.strip()
    if (slip := _FRACTION.fullmatch(plain)) and int(slip["under"]) in _RULER and int(slip["over"]) < int(slip["under"]):
        yield _joined(f"{slip['over']}/{slip['under']}", slip["unit"])
    if slip := _MIXED.fullmatch(plain) or _SPLIT.fullmatch(plain):
        unit = slip.groupdict().get("unit", "in")
        yield _joined(f"{slip['whole']}-{slip['over']}/{slip['under']}", unit)
    if slip := _LEANING.fullmatch(plain):
        yield _joined(f"{slip['over']}/{slip['under']}", slip["unit"])
    if (slip := _COMMA.fullmatch(plain)) and len(slip["part"]) != _THOUSANDS:
        yield _joined(f"{slip['whole'] or 0}.{slip['part']}", slip["unit"])
    if slip := _FEET.fullmatch(plain):
        yield f"{int(slip['feet']) * _INCHES_A_FOOT + int(slip['inches'] or 0)} in"
    if slip := _METRIC.fullmatch(plain):
        unit = slip["unit"]
        if unit == "m" and float(slip["number"]) >= _LONGEST_BOARD_M:
            yield f"{slip['number']} mm"  # half of "mm", rather than a board as long as a street
        yield f"{float(slip['number']) * _TENS_OF_MM[unit[:2] if unit.startswith('mi') else unit[:1]]:g} mm"


def _joined(number: str, unit: str) -> str:
    return f"{number} {unit}" if unit else number
