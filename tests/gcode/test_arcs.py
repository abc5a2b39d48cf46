"""Arcs as the standard reads them: NISTIR 6556, section 3.5.3."""

from __future__ import annotations

import math

import pytest

from jigcam.gcode import ReadMotion, read

AT_SEVEN = "G21\nG0 X7 Y7 Z7\nF100\n"


def only_arc(text: str) -> ReadMotion:
    reading = read(text + "\nM2\n")
    assert not reading.faults
    (arc,) = (motion for motion in reading if motion.kind == "arc")
    return arc


def test_the_worked_example() -> None:
    """Section 3.5.3.2: from (7, 7), a helical arc clockwise to (10, 16, 9) about (10, 11) with radius 5."""
    arc = only_arc(AT_SEVEN + "G17 G2 X10 Y16 I3 J4 Z9")
    assert arc.start == (7, 7, 7)
    assert arc.end == (10, 16, 9)
    assert arc.centre == (10, 11, 7)
    assert math.dist(arc.start[:2], arc.centre[:2]) == 5
    assert math.dist(arc.end[:2], arc.centre[:2]) == 5
    assert arc.sweep == pytest.approx(-(math.pi / 2 + math.atan2(4, 3)), abs=1e-12)


@pytest.mark.parametrize(
    ("words", "sweep"),
    [
        ("G3 X9 Y9 I0 J2", math.pi / 2),
        ("G2 X9 Y9 I0 J2", -3 * math.pi / 2),
        ("G2 X11 I2", -math.pi),
        ("G3 X11 I2", math.pi),
        ("G2 X7 I2", -math.tau),
        ("G3 Y7 J1", math.tau),
    ],
)
def test_the_turn(words: str, sweep: float) -> None:
    assert only_arc(AT_SEVEN + words).sweep == pytest.approx(sweep, abs=1e-12)


@pytest.mark.parametrize(
    ("words", "centre", "sweep"),
    [
        ("G2 X9 Y7 R1", (8, 7), -math.pi),
        ("G2 X8 Y8 R1", (8, 7), -math.pi / 2),
        ("G3 X8 Y8 R1", (7, 8), math.pi / 2),
        ("G2 X8 Y8 R-1", (7, 8), -3 * math.pi / 2),
        ("G3 X8 Y8 R-1", (8, 7), 3 * math.pi / 2),
    ],
)
def test_a_negative_radius_takes_the_long_way(words: str, centre: tuple[float, float], sweep: float) -> None:
    """Section 3.5.3.1."""
    arc = only_arc(AT_SEVEN + words)
    assert arc.centre[:2] == pytest.approx(centre, abs=1e-9)
    assert arc.sweep == pytest.approx(sweep, abs=1e-9)


@pytest.mark.parametrize(
    ("plane", "words", "end", "centre"),
    [
        ("zx", "G18 G3 X8 Z8 I0 K1", (8, 7, 8), (7, 7, 8)),
        ("yz", "G19 G3 Y8 Z8 J0 K1", (7, 8, 8), (7, 7, 8)),
    ],
)
def test_other_planes_are_right_handed(
    plane: str, words: str, end: tuple[float, ...], centre: tuple[float, ...]
) -> None:
    """Section 3.5.3: clockwise as seen from the positive end of the axis square to the plane."""
    arc = only_arc(AT_SEVEN + words)
    assert (arc.plane, arc.end, arc.centre) == (plane, end, centre)
    # From z towards x is anticlockwise about +y, from y towards z about +x.
    assert arc.sweep == pytest.approx(math.pi / 2 if plane == "yz" else 3 * math.pi / 2)


@pytest.mark.parametrize(
    ("opening", "off", "allowed"),
    [
        ("G21", 0.0019, True),
        ("G21", 0.002, True),
        ("G21", 0.0021, False),
        ("G20", 0.00019, True),
        ("G20", 0.0002, True),
        ("G20", 0.00021, False),
    ],
)
def test_the_tolerance_of_the_radii(opening: str, off: float, allowed: bool) -> None:
    """Section 3.5.3.2: 0.002 mm or 0.0002 in."""
    reading = read(f"{opening}\nG0 X0 Y0\nF9\nG2 X{2 + off:.6f} Y0 I1 J0\nM2\n")
    assert [fault.rule for fault in reading.faults] == ([] if allowed else ["arc-radius-mismatch"])


@pytest.mark.parametrize("radius", [0.3, 1.7, 12.345, 987.654])
def test_a_half_turn_by_radius_is_no_error_of_rounding(radius: float) -> None:
    reading = read(f"G21\nG0 X0.1 Y0.2\nF9\nG3 X{0.1 + 2 * radius!r} Y0.2 R{radius!r}\nM2\n")
    assert not reading.faults
    assert reading.motion(1).sweep == pytest.approx(math.pi, abs=1e-3)


def test_inches_scale_centre_and_end() -> None:
    arc = only_arc("G20\nG0 X0 Y0 Z0\nF10\nG3 X2 Y0 I1 J0")
    assert arc.end == pytest.approx((50.8, 0, 0))
    assert arc.centre == pytest.approx((25.4, 0, 0))
    assert arc.feed == pytest.approx(254)


def test_an_arc_in_incremental_distances_has_the_same_offsets() -> None:
    arc = only_arc(AT_SEVEN + "G91 G2 X3 Y9 I3 J4 Z2")
    assert (arc.end, arc.centre) == ((10, 16, 9), (10, 11, 7))
