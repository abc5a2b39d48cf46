"""Pages that fill: closed up where that saves one, none all but empty, words off each other and off lines to cut."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from math import atan, cos, pi
from pathlib import Path as FilePath

import numpy as np
import pypdf
import pytest
from reportlab.pdfgen.canvas import Canvas
from support.scenes import template_scene

import jigcam
from jigcam.drawing import pdf
from jigcam.drawing.axes_arms import arms_below, arms_beside
from jigcam.drawing.brief_legend import brief_legend
from jigcam.drawing.flow import BODY, REMNANT, Flow
from jigcam.drawing.flow_settling import LOOSER
from jigcam.drawing.ink import Ink, Words
from jigcam.drawing.leaf import bound
from jigcam.drawing.model import AngleDimension, Axes, Dimension, Drawing, Item, Label, View
from jigcam.drawing.paper import HOME
from jigcam.drawing.plate import MATTERS, SMALLEST, Plate
from jigcam.drawing.sized import fitted, sized_view
from jigcam.drawing.text import advance
from jigcam.drawing.title_block import title_block
from jigcam.geometry import Path, rectangle
from jigcam.job import kit_for
from jigcam.making.blocks import Heading, Points
from jigcam.making.sheet_pages import _boxed
from jigcam.units.setting import ToSet
from jigcam.workshop.build import plan_job
from jigcam.workshop.loading import load_job

A4 = HOME["a4"]
SENTENCE = "The board lies with its face up and its lower edge toward you, against the fence."


def lines(count: int) -> Callable[[Flow], None]:
    """A filling of so many sentences of one line."""

    def fill(flow: Flow) -> None:
        for _ in range(count):
            flow.words(SENTENCE[:60])

    return fill


def filled(count: int) -> Flow:
    flow = Flow(A4, "test")
    flow.settle(lines(count))
    return flow


def loose(count: int) -> Flow:
    flow = Flow(A4, "test")
    lines(count)(flow)
    return flow


def test_a_few_sentences_beyond_a_page_close_up() -> None:
    one_page = next(n for n in range(10, 200) if loose(n + 1).pages == 2)
    assert filled(one_page).pages == 1
    assert loose(one_page + 2).pages == 2
    assert filled(one_page + 2).pages == 1


def test_what_cannot_close_up_is_shared_out() -> None:
    one_page = next(n for n in range(10, 200) if loose(n + 1).pages == 2)
    full = int(one_page * 1.17)  # more than lines may close up
    assert loose(full).remnants == 1
    settled = filled(full)
    assert settled.pages == 2
    assert settled.remnants == 0
    used = A4.height - 18.0 - settled.y
    assert used >= REMNANT * settled.high


def test_a_legend_says_what_no_word_in_the_picture_says() -> None:
    shapes = (
        Item("opening", rectangle(0, 0, 9, 9)),
        Item("sheet", rectangle(0, 0, 9, 9)),
        Item("hole", rectangle(1, 1, 2, 2)),
    )
    said = View("one", shapes, (Label(1, 1, "opening"), Label(2, 2, "sheet")))
    assert [role for role, _ in brief_legend(Drawing("d", ((said,),)))] == ["hole"]
    unsaid = replace(said, labels=())
    assert [role for role, _ in brief_legend(Drawing("d", ((unsaid,),)))] == ["opening", "sheet", "hole"]


def overlaps(ink: Ink) -> list[tuple[str, str]]:
    """Words of a picture that run into each other or into engraved ones, or a line to cut that runs through words; by
    the letters alone."""
    found = []
    words = [each for each in ink.words if not each.room]
    engraved = [each for each in ink.words if each.room]
    for place, one in enumerate(words):
        for other in [*words[:place], *engraved]:
            if _apart(_corners(one), _corners(other)):
                continue
            found.append((one.text, other.text))
        for stroke in ink.strokes:
            if stroke.role in MATTERS and stroke.path.length > 0:
                points = stroke.path.at(np.linspace(0.0, stroke.path.length, 2 + int(stroke.path.length * 3)))[0]
                if _inside(points, _corners(one)):
                    found.append((one.text, stroke.role))
    return found


def _corners(words: Words) -> np.ndarray:
    """Of the capitals, without room around them."""
    wide = words.room or advance(words.text, words.size)
    left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[words.anchor]
    table = np.array([(left, 0.0), (left + wide, 0.0), (left + wide, words.size), (left, words.size)])
    a = np.radians(words.angle_deg)
    corners: np.ndarray = table @ np.array([[np.cos(a), np.sin(a)], [-np.sin(a), np.cos(a)]]) + (words.x, words.y)
    return corners


def _apart(one: np.ndarray, other: np.ndarray) -> bool:
    """Two rectangles are apart where a side of one parts them (separating axes)."""
    for table in (one, other):
        for axis in (table[1] - table[0], table[3] - table[0]):
            a, b = one @ axis, other @ axis
            if a.max() <= b.min() + 1e-9 or b.max() <= a.min() + 1e-9:
                return True
    return False


def _inside(points: np.ndarray, corners: np.ndarray) -> bool:
    origin, across, up = corners[0], corners[1] - corners[0], corners[3] - corners[0]
    u, v = (points - origin) @ across / (across @ across), (points - origin) @ up / (up @ up)
    return bool(((u > 0.02) & (u < 0.98) & (v > 0.05) & (v < 0.95)).any())


@pytest.fixture(scope="module")
def template() -> Drawing:
    return template_scene()


@pytest.fixture(scope="module")
def keys() -> Drawing:
    """The template of two keys, with many words engraved around its opening, in inches."""
    job = load_job(FilePath(jigcam.__file__).parent / "joints" / "key" / "starter.toml")
    (made,) = plan_job(job, kit_for(job, None))
    return made.plan.drawings()["template"]


@pytest.mark.parametrize("scale", [0.25, 0.33, 0.4, 0.5, 0.7, 1.0])
def test_engraved_words_cover_no_figure(keys: Drawing, scale: float) -> None:
    """Squares of the ground that a word only touched counted as free, and a figure stood half on it."""
    view = keys.views[0]
    assert any(each.spot == "start" for each in view.labels)
    ink = Plate(sized_view(view, scale, keys), keys.units).ink
    engraved = [each for each in ink.words if each.room]
    for one in ink.words:
        assert one.room or all(_apart(one.corners, other.corners) for other in engraved), one.text


@pytest.mark.parametrize("way", [0.0, pi])
@pytest.mark.parametrize("off", [14.0, 18.0, 22.0, 26.0])
def test_the_slope_of_a_flank_is_struck_by_no_line(way: float, off: float) -> None:
    """It stood beyond its arc, whatever came there: the broken end of the board, or a dimension with its arrows."""
    lean = atan(1 / 8)
    x = off * cos(way)
    lines = (Item("stock", Path.through([(-x, 0.0), (0.0, 0.0)])), Item("break", Path.through([(x, -30.0), (x, 30.0)])))
    view = View(
        "flank",
        lines,
        dimensions=(Dimension((x + 3.0, -9.0), (x + 3.0, 9.0), 2.0, along="y"),),
        angles=(AngleDimension((0.0, 0.0), way - lean, way, 10.0, "1:8"),),
    )
    ink = Plate(view, "mm").ink
    (slope,) = [each for each in ink.words if each.text == "1:8"]
    for stroke in ink.strokes:
        points = stroke.path.at(np.linspace(0.0, stroke.path.length, 2 + int(stroke.path.length * 5)))[0]
        assert not _inside(points, _corners(slope)), stroke.role


@pytest.mark.parametrize("high", [60.0, 92.0, 150.0])
def test_figures_of_a_small_template_keep_off_each_other_and_off_the_opening(template: Drawing, high: float) -> None:
    for view in template.views:
        _, ink = fitted(view, template, 150.0, high)
        assert overlaps(ink) == []
        assert all(each.size >= SMALLEST for each in ink.words)


def test_a_figure_without_room_at_its_line_stands_off_with_a_line_to_it() -> None:
    slot = rectangle(0.0, 0.0, 6.0, 40.0)
    dimensions = (Dimension((0.0, 20.0), (6.0, 20.0), 0.0, along="x"),)
    many = tuple(Item("cut", rectangle(x, 0.0, x + 6.0, 40.0)) for x in (-10.0, 10.0))
    ink = Plate(View("one", (Item("cut", slot), *many), (), dimensions), "mm").ink
    assert overlaps(ink) == []
    assert [each.text for each in ink.words] == ["6 mm"]


def test_paper_for_the_saw_has_no_marks_of_the_machine(template: Drawing) -> None:
    """Tabs, blank, zero and the ride of the bushing are the machine's; opening, holes and words to copy stay."""
    roles = {item.role for item in template.items}
    assert {"tab", "blank", "ride"} <= roles
    paper = {item.role for item in pdf.by_hand(template).items}
    assert roles - paper == {"tab", "blank", "ride"}
    assert all(view.axes is None for view in pdf.by_hand(template).views)
    board = Drawing("board", ((View("one", (Item("stock", rectangle(0, 0, 9, 9)),)),),))
    assert pdf.by_hand(board) is board


