"""Where a sliding dovetail is glued. Movement as in the Wood Handbook (FPL-GTR-282), Eq. 13-2 and Table 13-5."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from support.jobs import write_job
from support.kinds.sliding_dovetail import sliding_job
from support.shop import jigcam

from jigcam.joints.sliding_dovetail.glue import glued_length

CHERRY_FLAT = 0.00248
"""Black cherry, tangential, a part of one for each point of moisture: Table 13-5."""


def glue_words(folder: Path, table: dict[str, Any]) -> str:
    run = jigcam("make", write_job(folder, table), "-o", folder / "out")
    assert run.status == 0, run.err
    words = " ".join(next((folder / "out").rglob("setup-sheet.txt")).read_text("utf-8").split())
    return words[words.index("Slide the tail in dry") :].partition("Proof")[0]


def along(sawn: str = "flat", **keys: object) -> dict[str, Any]:
    """A socket along the grain of its board, and a divider that moves across its own in it."""
    table: dict[str, Any] = sliding_job(angle=0, from_=[0.0, 60.0], length=300.0, tail_way="router-table", **keys)
    table["boards"]["divider"]["sawn"] = sawn
    table["climate"] = {"dry": {"moisture": 6}, "damp": {"moisture": 12}, "shop": {"moisture": 8}}
    return table


def test_where_the_boards_move_unlike_as_much_is_glued_as_bears_it(tmp_path: Path) -> None:
    words = glue_words(tmp_path, along())
    found = re.search(r"Glue only (\d+) mm of the tail, from its end at the (\w+) edge on", words)
    assert found
    # From 8 to 12 % the divider grows by 4 points across its grain, and the top along its own by nothing.
    assert float(found[1]) * CHERRY_FLAT * 4.0 == pytest.approx(0.25, abs=0.01)
    assert "its end at the lower edge" in words


def test_boards_that_move_alike_are_glued_all_along(tmp_path: Path) -> None:
    words = glue_words(tmp_path, sliding_job(tail_way="router-table"))
    assert "all of the tail may be glued" in words
    assert "Glue only" not in words


def test_where_no_wood_is_known_a_third_is_glued_as_is_usual(tmp_path: Path) -> None:
    table = along()
    del table["boards"]["top"]["wood"], table["boards"]["top"]["sawn"]
    words = glue_words(tmp_path, table)
    assert "Glue only 40 mm" in words  # of 120
    assert "does not say of what woods" in words


@pytest.mark.parametrize(
    ("keys", "first"),
    [({"from_": [100.0, 15.0], "length": 105.0, "start": "stopped"}, True), ({}, False)],
)
def test_glue_goes_where_sliding_in_does_not_wipe_it_off(keys: dict[str, Any], first: bool, tmp_path: Path) -> None:
    table = sliding_job(tail_way="router-table", **keys)
    del table["boards"]["top"]["wood"], table["boards"]["top"]["sawn"]
    words = glue_words(tmp_path, table)
    assert ("goes in first: brush the glue into the far end of the socket" in words) == first
    assert ("goes in last: brush the glue on the tail" in words) != first


def test_the_glue_line_never_parts_by_more_than_it_bears_nor_is_it_too_short_to_hold() -> None:
    assert glued_length(300.0, 0.0) == 300.0
    assert glued_length(300.0, -0.0005) == 300.0
    assert glued_length(300.0, -0.005) == pytest.approx(50.0)
    assert glued_length(300.0, 0.05) == 25.0
    assert glued_length(20.0, 0.05) == 20.0
