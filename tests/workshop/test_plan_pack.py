"""The plan as a stranger reads it: home paper, the job attached, every word and number of the sheets on its pages."""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from dataclasses import replace
from html import unescape
from pathlib import Path
from typing import Any

import pypdf
import pytest
from support.jobs import job_table, write_job
from support.results import shape_faults
from support.seen_page import beyond, overlaps, seen, too_small

import jigcam
from jigcam.drawing.leaf import Leaf, bound
from jigcam.drawing.paper import HOME
from jigcam.making.blocks import HeadedTable, Heading, Points, Rows, Sentence
from jigcam.making.setup_sheet import SetupSheet, sheet_of
from jigcam.making.words import minutes
from jigcam.workshop.board_drawings import drawings_of_boards
from jigcam.workshop.plan_pack import Pack, plan_pack

POINTS = 72 / 25.4
"""Points of PDF in a millimetre (ISO 32000-1, 8.3.2.3: 1/72 in)."""
COMMAND = "jigcam make job.toml --plan --paper letter --kit inch-shop.toml"


def write_toml_job(folder: Path) -> Path:
    """A groove by template for both hands, and its board; the shelf is as wide as it leaves it."""
    table = job_table("in", way="template", opposite_hand=True)
    table["boards"]["shelf"]["width"] = "to fit"
    return write_job(folder, table)


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_toml_job(tmp_path_factory.mktemp("plan"))


@pytest.fixture(scope="module")
def leaves() -> list[Leaf]:
    """Those of the plan that is made."""
    return []


@pytest.fixture(scope="module")
def made(job: Path, leaves: list[Leaf]) -> jigcam.Made:
    def watched(pages: Sequence[Leaf], title: str, **how: Any) -> bytes:
        leaves.extend(pages)
        return bound(pages, title, **how)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("jigcam.workshop.plan_pack.bound", watched)
        return jigcam.make(job, plan=True, paper="letter")


@pytest.fixture(scope="module")
def reader(made: jigcam.Made) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(made.files["plan.pdf"]))


@pytest.fixture(scope="module")
def pages(reader: pypdf.PdfReader) -> list[str]:
    return [close(page.extract_text()) for page in reader.pages]


@pytest.fixture(scope="module")
def sheet(made: jigcam.Made) -> SetupSheet:
    built = made.built
    return sheet_of(built.joints[0], built.proofs[0], built)


def close(text: str) -> str:
    """Without white space, as lines are broken elsewhere on a page."""
    return re.sub(r"\s", "", text)


def told(sheet: SetupSheet) -> list[str]:
    """Every word of a sheet, sentence by sentence, the cautions apart."""
    found: list[str] = []
    for part in sheet.parts:
        if part.topic == "safety":
            continue
        for block in part.blocks:
            match block:
                case Heading(text) | Sentence(text):
                    found.append(text)
                case Points(sentences):
                    found += [each.strip() for each in sentences]
                case Rows(rows):
                    # What is set stands large, and what follows its semicolon below.
                    found += [piece.strip() for _, value in rows for piece in value.split(";")]
                case HeadedTable(head, rows):
                    found += [*head, *(cell for row in rows for cell in row)]
    return found


def test_only_pages_of_home_paper(reader: pypdf.PdfReader) -> None:
    sides = {tuple(sorted(float(side) / POINTS for side in page.mediabox[2:])) for page in reader.pages}
    assert len(sides) == 1
    assert len(reader.pages) > 8
    assert sides.pop() == pytest.approx((HOME["letter"].width, HOME["letter"].height), abs=0.01)


def test_no_word_begins_off_its_page(reader: pypdf.PdfReader) -> None:
    for page in reader.pages:
        if "Sheet A" in page.extract_text() or "Sheet B" in page.extract_text():
            continue  # a sheet in true size shows a part of a larger whole
        wide, high = map(float, page.mediabox[2:])
        places: list[tuple[float, float]] = []

        def see(text: str, cm: list[float], tm: list[float], font: object, size: object, to: list = places) -> None:
            if text.strip():
                x, y = tm[4], tm[5]
                to.append((x * cm[0] + y * cm[2] + cm[4], x * cm[1] + y * cm[3] + cm[5]))

        page.extract_text(visitor_text=see)
        assert places
        assert all(0.0 <= x <= wide and 0.0 <= y <= high for x, y in places)


