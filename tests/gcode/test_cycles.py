"""Canned cycles: NISTIR 6556, section 3.5.16."""

from __future__ import annotations

import pytest

from jigcam.gcode import Reading, read

START = "G21 G98\nG0 X1 Y2 Z3\nF100 S1000 M3\n"

Moves = list[tuple[str, tuple[float, float, float]]]


def moves(text: str) -> Moves:
    reading = cycle(text)
    return [(motion.kind, tuple(round(v, 9) for v in motion.end)) for motion in reading][1:]  # type: ignore[misc]


def cycle(text: str) -> Reading:
    reading = read(START + text + "\nM2\n")
    assert not reading.faults
    return reading


def test_the_first_worked_example() -> None:
    """Section 3.5.16.2: at (1, 2, 3)."""
    assert moves("G90 G81 G98 X4 Y5 Z1.5 R2.8") == [
        ("rapid", (4, 5, 3)),
        ("rapid", (4, 5, 2.8)),
        ("feed", (4, 5, 1.5)),
        ("rapid", (4, 5, 3)),
    ]


def test_the_second_worked_example() -> None:
    """Section 3.5.16.2, incremental with three repeats, from memory: R is at 4.8, the holes are 0.6 deep."""
    assert moves("G91 G81 G98 X4 Y5 Z-0.6 R1.8 L3") == [
        ("rapid", (1, 2, 4.8)),
        ("rapid", (5, 7, 4.8)),
        ("feed", (5, 7, 4.2)),
        ("rapid", (5, 7, 4.8)),
        ("rapid", (9, 12, 4.8)),
        ("feed", (9, 12, 4.2)),
        ("rapid", (9, 12, 4.8)),
        ("rapid", (13, 17, 4.8)),
        ("feed", (13, 17, 4.2)),
        ("rapid", (13, 17, 4.8)),
    ]


def test_r_and_depth_stay_while_the_cycle_goes_on() -> None:
    assert moves("G81 G99 X4 Y5 Z1.5 R2.8\nX6\nY7 Z1") == [
        ("rapid", (4, 5, 3)),
        ("rapid", (4, 5, 2.8)),
        ("feed", (4, 5, 1.5)),
        ("rapid", (4, 5, 2.8)),
        ("rapid", (6, 5, 2.8)),
        ("feed", (6, 5, 1.5)),
        ("rapid", (6, 5, 2.8)),
        ("rapid", (6, 7, 2.8)),
        ("feed", (6, 7, 1)),
        ("rapid", (6, 7, 2.8)),
    ]


def test_g98_goes_back_to_the_height_before_the_run() -> None:
    assert moves("G81 G99 X4 Y5 Z1 R2\nG98 X6")[-1] == ("rapid", (6, 5, 3))


def test_a_start_below_r_rises_first_and_g98_then_ends_at_r() -> None:
    assert moves("G0 Z1\nG81 G98 X4 Y5 Z0 R2") == [
        ("rapid", (1, 2, 1)),
        ("rapid", (1, 2, 2)),
        ("rapid", (4, 5, 2)),
        ("feed", (4, 5, 0)),
        ("rapid", (4, 5, 2)),
    ]


def test_drilling_with_a_dwell() -> None:
    reading = cycle("G82 X1 Y2 Z1 R2 P0.5")
    assert [(motion.kind, motion.end[2]) for motion in reading][1:] == [("rapid", 2), ("feed", 1), ("rapid", 3)]
    ((seconds, before),) = ((dwell.seconds, dwell.before) for dwell in reading.dwells)
    assert (seconds, reading.motion(before - 1).end[2]) == (0.5, 1)


def test_pecking() -> None:
    """Section 3.5.16.4; the 0.254 mm above the last peck are from memory of the interpreter."""
    assert [(kind, end[2]) for kind, end in moves("G83 X1 Y2 Z0 R2 Q0.75")] == [
        ("rapid", 2),
        ("feed", 1.25),
        ("rapid", 2),
        ("rapid", 1.504),
        ("feed", 0.5),
        ("rapid", 2),
        ("rapid", 0.754),
        ("feed", 0),
        ("rapid", 3),
    ]


def test_tapping_turns_back_at_the_bottom() -> None:
    reading = cycle("G84 X1 Y2 Z1 R2")
    feeds = [(motion.end[2], motion.spindle) for motion in reading if motion.kind == "feed"]
    assert feeds == [(1, "cw"), (3, "ccw")]


@pytest.mark.parametrize(("code", "out"), [("G85", "feed"), ("G86", "rapid"), ("G88", "rapid"), ("G89", "feed")])
def test_boring_comes_out_as_its_code_says(code: str, out: str) -> None:
    dwell = "" if code == "G85" else "P0.1"
    assert moves(f"{code} X1 Y2 Z1 R2 {dwell}")[-2:] == [("feed", (1, 2, 1)), (out, (1, 2, 3))]


@pytest.mark.parametrize("code", ["G86", "G88"])
def test_boring_stops_the_spindle_before_it_comes_out(code: str) -> None:
    reading = cycle(f"{code} X1 Y2 Z1 R2 P0\nG0 X0")
    assert [motion.spindle for motion in reading][2:] == ["cw", "off", "cw"]
    assert [stop.kind for stop in reading.stops] == (["pause"] if code == "G88" else []) + ["end"]


def test_back_boring_goes_in_beside_the_hole() -> None:
    """Section 3.5.16.8, from memory."""
    assert moves("G87 X4 Y5 Z1 R2 I0.5 J0 K1.5") == [
        ("rapid", (4, 5, 3)),
        ("rapid", (4, 5, 2)),
        ("rapid", (4.5, 5, 2)),
        ("rapid", (4.5, 5, 1)),
        ("rapid", (4, 5, 1)),
        ("feed", (4, 5, 1.5)),
        ("feed", (4, 5, 1)),
        ("rapid", (4.5, 5, 1)),
        ("rapid", (4.5, 5, 3)),
        ("rapid", (4, 5, 3)),
    ]


def test_another_plane_drills_along_its_own_normal() -> None:
    assert moves("G18 G81 X4 Z5 Y0 R1") == [
        ("rapid", (4, 2, 5)),
        ("rapid", (4, 1, 5)),
        ("feed", (4, 0, 5)),
        ("rapid", (4, 2, 5)),
    ]


def test_g80_and_any_other_motion_end_the_run() -> None:
    for ending in ("G80", "G0 X0"):
        reading = read(START + f"G81 X4 Y5 Z1 R2\n{ending}\nG81 X5 Y6 Z1\nM2\n")
        assert [fault.rule for fault in reading.faults] == ["cycle-r-missing"]


def test_inches_scale_the_cycle() -> None:
    reading = read("G20 G98\nG0 X0 Y0 Z1\nF10\nG81 X1 Y1 Z-1 R0.5\nM2\n")
    assert not reading.faults
    assert reading.motion(3).end == pytest.approx((25.4, 25.4, -25.4))
