"""Lengths, angles and slopes: from text to millimetres and radians, and back to text that a maker reads."""

from __future__ import annotations

from jigcam.units.format import (
    Fraction64,
    counted,
    format_angle,
    format_length,
    format_slope,
    length_text,
    nearest_fraction,
    rule_division,
)
from jigcam.units.parse import INCH, Unit, parse_angle, parse_length, parse_power, parse_slope, parse_temperature
from jigcam.units.voice import MM, Voice

__all__ = [
    "INCH",
    "MM",
    "Fraction64",
    "Unit",
    "Voice",
    "counted",
    "format_angle",
    "format_length",
    "format_slope",
    "length_text",
    "nearest_fraction",
    "parse_angle",
    "parse_length",
    "parse_power",
    "parse_slope",
    "parse_temperature",
    "rule_division",
]
