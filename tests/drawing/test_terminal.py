"""The terminal's pictures: never too wide, nothing lost, nothing harmful, the same every time."""

from __future__ import annotations

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.drawings import HOSTILE, drawings, items, views

from jigcam.drawing import PENS, AngleDimension, Axes, Dimension, Drawing, Item, Label, View, terminal
from jigcam.drawing.canvas import ACROSS, DOWN
from jigcam.drawing.picture import Picture, frame_for
from jigcam.drawing.running import Running
from jigcam.drawing.text import columns
from jigcam.geometry import Path, disc, rectangle

COLOUR = re.compile(r"\x1b\[(?:0|1|2|3[1256]|1;31)m")
widths = st.integers(1, 200)


@given(drawings(), widths, st.one_of(st.none(), st.integers(1, 80)), st.booleans(), st.booleans())
def test_no_line_is_wider_than_it_may_be(
    drawing: Drawing, width: int, height: int | None, colour: bool, unicode: bool
) -> None:
    text = terminal.render(drawing, width, height, colour, unicode)
    assert text.endswith("\n")
    bare = COLOUR.sub("", text)
    assert "\x1b" not in bare
    assert all(columns(line) <= width for line in bare.split("\n"))
    assert not any(line != line.rstrip() for line in bare.split("\n"))
    if not colour:
        assert text == bare
    if not unicode:
        assert bare.isascii()


@given(views(), st.integers(20, 160))
def test_colour_changes_no_character(view: View, width: int) -> None:
    drawing = Drawing("", ((view,),))
    plain, bright = (terminal.render(drawing, width, colour=colour) for colour in (False, True))
    assert COLOUR.sub("", bright) == plain


@given(items, st.integers(20, 120), st.integers(3, 40))
def test_every_shape_leaves_a_dot(item: Item, width: int, height: int) -> None:
    view = View("", (item,))
    frame, wide, high = frame_for(view, "mm", width, height)
    assert wide <= width
    assert high <= height
    assert Picture(view, "mm", frame, wide, high, True).canvas.dots.any()


@given(items, st.integers(20, 120))
def test_no_dot_is_off_the_shape(item: Item, width: int) -> None:
    view = View("", (item,))
    frame, wide, high = frame_for(view, "mm", width, 40)
    item = Item(item.role if item.role != "opening" else "stock", item.shape)  # the heavy pen is wider by a dot
    dots = Picture(View("", (item,)), "mm", frame, wide, high, True).canvas.dots
    y, x = np.nonzero(dots)
    spots = np.column_stack([(x - frame.left) / frame.scale, (frame.top - y) / frame.scale])
    away = np.min([path.distance(spots) for path in item.paths], axis=0)
    assert away.max() * frame.scale <= np.sqrt(0.5) + 0.26  # half a dot's diagonal, and the chords of arcs


def test_dots_are_square() -> None:
    view = View("", (Item("stock", disc(0, 0, 100)),))
    frame, wide, high = frame_for(view, "mm", 60, 30)
    rows, cols = np.nonzero(Picture(view, "mm", frame, wide, high, True).canvas.dots)
    assert abs(np.ptp(rows) - np.ptp(cols)) <= 1
    assert np.ptp(rows) > 0.8 * min(60 * ACROSS, 30 * DOWN)


def test_words_that_find_no_room_are_listed_below() -> None:
    crowd = tuple(Label(5, 5, f"words number {n}") for n in range(12))
    text = terminal.render(Drawing("", ((View("", (Item("stock", rectangle(0, 0, 10, 10)),), crowd),),)), 40, 12)
    for n in range(12):
        assert re.search(rf"words number {n}\b", text)


@pytest.mark.parametrize("unicode", [True, False])
@pytest.mark.parametrize("width", [24, 40, 80, 140])
def test_figures_of_dimensions_are_never_lost(width: int, unicode: bool) -> None:
    box = Item("stock", rectangle(0, 0, 300, 200))
    dimensions = (
        Dimension((0, 0), (300, 0), -8, along="x"),
        Dimension((0, 0), (0, 200), 8, along="y"),
        Dimension((0, 0), (300, 200), 8),
        Dimension((10, 0), (11, 0), -8, along="x"),
    )
    angles = (AngleDimension((150, 100), 0.0, 1.0, 40.0),)
    drawing = Drawing("", ((View("", (box,), (), dimensions, angles),),), "mm")
    text = terminal.render(drawing, width, unicode=unicode)
    for figure in ("300 mm", "200 mm", "360.56 mm", "1 mm", "57.3"):
        assert figure in text


def test_a_dimension_line_ends_where_it_measures() -> None:
    box = Item("stock", rectangle(0, 0, 100, 50))
    lines = terminal.render(
        Drawing("", ((View("", (box,), (), (Dimension((0, 0), (100, 0), -8, along="x"),)),),)), 60
    ).split("\n")
    bar = next(line for line in lines if "100 mm" in line and "├" in line and "┤" in line)
    edge = max(lines, key=lambda line: sum("⠀" < c <= "⣿" for c in line))
    assert bar.index("├") == len(edge) - len(edge.lstrip())
    assert abs(len(bar) - len(edge)) <= 1


