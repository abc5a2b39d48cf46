"""Millimetres and radians to text."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.errors import InputError
from jigcam.units import format_angle, format_length, format_slope, nearest_fraction, parse_length, parse_slope


@pytest.mark.parametrize(
    ("mm", "unit", "places", "text"),
    [
        (19.2024, "in", None, "0.756 in"),
        (19.2024, "mm", None, "19.2 mm"),
        (12.7, "in", None, "1/2 in"),
        (12.7, "in", 4, "0.5000 in"),
        (0.1524, "mm", None, "0.15 mm"),
        (1.5875, "in", None, "1/16 in"),
        (-1.5875, "in", None, "-1/16 in"),
        (1.5875, "in", 3, "0.063 in"),  # a half is rounded up, as on paper
        (-1.5875, "in", 3, "-0.063 in"),
        (0.3969, "in", None, "1/64 in"),  # the finest that a rule shows
        (-1e-9, "mm", 3, "0.000 mm"),
        (-0.0, "mm", None, "0 mm"),
        (1000.0, "mm", None, "1000 mm"),
        (1200.0, "mm", 0, "1200 mm"),
    ],
)
def test_lengths_in_decimals(mm: float, unit: str, places: int | None, text: str) -> None:
    assert format_length(mm, unit, places) == text


def test_an_unknown_unit_is_refused() -> None:
    with pytest.raises(InputError):
        format_length(1.0, "cm")


@pytest.mark.parametrize(
    ("inches", "text"),
    [(1.375, "1-3/8 in"), (0.4375, "7/16 in"), (2.0, "2 in"), (0.0, "0 in"), (-0.25, "-1/4 in"), (1 / 64, "1/64 in")],
)
def test_fractions_of_an_inch(inches: float, text: str) -> None:
    fraction = nearest_fraction(inches * 25.4)
    assert fraction.text == text
    assert fraction.error_mm == pytest.approx(0.0, abs=1e-12)


def test_the_error_of_a_fraction_is_told() -> None:
    # 0.506 in lies between 32/64 (0.5) and 33/64 (0.515625).
    assert nearest_fraction(0.506 * 25.4).text == "1/2 in"
    assert nearest_fraction(0.506 * 25.4).error_mm == pytest.approx(-0.006 * 25.4)
    assert nearest_fraction(0.506 * 25.4, 1024).text == "259/512 in"


@given(st.floats(min_value=-2000, max_value=2000))
def test_a_fraction_is_within_half_a_64th_and_reads_back(mm: float) -> None:
    fraction = nearest_fraction(mm)
    assert abs(fraction.error_mm) <= 25.4 / 128 + 1e-9
    assert parse_length(fraction.text, None) == pytest.approx(mm + fraction.error_mm, abs=1e-9)


@given(st.floats(min_value=-10_000, max_value=10_000), st.sampled_from(["in", "mm"]), st.integers(0, 6))
def test_a_length_reads_back_within_half_its_last_digit(mm: float, unit: str, places: int) -> None:
    text = format_length(mm, unit, places)
    last = 10.0**-places * (25.4 if unit == "in" else 1.0)
    assert abs(parse_length(text, None) - mm) <= last / 2 + 1e-6
    assert not text.startswith("-0 ")


def test_angles_and_slopes() -> None:
    assert format_angle(math.atan(1 / 7)) == "8.13°"
    assert format_angle(math.radians(78)) == "78°"
    assert format_slope(parse_slope("1:7")) == "1:7"
    # A bit of 8° is 1:7.12, one of 14° is 1:4.01 (computed).
    assert format_slope(math.radians(8)) == "1:7.12"
    assert format_slope(math.radians(14)) == "1:4.01"
