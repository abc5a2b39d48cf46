"""Where programmed zero is: NISTIR 6556 sections 3.5.5 (G10), 3.5.8 (G28), 3.5.12 (G53), 3.5.13 (G54), 3.5.18 (G92)."""

from __future__ import annotations

import numpy as np
import pytest

from jigcam.gcode import Reading, read

NAN = float("nan")


def reading_of(text: str) -> Reading:
    reading = read("G21\n" + text + "\nM2\n")
    assert not reading.faults
    return reading


def last_end(text: str) -> np.ndarray:
    return reading_of(text).motions["end"][-1]


def test_an_axis_is_unknown_until_a_word_gives_it() -> None:
    reading = reading_of("G0 Z5\nX1\nY2")
    np.testing.assert_array_equal(reading.motions["start"], [[NAN, NAN, NAN], [NAN, NAN, 5], [1, NAN, 5]])
    np.testing.assert_array_equal(reading.motions["end"], [[NAN, NAN, 5], [1, NAN, 5], [1, 2, 5]])


@pytest.mark.parametrize(
    ("text", "end"),
    [
        # G92: the present point gets new coordinates; the file frame stays
        ("G0 X10 Y0 Z0\nG92 X0\nG0 X5", (15, 0, 0)),
        ("G0 X10 Y0 Z0\nG92 X0\nG92 X1\nG0 X5", (14, 0, 0)),
        ("G0 X10 Y0 Z0\nG92 X0\nG92.1\nG0 X5", (5, 0, 0)),
        ("G0 X10 Y0 Z0\nG92 X0\nG92.2\nG0 X5\nG92.3\nG0 X5", (15, 0, 0)),
        ("G0 X10 Y0 Z0\nG92 X0\nG92.1\nG92.3\nG0 X5", (5, 0, 0)),
        # before any move, G92 says where the operator has put the tool
        ("G92 X3 Y4 Z5\nG91 G0 X1", (4, 4, 5)),
        ("G0 Z5\nG92 X1 Y2\nG91 G0 X1 Y1", (2, 3, 5)),
        # coordinate systems that the file itself places
        ("G10 L2 P1 X100 Y0 Z0\nG10 L2 P2 X110 Y5 Z-1\nG0 X0 Y0 Z0\nG55 X0 Y0 Z0", (10, 5, -1)),
        ("G10 L2 P1 X100 Y0 Z0\nG0 X0 Y0 Z0\nG53 G0 X107 Y1 Z2", (7, 1, 2)),
        ("G10 L2 P1 X100 Y0 Z0\nG0 X0 Y0 Z0\nG10 L2 P1 X101\nG0 X0", (1, 0, 0)),
        ("G10 L2 P9 X1 Y1 Z1\nG10 L2 P1 X0 Y0 Z0\nG0 X0 Y0 Z0\nG59.3\nG0 X0 Y0 Z0", (1, 1, 1)),
        # one that it starts with is the file frame, whichever it is
        ("G56\nG0 X1 Y2 Z3", (1, 2, 3)),
        # and what only the machine knows is nobody's guess
        ("G0 X0 Y0 Z0\nG55\nG0 X1", (NAN, 0, 0)),
        ("G0 X0 Y0 Z0\nG55\nG54\nG0 X1", (1, 0, 0)),
        ("G0 X0 Y0 Z0\nG53 G0 Z0\nG0 X1", (1, 0, NAN)),
        ("G0 X0 Y0 Z0\nG10 L2 P1 X5\nG0 X1", (NAN, 0, 0)),
        ("G0 X0 Y0 Z0\nG28\nG0 X1", (1, NAN, NAN)),
        ("G0 X0 Y0 Z0\nG28\nG92 X0\nG0 X1", (NAN, NAN, NAN)),
        ("G0 X0 Y0 Z0\nG92.3\nG0 X1", (NAN, 0, 0)),
    ],
)
def test_where_a_file_ends_up(text: str, end: tuple[float, float, float]) -> None:
    np.testing.assert_allclose(last_end(text), end, atol=1e-12)


def test_g28_goes_by_way_of_the_point_given() -> None:
    reading = reading_of("G0 X0 Y0 Z0\nG91 G28 Z5\nG90")
    np.testing.assert_array_equal(reading.motions["end"][1:], [[0, 0, 5], [NAN, NAN, NAN]])
    assert [remark.rule for remark in reading.remarks] == ["position-unknown"]


def test_g92_says_where_the_next_motion_starts() -> None:
    reading = reading_of("G0 Z5\nG92 X1 Y2\nG0 X3")
    np.testing.assert_array_equal(reading.motions["start"][1], [1, 2, 5])


def test_an_offset_unknown_is_remarked_on() -> None:
    for line, rule in (("G55", "other-zero"), ("G10 L2 P1 X1", "zero-moved"), ("G92.3", "zero-moved")):
        reading = reading_of(f"G0 X0\n{line}")
        assert [remark.rule for remark in reading.remarks] == [rule, "offset-unknown"], line


@pytest.mark.parametrize("place", ["{}\nG0 Z5", "G0 Z5\n{}"])
@pytest.mark.parametrize(
    ("line", "rule"),
    [
        *((f"G{system}", "other-zero") for system in (55, 56, 57, 58, 59, 59.1, 59.2, 59.3)),
        *((line, "zero-moved") for line in ("G10 L2 P1 X0", "G10 L2 P2 X5", "G92 X0", "G92.1", "G92.2", "G92.3")),
    ],
)
def test_whatever_moves_zero_is_remarked_on_before_the_first_move_too(place: str, line: str, rule: str) -> None:
    assert rule in [remark.rule for remark in reading_of(place.format(line)).remarks]


def test_g54_moves_nothing() -> None:
    assert not reading_of("G54\nG0 X0 Y0 Z5\nG54\nG0 X1").remarks