def test_a_sheet_says_on_which_side_its_neighbours_are() -> None:
    tall = Path.through([(0, 0), (100, 0), (100, 450), (0, 450)], closed=True)
    pages = pypdf.PdfReader(io.BytesIO(pdf.render(Drawing("tall", ((View("", (Item("cut", tall),)),),)), "a4"))).pages
    words = [" ".join(page.extract_text().split()) for page in pages[1:]]
    assert "A2 below" in words[0]
    assert "A1 above" in words[1]
    assert not any("beside" in each or "at its" in each for each in words)


@pytest.mark.parametrize(("angle", "side"), [("first", 1.0), ("third", -1.0)])
def test_the_sign_of_the_projection(angle: str, side: float) -> None:
    """The small end of the cone is at the left. What is seen from the left stands at the right in first angle, and at
    the left in third (ISO 5456-2, from memory)."""
    seen: dict[str, list[float]] = {"circle": [], "cone": []}

    class Watched(Canvas):  # type: ignore[misc]
        def circle(self, x: float, *rest: object, **more: object) -> None:
            seen["circle"].append(x)

        def drawPath(self, path: object, **more: object) -> None:  # noqa: N802 - reportlab's name
            seen["cone"] += [float(path.getCode().split()[1])]  # type: ignore[attr-defined]

    canvas = Watched(io.BytesIO())
    title_block(canvas, A4, 16.0, 12.0, ((("board", "side"), ("piece", "cabinet")),), angle)  # type: ignore[arg-type]
    (circles,) = set(seen["circle"])
    (cone,) = seen["cone"]
    assert (circles - cone) * side > 0.0


