"""The bushing in a milled opening, and the shelf in the groove that comes out."""

from __future__ import annotations

import numpy as np
import pyclipper
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigcam.gcode import read
from jigcam.geometry import Path, bar, offset, rectangle, slot
from jigcam.kit import load_kit
from jigcam.proof import edge_outline, filled, fit, milled_region, ride
from jigcam.proof.fit import findings_of

INCH = 25.4
BOARD = rectangle(0.0, 0.0, 300.0, 200.0)
LINE = Path.through([(50.0, 60.0), (200.0, 110.0)])


def template_text(opening_half: float, cutter: float) -> str:
    """One loop of a cutter inside a slot along the x axis from 40 to 140, opening_half wide each way."""
    o = opening_half - cutter / 2.0
    x0, x1 = 40.0 + opening_half, 140.0 - opening_half
    return "\n".join(
        [
            "G17 G21 G40 G49 G80 G90 G94 G54 G61",
            "G0 Z5",
            "S16000 M3",
            f"G0 X{x0:.4f} Y{50 - o:.4f}",
            "G1 Z0 F300",
            f"G1 X{x1:.4f} Z-12.8 F900",
            f"G3 X{x1:.4f} Y{50 + o:.4f} J{o:.4f}",
            f"G1 X{x0:.4f}",
            f"G3 X{x0:.4f} Y{50 - o:.4f} J{-o:.4f}",
            f"G1 X{x1:.4f}",
            "G0 Z5",
            "M5",
            "M30",
            "",
        ]
    )


def test_the_slot_of_the_standard_example() -> None:
    # Groove 0.506 in wide, bit 1/2, bushing 3/4: the opening is 0.756 in wide, with ends of 0.378 in (W + (B − d)).
    width, bit, bushing = 0.506 * INCH, 0.5 * INCH, 0.75 * INCH
    drawn = slot(*LINE.vertices[:, :2], width)
    grown = 0.125 * INCH
    along = np.diff(LINE.vertices[:, :2], axis=0)[0] / LINE.length * grown
    opening = slot(LINE.vertices[0, :2] - along, LINE.vertices[1, :2] + along, 0.756 * INCH)
    result = ride(opening, bushing, bit, drawn, BOARD, centreline=LINE)
    assert result.gouge_mm < 1e-6
    assert result.left_mm < 1e-6
    assert result.play_mm == pytest.approx(width - bit, abs=1e-6)
    assert not result.findings


@pytest.mark.parametrize("wrong", [-0.06, 0.06])
def test_an_opening_of_the_wrong_width(wrong: float) -> None:
    drawn = slot(*LINE.vertices[:, :2], 13.0)
    along = np.diff(LINE.vertices[:, :2], axis=0)[0] / LINE.length * (3.0 + wrong / 2)
    opening = slot(LINE.vertices[0, :2] - along, LINE.vertices[1, :2] + along, 19.0 + wrong)
    result = ride(opening, 18.0, 12.0, drawn, BOARD, centreline=LINE)
    size = result.gouge_mm if wrong > 0 else result.left_mm
    assert size == pytest.approx(0.03, abs=1e-4)
    assert [f.rule for f in result.findings] == ["ride-gouge" if wrong > 0 else "ride-left"]


def test_square_ends_are_for_the_chisel() -> None:
    drawn = bar(*LINE.vertices[:, :2], 14.0)
    result = ride(offset(drawn, 3.0), 18.0, 12.0, drawn, BOARD, centreline=LINE)
    assert result.left_mm < 2e-3
    assert len(result.left_for_chisel) == 4
    # A round of radius r leaves (√2 − 1) r in a square corner.
    assert [c.size for c in result.left_for_chisel] == pytest.approx([(2**0.5 - 1) * 6.0] * 4, abs=1e-3)


def test_a_bushing_too_wide_and_axes_apart() -> None:
    drawn = slot(*LINE.vertices[:, :2], 13.0)
    result = ride(drawn, 18.0, 12.0, drawn, BOARD, centreline=LINE)
    assert "bushing-does-not-pass" in [f.rule for f in result.findings]
    wide = ride(slot((20, 50), (150, 50), 20.0), 18.0, 12.0, slot((23, 50), (147, 50), 14.0), BOARD, eccentricity=0.1)
    assert wide.envelope.area > wide.cut.area
    assert wide.as_dict()["widened_by_up_to_mm"] == 0.2


def test_from_text_to_shelf() -> None:
    kit = load_kit("inch-shop")
    cutter = kit.bit("straight 1/4")
    width, bit, bushing = 13.0, 12.7, 19.05
    opening_half = (width + bushing - bit) / 2.0
    reading = read(template_text(opening_half, cutter.diameter))
    assert reading.ok
    ring = milled_region(reading, kit.machine, cutter, -12.7)
    opening = filled(ring)
    o = (bushing - bit) / 2.0
    drawn = slot((40.0 + o, 50.0), (140.0 - o, 50.0), width)
    line = Path.through([(40.0 + o, 50.0), (140.0 - o, 50.0)])
    result = ride(opening, bushing, bit, drawn, BOARD, centreline=line)
    assert result.gouge_mm < 0.001
    assert result.left_mm < 0.001
    shelf = edge_outline(line, 12.9, width / 2.0, line.length - 0.1)
    seat = fit(result.cut, line, 12.9, mate=shelf)
    assert seat.total == pytest.approx(0.1, abs=1e-3)
    assert seat.least == pytest.approx(0.05, abs=1e-3)
    assert seat.seats
    assert not findings_of(seat, 0.1, "shelf")
    tight = fit(result.cut, line, 13.05)
    assert [f.rule for f in findings_of(tight, 0.1, "shelf")] == ["does-not-fit"]


