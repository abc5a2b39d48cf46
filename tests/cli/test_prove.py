"""`prove`: a file as made passes; one word changed by hand is refused, with its line."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from support.jobs import job_table, write_job
from support.shop import jigcam

from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.workshop.build import plan_job

Change = Callable[[list[str]], int]
"""Changes one word in place and tells which line, counted from 1."""


BIG_ARC = 1000


def reach(line: str) -> float:
    """Radius of an arc, mm."""
    return math.hypot(*(float(value) for value in re.findall(r"[IJ](-?\d+\.?\d*)", line)))


def change(lines: list[str], pattern: str, replacement: str | Callable[[re.Match[str]], str], which: int = 0) -> int:
    """Changes one of the lines outside comments that match: the first, with -1 the last, or a big arc that finishes."""
    matching = [number for number, line in enumerate(lines) if not line.startswith("(") and re.search(pattern, line)]
    if which == BIG_ARC:  # the end of a groove; a lead-in, or an arc that clears, may turn either way without harm
        finishing = next(number for number, line in enumerate(lines) if line.startswith("(finish"))
        matching = [number for number in matching if number > finishing and reach(lines[number]) > 6.0]
        which = 0
    lines[matching[which]] = re.sub(pattern, replacement, lines[matching[which]], count=1)
    return matching[which] + 1


def scaled(factor: float) -> Callable[[re.Match[str]], str]:
    return lambda match: f"{match[1]}{float(match[2]) * factor:.4f}"


CHANGES: dict[str, Change] = {
    "one depth": lambda lines: change(lines, r"(Z-)(\d+\.?\d*)", scaled(1.4), -1),
    "one arc direction": lambda lines: change(lines, r"G3(?!\d)", "G2", BIG_ARC),
    "one feed": lambda lines: change(lines, r"(F)(\d+\.?\d*)", scaled(40)),
    "no feed": lambda lines: change(lines, r"F\d+\.?\d*", "F0"),
    "the spindle word": lambda lines: change(lines, r"M3(?!\d)", "M5"),
    "the spindle backwards": lambda lines: change(lines, r"M3(?!\d)", "M4"),
    "the units": lambda lines: change(lines, r"G21", "G20"),
    "a rapid for a cut": lambda lines: change(lines, r"G1(?!\d)", "G0"),
    "one place": lambda lines: change(lines, r"(Y)(\d+\.\d+) I", lambda match: f"Y{float(match[2]) + 0.2:.4f} I", -1),
}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a job by template and one cut directly, and what they make."""
    folder = tmp_path_factory.mktemp("made")
    for way in ("direct", "template"):
        job = write_job(folder / way, job_table("mm", way=way, length=60, width=24, receives=None))
        assert jigcam("make", job, "-o", folder / way / "out").status == 0
    return folder


FILES = {"direct": "groove.nc", "template": "template.nc"}


@pytest.mark.parametrize("way", FILES)
def test_a_file_as_made_is_proved(way: str, made: Path) -> None:
    file = made / way / "out" / "tilted-shelf" / FILES[way]
    run = jigcam("prove", file, "--job", made / way / "job.toml", "--json")
    assert run.status == 0, run.err
    assert run.json["proved"] is True
    assert run.json["gouge_mm"] <= 0.005
    assert run.json["left_mm"] <= 0.010


@pytest.mark.parametrize("way", FILES)
@pytest.mark.parametrize("what", CHANGES)
def test_a_change_by_hand_is_refused_with_its_line(what: str, way: str, made: Path, tmp_path: Path) -> None:
    text = (made / way / "out" / "tilted-shelf" / FILES[way]).read_text("ascii")
    lines = text.split("\n")
    number = CHANGES[what](lines)
    assert "\n".join(lines) != text
    file = tmp_path / FILES[way]
    file.write_text("\n".join(lines), "ascii")
    run = jigcam("prove", file, "--job", made / way / "job.toml", "--json")
    assert run.status == 1, run.out
    stops = [each for each in run.json["findings"] if each["level"] == "stop"]
    named = {int(line) for each in stops for line in re.findall(r"\bline (\d+)", f"{each['where']} {each['says']}")}
    # A change may show on the line itself or on one that follows from it: a spindle that never started shows at the
    # first cut, other units at the first place that they spoil.
    near = range(number, number + 12)
    assert named & set(near), (number, lines[number - 1], stops)


def test_a_file_that_the_job_does_not_make(made: Path, tmp_path: Path) -> None:
    job = made / "direct" / "job.toml"
    stranger = tmp_path / "stranger.nc"
    stranger.write_text("G21\nG0 Z5\nM30\n", "ascii")
    assert jigcam("prove", stranger, "--job", job).status == 1
    assert jigcam("prove", tmp_path / "nothing.nc", "--job", job).status == 2
    assert jigcam("prove", tmp_path, "--job", job).status == 2
    stranger.write_bytes(bytes(range(256)) * 40)
    run = jigcam("prove", stranger, "--job", job)
    assert run.status in (1, 2)
    assert "Traceback" not in run.err
    (tmp_path / "empty.nc").write_bytes(b"")
    assert jigcam("prove", tmp_path / "empty.nc", "--job", job).status in (1, 2)


