"""Arcs after rounding: they close by the standard, turn at most half, and lie where they were planned."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.errors import InputError
from jigcam.gcode.arcs import MISMATCH_INCH, MISMATCH_MM, turn
from jigcam.gcode.numbers import INCHES, MILLIMETRES, Digits
from jigcam.gcode.rounded import FLAT, Planned, offsets

DIGITS = st.sampled_from([MILLIMETRES, INCHES])


def planned(
    start: tuple[float, float], end: tuple[float, float], centre: tuple[float, float], ccw: bool, digits: Digits
) -> Planned:
    return Planned(
        (digits.ticks(start[0]), digits.ticks(start[1])), (digits.ticks(end[0]), digits.ticks(end[1])), centre, ccw
    )


@given(
    DIGITS,
    st.floats(-300, 300),
    st.floats(-300, 300),
    st.one_of(st.floats(1e-3, 10), st.floats(1e-3, 2e4)),
    st.floats(-math.pi, math.pi),
    st.one_of(st.just(math.pi), st.floats(1e-9, math.pi)),
    st.booleans(),
)
def test_every_planned_arc(
    digits: Digits, cx: float, cy: float, radius: float, angle: float, sweep: float, ccw: bool
) -> None:
    """Radii within the tolerance of NISTIR 6556 section 3.5.3.2, after formatting."""
    last = angle + (sweep if ccw else -sweep)
    start = (cx + radius * math.cos(angle), cy + radius * math.sin(angle))
    end = (cx + radius * math.cos(last), cy + radius * math.sin(last))
    arc = planned(start, end, (cx, cy), ccw, digits)
    found = offsets(arc, digits)
    if found is None:
        assert arc.start == arc.end or radius * (1 - math.cos(sweep / 2)) <= FLAT + 2 * digits.tick
        return
    x, y = arc.start[0] + found[0], arc.start[1] + found[1]
    at_start, at_end = math.dist(arc.start, (x, y)), math.dist(arc.end, (x, y))
    mismatch = abs(at_start - at_end) * digits.tick
    assert mismatch <= (MISMATCH_MM if digits is MILLIMETRES else MISMATCH_INCH * 25.4) / 4 + 1e-9
    written = abs(turn(arc.start, arc.end, (x, y), ccw))
    assert written <= math.pi + 1e-9
    assert abs(written - sweep) * radius <= 4 * digits.tick + radius * 1e-9
    assert abs(at_start * digits.tick - radius) <= 4 * digits.tick


def test_half_a_turn_stays_half_a_turn_where_the_middle_has_no_digits() -> None:
    arc = planned((0.0, 0.0), (1.0001, 0.0001), (0.50005, 0.00005), True, MILLIMETRES)
    found = offsets(arc, MILLIMETRES)
    assert found is not None
    assert turn(arc.start, arc.end, found, True) <= math.pi


def test_a_centre_a_little_off_is_moved_to_where_the_arc_closes() -> None:
    arc = planned((0.0, 0.0), (10.0, 0.0), (5.0008, 3.0), True, MILLIMETRES)
    assert offsets(arc, MILLIMETRES) == (50000, 30000)


@pytest.mark.parametrize(
    ("centre", "ccw"),
    [
        ((5.1, 3.0), True),
        ((5.0, 3.0), False),
        ((0.0, 0.0), True),
        ((50.0, 0.0), True),
    ],
)
def test_an_arc_that_is_none_is_refused(centre: tuple[float, float], ccw: bool) -> None:
    with pytest.raises(InputError):
        offsets(planned((0.0, 0.0), (10.0, 0.0), centre, ccw, MILLIMETRES), MILLIMETRES)


@pytest.mark.parametrize(
    ("radius", "sweep", "line"),
    [
        (5.0, 3e-4, True),
        (5.0, 1e-3, False),
        (6000.0, 3e-4, True),
        (6000.0, 1e-3, False),
        (4999.0, 3e-4, False),
    ],
)
def test_short_and_flat_arcs_become_lines(radius: float, sweep: float, line: bool) -> None:
    arc = planned((radius, 0.0), (radius * math.cos(sweep), radius * math.sin(sweep)), (0.0, 0.0), True, MILLIMETRES)
    assert (offsets(arc, MILLIMETRES) is None) == line