def test_the_cover_says_what_is_inside_and_how_it_is_made_again(pages: list[str], reader: pypdf.PdfReader) -> None:
    cover = pages[0]
    assert close(COMMAND) in cover
    assert close("--kit my-shop.toml") in cover
    assert "Sheet-musiccabinet" in cover
    assert close("tilted shelf groove side template and hand-held router") in cover
    assert close("side 22 in 11-1/4 in 15/16 in black cherry") in cover
    marks = {str(mark.title): reader.get_destination_page_number(mark) for mark in reader.outline}  # type: ignore[union-attr]
    names = ["Cover", "Board: side", "Template: tilted shelf", "tilted shelf", "What was proved, and why so"]
    assert list(marks) == names
    assert list(marks.values()) == sorted(marks.values())
    parts = ("drawings of the boards", "templates in true size", "setup sheets in the order of work", names[4].lower())
    for part, name in zip(parts, names[1:], strict=True):
        assert close(f"{marks[name] + 1} {part}") in cover


def test_the_job_and_the_kit_are_attached(made: jigcam.Made, reader: pypdf.PdfReader, job: Path) -> None:
    kit = made.built.kit.path
    assert kit is not None
    expected = {"job.toml": [job.read_bytes()], "inch-shop.toml": [kit.read_bytes()]}
    assert dict(reader.attachments.items()) == expected


def test_the_cover_says_how_to_use_ones_own_kit(pages: list[str]) -> None:
    assert close("jigcam start kit -o my-shop.toml") in pages[0]
    assert close("inch-shop.toml, the kit, are attached") in pages[0]
    assert close("jigcam make job.toml --plan --paper letter --kit my-shop.toml") in pages[0]


def test_whoever_has_the_plan_can_make_it_again(made: jigcam.Made, reader: pypdf.PdfReader, tmp_path: Path) -> None:
    for name, (content,) in reader.attachments.items():
        (tmp_path / name).write_bytes(content)
    words = COMMAND.split()
    again = jigcam.make(tmp_path / words[2], tmp_path / words[-1], plan=True)  # Letter is the paper of a shop in inches
    assert again.files["plan.pdf"] == made.files["plan.pdf"]


def test_every_word_of_the_sheet_is_on_its_pages(pages: list[str], sheet: SetupSheet) -> None:
    text = "".join(pages)
    words = told(sheet)
    assert len(words) > 60
    missing = [each for each in words if close(each) not in text]
    assert not missing


def test_every_word_of_the_sheet_is_in_its_html(made: jigcam.Made, sheet: SetupSheet) -> None:
    html = made.text("tilted-shelf/setup-sheet.html")
    text = close(unescape(re.sub(r"<[^>]*>", "", html)))
    assert not [each for each in told(sheet) if close(each) not in text]
    views = [
        *made.built.joints[0].plan.drawings()["groove"].views,
        *made.built.joints[0].plan.drawings()["template"].views,
    ]
    legends = 3  # of the joint, of the template, of the clamping
    assert html.count("<svg") == html.count('role="img"') == len(views) + 1 + legends
    assert "http" not in re.sub(r'xmlns="[^"]*"', "", html)
    assert "<script" not in html
    assert html.count('type="checkbox"') >= 15
    # A page on a screen is long: whatever part somebody looks for is named at its top, and there.
    heads = [each for part in sheet.parts for each in part.blocks if isinstance(each, Heading) and not each.minor]
    named = dict(re.findall(r'<a href="#(part-\d+)">(.*?)</a>', html))
    assert [unescape(each) for each in named.values()] == [each.text for each in heads]
    assert dict(re.findall(r'<h2 id="(.*?)">(.*?)</h2>', html)) == named


def test_each_file_of_a_clamping_is_on_one_page_with_its_numbers_and_its_dry_run(
    made: jigcam.Made, pages: list[str]
) -> None:
    entries = [entry for entry in made.manifest["files"] if entry["kind"] == "gcode"]
    assert len(entries) == 2
    first = next(place for place, text in enumerate(pages) if close("Mill the template on the machine") in text)
    for entry in entries:
        page = next(text for text in pages[first : first + 2] if close(f"Run {entry['file']}") in text)
        assert close(f"Dry run first: {entry['file'].removesuffix('.nc')}-dry-run.nc") in page
        head = made.text(entry["file"])
        rpm = re.search(r"\bS(\d+)", head)
        assert rpm
        assert f"{rpm[1]}rpm" in page
        assert close(entry["file"]) in page
        assert close(entry["bit"]["name"]) in page
        assert close(f"about {minutes(entry['seconds'])}") in page
    assert close("Change the bit: ") in page
    assert close(entries[0]["zero"]) in pages[first]


def test_depths_of_the_router_are_set_as_the_sheet_says(made: jigcam.Made, pages: list[str], sheet: SetupSheet) -> None:
    (_part,) = [part for part in sheet.parts if part.topic == "bench"]
    set_ = re.findall(r"set the bit (\S+ in) below the base", made.text("tilted-shelf/setup-sheet.txt"))
    assert set_ == ["21/32 in", "13/16 in"]  # half-inch sheet, and 5/32 and 5/16 in of groove
    page = next(text for text in pages if close("Cut the groove with the hand-held router") in text)
    for number, depth in enumerate(set_, 1):
        assert close(f"pass {number} of 2: bit below the base{depth}") in page


