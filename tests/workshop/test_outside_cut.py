"""The outside check notices what it is there for: a judge that never objects proves nothing."""

from __future__ import annotations

import json
import re
from pathlib import Path

import numpy as np
import pytest
from shapely import Point
from support.jobs import job_table, kit_table, write_job
from support.output_folder import assert_folder_is_right
from support.outside_cut import SWEEP_ERROR, Chain, chains, judge, lowest, swept
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


@pytest.fixture(scope="module", params=["mm", "in"])
def drilled(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A template on a machine that knows drilling cycles."""
    folder = tmp_path_factory.mktemp("drilled")
    kit = kit_table(request.param, drilling_cycles=True, output_units=request.param)
    job = write_job(folder, job_table(request.param, way="template", opposite_hand=True), kit)
    assert jigcam("make", job, "-o", folder / "out").status == 0
    assert_folder_is_right(folder / "out", job, kit)
    return folder


def milling(folder: Path) -> tuple[str, float, float]:
    """The text of the template's milling file, the diameter of its bit, the thickness of its sheet."""
    manifest = json.loads((folder / "out" / "manifest.json").read_text("utf-8"))
    (entry,) = (each for each in manifest["files"] if each["kind"] == "gcode" and each["bit"]["kind"] == "straight")
    return (folder / "out" / entry["file"]).read_text("ascii"), entry["bit"]["diameter"], entry["stock"][2]


def holes(text: str) -> list[Chain]:
    """The cycles of a text."""
    return [chain for chain in chains(text) if chain.centre is None and len(chain.points) > 2]


def test_drilled_holes_go_through_and_are_as_wide_as_the_bit(drilled: Path) -> None:
    text, diameter, thickness = milling(drilled)
    cycles = holes(text)
    assert len(cycles) >= 2
    assert lowest(text) == min(chain.points[:, 2].min() for chain in cycles) < -thickness
    for chain in cycles:
        x, y = chain.points[-1, :2]
        for z in (-0.01, -thickness / 2, -thickness):
            cut = swept(text, diameter / 2, z, (x - diameter, y - diameter, x + diameter, y + diameter))
            (hole,) = (part for part in getattr(cut, "geoms", [cut]) if part.distance(Point(x, y)) == 0)
            radii = np.hypot(*(np.array(hole.exterior.coords) - (x, y)).T)
            assert radii == pytest.approx(diameter / 2, abs=SWEEP_ERROR)


def test_no_drilled_hole_is_entered_at_rapid_rate_below_its_floor(drilled: Path) -> None:
    """A peck begins above the depth that the one before it has reached, and ends no deeper than the bit is wide."""
    text, diameter, _ = milling(drilled)
    for chain in holes(text):
        heights = chain.points[1:, 2]
        floors, begins = heights[2::3], heights[4::3]
        assert (np.diff([heights[1], *floors]) > -diameter).all()
        assert (begins > floors[:-1]).all()


def test_cycles_are_words_of_a_machine_that_knows_them(drilled: Path) -> None:
    text, _, _ = milling(drilled)
    words = [word for line in text.splitlines() if not line.startswith("(") for word in line.split()]
    assert (words.count("G83"), words.count("G98"), words.count("G99"), words.count("G80")) == (1, 1, 0, 2)
