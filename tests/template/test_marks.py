"""Texts reduced to plain capitals, and the raster on which they find a place."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.geometry import disc, rectangle, translation
from jigcam.template.box import Box
from jigcam.template.free import CELL, FreeSpace
from jigcam.template.marks import ALPHABET, Stroke, Text, moved, plain, text_width


@given(st.text(max_size=60))
def test_whatever_a_person_writes_comes_out_in_the_alphabet(text: str) -> None:
    reduced = plain(text)
    assert set(reduced) <= ALPHABET
    assert reduced == reduced.strip()
    assert "  " not in reduced
    assert plain(reduced) == reduced


@pytest.mark.parametrize(
    ("text", "reduced"),
    [
        ("tilted shelf", "TILTED SHELF"),
        ("x) G0 Z-50 (", "X G0 Z-50"),
        ("Türanschlag №3", "TURANSCHLAG NO3"),
        ("a\nb\r\tc", "A B C"),
        ("0.756 in", "0.756 IN"),
        ("櫻木", ""),
    ],
)
def test_plain(text: str, reduced: str) -> None:
    assert plain(text) == reduced


def test_moved_marks_keep_their_size() -> None:
    marks = (Stroke(((0.0, 0.0), (3.0, 4.0)), "line"), Text("A", 1.0, 2.0, 6.0))
    stroke, text = moved(marks, translation(10.0, 20.0))
    assert stroke == Stroke(((10.0, 20.0), (13.0, 24.0)), "line")
    assert text == Text("A", 11.0, 22.0, 6.0)
    assert text.width == text_width("A", 6.0) == pytest.approx(4.8)


@given(st.floats(5.0, 60.0), st.floats(3.0, 30.0), st.floats(0.0, 200.0), st.floats(0.0, 120.0))
def test_a_place_keeps_clear_of_all_that_is_taken(wide: float, high: float, x: float, y: float) -> None:
    sheet = Box(0.0, 0.0, 200.0, 120.0)
    space = FreeSpace(sheet, 3.0)
    hole, bar = disc(60.0, 60.0, 25.0), rectangle(120.0, 20.0, 130.0, 100.0)
    space.take_region(hole)
    space.take_region(bar)
    space.take_line([(0.0, 110.0), (200.0, 110.0)])
    space.take_box(Box(150.0, 0.0, 200.0, 40.0))
    box = space.place(wide, high, (x, y))
    if box is None:
        return
    assert box.size == pytest.approx((wide, high))
    assert box.margin_in(sheet) >= 3.0
    grid = np.stack(np.meshgrid(np.linspace(box.x0, box.x1, 20), np.linspace(box.y0, box.y1, 20)), -1).reshape(-1, 2)
    for region in (hole, bar, rectangle(150.0, 0.0, 200.0, 40.0)):
        assert (region.signed_distance(grid) <= -3.0 + CELL / 2).all()
    assert (np.abs(grid[:, 1] - 110.0) >= 3.0 - 1e-9).all()


def test_no_place_where_there_is_no_room() -> None:
    space = FreeSpace(Box(0.0, 0.0, 50.0, 50.0), 3.0)
    assert space.place(60.0, 5.0, (0.0, 0.0)) is None
    space.take_region(disc(25.0, 25.0, 24.0))
    assert space.place(20.0, 20.0, (25.0, 25.0)) is None
