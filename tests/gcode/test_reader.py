"""What a text means as a whole: order of execution, units, feeds, stops, ends (NISTIR 6556, sections 3.4–3.8)."""

from __future__ import annotations

import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.gcode import CCW, CW, MOTION, OFF, Reading, read


def clean(text: str) -> Reading:
    reading = read(text)
    assert reading.faults == ()
    return reading


def test_an_empty_text_has_no_motions_and_no_end() -> None:
    reading = read("")
    assert len(reading) == 0
    assert reading.motions.dtype == MOTION
    assert [fault.rule for fault in reading.faults] == ["program-end-missing"]
    assert not reading.ended


def test_all_who_ask_for_a_text_get_the_one_reading_of_it_which_nobody_can_change() -> None:
    text = "G21\nG0 X0 Y0 Z5\nF100 S1000 M3\nG1 X10\nM2\n"
    reading = read(text)
    assert read("".join(text)) is reading
    assert read(text.replace("X10", "X11")).motions["end"][-1, 0] == 11.0
    with pytest.raises(ValueError, match="read-only"):
        reading.motions["end"][-1, 0] = 12.0
    long = text.replace("M2", "G1 X1\nG1 X2\n" * 30_000 + "M2")
    assert read(long) is not read(long), "long texts are not kept"


def test_f_comes_before_a_change_of_units_on_its_line() -> None:
    """Table 8: F before units, so F is in the units that were in force before the line."""
    reading = clean("G20\nG0 X0 Y0 Z0\nG21 G1 X10 F10\nM2\n")
    assert reading.motion(1).feed == pytest.approx(254)
    assert reading.motion(1).end == (10, 0, 0)


def test_m5_on_a_line_with_a_motion_stops_the_spindle_first() -> None:
    """Table 8."""
    reading = clean("G21\nS1000 M3\nF100\nG1 X1 Y1 Z1\nX2 M5\nX3 M3\nM2\n")
    assert reading.motions["spindle"].tolist() == [CW, OFF, CW]


def test_a_stop_on_a_line_with_a_motion_comes_after_it() -> None:
    """Table 8."""
    reading = clean("G21\nG0 X1 M0\nX2 M30\n")
    assert [(stop.kind, stop.before) for stop in reading.stops] == [("pause", 1), ("end", 2)]


def test_a_tool_change_stops_the_spindle() -> None:
    """Section 3.6.3 (from memory)."""
    reading = clean("G21\nT3\nS500 M3\nG0 X1\nM6\nX2\nM3 X3\nM4 X4\nM2\n")
    assert reading.motions["spindle"].tolist() == [CW, OFF, CW, CCW]
    assert reading.motions["tool"].tolist() == [0, 3, 3, 3]
    assert [(change.tool, change.before) for change in reading.tool_changes] == [(3, 1)]


def test_incremental_distances_add_up() -> None:
    reading = clean("G21\nG0 X1 Y1 Z1\nG91 X1\nX1 Y-2\nG90 X0\nM2\n")
    assert reading.motions["end"].tolist() == [[1, 1, 1], [2, 1, 1], [3, -1, 1], [0, -1, 1]]


def test_inverse_time_feed_is_length_times_f() -> None:
    """Section 3.5.19: F is one over the minutes that the motion takes."""
    reading = clean("G21\nG0 X0 Y0 Z0\nG93\nG1 X3 Z4 F2\nG2 X6 I1.5 F1\nG94 F7 G1 X7\nM2\n")
    assert reading.motions["feed"].tolist() == pytest.approx([0, 10, np.pi * 1.5, 7])


def test_a_feed_of_inverse_time_leaves_the_feed_per_minute_alone() -> None:
    reading = clean("G21\nG0 X0 Y0 Z0\nF50\nG93 G1 X1 F2\nG94 G1 X2\nM2\n")
    assert reading.motions["feed"].tolist() == [0, 2, 50]


def test_units_and_path_mode_are_those_of_the_first_motion() -> None:
    reading = clean("G20 G61\nG0 X1\nG64\nX2\nM2\n")
    assert (reading.units, reading.path_mode) == ("in", "exact path")
    assert reading.motions["exact"].tolist() == [True, False]
    assert clean("G0 X1\nM2\n").units is None
    assert clean("G0 X1\nM2\n").path_mode is None