# ---- which file it is


def proved(made: Path, file: Path, *options: str, way: str = "direct") -> Any:
    return jigcam("prove", file, "--job", made / way / "job.toml", *options)


def put(tmp_path: Path, made: Path, name: str, *changes: tuple[str, str]) -> Path:
    text = (made / "direct" / "out" / "tilted-shelf" / "groove.nc").read_text("ascii")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    file = tmp_path / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, "ascii")
    return file


EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet" / "tilted-shelf-direct.toml"
"""In inches, for both hands."""


def example_text(name: str) -> str:
    job = load_job(EXAMPLE)
    (work,) = plan_job(job, kit_for(job))
    return next(file.text for file in work.files if file.file == name)


def test_a_copy_under_a_name_of_no_file_is_taken_by_its_words(made: Path, tmp_path: Path) -> None:
    assert proved(made, put(tmp_path, made, "mine.nc")).status == 0


def test_a_file_under_another_ones_name_is_told(tmp_path: Path) -> None:
    file = tmp_path / "tilted-shelf" / "groove-opposite.nc"
    file.parent.mkdir()
    file.write_text(example_text("tilted-shelf/groove.nc"), "ascii")
    run = jigcam("prove", file, "--job", EXAMPLE, "--json")
    assert run.status == 1
    assert "another-name" in {each["rule"] for each in run.json["findings"] if each["level"] == "stop"}
    asked = jigcam("prove", file, "--job", EXAMPLE, "--json", "--joint", "tilted shelf")
    assert "another-name" in {each["rule"] for each in asked.json["findings"] if each["level"] == "caution"}
    assert asked.status == 0


def test_another_joints_file_is_refused_unless_it_is_asked_for(made: Path, tmp_path: Path) -> None:
    other = ("(file: tilted-shelf/groove.nc)", "(file: other/groove.nc)"), ("joint: tilted shelf", "joint: other")
    file = put(tmp_path, made, "groove.nc", *other)
    run = proved(made, file)
    assert run.status == 2
    assert "none of this job's files" in run.err
    asked = proved(made, file, "--json", "--joint", "tilted shelf")
    assert asked.status == 0, asked.out
    assert "another-file" in {each["rule"] for each in asked.json["findings"] if each["level"] == "caution"}


def test_another_jobs_file_of_the_same_name_is_refused_unless_it_is_asked_for(made: Path, tmp_path: Path) -> None:
    text = (made / "direct" / "out" / "tilted-shelf" / "groove.nc").read_text("ascii")
    title = text.split("\n")[0].split(" - jigcam")[0].removeprefix("(")
    file = put(tmp_path, made, "groove.nc", (f"({title} - jigcam", "(Bookcase - jigcam"))
    run = proved(made, file, "--json")
    assert run.status == 1
    assert "another-file" in {each["rule"] for each in run.json["findings"] if each["level"] == "stop"}
    assert proved(made, file, "--joint", "tilted shelf").status == 0


def test_no_joint_that_is_asked_for_excuses_another_bit(made: Path, tmp_path: Path) -> None:
    text = (made / "direct" / "out" / "tilted-shelf" / "groove.nc").read_text("ascii")
    bit = next(line for line in text.split("\n") if line.startswith("(bit: "))
    file = put(tmp_path, made, "groove.nc", (bit, "(bit: straight 20, straight, diameter 20 mm)"))
    assert proved(made, file, "--joint", "tilted shelf").status == 1


def test_a_message_added_by_hand_is_refused(made: Path, tmp_path: Path) -> None:
    assert proved(made, put(tmp_path, made, "groove.nc", ("G17\n", "(MSG, put in the other bit)\nG17\n"))).status == 1


def test_it_speaks_in_the_units_of_the_job(tmp_path: Path) -> None:
    text = example_text("tilted-shelf/groove.nc")
    deepest = min(float(z) for z in re.findall(r"Z(-[\d.]+)", text))
    file = tmp_path / "groove.nc"
    file.write_text(text.replace(f"Z{deepest:.4f}", f"Z{deepest - 0.508:.4f}"), "ascii")
    run = jigcam("prove", file, "--job", EXAMPLE)
    assert run.status == 1
    told = re.sub(r"\s+", " ", run.out).split("taken for")[1]  # a long path of the file wraps the words anywhere
    assert "0.0200 in" in told
    assert not re.search(r"\d mm\b", told), told
