"""The grammar of a line: NISTIR 6556, section 3.3."""

from __future__ import annotations

import pytest

from jigcam.gcode.words import scan


def words(text: str) -> dict[str, float]:
    block = scan(text, 1)
    assert not block.faults
    return block.words


def test_blanks_mean_nothing_even_inside_numbers() -> None:
    """Section 3.3 (from memory): `g0x +0. 12 34y 7` is `g0 x+0.1234 y7`."""
    block = scan("g0x +0. 12 34y\t7", 1)
    assert block.codes == [("G", 0.0, 1)]
    assert block.words == {"X": 0.1234, "Y": 7.0}


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("X1", 1),
        ("X+1", 1),
        ("X-1", -1),
        ("X1.", 1),
        ("X.5", 0.5),
        ("X-.5", -0.5),
        ("X007", 7),
        ("X1.500", 1.5),
        ("X-0", 0),
    ],
)
def test_numbers(text: str, value: float) -> None:
    assert words(text) == {"X": value}


def test_words_come_in_any_order_and_keep_their_columns() -> None:
    block = scan("N5 F100 X1 G1 (note) Y-2", 7)
    assert (block.number, block.words, block.comments) == (5, {"F": 100, "X": 1, "Y": -2}, ["note"])
    assert block.columns == {"F": 4, "X": 9, "Y": 22}


def test_a_comment_begins_with_any_bracket_and_ends_with_the_first() -> None:
    block = scan("(a) G0 X1 ( b; % # [ ] ! ) Y2", 1)
    assert not block.faults
    assert block.comments == ["a", " b; % # [ ] ! "]
    assert block.words == {"X": 1, "Y": 2}


def test_a_line_may_be_marked_for_deletion() -> None:
    assert scan(" / N1 G0 X1", 1).deletable
    assert scan(" / N1 G0 X1", 1).number == 1
    assert not scan("G0 X1", 1).deletable


def test_the_longest_line_has_256_characters() -> None:
    assert not scan("X1".ljust(256), 1).faults
    assert [fault.rule for fault in scan("X1".ljust(257), 1).faults] == ["line-too-long"]


def test_line_numbers_go_to_99999() -> None:
    assert scan("N99999", 1).number == 99999
    assert scan("n0", 1).number == 0
