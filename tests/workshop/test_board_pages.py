"""Pages of a board's drawing: its face as large as may be on few pages, whatever the order of its other views."""

from __future__ import annotations

from pathlib import Path

from support.jobs import job_table, write_job
from support.seen_page import seen

from jigcam.drawing.model import Dimension, Drawing, Item, View
from jigcam.drawing.paper import HOME
from jigcam.drawing.running import Running
from jigcam.geometry import rectangle
from jigcam.workshop.board_pages import board_pages
from jigcam.workshop.loading import load_job

LONG, WIDE, THICK = 558.8, 285.75, 23.8125
"""A board of 22 x 11-1/4 x 15/16 in, mm."""


def seen_at(caption: str, wide: float, high: float, *, minor: bool = False) -> View:
    """A view of the board with as many figures as such a view has."""
    places = tuple((wide * share, 0.0, "21-3/16 (21.188)") for share in (0.05, 0.3, 0.7, 1.0))
    running = () if minor else (Running("x", (0.0, 0.0), places, -14.0),)
    if high == THICK and not minor:  # the figures of an end stand above it too
        running = (*running, Running("x", (0.0, high), places, 14.0))
    thick = Dimension((wide, 0.0), (wide, high), -10.0, "15/16 (0.938)", along="y")
    across = Dimension((0.0, 0.0), (wide, 0.0), -8.0, "0.506", along="x")
    shapes = (Item("stock", rectangle(0, 0, wide, high)),)
    return View(caption, shapes, (), (thick, across) if minor else (thick,), minor=minor, running=running)


def test_sections_fill_the_page_of_a_face_that_is_shown_large(tmp_path: Path) -> None:
    """At 1:4 the face leaves no room for the end below it, but for two sections: they go there, and the end with the
    third on the next page. In their old order this took three pages, so the face was drawn at 1:8."""
    job = load_job(write_job(tmp_path, job_table("in")))
    sections = [seen_at(f"{name}-{name}", 62.0, THICK, minor=True) for name in "ABC"]
    views = [seen_at("face", LONG, WIDE), seen_at("end", WIDE, THICK), *sections]
    drawing = Drawing("side", tuple((view,) for view in views), "in", notes=("The face is seen square. " * 40,))
    leaves = board_pages(job, "side", drawing, HOME["letter"])
    first, second = ([each.text for each in seen(leaf)] for leaf in leaves)
    assert "1:4, or as told" in first
    assert {"face (scale 1:4)", "A-A (scale 1:1)", "B-B (scale 1:1)"} <= {*first}
    assert "C-C (scale 1:1)" in second
    assert any(text.startswith("end (scale") for text in second)