def test_boards_have_a_title_block(pages: list[str]) -> None:
    boards = [page for page in pages if "drawingofaboard" in page]
    assert boards
    for number, page in enumerate(boards, start=1):
        for field in ("board side", "piece Sheet-music cabinet", "material black cherry", "lengths in inches"):
            assert close(field) in page or all(close(word) in page for word in field.split())
        assert close(f"{number} of {len(boards)}") in page
        assert close("third angle") in page
        assert close("1:4, or as told") in page


def test_no_page_of_the_plan_is_all_but_empty(reader: pypdf.PdfReader) -> None:
    """The last thing that is said on a page, its foot apart, stands in the lower three quarters of it."""
    for number, page in enumerate(reader.pages, start=1):
        high = float(page.mediabox[3])
        places: list[float] = []

        def see(text: str, cm: list[float], tm: list[float], font: object, size: object, to: list = places) -> None:
            if text.strip():
                to.append(tm[4] * cm[1] + tm[5] * cm[3] + cm[5])

        page.extract_text(visitor_text=see)
        body = [y for y in places if y > 35.0 * POINTS]  # above title block, bars and number
        assert min(body) < 0.75 * high, f"page {number}"


def test_words_on_pages_keep_off_each_other_can_be_read_and_are_printed(made: jigcam.Made, leaves: list[Leaf]) -> None:
    """On every page of the plan, as whoever holds the paper sees it; sheets in true size show a part of the whole."""
    assert made.files
    assert len(leaves) > 8
    for number, leaf in enumerate(leaves, start=1):
        said = seen(leaf)
        assert said, f"page {number} is empty"
        assert not [*overlaps(said)], f"page {number}"
        assert not too_small(said), f"page {number}"
        assert not beyond(said, leaf.paper.width, leaf.paper.height), f"page {number}"


def test_proof_and_reasons_stand_together_at_the_end(pages: list[str], sheet: SetupSheet) -> None:
    """They are read at home: no page that is taken to the machine or the bench has them."""
    reasons = [part.blocks for part in sheet.parts if part.topic in ("proof", "why")]
    assert len(reasons) == 2
    sentences = [close(each) for blocks in reasons for block in blocks for each in getattr(block, "sentences", ())]
    assert len(sentences) > 4
    assert all(each in pages[-1] for each in sentences)
    assert not any(each in page for each in sentences for page in pages[:-1])


def test_cautions_once(pages: list[str]) -> None:
    assert "".join(pages).count("Wooddustcausescancer") == 1


def test_the_manifest_lists_the_plan_and_the_boards(made: jigcam.Made) -> None:
    kinds = {entry["file"]: entry["kind"] for entry in made.manifest["files"]}
    assert {kinds[name] for name in ("plan.pdf", "board-1-side.svg", "board-1-side.dxf")} == {"drawing"}
    assert {kinds[f"tilted-shelf/setup-sheet.{end}"] for end in ("txt", "pdf", "html")} == {"sheet"}
    assert not shape_faults("make", made.manifest)


def test_a_plan_of_a_job_from_python_says_that_nothing_is_attached(made: jigcam.Made, job: Path) -> None:
    built = made.built
    changed = built.job.model_copy(update={"title": "Another cabinet"})  # no longer what the file says
    assert changed.path == job
    again = replace(built, job=changed)
    pack = Pack(again, "a4", drawings_of_boards(again))
    read = pypdf.PdfReader(io.BytesIO(plan_pack(pack, {each.name: {} for each in again.joints})))
    assert not read.attachments
    assert close("made in Python, without a file") in close(read.pages[0].extract_text())
    assert {round(float(page.mediabox[2] * page.mediabox[3]) / POINTS**2) for page in read.pages} == {210 * 297}


def test_paper_is_that_of_the_kit_or_of_its_units() -> None:

    kit = jigcam.load_kit("inch-shop")
    assert kit.the_paper == "letter"
    assert jigcam.load_kit("metric-shop").the_paper == "a4"
    assert kit.model_copy(update={"paper": "a4"}).the_paper == "a4"


def test_a_kit_file_says_its_paper(tmp_path: Path) -> None:
    path = tmp_path / "shop.toml"
    path.write_text('kit = "Hand tools"\nunits = "in"\npaper = "a4"\n')
    assert jigcam.load_kit(path).the_paper == "a4"
    path.write_text('kit = "Hand tools"\nunits = "in"\npaper = "a3"\n')
    with pytest.raises(jigcam.Faults, match="paper"):
        jigcam.load_kit(path)