def test_a_crooked_groove_is_met_by_a_crooked_seat() -> None:
    # Walls that run 0.2 mm across over 100 mm: the shelf turns with them and keeps its room.
    line = Path.through([(0.0, 0.0), (100.0, 0.0)])
    cut = bar((-5.0, -0.11), (105.0, 0.11), 10.0)
    seat = fit(cut, line, 9.8)
    assert seat.least == pytest.approx(0.1, abs=2e-3)
    assert seat.turn == pytest.approx(0.002, abs=2e-4)


def loops(points: np.ndarray) -> list[tuple[int, int]]:
    """In whole nanometres, as pyclipper counts."""
    return [(round(x * 1e6), round(y * 1e6)) for x, y in points]


def grown(paths: list[list[tuple[int, int]]], by: float) -> list[list[tuple[int, int]]]:
    """Paths offset by a second geometry, mm; round joins within half a micron."""
    tool = pyclipper.PyclipperOffset(2.0, 500.0)
    tool.AddPaths(paths, pyclipper.JT_ROUND, pyclipper.ET_CLOSEDPOLYGON)
    return [[tuple(point) for point in path] for path in tool.Execute(by * 1e6)]


@given(st.floats(0.4, 8.0), st.floats(6.0, 14.0), st.floats(2.0, 12.0), st.floats(0.005, 0.5))
@settings(max_examples=25)
def test_the_envelope_of_axes_apart(play: float, bit: float, more: float, off: float) -> None:
    """Held, a slot shifts by e; turned, it is cut up to 2e wider (derived), surely all but 2e; by pyclipper."""
    off = min(off, play / 2.0, bit / 4.0)
    width, bushing = bit + play, bit + more
    drawn = slot((60.0, 80.0), (150.0, 80.0), width)
    opening = slot((60.0 - more / 2.0, 80.0), (150.0 + more / 2.0, 80.0), width + more)
    line = Path.through([(60.0, 80.0), (150.0, 80.0)])
    ridden = ride(opening, bushing, bit, drawn, BOARD, centreline=line, eccentricity=off)
    assert ridden.gouge_mm == ride(opening, bushing, bit, drawn, BOARD, centreline=line).gouge_mm
    y = {
        name: region.bounds[1::2]
        for name, region in (
            ("cut", ridden.cut),
            ("held", ridden.held((0.0, 1.0))),
            ("most", ridden.envelope),
            ("sure", ridden.sure),
        )
    }
    assert y["cut"][1] - y["cut"][0] == pytest.approx(width, abs=1e-6)
    assert y["held"] == pytest.approx([side + off for side in y["cut"]], abs=1e-6)
    assert y["most"][1] - y["most"][0] == pytest.approx(width + 2.0 * off, abs=1e-6)
    assert y["sure"][1] - y["sure"][0] == pytest.approx(width - 2.0 * off, abs=1e-6)
    centres = grown([loops(loop.points(5e-4)) for loop in opening.loops], -bushing / 2.0)
    for region, reach in ((ridden.envelope, bit / 2.0 + off), (ridden.sure, bit / 2.0 - off)):
        oracle = np.array(grown(centres, reach)[0]) / 1e6
        assert np.abs(region.signed_distance(oracle)).max() < 2e-3


@given(st.integers(0, 2**32 - 1), st.floats(0.01, 0.5))
@settings(max_examples=30)
def test_no_way_of_turning_leaves_the_envelope(seed: int, off: float) -> None:
    """Discs with the axis off to any side, in plain numbers: never beyond the envelope nor short of `sure`."""
    rng = np.random.default_rng(seed)
    ridden = ride(slot((20, 50), (150, 50), 20.0), 18.0, 12.0, slot((23, 50), (147, 50), 14.0), BOARD, eccentricity=off)
    # Centres may lie within 1 mm of the line from (30, 50) to (140, 50).
    centres = np.column_stack([rng.uniform(30.0, 140.0, 400), rng.uniform(49.0, 51.0, 400)])
    turned = rng.uniform(0.0, 2.0 * np.pi, 400)
    axes = centres + off * np.column_stack([np.cos(turned), np.sin(turned)])
    assert ridden.envelope.signed_distance(axes).min() >= 6.0 - 1e-6
    places = ridden.sure.loops[0].points(1e-2)
    gap = places - np.clip(places, (30.0, 50.0), (140.0, 50.0))
    away = np.hypot(*gap.T) - 1.0 + off  # from the nearest centre, turned away from it
    assert away.max() <= 6.0 + 1e-6
