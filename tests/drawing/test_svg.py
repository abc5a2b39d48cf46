"""SVG: true size, exact arcs, harmless text, the same bytes; read back by a parser of its own."""

from __future__ import annotations

import hashlib
import math
import os
import re
import subprocess
import sys
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given
from support.drawings import HOSTILE, drawings, paths

from jigcam.drawing import Dimension, Drawing, Item, Label, View, svg
from jigcam.drawing.page import compose
from jigcam.drawing.roles import PENS
from jigcam.geometry import Path, arc_of, rectangle, slot

SPACE = "{http://www.w3.org/2000/svg}"
HEIGHT = 500.0


def tokens(data: str) -> list[tuple[str, list[float]]]:
    return [
        (letter, [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", rest)])
        for letter, rest in re.findall(r"([MLAZHVh])([^MLAZHVh]*)", data)
    ]


def curve(data: str) -> tuple[np.ndarray, bool]:
    """Vertices x, y, bulge of path data, y down turned up; the arc's centre is worked out as SVG 1.1 F.6.5 does."""
    rows: list[list[float]] = []
    for letter, numbers in tokens(data):
        if letter == "A":
            rx, ry, turn, large, sweep, x, y = numbers
            assert rx == ry
            assert turn == 0
            assert large == 0
            x0, y0, _ = rows[-1]
            chord = math.hypot(x - x0, (HEIGHT - y) - y0)
            r = max(rx, chord / 2)  # F.6.6: a radius that is too small is scaled up until it reaches
            half = math.asin(min(1.0, chord / 2 / r))
            rows[-1][2] = math.tan(half / 2) * (1 if sweep == 0 else -1)
            rows.append([x, HEIGHT - y, 0.0])
        elif letter in "ML":
            rows.append([numbers[0], HEIGHT - numbers[1], 0.0])
    return np.array(rows), data.endswith("Z")


@given(paths())
def test_path_data_read_back_is_the_same_curve(path: Path) -> None:
    rows, closed = curve(svg.path_data(path, HEIGHT))
    assert closed == path.closed
    if len(rows) < 2:
        return
    again = Path(rows, closed)
    # A digit is worth 0.1 µm; arcs that are nearly straight are as long as they are flat, so they lose a little more.
    assert again.distance(path.points(0.001)).max() < 0.001
    assert path.distance(again.points(0.001)).max() < 0.001


@pytest.mark.parametrize("bulge", [0.2, -0.2, 0.7, -0.7, 1.0, -1.0])
def test_arcs_have_their_radius_and_turn_the_right_way(bulge: float) -> None:
    path = Path(np.array([[10.0, 20.0, bulge], [40.0, 35.0, 0.0]]))
    arcs = [numbers for letter, numbers in tokens(svg.path_data(path, HEIGHT)) if letter == "A"]
    assert len(arcs) == (2 if abs(bulge) > math.tan(math.pi / 6) else 1)
    for numbers in arcs:
        assert numbers[0] == pytest.approx(arc_of((10, 20), (40, 35), bulge)[2], abs=1e-4)
        # Anticlockwise seen with y up is against SVG's positive angle, which turns from +x to the +y that points down.
        assert numbers[4] == (0.0 if bulge > 0 else 1.0)


def test_a_round_ended_slot_is_two_lines_and_four_quarter_turns() -> None:
    (loop,) = slot((0, 0), (100, 0), 20).loops
    data = svg.path_data(loop, HEIGHT)
    assert data == "M10 510L90 510A10 10 0 0 0 100 500A10 10 0 0 0 90 490L10 490A10 10 0 0 0 0 500A10 10 0 0 0 10 510Z"


@given(drawings())
def test_any_drawing_gives_sound_xml_with_plain_numbers(drawing: Drawing) -> None:
    text = svg.render(drawing)
    root = ElementTree.fromstring(text)
    for element in root.iter():
        for name, value in element.attrib.items():
            if name in ("d", "x", "y", "width", "height", "viewBox", "transform", "font-size"):
                assert not re.search(r"\d[eE][-+]?\d|nan|inf|-0(?![.\d])|-0\.0+(?!\d)", value), (name, value)


def test_it_is_true_to_size() -> None:
    drawing = Drawing("", ((View("", (Item("stock", rectangle(0, 0, 120, 80)),)),),), "mm")
    root = ElementTree.fromstring(svg.render(drawing))
    assert root.get("width") == "297mm"
    assert root.get("height") == "210mm"
    assert root.get("viewBox") == "0 0 297 210"
    boxes = [
        np.ptp(curve(path.get("d") or "")[0][:, :2], axis=0)
        for g in root.iter(f"{SPACE}g")
        if g.get("class") == "stock"
        for path in g
    ]
    assert any(box == pytest.approx([120, 80], abs=1e-4) for box in boxes)


@pytest.mark.parametrize(("units", "length"), [("mm", 100.0), ("in", 101.6)])
def test_the_check_bar_is_as_long_as_it_says(units: str, length: float) -> None:
    text = svg.render(Drawing("", ((View("", (Item("cut", rectangle(0, 0, 10, 10)),)),),), units))
    root = ElementTree.fromstring(text)
    spans = [
        np.ptp(curve(path.get("d") or "")[0][:, 0])
        for g in root.iter(f"{SPACE}g")
        if g.get("class") == "stock"
        for path in g
    ]
    assert any(span == pytest.approx(length, abs=1e-4) for span in spans)
    assert ("measures 100 mm" if units == "mm" else "measures 4 in") in text


@pytest.mark.parametrize("hostile", HOSTILE)
def test_text_cannot_become_markup(hostile: str) -> None:
    view = View(
        hostile,
        (Item("stock", rectangle(0, 0, 100, 50)),),
        (Label(50, 25, hostile),),
        (Dimension((0, 0), (100, 0), -8, hostile, "x"),),
    )
    drawing = Drawing(hostile, ((view,),), facts=((hostile, hostile),), notes=(hostile,))
    root = ElementTree.fromstring(svg.render(drawing).encode("utf-8"))
    allowed = {SPACE + name for name in ("svg", "title", "rect", "defs", "pattern", "path", "g", "text")}
    assert {element.tag for element in root.iter()} <= allowed
    assert not any(name.startswith("on") or "href" in name for element in root.iter() for name in element.attrib)


def test_nothing_is_fetched() -> None:
    text = svg.render(Drawing("", ((View("", tuple(Item(role, rectangle(0, 0, 9, 9), True) for role in PENS)),),)))
    assert re.findall(r"https?://[^\"]+", text) == ["http://www.w3.org/2000/svg"]
    assert set(re.findall(r"url\(([^)]*)\)", text)) <= {f"#fill-{role}" for role in PENS}


def test_figures_of_short_dimensions_do_not_run_into_each_other() -> None:
    chain = tuple(Dimension((a, 0), (a + 4, 0), -8, along="x") for a in (0, 4, 8, 12))
    page = compose(Drawing("", ((View("", (Item("stock", rectangle(0, 0, 16, 10)),), (), chain),),)))
    figures = [words.corners for words in page.words if words.text == "4 mm"]
    assert len(figures) == 4


def test_labels_do_not_run_into_each_other_or_into_figures() -> None:
    labels = tuple(Label(50, 25, f"words number {n}") for n in range(8))
    view = View("", (Item("stock", rectangle(0, 0, 100, 50)),), labels, (Dimension((0, 0), (100, 0), -8, along="x"),))
    page = compose(Drawing("", ((view,),)))
    boxes = [words.corners for words in page.words if words.text.startswith("words") or words.text == "100 mm"]
    assert len(boxes) == 9
    for i, a in enumerate(boxes):
        for b in boxes[:i]:
            apart = (a.min(0) >= b.max(0) - 0.7) | (b.min(0) >= a.max(0) - 0.7)
            assert apart.any()


@given(drawings())
def test_everything_is_on_the_sheet(drawing: Drawing) -> None:
    page = compose(drawing)
    for stroke in page.strokes:
        x0, y0, x1, y1 = stroke.path.bounds
        assert min(x0, y0) >= -1e-6
        assert x1 <= page.paper.width + 1e-6
        assert y1 <= page.paper.height + 1e-6


def test_bytes_do_not_depend_on_the_order_of_hashes() -> None:
    code = (
        "import sys; sys.path.insert(0, 'tests')\n"
        "from support.sample_drawing import sample\n"
        "from jigcam.drawing import svg, terminal\n"
        "sys.stdout.buffer.write((svg.render(sample()) + terminal.render(sample(), 100, colour=True)).encode())\n"
    )
    root = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
    seen = {
        hashlib.sha256(
            subprocess.run(
                [sys.executable, "-c", code],
                cwd=root,
                check=True,
                capture_output=True,
                env={**os.environ, "PYTHONHASHSEED": seed},
            ).stdout
        ).hexdigest()
        for seed in ("0", "1", "4711")
    }
    assert len(seen) == 1
