"""What a person obeys is what the job says: messages, and comments on bit, zero, stock and setup."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from support.programs import SQUARE, a_bit, a_machine, a_program, an_operation

from jigcam.findings import Finding, stops
from jigcam.gcode import read, write
from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.making.gcode_file import GcodeFile
from jigcam.proof import Stock, Target, prove
from jigcam.workshop.build import plan_job

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet"
JOB = load_job(FOLDER / "tilted-shelf-direct.toml")
KIT = kit_for(JOB)
FILE: GcodeFile = plan_job(JOB, KIT)[0].files[0]


def found(text: str, *, asked: bool = False) -> list[Finding]:
    target = replace(FILE.target, asked=asked)
    return list(prove(text, target, KIT.machine, FILE.tools, units=JOB.units).findings)


def stopped(text: str) -> set[str]:
    return {finding.rule for finding in stops(found(text))}


def changed(old: str, new: str) -> str:
    assert old in FILE.text
    return FILE.text.replace(old, new, 1)


def test_the_file_as_made_says_what_the_job_says() -> None:
    assert not stopped(FILE.text)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("straight 1/4, straight", "straight 1/2, straight"),
        ("diameter 6.35 mm", "diameter 12.7 mm"),
        ("lower left corner, face", "upper left corner, face"),
        ("lower left corner, face", "lower left corner, spoilboard"),
        ("558.8 mm by", "538.8 mm by"),
        ("23.81 mm thick", "19.05 mm thick"),
        ("setup: flat", "setup: upright"),
        ("(bit: ", "(BIT: the big one. "),
    ],
)
def test_a_comment_that_says_otherwise(old: str, new: str) -> None:
    assert "comment" in stopped(changed(old, new))


@pytest.mark.parametrize(
    "comment", ["(use the 8 mm cutter)", "(zero: on the spoilboard)", "(turn the board over here)"]
)
def test_a_comment_of_a_hand_that_sets_things_up_otherwise(comment: str) -> None:
    assert "comment" in stopped(changed("G17\n", f"{comment}\nG17\n"))


@pytest.mark.parametrize("comment", ["(checked on Tuesday)", "(ok, thank you)", "()"])
def test_a_comment_that_tells_nobody_what_to_do(comment: str) -> None:
    assert not stopped(changed("G17\n", f"{comment}\nG17\n"))


def test_a_comment_that_is_gone_tells_nothing_wrong() -> None:
    bare = "\n".join(line for line in FILE.text.split("\n") if not line.startswith("("))
    assert not stopped(bare)


def test_small_letters_blanks_and_another_version_change_nothing() -> None:
    assert not stopped(changed("(zero: lower", "(ZERO:  lower"))
    assert not stopped(changed("jigcam 0", "jigcam 99"))


@pytest.mark.parametrize("place", ["G17\n", "M5\n"])
def test_a_message_that_nobody_planned(place: str) -> None:
    assert "message" in stopped(changed(place, f"(MSG, all done, take the board out)\n{place}"))
    assert "message" in stopped(changed(place, f"( m s g , take the board out)\n{place}"))


@pytest.mark.parametrize(
    ("old", "new"), [("tilted shelf,", "other shelf,"), ("groove.nc", "other.nc"), ("Sheet-music", "Wine")]
)
def test_another_file_is_refused_unless_it_was_asked_for(old: str, new: str) -> None:
    text = changed(old, new)
    assert "another-file" in stopped(text)
    levels = {finding.level for finding in found(text, asked=True) if finding.rule == "another-file"}
    assert levels == {"caution"}
    assert not stops(found(text, asked=True))


# ---- a change of bit by hand

FIRST, SECOND = a_bit("first"), a_bit("second", 3.0)
PAUSE = a_machine(tool_change="pause")
PROGRAM = a_program(an_operation(SQUARE, bit=FIRST), an_operation(SQUARE, bit=SECOND))
TEXT = write(PROGRAM, PAUSE)
TARGET = Target(Stock.of_size(300.0, 200.0, 12.7), told=tuple(each.text for each in read(TEXT).comments), units="mm")


def messages(text: str) -> list[str]:
    proof = prove(text, TARGET, PAUSE, {0: FIRST, 1: FIRST, 2: SECOND})
    return [finding.where for finding in stops(proof.findings) if finding.rule == "message"]


def test_a_change_by_hand_says_which_bit() -> None:
    lines = TEXT.split("\n")
    said = [k for k, each in enumerate(lines) if each.startswith("(MSG,")]
    first, last = said[0], said[-1]
    assert lines[first + 1].startswith("(MSG, put in second, ")
    assert lines[last + 1] == "M0"
    assert not messages(TEXT)
    assert messages(TEXT.replace("put in second", "put in first")) == [f"line {first + 2}"]
    silent = "\n".join(each for k, each in enumerate(lines) if k not in said)
    assert messages(silent) == ["the file", f"line {first + 1}"]
    late = "\n".join([*lines[:first], "M0", *lines[first : last + 1], *lines[last + 2 :]])
    assert messages(late) == [f"line {first + 1}"]


def test_the_bits_of_the_header_are_those_that_are_proved() -> None:
    other = prove(TEXT, TARGET, PAUSE, {0: FIRST, 1: FIRST, 2: a_bit("third", 3.0)})
    assert "comment" in {finding.rule for finding in stops(other.findings)}


def test_where_nothing_was_said_nothing_is_compared() -> None:
    silent = replace(FILE.target, told=None)
    text = changed("lower left corner, face", "upper left corner, face")
    assert not stops(prove(text, silent, KIT.machine, FILE.tools).findings)
