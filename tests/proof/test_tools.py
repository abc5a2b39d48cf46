"""Which bit is in the spindle, with which length offset: known at each motion, or a stop."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.hand_files import slot_file
from support.hand_targets import target_of
from support.programs import SQUARE, a_bit, a_machine, a_program, an_operation

from jigcam.findings import stops
from jigcam.gcode import write
from jigcam.kit import Machine, load_kit
from jigcam.proof import Stock, Target, prove

FIRST, SECOND = a_bit("first"), a_bit("second", 3.0)
TABLE = {0: FIRST, 1: FIRST, 2: SECOND}
PROGRAM = a_program(an_operation(SQUARE, bit=FIRST), an_operation(SQUARE, bit=SECOND))
AUTOMATIC, PAUSE = a_machine(tool_change="automatic"), a_machine(tool_change="pause")
TARGET = Target(Stock.of_size(200.0, 120.0, 18.0), units="mm")
ABOUT_BITS = {"tool-change", "tool-unknown", "length-offset", "length-offset-missing", "first-move", "place-unknown"}


def told(text: str, machine: Machine, target: Target = TARGET) -> set[str]:
    """The rules on bits that a text breaks; what it cuts is another matter here."""
    found = stops(prove(text, target, machine, TABLE).findings)
    return {finding.rule for finding in found} & ABOUT_BITS


@pytest.mark.parametrize("machine", [AUTOMATIC, PAUSE])
def test_files_as_written_name_their_bits(machine: Machine) -> None:
    assert not told(write(PROGRAM, machine), machine)


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("T2 M6", "T3 M6", "tool-unknown"),  # a number that the table does not have
        ("T2 M6", "T0 M6", "tool-unknown"),
        ("T1 M6", "M6", "tool-unknown"),  # no T word before it
        ("T1 M6\n", "", "tool-unknown"),  # what the changer holds, only the machine knows
        ("M30", "T9\nM30", "tool-unknown"),
        ("T2 M6", "T2 M6\nT3 M6", "tool-unknown"),
    ],
)
def test_a_bit_that_is_not_known_is_never_the_first_one(old: str, new: str, rule: str) -> None:
    text = write(PROGRAM, AUTOMATIC)
    assert old in text
    assert rule in told(text.replace(old, new, 1), AUTOMATIC)


def test_a_known_bit_called_up_early_is_none_too_many() -> None:
    assert not told(write(PROGRAM, AUTOMATIC).replace("T1 M6\n", "T1 M6\nT2\n", 1), AUTOMATIC)


@pytest.mark.parametrize("words", ["T2", "M6", "T1 M6", "T2 M6"])
def test_a_change_in_a_file_for_one_bit(words: str) -> None:
    slot, kit = slot_file(), load_kit("inch-shop")
    text = slot.text.replace("G0 Z5.\n", f"G0 Z5.\n{words}\n", 1)
    found = stops(prove(text, target_of(slot), kit.machine, kit.bit(slot.bit)).findings)
    assert "tool-change" in {finding.rule for finding in found}


def test_pauses_and_m6_do_not_go_together() -> None:
    text = write(PROGRAM, PAUSE)
    assert "tool-change" in told(text.replace("S", "T1 M6\nS", 1), PAUSE)
    assert "tool-change" in told(text.replace("M30", "T2\nM30"), PAUSE)


def test_a_pause_too_many_is_a_bit_that_nobody_knows() -> None:
    text = write(PROGRAM, PAUSE)
    assert "tool-unknown" in told(text.replace("M0\n", "M0\nG0 Z20.\nM0\n", 1), PAUSE)


def test_a_single_bit_is_no_other_number() -> None:
    one = a_program(an_operation(SQUARE, bit=FIRST))
    text = write(one, AUTOMATIC)
    assert "tool-unknown" not in {f.rule for f in prove(text, TARGET, AUTOMATIC, FIRST).findings}
    other = text.replace("T1 M6", "T2 M6")
    assert "tool-unknown" in {f.rule for f in stops(prove(other, TARGET, AUTOMATIC, FIRST).findings)}


# ---- length offsets


MEASURING = a_machine(tool_change="automatic", measures_bits=True)
WANTED = replace(TARGET, length_offsets=True)


def test_each_bit_with_its_own_length_offset() -> None:
    text = write(PROGRAM, AUTOMATIC)
    assert text.count("G43") == 2
    assert not told(text, AUTOMATIC)
    assert not told(text, AUTOMATIC, WANTED)


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("G43 H2", "G43 H1", "length-offset"),
        ("G43 H2\n", "", "length-offset"),  # that of the first bit stays in force
        ("G43 H2\n", "G49\n", "length-offset-missing"),
        ("G43 H1\n", "", "length-offset-missing"),
        ("G43 H2", "G43 H7", "length-offset"),
    ],
)
def test_another_length_offset_or_none(old: str, new: str, rule: str) -> None:
    text = write(PROGRAM, AUTOMATIC)
    assert old in text
    assert rule in told(text.replace(old, new, 1), AUTOMATIC)


def test_without_any_it_depends_on_what_the_machine_wants() -> None:
    text = write(PROGRAM, MEASURING)
    assert "G43" not in text
    assert not told(text, AUTOMATIC)
    assert told(text, AUTOMATIC, WANTED) == {"length-offset-missing"}


def test_a_length_offset_after_the_height_was_given_makes_it_unknown() -> None:
    lines = write(PROGRAM, MEASURING).splitlines()
    lift = lines.index("T1 M6") + 1
    assert lines[lift] == "G0 Z40.0000"
    late = "\n".join([*lines[: lift + 1], "G43 H1", *lines[lift + 1 :]]) + "\n"
    assert "first-move" in told(late, AUTOMATIC)


def test_no_length_offset_where_a_hand_sets_the_tip_to_zero() -> None:
    slot, kit = slot_file(), load_kit("inch-shop")
    text = slot.text.replace("G0 Z5.\n", "G43 H1\nG0 Z5.\n", 1)
    found = stops(prove(text, target_of(slot), kit.machine, kit.bit(slot.bit)).findings)
    assert "length-offset" in {finding.rule for finding in found}
    none = slot.text.replace("G0 Z5.\n", "G43 H0\nG0 Z5.\n", 1)
    assert prove(none, target_of(slot), kit.machine, kit.bit(slot.bit)).ok


# ---- where the tool is after a change


@pytest.mark.parametrize("machine", [AUTOMATIC, PAUSE])
def test_after_a_change_the_height_is_said_again_before_anything_else(machine: Machine) -> None:
    lines = write(PROGRAM, machine).splitlines()
    change = max(k for k, line in enumerate(lines) if line in ("T2 M6", "M0"))
    lift = lines.index("Z40.0000", change)
    text = "\n".join([*lines[:lift], *lines[lift + 1 :]]) + "\n"
    assert told(text, machine) & {"first-move", "place-unknown"}


def test_a_pause_without_a_change_moves_nothing() -> None:
    slot, kit = slot_file(), load_kit("inch-shop")
    text = slot.text.replace("S16000 M3\n", "M0\nS16000 M3\n", 1)
    assert prove(text, target_of(slot), kit.machine, kit.bit(slot.bit)).ok
