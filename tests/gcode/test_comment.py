"""People's text in comments: it can neither end its comment nor become a command or a message."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.gcode.comment import COLUMNS, all_comments, comments, messages, reduce
from jigcam.gcode.words import scan


@pytest.mark.parametrize(
    ("text", "reduced"),
    [
        ("Sheet-music cabinet", "Sheet-music cabinet"),
        ("x) G0 Z-50 (", "x G0 Z-50"),
        ('3/8" × 1-1/4"', "3/8' x 1-1/4'"),
        ("8° dovetail", "8 deg dovetail"),
        ("Tür, côté gauche – größer", "Tur, cote gauche - grosser"),
        ("one\nG0 Z-50\r\ntwo\x00\x85three\u2028four", "one G0 Z-50 two three four"),
        ("100 % ; # $ ! [1] {2} ~ ^ ?", "100 percent , 1 2"),
        (
            "deep, 44% of it: a third is usual (common practice)",
            "deep, 44 percent of it: a third is usual, common practice",
        ),
        (
            "a slip (0.1 mm): widen it (a little) or not (at all).",
            "a slip, 0.1 mm: widen it, a little, or not, at all.",
        ),
        ("bit: (large) one (.5 in), vee", "bit: large, one, .5 in, vee"),
        ("(a) and (b)", "a, and, b"),
        ("棚 №5 \U0001f4a9", "No5"),
        ("\uff08full width\uff09", "full width"),
        ("", ""),
    ],
)
def test_what_is_left_of_a_text(text: str, reduced: str) -> None:
    assert reduce(text) == reduced


@given(st.text(max_size=600))
def test_any_text_stays_within_its_comment(text: str) -> None:
    for line in [*comments(text), *messages(text)]:
        assert re.fullmatch(r"\([A-Za-z0-9 .,:'/+=-]+\)", line)
        assert len(line) <= COLUMNS
        block = scan(line, 1)
        assert not block.faults
        assert not block.words
        assert not block.codes


@pytest.mark.parametrize("text", ["MSG, stop", "msg , stop", "M s G,stop", "(MSG, stop)", "\tMSG,"])
def test_no_text_poses_as_a_message(text: str) -> None:
    """NISTIR 6556, section 3.3.4: variants of MSG with white space and small letters count too."""
    for line in comments(text) + comments("x" * 98 + " " + text):
        assert not re.match(r"\(\s*m\s*s\s*g\s*,", line, re.IGNORECASE)


def test_long_text_is_wrapped_at_words() -> None:
    lines = comments("word " * 100)
    assert len(lines) > 4
    assert all(line.startswith("(word") and line.endswith("word)") for line in lines)
    assert comments("x" * 500)[0] == "(" + "x" * 98 + ")"


def test_each_text_begins_its_own_line() -> None:
    assert all_comments(["a", "", "b"]) == ["(a)", "(b)"]
    assert messages("put in the bit") == ["(MSG, put in the bit)"]
