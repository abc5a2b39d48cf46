"""A bare number that is surely in the other unit is told, and what is then written is read."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from support.jobs import SIDE, job_table, write_job

from jigcam.errors import Faults
from jigcam.joints import load_job


def written(units: str, key: str, value: object) -> dict[str, Any]:
    """A job with one key of its board, or of its groove, as given."""
    if key == "clearance":
        return job_table(units, clearance=value)
    if key == "depth":
        return job_table(units, depth=value)
    return job_table(units, boards={"side": {**SIDE[units], key: value}})


SLIPS = [
    ("in", "thickness", 19, '"19 mm"'),
    ("in", "width", 229, '"229 mm"'),
    ("in", "length", 560, '"560 mm"'),
    ("in", "length", "300.5", '"300.5 mm"'),
    ("in", "clearance", 0.15, '"0.15 mm"'),
    ("mm", "thickness", 0.75, '"0.75 in"'),
    ("mm", "thickness", ".75", '"0.75 in"'),
    ("mm", "length", 22, '"22 in"'),
    ("mm", "width", 5.5, '"5.5 in"'),
    ("mm", "clearance", 0.006, '"0.006 in"'),
    ("mm", "thickness", "3/4", '"3/4 in"'),
    ("mm", "depth", "1/4", '"1/4 in"'),
    ("mm", "depth", 0.8, '"0.8 in"'),
    ("in", "depth", 8, '"8 mm"'),
]


@pytest.mark.parametrize(("units", "key", "value", "meant"), SLIPS)
def test_a_bare_number_that_is_surely_in_the_other_unit_is_told(
    units: str, key: str, value: object, meant: str, tmp_path: Path
) -> None:
    with pytest.raises(Faults) as caught:
        load_job(write_job(tmp_path, written(units, key, value)))
    (fault,) = caught.value.faults
    assert fault.where.endswith(key)
    assert f"did you mean {meant}?" in fault.mend
    for text in re.findall(r'"([\d./-]+ (?:in|mm))"', f"{fault.mend} {fault.wanted}"):
        load_job(write_job(tmp_path, written(units, key, text)))  # whatever is proposed is read


@pytest.mark.parametrize(
    ("units", "key", "value"),
    [
        ("in", "thickness", "6-1/2"),
        ("in", "thickness", "19 mm"),
        ("in", "width", 60),
        ("in", "length", 240),
        ("in", "length", "300 in"),
        ("in", "clearance", "1/16"),
        ("mm", "thickness", 2),
        ("mm", "width", 8),
        ("mm", "length", 40),
        ("mm", "clearance", 0.01),
        ("mm", "clearance", 0),
    ],
)
def test_what_may_be_meant_is_taken_as_it_stands(units: str, key: str, value: object, tmp_path: Path) -> None:
    load_job(write_job(tmp_path, written(units, key, value)))


def test_limits_in_inches_are_said_in_three_digits_and_are_within_them(tmp_path: Path) -> None:
    """They were "from 0.0003937 in to 393.7 in", and the latter was refused in turn."""
    with pytest.raises(Faults) as caught:
        load_job(write_job(tmp_path, written("in", "length", "500 in")))
    (fault,) = caught.value.faults
    assert fault.wanted == "from 0.000394 in to 393 in"
    for text in ("0.000394 in", "393 in"):
        load_job(write_job(tmp_path, written("in", "length", text)))
