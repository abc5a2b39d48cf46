"""The key `template`: joints of one face that share a sheet, and what a job may not ask of them."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from support.jobs import job_table, write_job

from jigcam.errors import Faults
from jigcam.job import Job
from jigcam.job.sheets import sheet_faults
from jigcam.joints import load_job


def job_of(folder: Path, *others: dict[str, Any], **first: Any) -> Job:
    """A job with the groove of every test, on the sheet "both", and others that differ from it."""
    table = job_table("mm", **{"way": "template", "template": "both", **first})
    entry = table["joints"][0]
    table["joints"] += [{**entry, "name": f"strip {n}", "from": [300, 38], **other} for n, other in enumerate(others)]
    return load_job(write_job(folder, table))


def faults(folder: Path, *others: dict[str, Any], **first: Any) -> list[str]:
    with pytest.raises(Faults) as refused:
        job_of(folder, *others, **first)
    return [str(error) for error in refused.value.faults]


def test_joints_with_one_name_share_a_sheet_and_one_alone_does_not(tmp_path: Path) -> None:
    job = job_of(tmp_path, {}, {"template": "other"}, {"template": None})
    assert {name: [entry.name for entry in some] for name, some in job.sheets.items()} == {
        "both": ["tilted shelf", "strip 0"]
    }


@pytest.mark.parametrize(
    ("other", "says"),
    [
        ({"face": "outside"}, 'face = "outside" here, and face = "inside" in "tilted shelf"'),
        ({"board": "shelf", "receives": "side"}, 'board = "shelf" here, and board = "side" in "tilted shelf"'),
        ({"way": "direct"}, 'way = "direct"'),
        ({"way": "hand"}, 'write way = "template", or leave the key template out'),
    ],
)
def test_a_joint_that_cannot_lie_on_the_sheet_is_an_input_error_at_its_key(
    tmp_path: Path, other: dict[str, Any], says: str
) -> None:
    (error,) = faults(tmp_path, other)
    assert says in error
    line = next(n for n, text in enumerate((tmp_path / "job.toml").read_text().splitlines(), 1) if "strip 0" in text)
    at = int(error.split("job.toml:")[1].split(":")[0])
    assert at > line
    assert "joints[2].template" in error


def test_all_joints_that_cannot_lie_on_the_sheet_are_told_at_once(tmp_path: Path) -> None:
    assert len(faults(tmp_path, {"face": "outside"}, {"way": "direct"})) == 2


def test_a_kind_without_an_opening_of_its_own_cannot_share_a_sheet(tmp_path: Path) -> None:
    table = job_table("mm", way="template", template="both")
    rabbet = {"name": "back", "kind": "rabbet", "board": "side", "face": "inside", "along": "upper", "width": 9}
    table["joints"].append({**rabbet, "depth": 6, "template": "both"})
    with pytest.raises(Faults, match="a rabbet cannot share a sheet"):
        load_job(write_job(tmp_path, table))


@pytest.mark.parametrize("name", ["tilted shelf", "Tilted Shelf"])
def test_a_sheet_and_a_joint_are_not_written_to_one_folder(tmp_path: Path, name: str) -> None:
    (error,) = faults(tmp_path, {"template": name}, template=name)
    assert "would be written to the same folder" in error


def test_a_joint_that_turns_its_sheet_over_shares_it_with_no_other() -> None:
    plain = {"kind": "groove", "template": "both", "way": "template", "SHARES": True, "board": "side", "face": "inside"}
    entries: Any = [SimpleNamespace(name="row", **{**plain, "face": "both"}), SimpleNamespace(name="strip", **plain)]
    ((place, error),) = sheet_faults(entries, {"row": "row", "strip": "strip"})
    assert place == ("joints", 0, "template")
    assert "leave the key template out" in error.mend


def test_two_sheets_are_not_written_to_one_folder(tmp_path: Path) -> None:
    (error,) = faults(tmp_path, {}, {"template": "Both"}, {"template": "Both"})
    assert "both both" in error
