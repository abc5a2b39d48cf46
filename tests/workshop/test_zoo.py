"""Every job of the zoo is made right, or refused for the right reason; whoever judges is no part of jigcam.

The daily tests take the quick ones; `JIGCAM_ZOO=all pytest tests/workshop/test_zoo.py` takes all (some minutes).
"""

from __future__ import annotations

import json
import os
import tomllib
from pathlib import Path

import pytest
from support.jobs import job_table, write_job
from support.output_folder import GOUGE, LEFT, assert_folder_is_right
from support.outside_cut import RIDE_ERROR, SWEEP_ERROR, Wanted, judge, opening_size
from support.shop import content, jigcam
from support.zoo import Animal, animals

WIDTH = 0.002 + 2 * SWEEP_ERROR
"""mm: an offset lies within 1 µm of the true curve, at both walls."""
ALL = os.environ.get("JIGCAM_ZOO") == "all"
ZOO = [each for each in animals() if ALL or each.quick]


@pytest.mark.parametrize("animal", ZOO, ids=str)
def test_made_right_or_rightly_refused(animal: Animal, tmp_path: Path) -> None:
    job = write_job(tmp_path, animal.job, animal.kit)
    before = content(tmp_path)
    run = jigcam("make", job, "-o", tmp_path / "out", "--json")
    if animal.refused:
        assert run.status == 1
        assert animal.refused in [each["rule"] for each in run.json["findings"] if each["level"] == "stop"]
        assert content(tmp_path) == before
        return
    assert run.status == 0, run.err
    assert_folder_is_right(tmp_path / "out", job, animal.kit_used)
    assert run.json == json.loads((tmp_path / "out" / "manifest.json").read_text("utf-8"))


@pytest.mark.parametrize("way", ["direct", "template"])
def test_the_same_input_gives_the_same_bytes(way: str, tmp_path: Path) -> None:
    folders = []
    for number in (1, 2):
        job = write_job(tmp_path / f"visit {number}", job_table("mm", way=way, length=60, opposite_hand=True))
        folders.append(tmp_path / f"visit {number}" / "out")
        assert jigcam("make", job, "-o", folders[-1]).status == 0
    assert content(folders[0]) == content(folders[1])


def test_two_joints_in_one_job_and_one_of_them_alone(tmp_path: Path) -> None:
    table = job_table("mm", length=60)
    table["joints"].append({**table["joints"][0], "name": "lower shelf", "from": [300, 38]})
    job = write_job(tmp_path, table)
    assert jigcam("make", job, "-o", tmp_path / "both").status == 0
    assert jigcam("make", job, "-o", tmp_path / "one", "--joint", "lower shelf").status == 0
    both, one = content(tmp_path / "both"), content(tmp_path / "one")
    sheet = "lower-shelf/setup-sheet.txt"
    assert {name: raw for name, raw in both.items() if name.startswith("lower-shelf/") and name != sheet} == {
        name: raw for name, raw in one.items() if name not in ("manifest.json", sheet)
    }
    # Of two sheets one says which place it has in the order of work.
    more = set(both[sheet].decode().splitlines()) - set(one[sheet].decode().splitlines())
    assert 0 < len(more) <= 3, more
    assert any("in the order of work" in line for line in more)
    assert {verdict.gouge <= GOUGE for verdict in judge(tmp_path / "both", job).values()} == {True}
    run = jigcam("make", job, "-o", tmp_path / "none", "--joint", "lower shelv")
    assert run.status == 2
    assert "did you mean 'lower shelf'?" in run.err


def test_half_inch_shelf_half_inch_bit_three_quarter_bushing(tmp_path: Path) -> None:
    """The worked figures: groove 0.506 in, bit 1/2, bushing 3/4 → opening 0.756 in wide, ends of 0.378 in."""
    table = job_table("in", way="template", bit="straight 1/2", bushing="bushing 3/4", opposite_hand=True)
    job = write_job(tmp_path, table)
    assert jigcam("make", job, "-o", tmp_path / "out").status == 0
    manifest = json.loads((tmp_path / "out" / "manifest.json").read_text("utf-8"))
    (entry,) = (each for each in manifest["files"] if each["kind"] == "gcode" and each["bit"]["kind"] == "straight")
    wanted = Wanted.of(tomllib.loads(job.read_text("utf-8")), "tilted shelf")
    assert wanted.width == pytest.approx(0.506 * 25.4)
    width, length, radius = opening_size(entry, (tmp_path / "out" / entry["file"]).read_text("ascii"), wanted)
    assert width == pytest.approx(0.756 * 25.4, abs=WIDTH)
    assert length == pytest.approx(8.25 * 25.4, abs=WIDTH)
    assert radius == pytest.approx(0.378 * 25.4, abs=WIDTH)
    verdicts = judge(tmp_path / "out", job)
    assert set(verdicts) == {f"{entry['file']}, as drawn", f"{entry['file']}, opposite"}
    for verdict in verdicts.values():
        assert verdict.gouge <= GOUGE + RIDE_ERROR
        assert verdict.left <= LEFT + RIDE_ERROR
