"""Text to millimetres and radians."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.errors import InputError
from jigcam.units import INCH, parse_angle, parse_length, parse_slope
from jigcam.units.parse import shown

IN = 25.4


def test_an_inch_is_25_4_mm_exactly() -> None:
    # NIST SP 811 (2008), Appendix B.8: 1 inch = 2.54 E+01 mm, in bold: exact.
    assert INCH == 25.4
    assert parse_length("1 in", None) == 25.4


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        ("7/16", "in", 11.1125),
        ("1-3/8 in", None, 34.925),
        ('1 3/8"', None, 34.925),
        ("1 3/8 ″", None, 34.925),
        ("1 3/8''", None, 34.925),
        ("1½ in", None, 38.1),
        ("1-½ in", None, 38.1),
        ("⅜", "in", 9.525),
        ("1 3⁄8 in", None, 34.925),
        ("9.5 mm", "in", 9.5),
        ("9.5mm", None, 9.5),
        ("0.5in", "mm", 12.7),
        ("3/4in", None, 19.05),
        (".5 IN", None, 12.7),
        ("5. mm", None, 5.0),
        ("2 inches", None, 50.8),
        ("1 inch", None, 25.4),
        ("3 in.", None, 76.2),
        ("  22  ", "in", 558.8),
        ("22", "mm", 22.0),
        (22, "in", 558.8),
        (0.4375, "in", 11.1125),
        (0.1, "in", 2.54),
        ("0.1", "in", 2.54),
        (1e-3, "mm", 0.001),
        (0, "mm", 0.0),
        ("-1-3/8 in", None, -34.925),
        ("−0.25 in", None, -6.35),
        ("+1/4", "in", 6.35),
        ("3/8 mm", None, 0.375),
    ],
)
def test_lengths(text: str | float, unit: str | None, mm: float) -> None:
    assert parse_length(text, unit) == mm


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "nothing given"),
        ("   ", "nothing given"),
        ("junk", "not a number"),
        ("nan", "not a number"),
        ("inf", "not a number"),
        ("-inf mm", "not a number"),
        ("1/0", "a fraction over nothing"),
        ("1-3/0 in", "a fraction over nothing"),
        ("1-9/8", "a mixed number whose fraction is not less than one"),
        ("3 ft", "the unit of a length is not known"),
        ("9,5 mm", "not a length"),
        ("1e3", "the unit of a length is not known"),
        ("1.2.3", "not a length"),
        ("1/2/3", "not a length"),
        ("1:7", "not a length"),
        ("4 in 3", "the unit of a length is not known"),
        ("/8", "not a number"),
        ("--4", "not a number"),
        ("0x10 mm", "the unit of a length is not known"),
        ("٣ mm", "not a number"),
        ("9" * 30, "not a usable number"),
        ("9" * 5000, "too long to be a number"),
        (float("nan"), "not a usable number"),
        (float("inf"), "not a usable number"),
        (-math.inf, "not a usable number"),
        (1e300, "not a usable number"),
        (10**5000, "not a usable number"),
        (True, "not a number"),
        (None, "not a number"),
        ([1], "not a number"),
    ],
    ids=lambda value: repr(value)[:20] if not isinstance(value, int) or abs(value) < 9 else "huge",
)
def test_lengths_that_are_none(text: object, what: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_length(text, "in")  # type: ignore[arg-type]  # the wrong types are the point
    assert caught.value.what == what
    assert caught.value.found
    assert caught.value.wanted


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("17-32", "17/32"),
        ("17-32 in", "17/32 in"),
        ("1-17-32", "1-17/32"),
        ("1.1/2", "1-1/2"),
        ("3\\4", "3/4"),
        ('1" 1/2', "1-1/2 in"),
        ("19,05 mm", "19.05 mm"),
        ("2 cm", "20 mm"),
        ("1.5m", "1500 mm"),
        ("200 m", "200 mm"),
        ("10 m", "10 mm"),
        ("2 ft", "24 in"),
        ("1' 6\"", "18 in"),
        ("0.5 millimetres", "0.5 mm"),
    ],
)
def test_a_slip_in_a_length_is_answered_with_what_was_meant(text: str, meant: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_length(text, "in")
    assert caught.value.mend == f'did you mean "{meant}"?'
    assert parse_length(meant, "in") > 0.0


@pytest.mark.parametrize("text", ["5-6", "9-8", "3 4", "1,250", "1e3", "1:7"])
def test_nothing_is_offered_for_what_may_mean_many_lengths(text: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_length(text, "in")
    assert "did you mean" not in caught.value.mend


@pytest.mark.parametrize(("text", "mm"), [("1-1/2", 38.1), ('1 1/2"', 38.1), ("3/4''", 19.05)])
def test_inch_marks_and_mixed_numbers_are_read(text: str, mm: float) -> None:
    assert parse_length(text, "in") == mm


def test_a_decimal_comma_is_told() -> None:
    with pytest.raises(InputError) as caught:
        parse_length("9,5 mm", None)
    assert caught.value.mend == 'did you mean "9.5 mm"?'
    with pytest.raises(InputError) as caught:
        parse_length("1,250 mm", None)  # a thousand, or one and a quarter
    assert caught.value.mend == "write the decimal with a point"


@pytest.mark.parametrize(("bare", "wanted"), [("7/16", '"7/16 in" or "7/16 mm"'), (4, '"4 in" or "4 mm"')])
def test_a_bare_number_without_units_shows_the_two_ways_to_say_it(bare: str | int, wanted: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_length(bare, None)
    assert caught.value.wanted == wanted
    assert "--units" in caught.value.mend


def test_an_unknown_unit_is_refused() -> None:
    with pytest.raises(InputError):
        parse_length("4", "cubit")


@given(st.fractions(min_value=0, max_value=400, max_denominator=128))
def test_fractions_are_exact(inches: Fraction) -> None:
    whole, rest = divmod(inches, 1)
    text = f"{whole}-{rest.numerator}/{rest.denominator} in" if rest else f"{whole} in"
    assert parse_length(text, None) == float(inches * Fraction(127, 5))


@given(st.floats(min_value=-1e6, max_value=1e6, allow_subnormal=False))
def test_a_number_and_its_text_are_the_same_length(value: float) -> None:
    if "e" in repr(value) or len(repr(value)) > 30:
        return
    assert parse_length(value, "in") == parse_length(repr(value), "in")


@given(st.text(max_size=12))
def test_any_text_is_a_finite_length_or_an_input_error(text: str) -> None:
    try:
        value = parse_length(text, "mm")
    except InputError:
        return
    assert math.isfinite(value)


@pytest.mark.parametrize("text", [8, 8.0, "8", "8 deg", "8°", "8 degrees", " 8deg "])
def test_angles_are_in_degrees(text: str | float) -> None:
    assert parse_angle(text) == pytest.approx(math.radians(8), rel=1e-15)


@pytest.mark.parametrize("text", ["", "8 rad", "1:7", "nan", float("nan"), True, "90 in"])
def test_angles_that_are_none(text: str | float) -> None:
    with pytest.raises(InputError) as caught:
        parse_angle(text)
    assert "degrees" in caught.value.wanted


@pytest.mark.parametrize(
    ("slope", "degrees"),
    # The trade's table of dovetail slopes, recomputed: atan(1/n).
    [("1:4", 14.04), ("1:5", 11.31), ("1:6", 9.46), ("1:7", 8.13), ("1:8", 7.13)],
)
def test_slopes(slope: str, degrees: float) -> None:
    assert math.degrees(parse_slope(slope)) == pytest.approx(degrees, abs=0.005)


@pytest.mark.parametrize("text", ["", "1", "1:0", "0:7", "-1:7", "1:-7", "1:7:2", "nan:1", "1/7", 7, None, "9" * 50])
def test_slopes_that_are_none(text: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_slope(text)
    assert '"1:7"' in caught.value.wanted


def test_a_bare_slope_is_shown_the_way() -> None:
    with pytest.raises(InputError) as caught:
        parse_slope(7)  # type: ignore[arg-type]  # a number where text is wanted is the point
    assert caught.value.mend == 'write "1:7" or "7 deg"'


def test_nothing_shown_can_act_on_a_terminal() -> None:
    text = shown("a\x1b[2J\nb" + "c" * 100)
    assert text.isprintable()
    assert len(text) <= 60
    assert shown([1, "a", [2]]) == '[1, "a", […]]'
    assert shown(10**5000) == "a whole number of many digits"
    assert shown({"a": 1}) == "a table"


def test_a_slope_that_is_a_number_of_many_digits() -> None:
    with pytest.raises(ValueError, match="not a slope") as caught:
        parse_slope(10**400)  # type: ignore[arg-type]  # what a file may hold
    assert "mend" not in str(caught.value)
