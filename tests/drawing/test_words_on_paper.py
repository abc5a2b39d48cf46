"""Words on drawings of every kind, as they are printed: off each other, large enough, on the paper; and their judge."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from support.scenes import template_scene
from support.seen_page import MARGIN, Watched, beyond, on_drawing, overlaps, seen, too_small

from jigcam.drawing import pdf
from jigcam.drawing.ink import Words
from jigcam.drawing.model import Dimension, Drawing, Item, Label, View
from jigcam.drawing.page import compose
from jigcam.drawing.picture import dimension_line
from jigcam.drawing.plate import Plate
from jigcam.drawing.sized import sized_view
from jigcam.geometry import Path as Line
from jigcam.geometry import rectangle
from jigcam.job import kit_for
from jigcam.joints import kind_called, kind_names
from jigcam.piece.board_drawing import board_drawings
from jigcam.units import Unit
from jigcam.workshop.build import plan_job
from jigcam.workshop.loading import load_job


def test_the_judge_of_words_sees_what_is_wrong() -> None:
    crossing = on_drawing([Words(50, 50, "one board", 2.5), Words(52, 49, "another", 2.5, angle_deg=60)])
    assert [*overlaps(crossing)] == [("one board", "another")]
    assert not [*overlaps(on_drawing([Words(50, 50, "above", 2.5), Words(50, 46, "below", 2.5)]))]
    assert [text for text, _ in too_small(on_drawing([Words(50, 50, "small", 1.5), Words(0, 0, "large", 1.6)]))] == [
        "small"  # 1.55 mm are the capitals of 6 pt
    ]
    assert beyond(on_drawing([Words(MARGIN - 1, 50, "off", 2.5), Words(50, 50, "on", 2.5)]), 100, 100) == ["off"]


def test_the_judge_follows_a_page_that_is_moved_turned_and_shrunk() -> None:
    page = Watched()
    page.saveState()
    page.translate(40.0, 30.0)
    page.scale(0.5, 0.5)
    page.rotate(90.0)
    page.setFont("Vera", 4.0)
    page.drawString(2.0, 0.0, "up")
    page.restoreState()
    page.drawString(39.0, 30.0, "level")
    up, level = page.said
    assert up.size == pytest.approx(level.size / 2)
    assert up.corners[0] == pytest.approx((40.0, 31.0))
    assert up.corners[1][1] > up.corners[0][1]  # its base line runs upward
    assert [*overlaps(page.said)] == [("up", "level")]


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("name", kind_names())
def test_words_on_drawings_of_a_starter_keep_off_each_other(name: str, units: Unit, tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(kind_called(name).starter(units), "utf-8")
    job = load_job(path)
    joints = plan_job(job, kit_for(job, None))
    taken = [each for joint in joints for each in joint.taken]
    every = [drawing for joint in joints for drawing in joint.plan.drawings().values()]
    boards = board_drawings(taken, job.voice, {}, job.title)
    assert every
    assert boards
    for drawing in (*every, *boards.values()):
        page = compose(drawing)
        said = on_drawing(page.words)
        assert not [*overlaps(said)], drawing.title
        assert not too_small(each for each in said if not each.ground), drawing.title
        assert not beyond(said, page.paper.width, page.paper.height), drawing.title


def test_details_on_the_first_page_of_a_template_can_be_read() -> None:
    """However many there are: they are drawn anew for their room, not shrunk with their figures."""
    template = template_scene()
    (main,) = (view for view in template.views if not view.minor)
    (detail,) = (view for view in template.views if view.minor)
    drawing = replace(template, rows=((main, detail, replace(detail, caption="and of the other opening")),))
    said = seen(pdf.leaves(drawing, "letter")[0])
    assert {"and of the other opening", detail.caption} <= {each.text for each in said}
    assert not too_small(said)
    assert not [*overlaps(said)]


def figure(dimension: Dimension, *others: Dimension) -> Words:
    """The figure of the first dimension, among all."""
    plate = Plate(View("one", (Item("stock", rectangle(0, 0, 60, 30)),), (), (dimension, *others)), "mm")
    (found,) = (each for each in plate.ink.words if each.text == dimension.figure("mm"))
    return found


def test_a_short_upright_dimension_has_its_figure_level_beside_it() -> None:
    words = figure(Dimension((60.0, 0.0), (60.0, 4.0), -8.0, along="y"))
    assert words.angle_deg == 0.0
    assert words.anchor == "start"
    assert (words.x, words.y) == pytest.approx((70.2, 2.0 - 1.25))
    left = figure(Dimension((0.0, 0.0), (0.0, 4.0), 8.0, along="y"))
    assert (left.anchor, left.x) == ("end", pytest.approx(-10.2))


def test_a_figure_past_the_end_of_its_line_keeps_off_extension_lines() -> None:
    """The depth from the lower face: past its upper end runs the extension line of the thickness, so below it goes."""
    words = figure(Dimension((60, 0), (60, 4), -8.0, along="y"), Dimension((60, 0), (60, 12), -12.0, along="y"))
    assert words.angle_deg == pytest.approx(90.0)
    assert words.corners[:, 1].max() < 0.0


@pytest.mark.parametrize(("end", "degrees"), [((-10.0, 50.0), 101.3), ((10.0, 50.0), 78.7), ((-50.0, 10.0), -11.3)])
def test_figures_are_read_from_below_or_from_the_right(end: tuple[float, float], degrees: float) -> None:
    """Also of a line that leans a little to the left, beside upright ones (habit of the trade, no source)."""
    assert figure(Dimension((0.0, 0.0), end, 0.0)).angle_deg == pytest.approx(degrees, abs=0.05)


def test_a_long_figure_does_not_stand_upright_past_its_line() -> None:
    long = Dimension((0.0, 0.0), (0.0, 8.0), 8.0, "9.275 in from the lower edge", along="y")
    shelf = Dimension((0.0, -20.0), (0.0, 40.0), 30.0, along="y")  # what is level beside the line would cross this one
    assert figure(long, shelf).angle_deg == 0.0


def test_the_name_of_a_face_stays_by_its_own_face_where_the_board_is_too_thin_for_it() -> None:
    """A board 3 mm thick on paper, its outside face down: the name does not jump over it to the other face."""
    items = (Item("stock", rectangle(0.0, 0.0, 80.0, 3.0)), Item("hidden", Line.through([(0.0, 1.5), (80.0, 1.5)])))
    view = View("", items, (Label(40.0, 0.0, "outside face", "above"),))
    (words,) = Plate(view, "mm").ink.words
    assert words.corners[:, 1].max() < 0.0


def test_what_does_not_fit_into_its_part_is_led_to_it_and_does_not_seem_to_name_the_part_beside_it() -> None:
    """A tenon 8 mm wide in a post: its name finds room in the post alone."""
    walls = tuple(Item("stock", Line.through([(x, -30.0), (x, 30.0)])) for x in (-4.0, 4.0))
    ink = Plate(View("", walls, (Label(0.0, 0.0, "loose tenon", "on"),)), "mm").ink
    (words,) = ink.words
    assert words.corners[:, 0].max() < -4.0 or words.corners[:, 0].min() > 4.0
    (leader,) = [stroke.path for stroke in ink.strokes if stroke.role == "dimension"]
    assert leader.points(0.1)[-1] == pytest.approx((0.0, 0.0))
    # Where it fits there is nothing to lead to.
    wide = tuple(Item("stock", Line.through([(x, -30.0), (x, 30.0)])) for x in (-40.0, 40.0))
    ink = Plate(View("", wide, (Label(0.0, 0.0, "loose tenon", "on"),)), "mm").ink
    assert not [stroke for stroke in ink.strokes if stroke.role == "dimension"]


def starter_view(name: str, seen: str, path: Path) -> View:
    """The view of a metric starter whose caption holds these words."""
    (path / "job.toml").write_text(kind_called(name).starter("mm"), "utf-8")
    job = load_job(path / "job.toml")
    (joint,) = plan_job(job, kit_for(job, None))
    return next(v for each in joint.plan.drawings().values() for v in each.views if seen in v.caption)


def test_no_dimension_line_runs_along_the_edge_of_a_mortised_end(tmp_path: Path) -> None:
    """The starter's rail is 30 mm thick with its mortise in the middle: 15 mm to the edge."""
    end = starter_view("mortise", "end of rail", tmp_path)
    edges = {
        y for item in end.items if item.role == "stock" for path in item.paths for y in path.points(0.1)[:, 1].tolist()
    }
    (length,) = [each for each in end.dimensions if each.along == "points"]
    assert min(abs(length.p0[1] + length.offset - y) for y in edges) > 4.9


def test_the_length_of_a_bow_tie_is_measured_beside_its_opening_and_not_through_it(tmp_path: Path) -> None:
    sheet = starter_view("key", "template on", tmp_path)
    (opening,) = [item.shape for item in sheet.items if item.role == "opening"]
    (length,) = [each for each in sheet.dimensions if each.along == "points"]
    (nx, _), ends = dimension_line(length)
    x0, _, x1, _ = opening.bounds
    assert all(not x0 - 3.0 < x + nx * length.offset < x1 + 3.0 for x, _ in ends)


def test_the_outside_face_of_a_sliding_tail_is_named_below_it_however_thin_it_is_drawn(tmp_path: Path) -> None:
    """The caption of the end says no more than that: words above the end would give the board the wrong hand."""
    end = starter_view("sliding-dovetail", "the tail in white", tmp_path)
    for scale in (1.0, 0.25):
        small = sized_view(end, scale, Drawing("", ()))
        (words,) = [each for each in Plate(small, "mm").ink.words if each.text == "outside face"]
        assert words.corners[:, 1].max() < 0.0
