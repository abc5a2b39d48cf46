"""A sheet for several boards says which: a bottom without its rabbet is a spoiled case."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from support.carcases import CORNERS, board
from support.jobs import toml
from support.shop import jigcam

BACK = {"kind": "rabbet", "way": "hand", "face": "inside", "along": "upper", "depth": 8, "receives": "back"}


def sheets(folder: Path, boards: dict[str, Any], joints: list[dict[str, Any]]) -> dict[str, str]:
    table = {"job": "Sheet-music cabinet", "units": "mm", "kit": "metric-shop", "boards": boards, "joints": joints}
    path = folder / "job.toml"
    path.write_text(toml(table), "utf-8")
    run = jigcam("make", path, "-o", folder / "out")
    assert run.status == 0, run.err + run.out
    return {each.parent.name: " ".join(each.read_text("utf-8").split()) for each in folder.rglob("setup-sheet.txt")}


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    boards = {
        "side": board(300, count=2),
        "top": board(350),
        "bottom": {"like": "top"},
        "back": board(326, 276, 6),
    }
    joints = [
        {**BACK, "name": "in sides", "board": "side", "enters": "left"},
        {**BACK, "name": "in top", "board": "top", "enters": "lower"},
        {**CORNERS, "way": "hand"},
    ]
    return sheets(tmp_path_factory.mktemp("case"), boards, joints)


def test_a_rabbet_of_alike_boards_names_each_of_them(case: dict[str, str]) -> None:
    assert "boards side 1 and side 2: every step is done for each of them" in case["in-sides"]
    assert "boards top and bottom: every step is done for each of them" in case["in-top"]


def test_corners_say_it_themselves(case: dict[str, str]) -> None:
    assert case["corners"].count("every step is done for each") == 1
