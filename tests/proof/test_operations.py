"""Operations that are gone from a file, or in another order: what they were to cut is left, or too much at once."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from jigcam.findings import stops
from jigcam.gcode import write
from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.making.gcode_file import GcodeFile
from jigcam.proof import prove
from jigcam.toolpath import Operation
from jigcam.workshop.build import plan_job

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet"
JOBS = {name: load_job(FOLDER / f"{name}.toml") for name in ("tilted-shelf", "tilted-shelf-direct", "carcase")}
FILES = [
    (name, file)
    for name, job in JOBS.items()
    for work in plan_job(job, kit_for(job))
    for file in work.files
    if "opposite" not in file.file and "side-right" not in file.file and "top-left" not in file.file
]
EACH = [
    pytest.param(name, file, number, id=f"{file.file} {number}")
    for name, file in FILES
    for number in range(len(file.program.operations))
]


def stopped(name: str, file: GcodeFile, operations: tuple[Operation, ...]) -> set[str]:
    machine = kit_for(JOBS[name]).machine
    text = write(replace(file.program, operations=operations), machine)
    # Its header is another; here the cut is what counts.
    found = stops(prove(text, replace(file.target, told=None), machine, file.tools).findings)
    return {finding.rule for finding in found}


@pytest.mark.parametrize(("name", "file", "number"), EACH)
def test_no_operation_can_be_missed_without_a_stop(name: str, file: GcodeFile, number: int) -> None:
    operations = file.program.operations
    rest = (*operations[:number], *operations[number + 1 :])
    assert not rest or stopped(name, file, rest) & {"left", "mark-missing", "engagement", "rapid-in-wood", "power"}


def test_finishing_before_roughing_takes_too_much_at_once() -> None:
    name, file = next(pair for pair in FILES if pair[1].file.endswith("groove.nc"))
    rough, finish = file.program.operations
    assert "engagement" in stopped(name, file, (finish, rough))
