"""The outside check notices what it is there for: a judge that never objects proves nothing."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from support.jobs import job_table, write_job
from support.outside_cut import judge
from support.shop import jigcam


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("made")
    assert jigcam("make", write_job(folder, job_table("mm", length=60)), "-o", folder / "out").status == 0
    return folder


def worst(folder: Path) -> tuple[float, float]:
    verdicts = judge(folder / "out", folder / "job.toml").values()
    return max(each.gouge for each in verdicts), max(each.left for each in verdicts)


def test_the_right_file_passes(made: Path) -> None:
    assert max(worst(made)) < 0.001


@pytest.mark.parametrize("by", [0.05, -0.05, 0.5])
def test_a_groove_that_is_off_by_a_little_is_seen(made: Path, by: float) -> None:
    manifest = made / "out" / "manifest.json"
    right = manifest.read_text("utf-8")
    table = json.loads(right)
    for entry in table["files"]:
        if "placement" in entry:
            entry["placement"][0][2] += by
    manifest.write_text(json.dumps(table), "utf-8")
    gouge, left = worst(made)
    manifest.write_text(right, "utf-8")
    # The groove runs at 78°: a shift along x is almost all across it.
    assert gouge == pytest.approx(abs(by), rel=0.03)
    assert left == pytest.approx(abs(by), rel=0.03)


def test_the_other_bit_is_seen(made: Path) -> None:
    manifest = made / "out" / "manifest.json"
    right = manifest.read_text("utf-8")
    manifest.write_text(re.sub(r'"diameter": [0-9.]+', '"diameter": 5.9', right), "utf-8")
    assert worst(made)[1] > 0.04
    manifest.write_text(right, "utf-8")
