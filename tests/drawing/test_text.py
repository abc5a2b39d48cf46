"""Words: harmless, measured, shortened, wrapped."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.drawings import HOSTILE, words

from jigcam.drawing.text import advance, cells, clean, columns, fit, wrap


@given(words)
def test_clean_leaves_only_printable_characters_on_one_line(text: str) -> None:
    kept = clean(text)
    assert not {unicodedata.category(c)[0] for c in kept} & {"C"}
    assert "\n" not in kept
    assert clean(kept) == kept


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("a\nb\tc", "a b c"),
        ("\x1b[31m", "?[31m"),
        ("\u202ex", "?x"),
        ("\x9b2J", "?2J"),
        ("plain – 3/8", "plain – 3/8"),
    ],
)
def test_clean_by_example(text: str, wanted: str) -> None:
    assert clean(text) == wanted


@given(words)
def test_cells_are_as_many_as_columns(text: str) -> None:
    text = clean(text)
    # A mark at the very beginning has nothing to stand on and is dropped; it takes no column either way.
    assert len(list(cells(text))) == columns(text)


def test_wide_characters_take_two_columns() -> None:
    assert columns("櫻木") == 4  # Unicode Standard Annex 11: East Asian Wide
    assert columns("e\u0301") == 1


@given(words, st.integers(0, 30))
def test_fit_keeps_to_its_room(text: str, room: int) -> None:
    short = fit(clean(text), room)
    assert columns(short) <= room
    if columns(clean(text)) <= room:
        assert short == clean(text)


@given(words, st.integers(1, 30))
def test_wrap_keeps_to_its_room(text: str, room: int) -> None:
    assert all(columns(line) <= room for line in wrap(clean(text), room, "  "))


def test_wrap_loses_no_word_that_fits() -> None:
    text = "the sheet's marks say which face is up for which hand"
    assert " ".join(" ".join(wrap(text, 17, "  ")).split()) == text


@pytest.mark.parametrize("text", [t for t in HOSTILE if clean(t)])
def test_room_on_paper_is_positive(text: str) -> None:
    assert advance(clean(text), 2.5) > 0.0
