"""One text for every error that the standard names (NISTIR 6556, appendix A and the sections of each code).

Sections other than 3.3–3.4, 3.5.3, 3.5.16 and 3.6.1 are from memory.
"""

from __future__ import annotations

import pytest
from support.faulty_texts import FAULTY_LINES, OPENING, REMARKABLE, WHOLE_FILES

from jigcam.gcode import FAULTS, read


@pytest.mark.parametrize(("rule", "lines"), [(rule, line) for rule, lines in FAULTY_LINES.items() for line in lines])
def test_the_fault_is_found_with_its_line_and_nothing_else_is(rule: str, lines: str) -> None:
    reading = read(OPENING + lines + "\nM2\n")
    last = OPENING.count("\n") + 1 + lines.count("\n")
    assert {(fault.line, fault.rule) for fault in reading.faults} == {(last, rule)}, FAULTS[rule]


@pytest.mark.parametrize(("rule", "text"), [(rule, text) for rule, texts in WHOLE_FILES.items() for text in texts])
def test_a_fault_of_the_file_is_found(rule: str, text: str) -> None:
    assert rule in [fault.rule for fault in read(text).faults]


@pytest.mark.parametrize(("rule", "text"), REMARKABLE.items())
def test_what_is_worth_knowing_is_a_remark_and_no_fault(rule: str, text: str) -> None:
    reading = read(text)
    assert not reading.faults
    assert [remark.rule for remark in reading.remarks] == [rule]


def test_every_rule_has_its_text() -> None:
    # A zero that is moved later on is unknown as well: two remarks.
    assert set(FAULTS) == set(FAULTY_LINES) | set(WHOLE_FILES) | set(REMARKABLE) | {"offset-unknown"}


@pytest.mark.parametrize(
    ("line", "column"),
    [
        ("G1 X1 E2", 7),
        ("  G1 X1.2.3", 6),
        ("G1 (hm) X1 X2", 12),
        ("G0 X1 G1", 7),
        ("G1 X1 I3", 7),
        ("G2 X1 K1 I1", 7),
        ("g1 x1 ; no", 7),
        ("(a (b)", 4),
        ("M3 M4", 4),
        ("G1 F-3 X1", 4),
    ],
)
def test_a_fault_names_its_column(line: str, column: int) -> None:
    (fault,) = read(OPENING + line + "\nM2\n").faults
    assert (fault.line, fault.column) == (5, column)
    assert str(fault).startswith(f"line 5, column {column}: ")


def test_several_faults_of_one_line_are_all_reported() -> None:
    reading = read(OPENING + "G1 G2 X1 X2 E5\nM2\n")
    assert [fault.rule for fault in reading.faults] == ["same-group", "word-repeated", "unknown-letter"]


def test_one_missing_word_is_not_a_hundred_faults_of_position() -> None:
    """A motion that cannot be made is left out, and the next one starts where it would have ended."""
    reading = read(OPENING + "G2 X10 Y0\nG1 X20\nG3 X20 Y10 I0 J5\nM2\n")
    assert [fault.rule for fault in reading.faults] == ["arc-offsets-missing"]
    assert reading.motion(1).start == (10, 0, 5)
    assert [motion.line for motion in reading] == [2, 6, 7]


def test_reading_stops_after_a_hundred_faults() -> None:
    reading = read("G1 X1 X1\n" * 100_000)
    assert len(reading.faults) == 101
    assert reading.faults[-1].rule == "too-many-faults"
    assert reading.faults[-1].line == 101


def test_a_fault_names_the_section_it_rests_on() -> None:
    (fault,) = read(OPENING + "G2 X2 I1.5\nM2\n").faults
    assert fault.section == "3.5.3.2"
