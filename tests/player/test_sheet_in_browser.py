"""The setup sheet as HTML in a browser: nothing runs off a telephone's screen, and printed a clamping is one page."""

from __future__ import annotations

import base64
import io
import re
from pathlib import Path
from unicodedata import normalize

import pypdf
import pytest
from support.browser import Tab

from jigcam.making.built import Built
from jigcam.making.setup_sheet import SetupSheet, sheet_of
from jigcam.making.sheet_html import sheet_html


@pytest.fixture
def sheet(made_starters: dict[str, Built]) -> SetupSheet:
    """Of a corner of finger joints: four clampings of boards that stand."""
    made = made_starters["finger-joint"]
    return sheet_of(made.joints[0], made.proofs[0], made)


@pytest.fixture
def sheet_page(tab: Tab, folder: Path, made_starters: dict[str, Built], sheet: SetupSheet) -> Tab:
    made, path = made_starters["finger-joint"], folder / "sheet.html"
    path.write_text(sheet_html(sheet, made.joints[0].plan.drawings(), made.job.voice), "utf-8")
    tab.open(path)
    return tab


def test_a_clamping_is_printed_on_one_page(sheet_page: Tab, sheet: SetupSheet) -> None:
    """Once the pictures took so much room that what a file does came onto a page without them."""
    raw = sheet_page.call("Page.printToPDF", preferCSSPageSize=True)["data"]
    pages = [close(page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(base64.b64decode(raw))).pages]
    parts = [part for part in sheet.parts if part.topic == "clamping"]
    assert len(parts) == 4
    for part in parts:
        (page,) = [text for text in pages if close(part.blocks[0].text) in text]  # type: ignore[union-attr]
        for file in part.files:
            assert close(f"Run {file.file}") in page
            assert close(f"Dry run first: {file.file.removesuffix('.nc')}-dry-run.nc") in page
    assert not any(close("What is on this sheet") in page for page in pages)


@pytest.mark.parametrize("width", [390, 1280])
def test_nothing_runs_off_the_screen(sheet_page: Tab, width: int) -> None:
    tab = sheet_page
    tab.size(width, 844)
    try:
        assert tab.run("document.documentElement.scrollWidth <= innerWidth")
        small = "[...document.querySelectorAll('dd, li, td, a, figcaption, .figures span')]"
        assert tab.run(f"Math.min(...{small}.map((e) => parseFloat(getComputedStyle(e).fontSize)))") >= 12
        assert tab.run("[...document.querySelectorAll('nav a')].every((a) => document.querySelector(a.hash))")
    finally:
        tab.size(1280, 800)


def close(text: str) -> str:
    """Without white space, as lines are broken elsewhere on a page, and letter by letter where two are one sign."""
    return re.sub(r"\s", "", normalize("NFKC", text))