def test_nothing_is_printed_smaller_than_can_be_read() -> None:
    """7 pt of a typeface whose capitals are 0.73 of its size (common practice, no source) are 1.8 mm."""
    assert pytest.approx(7 * 25.4 / 72 * 0.73, abs=0.01) == SMALLEST
    flow = Flow(A4, "test")
    flow.lines(["x" * 300, "y" * 40])
    flow.grid(("a" * 30, "b" * 90), [("c" * 30, "d" * 400)], size=BODY)
    sizes: list[float] = []

    def see(text: str, cm: list[float], tm: list[float], font: object, size: float) -> None:
        if text.strip():
            sizes.append(size * cm[0] * tm[0])

    for page in pypdf.PdfReader(io.BytesIO(bound(flow.leaves, "t"))).pages:
        page.extract_text(visitor_text=see)
    assert min(sizes) >= 6.99


def tall_picture() -> Drawing:
    """A rod that is as large as its view may be high."""
    return Drawing("", ((View("rod", (Item("stock", rectangle(0.0, 0.0, 40.0, 900.0)),)),),), "mm")


def test_pictures_are_larger_where_that_takes_no_page_more() -> None:
    def scale(looser: bool, after: int) -> tuple[float, int]:
        found: list[float] = []

        def fill(flow: Flow) -> None:
            found.append(flow.picture(tall_picture(), 60.0))
            lines(after)(flow)

        flow = Flow(A4, "test")
        flow.settle(fill, looser=looser)
        end = flow.y
        found.clear()
        tried = {tight: settled_alone(fill, tight) for tight in (1.0, *LOOSER)}
        (taken,) = (tight for tight, each in tried.items() if each.y == pytest.approx(end))
        return taken, len(flow.leaves)

    assert scale(False, 4) == (1.0, 1)
    assert scale(True, 4) == (LOOSER[0], 1)
    less, pages = scale(True, 28)
    assert pages == 1
    assert 1.0 <= less < LOOSER[0]


def settled_alone(fill: Callable[[Flow], None], tight: float) -> Flow:
    flow = Flow(A4, "test", tight=tight)
    fill(flow)
    return flow


def test_numbers_to_be_set_stand_on_the_page_of_their_sentences() -> None:
    """Wherever on the page the heading comes: the numbers and what is to be done with the first of them."""
    step = ToSet("Set the bit 5/8 in below the base.", "bit below the base", "5/8 in")
    blocks = (Heading("5. Opening 2 of 2"), Points((SENTENCE, step)))
    for before in range(20, 36):
        flow = Flow(A4, "test")
        lines(before)(flow)
        _boxed(flow, blocks)
        pages = [each.extract_text() for each in pypdf.PdfReader(io.BytesIO(bound(flow.leaves, "t"))).pages]
        (at,) = (place for place, text in enumerate(pages) if "Opening 2 of 2" in text)
        assert "bit below the base" in pages[at]
        assert "toward you" in pages[at]


@pytest.mark.parametrize("place", [arms_below, arms_beside])
def test_arms_of_axes_meet_nothing(place: Callable[[Axes, Ink], Ink]) -> None:
    ink = Ink(words=[Words(-20.0, 14.0, "left end", 3.0)])
    ink.box("stock", 0.0, 0.0, 60.0, 30.0)
    ink.words.append(Words(2.0, -5.0, "lower edge", 3.0))
    x0, y0, x1, y1 = place(Axes("X", "Y"), ink).bounds
    for each in ink.words:
        (a, b), (c, d) = each.corners.min(axis=0), each.corners.max(axis=0)
        assert not (a < x1 and x0 < c and b < y1 and y0 < d)
    assert not (x1 > 0.0 and y1 > 0.0)
    if place is arms_beside:
        assert y0 >= ink.bounds[1] - 0.5


def test_a_view_that_lacks_height_has_its_axes_beside_it() -> None:
    view = View("", (Item("stock", rectangle(0.0, 0.0, 400.0, 300.0)),), axes=Axes("X", "Y", (0.0, 0.0)))
    scale, ink = fitted(view, Drawing("", ((view,),), "mm"), 180.0, 44.0)
    x0, y0, x1, y1 = ink.bounds
    assert x1 - x0 <= 180.0
    assert y1 - y0 <= 44.01
    above = 300.0 * scale
    assert above > 36.0  # below it they would leave less
