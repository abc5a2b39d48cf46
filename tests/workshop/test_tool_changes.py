"""A template by a machine that changes bits within the file: made, proved from its text, and told on the sheet."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from support.jobs import job_table, kit_table, write_job
from support.shop import jigcam

from jigcam.gcode import read


@pytest.mark.parametrize(
    ("units", "machine", "told"),
    [
        ("in", {"tool_change": "automatic"}, "the file calls each with G43"),
        ("mm", {"tool_change": "automatic", "measures_bits": True}, "measures each bit itself"),
        ("in", {"tool_change": "pause"}, "in front of the stock"),
        ("mm", {"tool_change": "pause", "change_at": [-30, -10, 50]}, "the changing place of the kit"),
    ],
)
def test_bits_changed_within_a_file(units: str, machine: dict[str, Any], told: str, tmp_path: Path) -> None:
    job = write_job(tmp_path, job_table(units, way="template"), kit_table(units, **machine))
    out = tmp_path / "out"
    run = jigcam("make", job, "-o", out)
    assert run.status == 0, run.err
    assert not (out / "tilted-shelf" / "template-marks.nc").exists()
    reading = read((out / "tilted-shelf" / "template.nc").read_text("ascii"))
    assert reading.ok
    by_itself = machine["tool_change"] == "automatic"
    assert [change.tool for change in reading.tool_changes] == ([1, 2] if by_itself else [])
    assert len([stop for stop in reading.stops if stop.kind == "pause"]) == (0 if by_itself else 1)
    sheet = " ".join((out / "tilted-shelf" / "setup-sheet.txt").read_text("utf-8").split())
    assert told in sheet
    assert jigcam("prove", out / "tilted-shelf" / "template.nc", "--job", job).status == 0


def test_a_job_goes_by_the_least_play_that_its_test_cut_allows(tmp_path: Path) -> None:
    """From kit to manifest: an oversize bit takes its excess off the play, measured or guessed from the test cut."""
    plays = {}
    for diameter in (None, "0.5 in"):
        kit = kit_table("in")
        cut = {"bit": "straight 1/2", "bushing": "bushing 3/4", "opening": 0.75, "width": "0.503", "date": "2024-05-31"}
        kit["measured"] = [cut if diameter is None else {**cut, "diameter": diameter}]
        table = job_table("in", way="template", bit="straight 1/2", bushing="bushing 3/4")
        folder = tmp_path / str(diameter)
        folder.mkdir()
        run = jigcam("make", write_job(folder, table, kit), "-o", folder / "out")
        assert run.status == 0, run.err
        (proof,) = json.loads((folder / "out" / "manifest.json").read_text("utf-8"))["proof"]
        plays[diameter] = proof["fit"]["play_mm"]
        assert proof["fit"]["total_mm"] == pytest.approx(0.006 * 25.4, abs=2e-3)
    assert plays[None] == pytest.approx(0.003 * 25.4, abs=2e-3)
    assert plays["0.5 in"] == pytest.approx(0.006 * 25.4, abs=2e-3)
