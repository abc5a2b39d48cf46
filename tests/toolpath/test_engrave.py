"""Marks: letters of one stroke, where they are wanted and as high as asked for."""

from __future__ import annotations

import math

import numpy as np
import pytest
from HersheyFonts import HersheyFonts
from support.cutting import Stock, a_bit
from support.programs import a_machine

from jigcam.kit import Bit
from jigcam.toolpath import choose, engrave
from jigcam.toolpath.curve import smooth
from jigcam.toolpath.track import Cutter

VEE = Bit(
    name="vee 60",
    kind="vee",
    diameter=6.0,
    angle=math.radians(30),
    cutting_length=10.0,
    overall_length=40.0,
    shank=6.0,
    flutes=2,
    plunges=True,
)
MACHINE = a_machine()


def bounds(strokes: list[np.ndarray]) -> tuple[np.ndarray, np.ndarray]:
    points = np.vstack(strokes)
    return points.min(axis=0), points.max(axis=0)


def test_capitals_stand_on_the_base_line_and_are_as_high_as_asked() -> None:
    low, high = bounds(engrave.letters("HEMIT", 10.0, 20.0, 6.0))
    assert low == pytest.approx([10.0, 20.0])
    assert high[1] == pytest.approx(26.0)


def test_turned_letters() -> None:
    level = engrave.letters("E2", 0.0, 0.0, 5.0)
    turned = engrave.letters("E2", 0.0, 0.0, 5.0, math.pi / 2)
    for a, b in zip(level, turned, strict=True):
        assert b == pytest.approx(np.column_stack([-a[:, 1], a[:, 0]]))


def test_a_text_is_narrowed_to_its_room() -> None:
    wide = bounds(engrave.letters("FENCE: LOWER EDGE", 0.0, 0.0, 5.0))[1][0]
    narrow = bounds(engrave.letters("FENCE: LOWER EDGE", 0.0, 0.0, 5.0, room=0.5 * wide))[1]
    assert narrow[0] == pytest.approx(0.5 * wide)
    assert narrow[1] == pytest.approx(5.0, abs=0.3)


def test_every_printable_character_has_a_place_and_others_are_spaces() -> None:
    printable = "".join(map(chr, range(32, 127)))
    assert engrave.letters(printable, 0, 0, 5)
    assert engrave.letters("ü€\n", 0, 0, 5) == []


def test_no_letter_is_empty() -> None:
    for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.,:/-+":
        assert engrave.letters(letter, 0, 0, 5), letter


@pytest.mark.parametrize("plunges", [True, False])
def test_a_stroke_is_cut_to_depth_along_its_middle(plunges: bool) -> None:
    bit = a_bit(1.5, plunges=plunges)
    cutter = Cutter(bit, choose(bit, "mdf", MACHINE, engrave.DEPTH, at_once=True), MACHINE)
    run = engrave.stroke_run([(0.0, 0.0), (5.0, 0.0), (5.0, 8.0)], cutter)
    stock = Stock((-2, -2, 8, 10), bit.radius, spacing=0.1)
    stock.cut(run.moves)
    assert stock.top.min() == pytest.approx(-engrave.DEPTH)
    assert bool(stock.plunges) == plunges


def test_a_vee_cuts_strokes_as_wide_as_its_depth_says() -> None:
    # 2 h tan α (derived).
    assert engrave.stroke_width(VEE, 0.4) == pytest.approx(0.8 * math.tan(math.radians(30)))


def test_the_table_of_letters_holds_the_strokes_of_the_package_that_it_was_made_from() -> None:
    font = HersheyFonts()
    font.load_default_font("futural")
    for text in ("".join(map(chr, range(32, 127))), "Top left, 3/4 in #2; i!"):
        strokes = [np.array(stroke, dtype=float) for stroke in font.strokes_for_text(text) if len(stroke) > 1]
        wanted = [stroke - (min(each[:, 0].min() for each in strokes), 0.0) for stroke in strokes]
        scale = 1.0 / engrave.CAP_HEIGHT
        drawn = engrave._unit_strokes(text)
        assert len(drawn) == len(wanted)
        for ours, theirs in zip(drawn, wanted, strict=True):
            assert (ours == np.column_stack([theirs[:, 0], engrave.BASE_LINE - theirs[:, 1]])).all()
        assert engrave.written_width(text, 1.0) == pytest.approx(scale * max(each[:, 0].max() for each in wanted))


@pytest.mark.parametrize("backward", [False, True])
def test_a_word_is_cut_in_one_run_with_low_lifts_between_its_strokes(backward: bool) -> None:
    bit = a_bit(1.5, plunges=True)
    cutter = Cutter(bit, choose(bit, "mdf", MACHINE, engrave.DEPTH, at_once=True), MACHINE)
    (word, other) = engrave.words("HEF TI", 10.0, 20.0, 6.0)
    assert [len(word), len(other)] == [9, 3]
    run = engrave.word_run([smooth(stroke) for stroke in word], cutter)
    run = run.back or run if backward else run
    cut = [move for move in run.moves if move.z < 0.0]
    assert {round(move.z, 6) for move in cut} == {-engrave.DEPTH}
    inner = run.moves[3:-1]
    assert max(move.z for move in inner) == engrave.LIFT
    assert sum(move.z == engrave.LIFT for move in inner) == 2 * (len(word) - 1), "up and over, between any two strokes"
    assert "rapid" not in {move.kind for move in inner}
    # Every stroke is there, from either of its ends.
    ends = {(round(x, 6), round(y, 6)) for stroke in word for x, y in (stroke[0], stroke[-1])}
    assert ends <= {(round(move.x, 6), round(move.y, 6)) for move in cut}
