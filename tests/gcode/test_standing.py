"""What the reader notes of stops, dwells, changes of bit, length offsets and lines that a switch leaves out."""

from __future__ import annotations

import numpy as np
import pytest

from jigcam.gcode import Doubt, Reading, Selection, read
from jigcam.gcode.reader import Reader

OPENING = "G21 G90 G61\nG0 X0 Y0 Z5\nS1000 M3\n"
"""Three lines, one motion, the spindle turning."""


def reading_of(lines: str, end: str = "M2\n") -> Reading:
    reading = read(OPENING + lines + "\n" + end)
    assert not reading.faults
    return reading


@pytest.mark.parametrize(
    ("lines", "turning"),
    [("M0", True), ("M5\nM0", False), ("M5 M0", False), ("M0\nM5", True), ("M4\nM1", True), ("M5\nM60", False)],
)
def test_a_stop_knows_whether_the_spindle_turns(lines: str, turning: bool) -> None:
    assert reading_of(lines).stops[0].turning is turning


def test_a_dwell_and_a_change_know_whether_the_spindle_turned() -> None:
    reading = reading_of("G4 P1\nT1 M6\nG4 P1\nT2 M6")
    assert [dwell.turning for dwell in reading.dwells] == [True, False]
    assert [change.turning for change in reading.tool_changes] == [True, False]


def test_every_t_word_is_kept_though_no_change_follows() -> None:
    assert reading_of("T7\nG0 X1\nT8 M6").selections == (Selection(4, 7, 1), Selection(6, 8, 2))


def test_after_a_change_coordinates_wait_for_their_words() -> None:
    reading = reading_of("T1 M6\nG0 Z9\nX1 Y2\nG91 G0 X1")
    assert reading.doubts == (Doubt(4, "tool change", 1, (2, 2, 1)),)


def test_a_step_from_an_unknown_place_gives_none() -> None:
    assert reading_of("M0\nG91 G0 Z1\nG90 G0 X4").doubts == (Doubt(4, "pause", 1, (2, 3, 3)),)


def test_the_length_offset_of_each_motion_is_known() -> None:
    reading = reading_of("T2 M6\nG43 H2\nG0 Z5\nX1\nG49\nG0 Z7")
    np.testing.assert_array_equal(reading.motions["length"], [0, 2, 2, 0])
    assert [doubt.cause for doubt in reading.doubts] == ["tool change", "length offset", "length offset"]
    assert reading.doubts[1].said == (1, 1, 1)


def test_the_short_cut_reads_the_same_after_a_stop() -> None:
    text = OPENING + "M0\nG0 X1\nX2\nY3\nX4\nZ5\nX6\nX7\nM2\n"
    quick, slow = (Reader(text, short_cut=short_cut).reading() for short_cut in (True, False))
    assert repr(quick.motions) == repr(slow.motions)
    assert quick.doubts == slow.doubts == (Doubt(4, "pause", 1, (1, 3, 5)),)


def test_block_delete_gives_two_readings() -> None:
    reading = reading_of("/G0 X1\n/(note)\nG0 Y1")
    assert len(reading) == 3
    assert reading.deleted is not None
    assert len(reading.deleted) == 2
    assert not reading.deleted.comments
    assert [motion.line for motion in reading.deleted] == [2, 6]
    assert reading_of("G0 X1 (and/or)").deleted is None


def test_an_end_that_deletes_itself() -> None:
    deleted = read(OPENING + "G0 X1\n/M30\n").deleted
    assert deleted is not None
    assert [fault.rule for fault in deleted.faults] == ["program-end-missing"]


@pytest.mark.parametrize(("end", "turning"), [("%\n", True), ("M5\n%\n", False), ("M30\n%\n", False)])
def test_a_percent_sign_stops_no_spindle(end: str, turning: bool) -> None:
    assert read("%\n" + OPENING + end).ends_turning is turning