def test_dimensions_in_a_chain_share_their_ends() -> None:
    chain = tuple(Dimension((a, 0), (a + 50, 0), -8, along="x") for a in (0, 50))
    text = terminal.render(Drawing("", ((View("", (Item("stock", rectangle(0, 0, 100, 50)),), (), chain),),)), 80)
    assert text.count("50 mm") >= 2
    assert "┼" in text


def test_the_legend_explains_each_role_once_and_dimensions_not_at_all() -> None:
    shapes = tuple(Item(role, rectangle(0, 0, 10, 10)) for role in PENS) * 2
    text = terminal.render(Drawing("", ((View("", shapes),),)), 100)
    for role, pen in PENS.items():
        wanted = 0 if role in ("arris", "dimension", "extension", "break", "plane") else 1
        assert len(re.findall(rf"[⠀-⣿⊕] *{re.escape(pen.name)}(?=   |$)", text, re.M)) == wanted, role


def test_roles_differ_without_colour() -> None:
    """Roles that meet in one scene have patterns or weights of their own, or are named in the picture."""

    def look(role: str) -> tuple[object, ...]:
        pen = PENS[role]
        return pen.line, pen.weight == "heavy", pen.fill

    together = (
        ("sheet", "opening", "fence", "hidden", "mark", "ride", "base", "cut"),
        ("path-cut", "path-rapid", "target", "blank", "gouge", "left"),
        ("stock", "sheet", "bit", "bushing", "base", "cut", "centreline"),
    )
    for roles in together:
        looks = [look(role) for role in roles]
        assert len(set(looks)) == len(looks), roles


@pytest.mark.parametrize("hostile", HOSTILE)
def test_names_cannot_move_the_cursor_or_break_lines(hostile: str) -> None:
    view = View(
        hostile,
        (Item("stock", rectangle(0, 0, 100, 50)),),
        (Label(50, 25, hostile),),
        (Dimension((0, 0), (100, 0), -8, hostile, "x"),),
        axes=Axes(hostile, hostile),
    )
    text = terminal.render(Drawing(hostile, ((view,),), facts=((hostile, hostile),), notes=(hostile,)), 60)
    text.encode("utf-8")
    assert not set(text) & {chr(c) for c in (*range(10), *range(11, 32), *range(127, 160), 0x202E, 0x202C, 0xFEFF)}


def test_a_fact_longer_than_a_line_goes_on_in_the_next_one() -> None:
    """Cut off after its point, a radius of 4.95 mm reads as one of 4."""
    tenon = "9.9 mm thick, 49.9 mm wide, 43.5 mm long, edges rounded to a radius of 4.95 mm"
    text = terminal.render(Drawing("", (), facts=(("width", "10 mm"), ("tenon", tenon), ("depth", "20 mm"))), 60)
    assert all(len(line) <= 60 for line in text.splitlines())
    assert f"width: 10 mm tenon: {tenon} depth: 20 mm" in " ".join(text.split())


def test_an_empty_drawing_is_only_its_title() -> None:
    assert terminal.render(Drawing("nothing", ())) == "nothing\n"
    assert "here" in terminal.render(Drawing("nothing", ((View("here", ()),),)))


def test_a_point_has_a_picture_too() -> None:
    speck = Item("hole", Path.through([(5, 5), (5, 5)]))
    text = terminal.render(Drawing("", ((View("", (speck,)),),)), 40)
    assert re.search("[⠁-⣿]", text)


def test_running_dimensions_of_a_board_at_80_columns() -> None:
    """Every figure is in the picture or listed below it, those in the picture at the place of their mark."""
    board = Item("stock", Path.through([(0, 0), (400, 0), (400, 150), (0, 150)], closed=True))
    marks = tuple((float(at), 0.0, f"{at}") for at in (20, 130, 260, 400))
    up = tuple((float(at), 0.0, f"{at}") for at in (40, 150))
    running = (Running("x", (0.0, 0.0), marks, -10.0), Running("y", (0.0, 0.0), up, -10.0))
    text = terminal.render(Drawing("board", ((View("face", (board,), running=running),),)), 80)
    lines = text.splitlines()
    assert all(len(line) <= 80 for line in lines)
    assert all(figure in text.split() for _, _, figure in (*marks, *up))
    below = next(line for line in lines if "130" in line.split())
    places = [below.index(figure) + len(figure) / 2 for _, _, figure in marks]
    scale = (places[3] - places[0]) / (400 - 20)
    for (at, _, _), place in zip(marks, places, strict=True):
        assert place - places[0] == pytest.approx((at - 20) * scale, abs=1.6)
    rows = [next(place for place, line in enumerate(lines) if figure in line.split()) for figure in ("150", "40")]
    assert rows[0] < rows[1], "the upper one above"


def test_running_figures_without_room_are_listed_below() -> None:
    board = Item("stock", Path.through([(0, 0), (400, 0), (400, 150), (0, 150)], closed=True))
    marks = tuple((float(at), 0.0, f"{at} mm exactly") for at in range(0, 400, 8))
    view = View("face", (board,), running=(Running("x", (0.0, 0.0), marks, -10.0),))
    text = terminal.render(Drawing("board", ((view,),)), 80)
    assert "from the same origin" in text
    told = " ".join(text.split())
    assert all(figure in told for _, _, figure in marks)
