"""The shipped examples and a small job of each kind, byte for byte as last looked at; see tests/golden/README.md."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from support.every_kind import small
from support.goldens import assert_files_as_ever
from support.jobs import job_table, write_job
from support.kinds.mortise import SHARED
from support.kinds.sliding_dovetail import BY_TEMPLATE
from support.kinds.through_dovetail import PINS_FLAT
from support.pieces import box
from support.results import shape_faults
from support.shop import content, jigcam

from jigcam.joints import kind_names

EXAMPLES = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet"
NAMES = ("tilted-shelf", "tilted-shelf-metric", "tilted-shelf-direct", "shelf-and-strip", "shelf-and-strip-metric")


GOLDEN = re.compile(r"template\.nc$|\.txt$")
"""What is kept of a sheet whose marks are like those of others."""


def kept(files: dict[str, bytes]) -> dict[str, bytes]:
    """Those of an output folder that are kept."""
    return {name: raw for name, raw in files.items() if name.endswith((".nc", ".svg", "preview.txt"))}


@pytest.mark.parametrize("name", NAMES)
def test_example_is_as_it_was(name: str, tmp_path: Path) -> None:
    run = jigcam("make", EXAMPLES / f"{name}.toml", "-o", tmp_path / "out")
    assert run.status == 0, run.err
    files = content(tmp_path / "out")
    assert shape_faults("make", json.loads(files["manifest.json"])) == []
    assert_files_as_ever(name, kept(files))


@pytest.mark.parametrize("name", kind_names())
def test_a_small_job_of_each_kind_is_as_it_was(name: str, tmp_path: Path) -> None:
    table = small(name)
    assert [joint["kind"] for joint in table["joints"]] == [name]
    run = jigcam("make", write_job(tmp_path, table), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    files = content(tmp_path / "out")
    assert shape_faults("make", json.loads(files["manifest.json"])) == []
    # Dry runs say nothing that the files do not, and SVG is long.
    wanted = {file for file in files if file.endswith((".nc", ".txt")) and not file.endswith("-dry-run.nc")}
    assert_files_as_ever(f"kinds/{name}", {file: files[file] for file in wanted})


def test_a_socket_by_template_is_as_it_was(tmp_path: Path) -> None:
    run = jigcam("make", write_job(tmp_path, BY_TEMPLATE), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    files = content(tmp_path / "out")
    wanted = {file for file in files if file.endswith(("template.nc", ".txt"))}
    assert_files_as_ever("kinds/sliding-dovetail-template", {file: files[file] for file in wanted})


def test_pins_that_lie_flat_by_a_dovetail_bit_are_as_they_were(tmp_path: Path) -> None:
    run = jigcam("make", write_job(tmp_path, PINS_FLAT), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    files = content(tmp_path / "out")
    wanted = {file for file in files if "pins" in file and file.endswith(".nc") and not file.endswith("-dry-run.nc")}
    wanted |= {file for file in files if file.endswith("setup-sheet.txt")}
    assert_files_as_ever("kinds/through-dovetail-flat-pins", {file: files[file] for file in wanted})


def _told_alike(piece: dict[str, Any], made: dict[str, Any], screen: str, sheet: bytes) -> None:
    """`jigcam piece` and `make` put the boards together in the same words, and what one warns of the other does."""
    order, written = screen.partition("\norder\n")[2], sheet.decode("utf-8").partition("\norder\n")[2]
    assert written.strip()
    assert " ".join(order.split()).startswith(" ".join(written.split()))
    warned = [each for each in piece["findings"] if each["level"] != "note"]
    assert [each for each in warned if each not in made["findings"]] == []


def test_the_files_of_a_piece_are_as_they_were(tmp_path: Path) -> None:
    job = write_job(tmp_path, box())
    run = jigcam("make", job, "-o", tmp_path / "out", "--json")
    assert run.status == 0, run.err
    files = content(tmp_path / "out")
    _told_alike(jigcam("piece", job, "--json").json, run.json, jigcam("piece", job).out, files["piece/assembly.txt"])
    names = ("assembly.txt", "cut-list.txt", "cut-list.csv", "preview.txt", "together.svg", "apart.svg")
    wanted = [f"piece/{name}" for name in names]
    assert_files_as_ever("piece", {file: files[file] for file in wanted})


HOUSINGS = {
    "mm": {"from_": [40, 0], "length": 60, "repeat": {"count": 3, "pitch": 50}},
    "in": {"from_": ["1-1/2", 0], "length": "2-1/2", "repeat": {"count": 3, "pitch": 2}},
}


@pytest.mark.parametrize("units", HOUSINGS)
@pytest.mark.parametrize("way", ["template", "direct"])
def test_housings_in_a_row_are_as_they_were(units: str, way: str, tmp_path: Path) -> None:
    table = job_table(units, way=way, angle=90, start="open", opposite_hand=True, **HOUSINGS[units])
    run = jigcam("make", write_job(tmp_path, table), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    files = content(tmp_path / "out")
    wanted = {file for file in files if file.endswith((".nc", ".txt")) and not file.endswith("-dry-run.nc")}
    assert_files_as_ever(f"housings-{way}-{units}", {file: files[file] for file in wanted})


def test_mortises_and_their_mates_by_one_sheet_are_as_they_were(tmp_path: Path) -> None:
    run = jigcam("make", write_job(tmp_path, SHARED), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    files = content(tmp_path / "out")
    assert_files_as_ever("mortises-on-one-sheet", {file: files[file] for file in files if GOLDEN.search(file)})