def test_coolant() -> None:
    """Section 3.6.4: mist and flood may be on together (from memory)."""
    reading = clean("G21\nM7\nG0 X1\nM8 X2\nM9 X3\nM2\n")
    assert reading.motions["coolant"].tolist() == [1, 3, 0]


def test_comments_and_messages() -> None:
    """Section 3.3.4: MSG in any letters and with white space."""
    reading = clean("(one)\nG21 (two) (three)\n( m S g , look here )\n(MSGR, no)\nM2\n")
    assert [(comment.line, comment.text) for comment in reading.comments][:3] == [(1, "one"), (2, "two"), (2, "three")]
    assert [(message.line, message.text) for message in reading.messages] == [(3, "look here")]


@pytest.mark.parametrize(
    "text",
    [
        "%\nG21\nG0 X1\n%\n",
        "\n  % \nG21\nG0 X1\nM2\n%\n",
        "%\nG21\nG0 X1\nM30\n\n%\n",
        "G21\nG0 X1\nM2",
        "G21\r\nG0 X1\r\nM30\r\n",
        "\n\nG21\n\nG0 X1\nM2\n\n \n",
    ],
)
def test_how_a_file_may_begin_and_end(text: str) -> None:
    """Section 3.6.1."""
    reading = clean(text)
    assert len(reading) == 1
    assert reading.ended
    assert not reading.remarks


@pytest.mark.parametrize("text", ["G21\nM2\nG0 X1\n", "%\nG21\n%\nG0 X1\n", "%\nG21\nM2\nnonsense\n%\nG0 X1"])
def test_what_follows_the_end_is_not_read(text: str) -> None:
    reading = clean(text)
    assert len(reading) == 0
    assert {remark.rule for remark in reading.remarks} == {"after-end"}


def test_the_motion_in_force_carries_over_f_and_code() -> None:
    reading = clean("G21\nG1 X1 Y0 Z0 F100\nX2\nG0 X3\nX4\nG1 X5\nF200 X6\nM2\n")
    assert [(motion.kind, motion.feed) for motion in reading] == [
        ("feed", 100),
        ("feed", 100),
        ("rapid", 0),
        ("rapid", 0),
        ("feed", 100),
        ("feed", 200),
    ]


def test_a_speed_without_m3_does_not_turn_the_spindle() -> None:
    reading = clean("G21\nS1000\nG0 X1\nM2\n")
    assert (reading.motion(0).spindle, reading.motion(0).rpm) == ("off", 1000)


def test_a_reading_is_compact() -> None:
    """Under a kilobyte a move, as the columns show."""
    assert MOTION.itemsize < 200
    reading = clean("G21\nF9\nG1 X0 Y0 Z0\n" + "X1\nX0\n" * 1000 + "M2\n")
    assert reading.motions.nbytes + sys.getsizeof(reading) < 200 * len(reading) + 1000


TEXTS = st.text(alphabet="GMXYZIJKRFSTPLQHDNABC0123456789.+-() \t%/#[]=;\n\r\x00é", max_size=200)


@given(TEXTS)
def test_no_text_raises(text: str) -> None:
    read(text)
    read("G21\nG0 X0 Y0 Z5\nF100 S1000 M3\n" + text + "\nM2\n")


@given(st.binary(max_size=300))
def test_no_bytes_raise(data: bytes) -> None:
    read(data.decode("latin-1"))


@pytest.mark.parametrize(
    "text",
    [
        "X" + "9" * 250,
        "G1 X" + "9" * 250 + "\nG2 X0 I" + "9" * 240,
        "F" + "9" * 200 + "\nG93 G1 X1 F" + "9" * 200,
        "G91\n" + "G1 X" + "9" * 250 + "\n" * 5,
        "T" + "9" * 200 + " M6\nG0 X1",
        "S" + "9" * 250 + " M3\nG0 X1",
        "G83 X1 Z-1 R5 Q0." + "0" * 200 + "1",
        "G20\nG2 X1 R" + "9" * 250,
        "G4 P" + "9" * 250,
        "G10 L2 P" + "9" * 240 + " X1",
        "G28\nG91\nX1\nG81 Z-1 R1\nG3 X1 R2",
    ],
)
def test_absurd_numbers_raise_nothing(text: str) -> None:
    read("G21\nF100\nG0 X0 Y0 Z0\n" + text + "\nM2\n")
