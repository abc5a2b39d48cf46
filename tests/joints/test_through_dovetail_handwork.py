"""The layout for saw and chisel: settings, errors of a rule, waste, the rabbet's effect."""

from __future__ import annotations

from math import atan, radians

import pytest
from hypothesis import given
from support.dovetails import even_layouts, uneven_layouts

from jigcam.dovetails import Layout, even_layout, hand_layout
from jigcam.dovetails.judging import JointSizes
from jigcam.making.block_text import text_lines
from jigcam.units import Voice
from jigcam.units.ruled import Ruled

INCH = 25.4
IN = Voice("in")
CARCASE = even_layout(11.25 * INCH, 13 / 16 * INCH, 6, 5 / 16 * INCH, 1 / 4 * INCH, atan(1 / 8))


def test_gauges_without_a_rabbet() -> None:
    tails, pins = hand_layout(CARCASE, JointSizes(15 / 16 * INCH, 13 / 16 * INCH), "in").gauges
    assert (tails.board, IN.rule(tails.setting)) == ("tails", "13/16 in")
    assert (pins.board, IN.rule(pins.setting)) == ("pins", "15/16 in")


def test_a_rabbet_is_taken_off_the_gauge_of_the_pin_board() -> None:
    """What is left of the tail board is the depth of the sockets (common practice, no source)."""
    hand = hand_layout(CARCASE, JointSizes(15 / 16 * INCH, 13 / 16 * INCH, rabbet=INCH / 16), "in")
    assert IN.rule(hand.gauges[0].setting) == "13/16 in"
    assert IN.rule(hand.gauges[1].setting) == "7/8 in"
    assert "less the rabbet of 1/16 in" in hand.gauges[1].says


def test_dividers_of_the_carcase_fall_in_their_place() -> None:
    dividers = hand_layout(CARCASE, JointSizes(15 / 16 * INCH, 13 / 16 * INCH), "in").dividers
    assert dividers is not None
    said = [IN.rule(each.read) for each in (dividers.start, dividers.tail, dividers.pin)]
    assert said == ["1/4 in", "1-17/32 in", "5/16 in"]
    assert dividers.far_error == pytest.approx(0.0, abs=1e-9)


def test_errors_of_dividers_add_up() -> None:
    """285 mm by hand: (285 − 5·8 − 2·6)/6 = 38.833 mm is 39 on a rule, 1/6 mm too far, six times."""
    hand = hand_layout(even_layout(285.0, 20.0, 6, 8.0, 6.0, atan(1 / 8)), JointSizes(24.0, 20.0), "mm")
    assert hand.dividers is not None
    assert hand.dividers.tail.error == pytest.approx(1 / 6)
    assert hand.dividers.far_error == pytest.approx(1.0)
    assert any("1 mm beyond its place" in line for line in hand.settings(Voice("mm")))


@given(even_layouts())
def test_stepping_with_the_rule_leaves_what_it_says(layout: Layout) -> None:
    hand = hand_layout(layout, JointSizes(22.0, layout.length), "mm")
    assert hand.dividers is not None
    d = hand.dividers
    at = d.start.length + d.start.error
    for number in range(len(layout.tails)):
        at += d.tail.length + d.tail.error
        if number < len(layout.tails) - 1:
            at += d.pin.length + d.pin.error
    assert at - layout.tails[-1].upper.end == pytest.approx(d.far_error, abs=1e-6)


@given(uneven_layouts())
def test_uneven_tails_have_no_dividers_but_every_line(layout: Layout) -> None:
    hand = hand_layout(layout, JointSizes(22.0, layout.length, clearance=0.05), "mm")
    assert len(hand.tail_lines) == len(hand.pin_lines) == 2 * len(layout.tails)
    assert all(abs(line.end.error) <= 0.25 + 1e-9 for line in (*hand.tail_lines, *hand.pin_lines))


@given(even_layouts())
def test_waste_lies_outside_tails_and_inside_sockets(layout: Layout) -> None:
    hand = hand_layout(layout, JointSizes(22.0, layout.length, clearance=0.05), "mm")
    for tail, lines in zip(layout.tails, zip(hand.tail_lines[::2], hand.tail_lines[1::2], strict=True), strict=True):
        assert [line.waste for line in lines] == ["toward the lower edge", "toward the upper edge"]
        assert lines[0].end.length == tail.lower.end
    for lines in zip(hand.pin_lines[::2], hand.pin_lines[1::2], strict=True):
        assert [line.waste for line in lines] == ["toward the upper edge", "toward the lower edge"]
    # The pin board's lines stand the clearance away from the tail board's, into the pins, where a rule shows it; else
    # both boards have the same figures.
    apart = [abs(a.end.length - b.end.length) for a, b in zip(hand.tail_lines, hand.pin_lines, strict=True)]
    assert (max(apart) == 0.0) if hand.ruled.step else (min(apart) > 0.05)


@pytest.mark.parametrize(
    ("mm", "unit", "error"),
    [
        (10.2, "mm", -0.2),
        (10.26, "mm", 0.24),
        (25.4 * 33 / 64, "in", 0.0),
        (25.4 * 1.008, "in", -25.4 * 0.008),
    ],
)
def test_readings_of_a_rule(mm: float, unit: str, error: float) -> None:
    got = Ruled(unit, 1, "").reading(mm)
    assert got.length == mm
    assert got.error == pytest.approx(error)


def test_the_sheet_gives_settings_and_both_tables() -> None:
    layout = hand_layout(CARCASE, JointSizes(15 / 16 * INCH, 13 / 16 * INCH, clearance=0.05), "in")
    text = "\n".join(text_lines(layout.blocks(IN)))
    for part in (
        "Gauge for the tail board: 13/16 in",
        "Bevel: 1:8 (7.13°).",
        "tail 6, upper side  11 in",
        "tail 1, lower side  1/4 in      11/32 in",
        "the lower half pin, upper side",
    ):
        assert part in text
    assert "the last line falls in its place" in " ".join(text.split())
    assert hand_layout(CARCASE, JointSizes(20.0, 20.0), "in").bevel == pytest.approx(radians(7.125), abs=1e-4)
