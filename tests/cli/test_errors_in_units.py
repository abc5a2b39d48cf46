"""Errors speak in the units of the file or shop that they are about, whatever is inside."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from support.jobs import job_table, write_job
from support.shop import jigcam

from jigcam.bench.offset import offset_sums
from jigcam.errors import InputError, Refused
from jigcam.making.dry_run import _prove as dry_run_proved
from jigcam.units import Voice

WIDE: dict[str, dict[str, Any]] = {
    "in": {"receives": None, "width": "1/8", "clearance": "1/4"},
    "mm": {"receives": None, "width": 3, "clearance": 6},
}


@pytest.mark.parametrize(("units", "other"), [("in", " mm"), ("mm", " in")])
def test_a_clearance_as_wide_as_its_groove_is_said_in_the_units_of_the_job(
    units: str, other: str, tmp_path: Path
) -> None:
    run = jigcam("check", write_job(tmp_path, job_table(units, **WIDE[units])))
    assert run.status == 2
    (says,) = [line for line in run.err.splitlines() if "less than the width of" in line]
    assert "0.125 in" in says if units == "in" else "3 mm" in says
    assert other not in says


@pytest.mark.parametrize(("units", "wanted"), [("in", "1/2 in"), ("mm", "12.7 mm")])
def test_a_cut_narrower_than_the_bit_is_said_in_the_units_that_were_asked_for(units: str, wanted: str) -> None:
    with pytest.raises(InputError) as caught:
        offset_sums(12.7, 19.05, cut=10.0, voice=Voice("in" if units == "in" else "mm"))
    assert wanted in str(caught.value)


@pytest.mark.parametrize(("units", "wanted"), [("in", "-0.079 in"), ("mm", "-2 mm")])
def test_a_dry_run_that_is_not_safe_says_how_low_it_goes_in_the_units_of_its_file(units: str, wanted: str) -> None:
    text = "G21\nG90\nG94\nG0 Z5\nG0 X0 Y0\nG1 Z-2 F100\nM30\n"
    with pytest.raises(Refused) as caught:
        dry_run_proved(text, "a-dry-run.nc", Voice("in" if units == "in" else "mm"))
    assert wanted in caught.value.findings[0].says
