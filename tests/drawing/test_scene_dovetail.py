"""Drawings of through dovetails: every line where the layout has it, and waste as it is cut."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.dovetails import dovetail_job, made
from support.goldens import assert_as_ever

from jigcam.dovetails.choice import DovetailChoice, choose_ways
from jigcam.dovetails.picture import scene_dovetail
from jigcam.drawing import Drawing, View, svg, terminal
from jigcam.geometry import union
from jigcam.kit import load_kit
from jigcam.units import Unit, format_length

KIT = load_kit("metric-shop")
MEASURED = ((7.1, 40.4, 9.6, 38.2), (49.9, 82.8, 52.1, 80.1))


def plan_of(**keys: object) -> DovetailChoice:
    """Of the small joint of the tests."""
    return choose_ways(made(dovetail_job(**keys)), KIT)


def drawn(**keys: object) -> Drawing:
    return scene_dovetail(plan_of(**keys))


def figures(view: View) -> list[str]:
    return [label.text for label in view.labels if label.text.endswith(" mm")]


def area(view: View, role: str) -> float:
    regions = [item.shape for item in view.items if item.role == role and item.filled]
    return union(*regions).area if regions else 0.0


def measured() -> Drawing:
    return drawn(measured=MEASURED, count=None, pin=None, half_pin=None, slope=None)


CASES = {
    "dovetail": lambda: drawn(rabbet=1.0),
    "dovetail-flat": lambda: drawn(tails_setup="flat", pins_setup="flat", pare=0.4),
    "dovetail-relieved": lambda: drawn(tails_setup="flat", corners="relieved"),
    "dovetail-measured": measured,
}


@pytest.mark.parametrize("name", CASES)
def test_the_same_bytes_as_ever(name: str) -> None:
    assert_as_ever(name, CASES[name]())


def test_every_line_has_its_figure_from_the_lower_edge() -> None:
    plan = plan_of()
    tails, pins = scene_dovetail(plan).views[:2]
    for view, strips in ((tails, plan.layout.tails), (pins, plan.layout.sockets(plan.joint.sizes.clearance))):
        flanks = [flank for strip in strips for flank in (strip.lower, strip.upper)]
        wanted = [format_length(s, "mm") for s in (*(f.end for f in flanks), *(f.base for f in flanks))]
        assert sorted(figures(view)) == sorted(wanted)


def test_measured_tails_are_drawn_as_they_are_and_have_no_waste() -> None:
    tails, pins = measured().views[:2]
    assert sorted(figures(tails)) == sorted(format_length(s, "mm") for tail in MEASURED for s in tail)
    assert area(tails, "waste") == 0.0
    assert area(pins, "waste") > 0.0


@given(st.sampled_from(["left", "right"]), st.floats(0.0, 0.3), st.integers(1, 3))
def test_pins_and_waste_are_the_whole_end_grain(end: str, clearance: float, count: int) -> None:
    plan = plan_of(tails_end=end, pins_end={"left": "right", "right": "left"}[end], clearance=clearance, count=count)
    pins = scene_dovetail(plan).views[1]
    whole = plan.layout.width * plan.layout.length
    assert area(pins, "grain") + area(pins, "waste") == pytest.approx(whole, abs=1e-3)


@pytest.mark.parametrize("end", ["left", "right"])
def test_waste_between_tails_lies_at_the_named_end(end: str) -> None:
    plan = plan_of(tails_end=end, pins_end={"left": "right", "right": "left"}[end])
    view = scene_dovetail(plan).views[0]
    xs = np.concatenate([item.shape.bounds[::2] for item in view.items if item.role == "waste"])
    at = 0.0 if end == "left" else plan.joint.tail_board.length
    assert np.abs(xs - at).min() == pytest.approx(0.0, abs=1e-9)
    assert np.abs(xs - at).max() == pytest.approx(plan.layout.length)
    spaces = sum((space.end_width + space.base_width) / 2 * plan.layout.length for space in plan.layout.spaces)
    assert area(view, "waste") == pytest.approx(spaces, abs=1e-3)


def test_corners_left_round_are_marked_and_relieved_ones_reach_past_the_walls() -> None:
    left, relieved = (drawn(tails_setup="flat", corners=corners).views[0] for corners in ("chisel", "relieved"))
    assert 0.0 < area(left, "left") < 20.0
    assert area(relieved, "left") == 0.0
    assert area(relieved, "waste") > area(left, "waste")


def test_a_shaving_to_pare_has_its_lines_and_its_note() -> None:
    drawing = drawn(pare=0.4)
    assert any(item.role == "target" for item in drawing.views[0].items)
    assert any("0.4 mm" in note and "pare" in note for note in drawing.notes)
    assert area(drawing.views[0], "waste") < area(drawn().views[0], "waste")


def test_the_rabbet_has_its_depth_in_the_view_of_the_lower_edges() -> None:
    lower = drawn(rabbet=1.5).views[-1]
    assert any(dimension.length == pytest.approx(1.5) for dimension in lower.dimensions)
    assert not any(dimension.length == pytest.approx(0.0) for dimension in drawn().views[-1].dimensions)


@pytest.mark.parametrize("width", [20, 41, 80, 200])
def test_it_renders_in_any_width(width: int) -> None:
    for make in CASES.values():
        drawing = make()
        assert all(len(line) <= width for line in terminal.render(drawing, width).splitlines())
        assert svg.render(drawing).startswith("<?xml")


@pytest.mark.parametrize("clearance", [0.05, 0.1, 0.4])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_by_hand_the_pictures_have_the_figures_of_the_sheet(clearance: float, units: Unit) -> None:
    """The picture alone took the clearance off before it rounded: half a millimetre between it and the sheet."""
    joint = made(dovetail_job(clearance=clearance))
    plan = DovetailChoice(joint, joint.layout, None, None, (), joint.findings, ())
    tails, pins = scene_dovetail(plan, units=units).views[:2]
    for view, lines in ((tails, plan.hand.tail_lines), (pins, plan.hand.pin_lines)):
        wanted = [format_length(each.read, units) for line in lines for each in (line.end, line.base)]
        drawn_ones = [label.text for label in view.labels if label.text.endswith(f" {units}")]
        assert sorted(drawn_ones) == sorted(wanted)
