"""Whatever stands behind a key: a sound job or kit comes out, or faults with a place, and nothing else."""

from __future__ import annotations

import math
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from jigcam.document import Document
from jigcam.errors import Faults, InputError, Refused
from jigcam.findings import stops
from jigcam.job import Job
from jigcam.job.loading import job_from
from jigcam.joints import Entries, design, kind, kind_names
from jigcam.kit import Kit, profiles_folder
from jigcam.kit.loading import kit_from

JOB = """\
job = "x"
units = "in"
kit = "inch-shop"
boards.side.length = 22
boards.side.width = 11
boards.side.thickness = 1
boards.side.wood = "teak"
boards.side.sawn = "flat"
climate.dry.humidity = 35
climate.dry.temperature = "70 F"
climate.damp.moisture = 12
allowance.length = 1
allowance.stock = [1, "5/4"]
allowance.waste = 20
[[joints]]
name = "a"
kind = "groove"
board = "side"
face = "inside"
from = [4, 2]
angle = 78
length = 8
depth = 0.3
receives = "side"
width = "1/2"
clearance = 0.006
start = "open"
finish = "open"
ends = "round"
opposite_hand = true
way = "direct"
bit = "b"
bushing = "c"
[[keep_out]]
from = [1, 2]
size = [3, 4]
height = 1
what = "clamp"
setup = "flat"
"""

VALUES = st.sampled_from(
    [
        "0",
        "-1",
        "1",
        "1e9",
        "1e400",
        "-1e-300",
        "nan",
        "inf",
        "9" * 400,
        "0x" + "f" * 5000,
        "true",
        "1979-05-27",
        "07:32:00",
        '""',
        '"x"',
        '"1/2"',
        '"1/0"',
        '"8 deg"',
        '"1:7"',
        '"\\u0000"',
        '"\\u001b[2J"',
        "[]",
        "[1]",
        "[1, 2]",
        "[1, 2, 3]",
        "[[1, 2], [3, 4]]",
        '["a", nan]',
        "{}",
        "{ x = 1 }",
        "[{}]",
        "[{ from = 1 }]",
        '"' + "y" * 500 + '"',
    ]
)


def changed(text: str, changes: list[tuple[int, str]]) -> str:
    lines = text.splitlines()
    settable = [number for number, line in enumerate(lines) if " = " in line.partition("#")[0]]
    for place, value in changes:
        number = settable[place % len(settable)]
        lines[number] = f"{lines[number].partition('=')[0]}= {value}"
    return "\n".join(lines)


CHANGES = st.lists(st.tuples(st.integers(0, 200), VALUES), min_size=1, max_size=4)


def assert_told(faults: Faults, file: str) -> None:
    assert faults.faults
    for fault in faults.faults:
        assert isinstance(fault, InputError)
        assert fault.where.startswith(f"{file}:")
        assert fault.found
        assert fault.wanted
        assert all(line.isprintable() for line in str(fault).splitlines())


def load(text: str, reader: type[Job] | type[Kit]) -> Job | Kit | None:
    document = Document.parse(text, Path("f.toml"))
    try:
        return job_from(document, Entries()) if reader is Job else kit_from(document)
    except Faults as faults:
        assert_told(faults, "f.toml")
        return None


@given(CHANGES)
def test_jobs(changes: list[tuple[int, str]]) -> None:
    job = load(changed(JOB, changes), Job)
    if isinstance(job, Job):
        assert all(math.isfinite(entry.clearance) for entry in job.joints)
        assert all(0 < board.thickness < 1e5 for board in job.boards.values())


@given(CHANGES, st.sampled_from(kind_names()), st.sampled_from(["in", "mm"]))
def test_jobs_of_every_kind_are_read_and_judged(changes: list[tuple[int, str]], name: str, units: str) -> None:
    job = load(changed(kind(name).starter(units), changes), Job)
    refusals = []
    for entry in job.joints if isinstance(job, Job) else ():
        try:
            design(entry, job)
        except Refused as refused:
            refusals.append(refused)
    assert all(stops(refused.findings) for refused in refusals)


@given(CHANGES, st.sampled_from(["inch-shop", "metric-shop"]))
def test_kits(changes: list[tuple[int, str]], name: str) -> None:
    text = (profiles_folder() / f"{name}.toml").read_text("utf-8")
    kit = load(changed(text, changes), Kit)
    if isinstance(kit, Kit):
        for bit in kit.bits:
            assert 0 <= float(bit.radius_at(bit.cutting_length / 2)) <= bit.radius


def test_the_unchanged_job_is_sound() -> None:
    assert isinstance(load(JOB, Job), Job)
