"""PDF files, read back by pypdf: true size on home paper, sheets that join cross on cross, nothing to cut left out."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path as File

import numpy as np
import pypdf
import pytest
from support.jobs import job_table, write_job
from support.sample_drawing import sample
from support.shop import jigcam

from jigcam.drawing import pdf
from jigcam.drawing.model import Dimension, Drawing, Item, View
from jigcam.drawing.page import laid_out
from jigcam.drawing.paper import HOME, HomePaper
from jigcam.drawing.tiles import EDGE, FOOT, OVERLAP, TO_CUT, field_of, tiling
from jigcam.geometry import Path

POINTS = 72 / 25.4
"""Points of PDF in a millimetre (ISO 32000-1, 8.3.2.3: 1/72 in)."""
CLOSE = 0.1
"""mm: the bar for a PDF page."""


def one_view(shape: Path, role: str = "cut") -> Drawing:
    return Drawing("one", ((View("one", (Item(role, shape),)),),))  # type: ignore[arg-type]


def box(wide: float, high: float) -> Path:
    return Path.through([(0, 0), (wide, 0), (wide, high), (0, high)], closed=True)


def pages(raw: bytes) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(raw)).pages)


def drawn(page: pypdf.PageObject) -> Iterator[np.ndarray]:
    """The lines of a page as tables of end points, mm on the paper, with its matrices applied by hand."""
    stack, now = [], np.eye(3)
    line: list[np.ndarray] = []
    for operands, operator in page.get_contents().operations:  # type: ignore[union-attr]
        values = [float(v) for v in operands if isinstance(v, int | float)]
        match operator:
            case b"q":
                stack.append(now)
            case b"Q":
                now = stack.pop()
            case b"cm":
                a, b, c, d, e, f = values
                now = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ now
            case b"m":
                line = [np.array([*values, 1]) @ now]
            case b"l":
                line.append(np.array([*values, 1]) @ now)
            case b"c":
                line.append(np.array([*values[4:], 1]) @ now)
            case b"S" | b"s" | b"n" | b"B" | b"f" | b"f*":
                if line:
                    yield np.array(line)[:, :2] / POINTS
                line = []


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_every_page_is_home_paper_and_no_other(paper: HomePaper) -> None:
    sizes = {(float(page.mediabox.width), float(page.mediabox.height)) for page in pages(pdf.render(sample(), paper))}
    wide, high = HOME[paper].width * POINTS, HOME[paper].height * POINTS
    for size in sizes:
        assert min(abs(size[0] - wide) + abs(size[1] - high), abs(size[0] - high) + abs(size[1] - wide)) < 0.01


def test_a_drawing_that_fits_is_one_sheet_in_true_size() -> None:
    _, sheet = pages(pdf.render(one_view(box(120.0, 80.0)), "a4"))
    sizes = [np.ptp(table, axis=0) for table in drawn(sheet)]
    assert min(float(np.abs(size - (120.0, 80.0)).max()) for size in sizes) < CLOSE
    bars = [size[0] for size in sizes if size[1] == 0]
    assert min(abs(length - 100.0) for length in bars) < 0.01, "check bar"
    assert min(abs(length - 101.6) for length in bars) < 0.01, "check bar of 4 in"


def test_sheets_join_cross_on_cross() -> None:
    """Laid by the grid, each sheet shows the outline at the same place: the board of 400 × 500 comes out whole."""
    drawing = one_view(box(400.0, 500.0))
    ink = laid_out(drawing, minor=False)
    cut_up = tiling(ink, HOME["a4"])
    sheets = pages(pdf.render(drawing, "a4"))[1:]
    assert len(sheets) == len(cut_up.printed) > 2
    for tile, sheet in zip(cut_up.printed, sheets, strict=True):
        x0, y0, _, _ = tile.window
        placed = [table + np.array([x0 - EDGE, y0 - EDGE - FOOT]) for table in drawn(sheet)]
        assert any(np.abs(table.min(axis=0)).max() < CLOSE and np.ptp(table, axis=0)[1] > 499 for table in placed)
        for u in (tile.x, tile.x + tile.wide):
            for v in (tile.y, tile.y + tile.high):
                across = np.array([[u - OVERLAP / 2, v], [u + OVERLAP / 2, v]])
                assert any(table.shape == (2, 2) and np.abs(table - across).max() < CLOSE for table in placed), "cross"


def test_neighbours_share_their_grid_points_and_overlap() -> None:
    cut_up = tiling(laid_out(one_view(box(400.0, 500.0))), HOME["letter"])
    by_place = {(tile.column, tile.row): tile for tile in cut_up.tiles}
    for (column, row), tile in by_place.items():
        right, below = by_place.get((column + 1, row)), by_place.get((column, row + 1))
        if right:
            assert right.x == pytest.approx(tile.x + tile.wide)
            assert tile.window[2] - right.window[0] == pytest.approx(OVERLAP)
        if below:
            assert below.y + below.high == pytest.approx(tile.y)
            assert below.window[3] - tile.window[1] == pytest.approx(OVERLAP)
        wide, high = field_of(cut_up.paper)
        assert (tile.wide + OVERLAP, tile.high + OVERLAP) == pytest.approx((wide, high))


def test_no_line_to_cut_is_on_a_sheet_that_is_left_out() -> None:
    angled = Path.through([(0, 0), (700, 520)])
    ink = laid_out(one_view(angled))
    cut_up = tiling(ink, HOME["a4"])
    left_out = [tile for tile in cut_up.tiles if not tile.printed]
    assert left_out, "corners off the diagonal"
    for stroke in ink.strokes:
        if stroke.role in TO_CUT:
            points = stroke.path.at(np.linspace(0, stroke.path.length, 20_000))[0]
            for tile in left_out:
                inside = (points > (tile.x, tile.y)) & (points < (tile.x + tile.wide, tile.y + tile.high))
                assert not inside.all(axis=1).any()


def test_figures_beside_what_is_cut_are_on_a_sheet_where_there_is_room() -> None:
    """A key beside its board: sheets with room for both are not laid so that the figures at one side are cut off."""
    view = View("", (Item("cut", box(150, 100)),), (), (Dimension((150, 0), (150, 100), -25.0, "waist 16.49 mm", "y"),))
    ink = laid_out(Drawing("one", ((view,),)))
    cut_up = tiling(ink, HOME["a4"])
    x0, y0, x1, y1 = cut_up.tiles[0].window
    assert len(cut_up.tiles) == 1
    u0, v0, u1, v1 = ink.bounds
    assert (x0 <= u0, u1 <= x1, y0 <= v0, v1 <= y1) == (True,) * 4


def test_names_of_sheets_are_those_of_a_map() -> None:
    cut_up = tiling(laid_out(one_view(box(9000.0, 100.0))), HOME["a4"])
    assert [tile.name for tile in cut_up.tiles][24:28] == ["Y1", "Z1", "AA1", "AB1"]


def test_the_first_page_says_which_sheets_and_what_is_left_out() -> None:
    first, *sheets = pages(pdf.render(one_view(Path.through([(0, 0), (700, 520)])), "a4"))
    words = " ".join(first.extract_text().split())
    said = re.search(r"True size on (\d+) sheets of A4: ([A-Z0-9, ]+)\.", words)
    assert said
    assert int(said[1]) == len(sheets) == len(said[2].split(", "))
    assert [re.search(r"Sheet ([A-Z]+\d+)", sheet.extract_text())[1] for sheet in sheets] == said[2].split(", ")  # type: ignore[index]
    assert "Nothing is to be cut on" in words


def test_letters_that_the_typeface_has_not_are_spelled() -> None:
    titled = Drawing("regał 楽譜 ≥ 3", one_view(box(50.0, 50.0)).rows)
    assert "regał ?? " in pages(pdf.render(titled, "a4"))[0].extract_text()


def test_the_same_drawing_gives_the_same_bytes() -> None:
    assert pdf.render(sample(), "a4") == pdf.render(sample(), "a4")


def test_make_writes_them_only_where_paper_is_asked_for(tmp_path: File) -> None:
    job = write_job(tmp_path / "job", job_table("mm", length=60, width=12.5, receives=None))
    assert jigcam("make", job, "-o", tmp_path / "plain").status == 0
    assert jigcam("make", job, "-o", tmp_path / "paper", "--paper", "letter").status == 0
    assert not list((tmp_path / "plain").rglob("*.pdf"))
    drawings = {path.stem for path in (tmp_path / "paper").rglob("*.svg")}
    assert {path.stem for path in (tmp_path / "paper").rglob("*.pdf")} == {*drawings, "setup-sheet"} != {"setup-sheet"}
