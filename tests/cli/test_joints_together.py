"""What commands say of several joints in one board: once for the job, with the other findings."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from support.jobs import job_table, write_job
from support.shop import jigcam


def two_grooves(folder: Path, *, depth: float = 6.0, face: str = "inside", **keys: Any) -> Path:
    """A dado and a groove along the side, which meet on the inside, or 230 long from the outside.

    keys: of the groove.
    """
    table = job_table("mm", boards={"side": {"length": 300, "width": 120, "thickness": 19.05}})
    dado = {"width": 12, "receives": None, "start": "open", "finish": "open", "ends": "square"}
    first, second = dict(table["joints"][0]), dict(table["joints"][0])
    first |= dado | {"name": "shelf", "from": [100, 0], "angle": 90, "length": 120, "depth": depth}
    second |= dado | {"name": "back", "from": [0, 100], "angle": 0, "length": 160, "width": 6, "finish": "stopped"}
    second |= {"depth": depth, "face": face, **keys}
    return write_job(folder, {**table, "joints": [first, second]})


def test_crossing_grooves_are_told_once_in_check_view_prove_manifest_and_on_both_sheets(tmp_path: Path) -> None:
    job, out = two_grooves(tmp_path), tmp_path / "out"
    for command in (("check", job), ("view", job), ("make", job, "-o", out)):
        run = jigcam(*command)
        assert run.status == 0, run.err
        assert run.out.count("[cuts-cross]") == 1, command
        assert "side: shelf and back: " in run.out
    findings = json.loads((out / "manifest.json").read_text("utf-8"))["findings"]
    (crossing,) = [each for each in findings if each["rule"] == "cuts-cross"]
    assert (crossing["level"], crossing["where"]) == ("caution", "side: shelf and back")
    for joint in ("shelf", "back"):
        assert (out / joint / "setup-sheet.txt").read_text("utf-8").count("cross on the inside face") == 1
    run = jigcam("prove", out / "back" / "groove.nc", "--job", job)
    assert run.status == 0, run.err
    assert run.out.count("[cuts-cross]") == 1
    shown = json.loads(jigcam("view", job, "--json").out)
    assert [each["rule"] for each in shown["findings"]] == ["cuts-cross"]


@pytest.mark.parametrize("command", ["check", "make", "view"])
def test_grooves_that_break_through_refuse_the_job(command: str, tmp_path: Path) -> None:
    job, out = two_grooves(tmp_path, depth=9.525, face="outside", length=230), tmp_path / "out"
    run = jigcam(command, job, *(("-o", out) if command == "make" else ()))
    assert run.status == 1
    assert "[broken-through]" in run.err
    assert "refused: side: shelf and back cannot be in one board as drawn" in run.err
    assert not out.exists()


def test_one_joint_asked_for_is_refused_for_the_sake_of_another(tmp_path: Path) -> None:
    job = two_grooves(tmp_path, depth=9.525, face="outside", length=230)
    run = jigcam("check", job, "--joint", "back")
    assert run.status == 1
    assert "[broken-through]" in run.err


def test_joints_that_are_apart_say_nothing_of_each_other(tmp_path: Path) -> None:
    job = two_grooves(tmp_path, **{"from": [0, 100], "length": 60})
    run = jigcam("check", job, "--why")
    assert run.status == 0, run.err
    assert "shelf and back" not in run.out
