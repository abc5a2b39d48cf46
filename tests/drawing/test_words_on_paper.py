"""Words on drawings of every kind, as they are printed: off each other, large enough, on the paper; and their judge."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from support.scenes import template_scene
from support.seen_page import MARGIN, Watched, beyond, on_drawing, overlaps, seen, too_small

from jigcam.drawing import pdf
from jigcam.drawing.ink import Words
from jigcam.drawing.model import Dimension, Item, View
from jigcam.drawing.page import compose
from jigcam.drawing.plate import Plate
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
