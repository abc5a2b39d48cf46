"""Axes of bushing and bit that a kit says are apart: manifest, sheet, cautions; changes by hand show in the fit."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from support.jobs import job_table, kit_table, write_job
from support.shop import jigcam

from jigcam.joints import kind as kind_named


def made(folder: Path, off: str | None, **groove: Any) -> tuple[Path, dict[str, Any]]:
    router = {} if off is None else {"eccentricity": off}
    job = write_job(folder, job_table("in", way="template", **groove), kit_table("in", router=router))
    run = jigcam("make", job, "-o", folder / "out")
    assert run.status == 0, run.err
    return job, json.loads((folder / "out" / "manifest.json").read_text("utf-8"))


def cautions(manifest: dict[str, Any]) -> list[str]:
    return [each["says"] for each in manifest["findings"] if each["rule"] == "axes-apart"]


def test_not_known_is_said_and_changes_nothing(tmp_path: Path) -> None:
    _, manifest = made(tmp_path, None)
    assert "axes_apart" not in manifest["proof"][0]["fit"]
    assert not cautions(manifest)
    sheet = (tmp_path / "out" / "tilted-shelf" / "setup-sheet.txt").read_text("utf-8")
    assert "taken to be on one axis" in " ".join(sheet.split())


@pytest.mark.parametrize(("off", "warns"), [("0.002 in", False), ("0.005 in", True)])
def test_known_it_goes_through_to_the_fit(off: str, warns: bool, tmp_path: Path) -> None:
    """A shelf with 0.006 in of room: 2e is less than that at 0.002, and more at 0.005 (derived: W ± 2e, shift e). The
    bit is as wide as the shelf, and no groove comes out narrower than its bit."""
    job, manifest = made(tmp_path, off)
    e = float(off.split()[0]) * 25.4
    fit = manifest["proof"][0]["fit"]
    apart = fit["axes_apart"]
    assert apart["held"]["shifted_mm"] == pytest.approx(e, abs=1e-3)
    assert apart["held"]["total_mm"] == pytest.approx(fit["total_mm"], abs=1e-3)
    assert apart["turned"]["tightest"]["total_mm"] == pytest.approx(max(0.0, fit["total_mm"] - 2.0 * e), abs=1e-3)
    assert apart["turned"]["narrowest_mm"] >= 12.7
    assert apart["turned"]["loosest"]["total_mm"] == pytest.approx(fit["total_mm"] + 2.0 * e, abs=1e-3)
    assert bool(cautions(manifest)) is warns
    sheet = (tmp_path / "out" / "tilted-shelf" / "setup-sheet.txt").read_text("utf-8")
    assert f"{off} out of line" in sheet
    run = jigcam("prove", tmp_path / "out" / "tilted-shelf" / "template.nc", "--job", job, "--json")
    assert run.json["fit"]["axes_apart"] == apart


def test_every_groove_of_a_row_is_judged_with_its_axes_apart(tmp_path: Path) -> None:
    """Only the first was: the others were told without a word about the router that turns."""
    row = {"repeat": {"count": 2, "pitch": 3}, "from_": [4, 1.5], "angle": 90, "length": 4}
    _, manifest = made(tmp_path, "0.005 in", **row)
    fit = manifest["proof"][0]["fit"]
    (other,) = fit["places"]
    turned = fit["axes_apart"]["turned"]
    assert other["place"] == "2 of 2"
    assert other["axes_apart"]["turned"]["loosest"]["total_mm"] == pytest.approx(
        turned["loosest"]["total_mm"], abs=1e-3
    )
    assert other["axes_apart"]["held"]["shifted_mm"] == pytest.approx(0.127, abs=1e-3)
    (says,) = cautions(manifest)
    assert "0.005 in out of line" in says, "said once, as it holds for all of them alike"


@pytest.mark.parametrize(("e", "warns"), [(None, False), (0.01, False), (0.05, True)])
def test_keys_are_cautioned_where_turning_takes_all_their_room(e: float | None, warns: bool, tmp_path: Path) -> None:
    """A larger bushing of 16.94 mm leaves 6 − (16.94 − 11) = 0.06 mm of room. Where the router turns, the recess may be
    smaller and the key larger by e all round: 4e across (derived)."""
    kit = kit_table("mm", router={} if e is None else {"eccentricity": e})
    next(each for each in kit["bushings"] if each["name"] == "bushing 17")["outside"] = 16.94
    table = tomllib.loads(kind_named("key").starter("mm"))
    table["joints"][0] |= {"bushing": "bushing 17", "plug": "bushing 11", "clearance": 0.06}
    run = jigcam("make", write_job(tmp_path, table, kit), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    manifest = json.loads((tmp_path / "out" / "manifest.json").read_text("utf-8"))
    fit = manifest["proof"][0]["fit"]
    assert 2.0 * fit["least_mm"] == pytest.approx(0.06, abs=2e-3)
    assert bool(cautions(manifest)) is warns
    if e is None:
        assert "axes_apart" not in fit
        return
    apart = fit["axes_apart"]
    assert apart["held"]["shifted_mm"] == pytest.approx(e)
    assert apart["turned"]["tightest"]["total_mm"] == pytest.approx(0.06 - 4.0 * e, abs=4e-3)
    assert apart["turned"]["loosest"]["total_mm"] == pytest.approx(0.06 + 4.0 * e, abs=4e-3)
    assert all("-0.14 mm to 0.26 mm of room" in each for each in cautions(manifest))


def test_a_dry_run_is_explained(tmp_path: Path) -> None:
    job, _ = made(tmp_path, None)
    run = jigcam("prove", tmp_path / "out" / "tilted-shelf" / "template-dry-run.nc", "--job", job)
    assert run.status == 2
    assert "dry run" in run.err


def test_a_wall_moved_by_hand_shows_in_the_fit_of_either_hand(tmp_path: Path) -> None:
    groove = {"way": "direct", "angle": 0, "length": 4, "width": "0.506 in", "opposite_hand": True}
    job = write_job(tmp_path, job_table("in", **groove))
    assert jigcam("make", job, "-o", tmp_path / "out").status == 0
    file = tmp_path / "out" / "tilted-shelf" / "groove-opposite.nc"
    before = jigcam("prove", file, "--job", job, "--json").json["fit"]
    text = file.read_text("ascii")
    wall = max(float(y) for y in re.findall(r"Y(-?\d+\.\d+)", text))
    moved = re.sub(r"Y(-?\d+\.\d+)", lambda m: f"Y{wall + 0.1:.4f}" if abs(float(m[1]) - wall) < 1e-4 else m[0], text)
    assert moved != text
    file.write_text(moved, "ascii")
    after = jigcam("prove", file, "--job", job, "--json").json["fit"]
    assert after["total_mm"] == before["total_mm"]
    assert after["opposite"]["most_mm"] > before["opposite"]["most_mm"] + 0.03
