"""Digits: four decimals in mm, five in inches, no exponent (NISTIR 6556, section 3.3.2.1) and no −0."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.errors import InputError
from jigcam.gcode.numbers import INCHES, MILLIMETRES, Digits, speed


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (0, "0.0000"),
        (-0.0, "0.0000"),
        (-0.00004, "0.0000"),
        (0.00005000001, "0.0001"),
        (-0.00006, "-0.0001"),
        (12.5, "12.5000"),
        (-3.96875, "-3.9688"),
        (1e-7, "0.0000"),
        (123456.78901, "123456.7890"),
        (99.99996, "100.0000"),
    ],
)
def test_millimetres(mm: float, text: str) -> None:
    assert MILLIMETRES.length(MILLIMETRES.ticks(mm)) == text


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (25.4, "1.00000"),
        (-12.7, "-0.50000"),
        (19.2024, "0.75600"),
        (0.0001, "0.00000"),
        (0.3, "0.01181"),
    ],
)
def test_inches(mm: float, text: str) -> None:
    """1 in = 25.4 mm exactly (NIST SP 811)."""
    assert INCHES.length(INCHES.ticks(mm)) == text


@pytest.mark.parametrize(
    ("digits", "mm_per_minute", "text"),
    [
        (MILLIMETRES, 900, "900"),
        (MILLIMETRES, 1234.56, "1234.5"),
        (MILLIMETRES, 0.01, "0.1"),
        (MILLIMETRES, 100, "100"),
        (INCHES, 120 * 25.4, "120"),
        (INCHES, 0.1 * 25.4, "0.1"),
        (INCHES, 1000, "39.37"),
    ],
)
def test_feeds_are_rounded_down(digits: Digits, mm_per_minute: float, text: str) -> None:
    assert digits.feed(mm_per_minute) == text


@given(st.integers(1, 500), st.sampled_from([MILLIMETRES, INCHES]))
def test_a_whole_feed_stays_whole(feed: int, digits: Digits) -> None:
    assert digits.feed(feed * digits.unit_mm) == str(feed)


@given(st.floats(-1e6, 1e6), st.sampled_from([MILLIMETRES, INCHES]))
def test_a_length_reads_back_within_half_a_tick(mm: float, digits: Digits) -> None:
    text = digits.length(digits.ticks(mm))
    assert re.fullmatch(r"-?[0-9]+\.[0-9]+", text)
    assert len(text.partition(".")[2]) == digits.places
    assert not (text.startswith("-") and float(text) == 0)
    assert abs(float(text) * digits.unit_mm - mm) <= digits.tick / 2 * (1 + 1e-6)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_no_number_is_refused(value: float) -> None:
    for write in (MILLIMETRES.ticks, INCHES.ticks, MILLIMETRES.feed, speed):
        with pytest.raises(InputError):
            write(value)


@pytest.mark.parametrize("feed", [0, -1])
def test_a_cut_without_feed_is_refused(feed: float) -> None:
    with pytest.raises(InputError):
        MILLIMETRES.feed(feed)


def test_speeds_are_whole() -> None:
    assert speed(18000.4) == "18000"
    with pytest.raises(InputError):
        speed(-1)
