"""Scenes: what is drawn lies where the joint, the plan and the file say."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.scenes import FILE, SIDE, Shelf, groove_cut, template_plan

from jigcam.drawing import Drawing, Item, svg, terminal
from jigcam.drawing.scenes import Flaw, scene_program, scene_section, scene_template
from jigcam.drawing.scenes.program import entries, runs
from jigcam.drawing.scenes.section import bit_outline
from jigcam.gcode import ARC, RAPID, read
from jigcam.geometry import Path, Region, rectangle
from jigcam.job import Board
from jigcam.joints.groove.picture import profile, scene_groove
from jigcam.kit import load_kit
from jigcam.template import Text
from jigcam.toolpath.engrave import letters
from jigcam.wood.solid import Cut


def words(drawing: Drawing) -> str:
    return " | ".join(
        [label.text for view in drawing.views for label in view.labels]
        + [d.figure(drawing.units) for view in drawing.views for d in view.dimensions]
        + [a.figure() for view in drawing.views for a in view.angles]
        + [view.caption for view in drawing.views]
        + [f"{n}: {v}" for n, v in drawing.facts]
    )


def shapes(drawing: Drawing, role: str) -> list[Item]:
    return [item for item in drawing.items if item.role == role]


# -- a groove


def test_a_groove_can_be_laid_out_from_its_drawing() -> None:
    text = words(scene_groove(groove_cut(), units="in", mate=Shelf()))
    for figure in ("4 in", "1-1/2 in", "8 in", "78°", "0.506 in", "5/16 in", "15/16 in", "5/8 in"):
        assert figure in text
    for name in (
        "lower edge",
        "upper edge",
        "right end",
        "start",
        "finish",
        "shelf",
        "hand: as drawn",
        "inside face of side",
    ):
        assert name in text


def test_the_left_end_is_on_the_left_of_the_outside_face_only() -> None:
    for face, name in (("outside", "left end"), ("inside", "right end")):
        labels = scene_groove(groove_cut(face=face)).views[0].labels
        assert next(label for label in labels if label.x == 0.0 and label.text.endswith("end")).text == name


def test_a_long_board_is_broken_off_and_says_how_far_it_goes() -> None:
    long = Board(name="side", length=2400.0, width=285.75, thickness=24.0)
    drawing = scene_groove(groove_cut(board=long, start=(1200.0, 38.1)))
    x0, _, x1, _ = drawing.views[0].bounds
    assert x1 - x0 < 600
    text = words(drawing)
    assert "to the left end, at 2400 mm" in text
    assert "to the right end" in text
    assert "1200 mm from right end" in text
    assert len(shapes(drawing, "break")) == 4  # two on the face, two in the section


def test_a_groove_near_the_far_end_is_measured_from_where_the_words_measure() -> None:
    """The sheet says "2300 mm along the grain from that right end", and the picture had 100 mm from the left one."""
    long = Board(name="side", length=2400.0, width=285.75, thickness=24.0)
    drawn = groove_cut(board=long, start=(2300.0, 38.1), angle_deg=90.0)
    assert "2300 mm from right end" in words(scene_groove(drawn))
    mirrored = replace(groove_cut(board=long, start=(100.0, 38.1), angle_deg=90.0), hand="opposite")
    assert "2300 mm from left end" in words(scene_groove((drawn, mirrored)))


@pytest.mark.parametrize(("angle", "shown"), [(0.0, False), (90.0, False), (180.0, False), (78.0, True), (-30.0, True)])
def test_square_grooves_need_no_angle(angle: float, shown: bool) -> None:
    view = scene_groove(groove_cut(angle, (279.4, 140.0), 100.0)).views[0]
    assert bool(view.angles) == shown


def test_open_ends_are_drawn_to_the_edge_and_named() -> None:
    cut = groove_cut(90.0, (200.0, 0.0), 285.75, open_start=True, open_finish=True)
    drawing = scene_groove(cut)
    region = shapes(drawing, "cut")[0].shape
    assert region.bounds[1] == pytest.approx(0.0)
    assert region.bounds[3] == pytest.approx(SIDE.width)
    assert "start, open" in words(drawing)
    assert "finish, open" in words(drawing)


def test_the_section_has_the_width_and_depth_of_the_cut() -> None:
    walls = np.array(profile(groove_cut(30.0, (60.0, 60.0), 200.0)))
    assert np.ptp(walls[:, 0]) == pytest.approx(12.8524, abs=1e-4)
    assert walls[:, 1].min() == pytest.approx(-7.9375, abs=1e-4)
    assert walls[:, 1].max() == pytest.approx(0.0, abs=1e-4)


def test_sloped_walls_are_seen_in_the_section() -> None:
    class Socket:
        """Widens by 1 mm on each wall over its depth of 8 mm."""

        depth = 8.0

        def section(self, z: float) -> Region:
            lean = -z / 8.0
            return rectangle(100.0 - 5.0 - lean, 0.0, 100.0 + 5.0 + lean, 200.0)

        def levels(self) -> tuple[float, float]:
            return 0.0, -8.0

    cut = Cut("socket", SIDE, "inside", "as drawn", Socket(), Path.through([(100, 0), (100, 200)]), 10.0)
    assert np.array(profile(cut)) == pytest.approx(np.array([(5, 0), (6, -8), (-6, -8), (-5, 0)]), abs=1e-3)


def test_both_hands_get_a_view_each() -> None:
    drawing = scene_groove([groove_cut(), groove_cut(102.0, (457.2, 38.1), hand="opposite")])
    assert [view.caption for view in drawing.views if "opposite" in view.caption]
    assert len(drawing.rows) == 2


@given(st.floats(-180, 180), st.floats(40, 500), st.floats(40, 240), st.floats(20, 1500), st.integers(40, 200))
def test_any_groove_can_be_drawn(angle: float, x: float, y: float, length: float, width: int) -> None:
    drawing = scene_groove(groove_cut(angle, (x, y), length), units="in")
    assert all(len(line) <= width for line in terminal.render(drawing, width).split("\n"))


# -- a template


def test_a_template_shows_what_is_on_the_sheet_and_what_is_beneath() -> None:
    plan = template_plan()
    drawing = scene_template(plan, units="in", base_radius=76.2)
    assert len(shapes(drawing, "hole")) == len(plan.holes)
    assert len(shapes(drawing, "tab")) == len(plan.tabs)
    assert shapes(drawing, "opening")[0].shape is plan.opening
    assert shapes(drawing, "sheet")[0].shape is plan.sheet
    assert len(shapes(drawing, "fence")) == 2
    assert shapes(drawing, "hidden")
    assert shapes(drawing, "ride")
    x0, y0, x1, y1 = shapes(drawing, "base")[0].shape.bounds
    assert ((x0 + x1) / 2, (y0 + y1) / 2, x1 - x0) == pytest.approx((plan.support.x, plan.support.y, 152.4))
    text = words(drawing)
    for wanted in (
        "bushing 3/4 in",
        "bit 1/2 in",
        "opening 0.756 in",
        "cut 0.506 in",
        "offset: 1/8 in",
        "opening to fence: ",
        "8-1/4 in",
        "hand, this face up: as drawn",
        "fence beneath",
        "THIS FACE UP",
    ):
        assert wanted in text


def test_engraved_texts_are_drawn_as_large_as_they_are_cut_and_on_the_sheet() -> None:
    plan = template_plan()
    texts = {mark.string: mark for mark in plan.marks if isinstance(mark, Text)}
    drawn = re.findall(r'<text [^>]*textLength="([0-9.]+)"[^>]*>([^<]+)</text>', svg.render(scene_template(plan)))
    assert {text for _, text in drawn} == set(texts)
    for wide, text in drawn:
        mark = texts[text]
        cut = letters(mark.string, mark.x, mark.y, mark.height, mark.angle, room=mark.width)
        points = np.vstack(cut)
        assert float(wide) == pytest.approx(points[:, 0].max() - mark.x, abs=0.01)
        ends = [(mark.x, mark.y), (mark.x + float(wide), mark.y + mark.height)]
        assert (plan.sheet.signed_distance(np.vstack([points, ends])) > 0.0).all()


def test_the_zero_of_the_file_is_marked_where_the_placement_puts_it() -> None:
    plan = template_plan()
    axes = scene_template(plan).views[0].axes
    assert axes is not None
    assert axes.origin is not None
    placed = np.array(plan.placement) @ [*axes.origin, 1.0]
    assert placed == pytest.approx([0.0, 0.0], abs=1e-9)
    (blank,) = shapes(scene_template(plan), "blank")
    assert blank.shape.bounds[:2] == pytest.approx(axes.origin)


def test_the_stack_adds_up_in_the_picture() -> None:
    plan = template_plan()
    drawing = scene_section(plan)
    lengths = [d.length for d in drawing.views[0].dimensions if d.along == "y"]
    assert lengths[:3] == pytest.approx([plan.stack.sheet, plan.stack.depth, plan.stack.projection])
    (bit,) = shapes(drawing, "bit")
    assert bit.shape.bounds[1] == pytest.approx(-plan.stack.depth)


@pytest.mark.parametrize("name", [bit.name for bit in load_kit("inch-shop").bits])
def test_a_bit_is_drawn_with_its_own_profile(name: str) -> None:
    bit = load_kit("inch-shop").bit(name)
    region = bit_outline(bit, -10.0, 500.0)
    for height in np.linspace(0.05, bit.overall_length - 0.05, 41):
        if abs(height - bit.cutting_length) < 0.02:
            continue
        radius = float(bit.radius_at(np.array([height]))[0])
        z = -10.0 + height
        assert region.contains(np.array([[radius - 0.06, z], [radius + 0.06, z]])).tolist() == [radius > 0.06, False]


# -- a program


def test_a_file_is_drawn_where_its_motions_run() -> None:
    reading = read(FILE)
    table = reading.motions
    known = table[np.isfinite(table["start"][:, :2]).all(axis=1)]
    drawn = list(runs(known))
    for role, kinds in (("path-rapid", known["kind"] == RAPID), ("path-cut", known["kind"] != RAPID)):
        rows = known[kinds]
        arcs = rows["kind"] == ARC
        straight = np.hypot(*(rows["end"] - rows["start"])[:, :2].T)
        around = np.abs(rows["sweep"]) * np.hypot(*(rows["start"] - rows["centre"])[:, :2].T)
        length = np.where(arcs, around, straight).sum()
        assert sum(path.length for r, path in drawn if r == role) == pytest.approx(length, abs=1e-6)


steps = st.tuples(st.sampled_from(["G1", "G2", "G3"]), st.integers(-40, 40), st.integers(-40, 40), st.booleans())


@given(st.lists(steps, min_size=1, max_size=12))
def test_arcs_stay_arcs_however_far_they_turn(moves: list[tuple[str, int, int, bool]]) -> None:
    x = y = 0
    lines = ["G17 G21 G90 G94", "S1000 M3", "G0 X0 Y0 Z1", "F100"]
    for code, dx, dy, whole in moves:
        if code == "G1":
            x, y = x + dx, y + dy
            lines.append(f"G1 X{x} Y{y}")
        elif (dx, dy) != (0, 0):
            # A full turn, or a quarter turn about the point to the left or the right of the way to the centre.
            turn = (x, y) if whole else (x + dx - dy, y + dy + dx) if code == "G2" else (x + dx + dy, y + dy - dx)
            lines.append(f"{code} X{turn[0]} Y{turn[1]} I{dx} J{dy}")
            x, y = turn
    reading = read("\n".join([*lines, "M30"]) + "\n")
    assert not reading.faults
    rows = reading.motions[np.isfinite(reading.motions["start"][:, :2]).all(axis=1)]
    paths = [path for _, path in runs(rows)]
    for row in rows[rows["kind"] == ARC]:
        spread = np.linspace(0.0, row["sweep"], 17)
        arm = row["start"][:2] - row["centre"][:2]
        spots = row["centre"][:2] + np.column_stack(
            [arm[0] * np.cos(spread) - arm[1] * np.sin(spread), arm[0] * np.sin(spread) + arm[1] * np.cos(spread)]
        )
        assert np.min([path.distance(spots) for path in paths], axis=0).max() < 1e-6


def test_operations_are_numbered_and_named_once_whatever_their_passes() -> None:
    found = list(entries(read(FILE)))
    assert [(line, name) for line, _, _, name in found] == [
        (7, "screw holes"),
        (12, "screw holes"),
        (17, "opening"),
        (30, "outline"),
    ]


def test_of_a_crowd_of_strokes_only_the_first_and_the_last_are_numbered() -> None:
    stroke = "G0 X{} Y0\nG0 Z1\nG1 Z-0.4 F500\nX{}\nG0 Z5"
    strokes = [stroke.format(5 * k, 5 * k + 3) for k in range(30)]
    lines = ["G17 G21 G90 G94 S9000 M3", "G0 Z5", "(engrave the marks)", "(with care)", *strokes, "M30"]
    drawing = scene_program(read("\n".join(lines) + "\n"))
    (view,) = drawing.views
    assert [label.text for label in view.labels] == ["1", "30"]
    assert list(drawing.notes) == ["1 to 30: engrave the marks with care, lines 7 to 152"]


def test_what_the_proof_found_is_pointed_at() -> None:
    drawing = scene_program(read(FILE), places=[Flaw(10, 20, "0.3 mm too far"), Flaw(30, 40, "0.2 mm left", "left")])
    text = terminal.render(drawing, 80)
    for wanted in ("0.3 mm too far", "0.2 mm left", "cut too far", "left standing"):
        assert wanted in text


def test_a_file_without_motions_has_a_picture() -> None:
    assert "moves: 0" in terminal.render(scene_program(read("M30\n"), stock=(100, 100, 10)), 60)


def test_a_file_whose_positions_are_not_known_has_a_picture() -> None:
    terminal.render(scene_program(read("G21 G90 G94 S1 M3 F1\nG1 X5\nG1 Y5\nG1 Z-1\nM30\n")), 60)


def test_large_files_are_drawn_in_one_path_a_run() -> None:
    lines = ["G17 G21 G90 G94 S9000 M3", "G0 X0 Y0 Z1", "G1 Z-1 F500"]
    lines += [f"G1 X{i % 200} Y{math.floor(i / 200)}" for i in range(20_000)]
    drawing = scene_program(read("\n".join([*lines, "M30"]) + "\n"))
    assert len(shapes(drawing, "path-cut")) == 1
