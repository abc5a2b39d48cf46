"""Cut lists: sums against handbooks, sizes as sawn out, the order of clampings, text that fits, CSV that reads back."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path
from typing import Any

import pytest
from support.boards import along, board_job, dado, tails
from support.jobs import job_table, write_job

from jigcam.errors import Faults
from jigcam.job import Board, Entry
from jigcam.job.allowance import USUAL, Allowance
from jigcam.joints import design, load_job
from jigcam.kit import load_kit
from jigcam.making.work_order import WorkOrder
from jigcam.piece.body import Body
from jigcam.piece.cut_list import BOARD_FOOT, CUBIC_METRE, CutList, board_feet, cut_list
from jigcam.piece.cut_list_text import cut_list_csv, cut_list_lines, stock_words
from jigcam.piece.order_of_work import work_order
from jigcam.units import INCH, Voice, parse_length
from jigcam.workshop.build import plan_job

BARE = {"length": 0.0, "width": 0.0, "thickness": 0.0, "waste": 0.0}


def board(name: str, length: float, width: float, thickness: float, **keys: Any) -> Board:
    return Board(name=name, length=length, width=width, thickness=thickness, **keys)


def inches(name: str, length: float, width: float, thickness: float, **keys: Any) -> Board:
    return board(name, length * INCH, width * INCH, thickness * INCH, **keys)


def listed(*boards: Board, counts: dict[str, int] | None = None, units: Any = "in", **allowance: Any) -> CutList:
    return cut_list(boards, counts or {}, {}, Allowance(**allowance), Voice(units))


def test_board_feet_are_those_of_the_handbooks() -> None:
    # Wood Handbook, glossary (from memory): 12 in by 12 in by 1 in; thinner than 1 in counts as 1 in.
    assert board_feet(12 * INCH, 12 * INCH, INCH) == pytest.approx(1.0)
    assert board_feet(12 * INCH, 12 * INCH, INCH / 2) == pytest.approx(1.0)
    # Board measure in the US Navy's training manual for builders, NAVEDTRA 14043 (from memory): a piece 2 in thick, 10
    # in wide and 6 ft long is 2 × 10 × 6 / 12 = 10 board feet, and ten of them are 100.
    assert board_feet(72 * INCH, 10 * INCH, 2 * INCH) == pytest.approx(10.0)
    cuts = listed(inches("plank", 72, 10, 2), counts={"plank": 10}, stock=(2 * INCH,), **BARE)
    (total,) = cuts.totals
    assert (total.board_feet, total.thickness) == (pytest.approx(100.0), pytest.approx(2 * INCH))
    # NIST SP 811, appendix B.8 (from memory): 1 board foot = 2.359 737 E-03 m³.
    assert pytest.approx(2.359737e-3, rel=1e-6) == BOARD_FOOT / CUBIC_METRE
    assert total.cubic_metres == pytest.approx(0.2359737, rel=1e-6)


def test_a_board_is_sawn_out_of_the_thinnest_stock_that_planes_to_it() -> None:
    # Rules of the NHLA for surfacing on two sides (from memory): 4/4 to 13/16, 5/4 to 1-1/16, 6/4 to 1-5/16, 8/4 to
    # 1-3/4.
    for finished, stock in ((13 / 16, "4/4"), (1 + 1 / 16, "5/4"), (1 + 5 / 16, "6/4"), (1.75, "8/4"), (0.5, "4/4")):
        (line,) = listed(inches("side", 22, 11.25, finished)).lines
        assert stock_words(line.rough[2], Voice("in")) == stock
    (line,) = listed(inches("side", 22, 11.25, 15 / 16)).lines
    assert line.rough == pytest.approx((23 * INCH, 11.5 * INCH, 1.25 * INCH))
    (line,) = listed(board("side", 560.4, 285.0, 22.0), units="mm").lines
    assert line.rough == pytest.approx((586.0, 291.0, 27.0))
    thick = listed(board("leg", 700.0, 120.0, 110.0), units="mm")
    assert thick.lines[0].rough[2] == pytest.approx(115.0)
    assert "No stock is thick enough for leg" in "\n".join(cut_list_lines(thick))


def test_an_allowance_of_the_job_goes_before_the_usual_one() -> None:
    said = Allowance(length=50.0, stock=(30.0, 25.0), waste=0.0).usual("mm")
    assert (said.length, said.width, said.waste) == (50.0, USUAL["mm"].width, 0.0)
    job = board_job(dado("one", 100.0))
    assert job.allowance.usual("mm") == USUAL["mm"]


MIXED = (
    inches("side", 22, 11.25, 15 / 16, wood="black cherry", sawn="quarter"),
    inches("shelf", 26.75, 6.984, 0.5, wood="black cherry", sawn="quarter"),
    inches("back, of 1/4", 20, 20, 0.25, wood="sugar maple"),
    inches('the "till"', 10, 4, 13 / 16, wood="black cherry", sawn="quarter"),
)
COUNTS = {"side": 2, "shelf": 3}


def test_totals_are_the_sums_of_the_lines_by_wood_and_thickness() -> None:
    cuts = listed(*MIXED, counts=COUNTS)
    cherry = "black cherry, quarter sawn"
    assert [(total.wood, stock_words(total.thickness, cuts.voice)) for total in cuts.totals] == [
        (cherry, "4/4"),
        (cherry, "5/4"),
        ("sugar maple", "4/4"),
    ]
    # By hand: 3 of 27-3/4 × 7-1/4 × 1 and one of 11 × 4-1/4 × 1; 2 of 23 × 11-1/2 × 1-1/4; 21 × 20-1/4 × 1.
    by_hand = [(3 * 27.75 * 7.25 + 11 * 4.25) / 144, 2 * 23 * 11.5 * 1.25 / 144, 21 * 20.25 / 144]
    assert [total.board_feet for total in cuts.totals] == pytest.approx(by_hand)
    assert sum(total.cubic_metres for total in cuts.totals) == pytest.approx(sum(by_hand) * 2.359737e-3, rel=1e-6)
    text = cut_list_lines(cuts, 80)
    # 12.061 board feet and 0.02846 m³; 20 % more, rounded up. Only an inch shop buys by the board foot.
    assert any(line.split() == ["in", "all", "12.1", "14.5"] for line in text)
    assert not any("m³" in line for line in text)
    metric = cut_list_lines(listed(*MIXED, counts=COUNTS, units="mm"), 80)
    assert any(line.startswith("  in all") for line in metric)
    assert not any("bd ft" in line or "oard feet" in line for line in metric)


@pytest.mark.parametrize("width", [140, 80, 50])
def test_each_of_the_three_numbers_of_a_board_stands_under_its_own_label(width: int) -> None:
    """The list had two labels over six columns, and the reader did not know which number was the width."""
    cuts = listed(*MIXED, counts=COUNTS)
    lines = cut_list_lines(cuts, width)
    (line,) = (each for each in cuts.lines if each.board.name == "shelf")
    read: dict[str, str] = {}
    head: list[str] = []
    for cells in (re.split(r"\s{2,}", text.strip()) for text in lines[: lines.index("Wood as sawn out")]):
        if cells[:2] == ["no.", "board"]:
            head = cells
        elif cells[1:2] == ["shelf"]:
            read |= dict(zip(head, cells, strict=True))
    for label, size, sawn in zip(("length", "width", "thick"), line.finished, line.rough, strict=True):
        assert parse_length(read[label], "in") == pytest.approx(size, abs=0.02)
        assert parse_length(read[f"sawn {label}"], "in") == pytest.approx(sawn, abs=0.02)


@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_table_fits_80_columns_and_says_every_board(units: Any) -> None:
    cuts = listed(*MIXED, board("a board with quite a long name of its own", 1234.5, 123.4, 12.3), units=units)
    lines = cut_list_lines(cuts, 80)
    assert max(map(len, lines)) <= 80
    for line in cuts.lines:
        assert any(line.board.name in text for text in lines)
    assert any("wood not said" in text for text in lines)
    if units == "in":
        (shelf,) = (text for text in lines if " shelf " in text)
        assert shelf.split() == ["1", "shelf", "26-3/4", "6-63/64", "1/2", "27-3/4", "7-1/4", "1"]


@pytest.mark.parametrize("units", ["in", "mm"])
def test_csv_reads_back_to_the_same_list(units: Any) -> None:
    cuts = listed(*MIXED, counts=COUNTS, units=units)
    text = cut_list_csv(cuts)
    assert text.count("\r\n") == len(MIXED) + 1  # RFC 4180
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert [row["board"] for row in rows] == [each.name for each in MIXED]
    size = INCH if units == "in" else 1.0
    for row, line in zip(rows, cuts.lines, strict=True):
        assert (int(row["count"]), row["wood"]) == (line.count, line.board.wood)
        for prefix, sizes in (("", line.finished), ("rough_", line.rough)):
            read = [float(row[f"{prefix}{name}_{units}"]) * size for name in ("length", "width", "thickness")]
            assert read == pytest.approx(sizes, abs=1e-3)
        assert float(row["board_feet"]) == pytest.approx(line.board_feet, abs=6e-4)


def order_on(name: str, *joints: Entry, planned: bool = False) -> WorkOrder:
    job = board_job(*joints)
    bodies = [Body(taken) for each in joints for taken in design(each, job).taken()]
    made = plan_job(job, load_kit("metric-shop")) if planned else ()
    setups = {each.name: each.plan.setups for each in made}
    assert all(setups.values())
    return work_order(job, bodies, setups).on(name)


@pytest.mark.parametrize("planned", [False, True])
def test_tails_that_take_the_corner_come_after_the_dado_that_is_laid_by_it(planned: bool) -> None:
    # With the setups of a kit as without: they bear on the same.
    words = [each.words for each in order_on("divider", tails(), dado("shelf", 150.0), planned=planned).clampings]
    assert words == ["shelf (groove), inside face", "corner (through dovetail), right end"]
    # At the left end nothing of it is missed: the job's own order stays.
    words = [each.words for each in order_on("divider", tails(tails_end="left"), dado("shelf", 150.0)).clampings]
    assert words[0].startswith("corner")


def test_cuts_that_take_what_each_other_bears_on_are_named() -> None:
    # A groove along the end that takes its outside face, and tails there: neither can be last.
    groove = along("deep", 45.0, face="outside", width=80.0, depth=12.0)
    order = order_on("divider", tails(tails_end="left"), groove)
    assert len(order.clampings) == 2
    ((one, other),) = order.against
    assert {one.joints, other.joints} == {("corner",), ("deep",)}


def test_what_an_allowance_may_not_say_is_told_with_its_place(tmp_path: Path) -> None:
    table = job_table(top={"allowance": {"length": -1, "stock": [], "waste": "much", "plane": 2}})
    with pytest.raises(Faults) as faults:
        load_job(write_job(tmp_path, table))
    told = str(faults.value)
    for part in ("allowance.length", "allowance.stock", "allowance.waste", "allowance.plane"):
        assert part in told
    said = load_job(write_job(tmp_path, job_table(top={"allowance": {"stock": [2, "1-1/4"], "thickness": "1/8"}})))
    assert said.allowance.stock == (1.25 * INCH, 2.0 * INCH)
    assert said.allowance.thickness == pytest.approx(INCH / 8)
