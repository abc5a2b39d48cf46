"""Marks: letters of one stroke, where they are wanted and as high as asked for."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from HersheyFonts import HersheyFonts
from support.cutting import Stock, a_bit
from support.programs import a_machine

from jigcam.kit import Bit
from jigcam.template.marks import ALPHABET
from jigcam.toolpath import choose, engrave, pen
from jigcam.toolpath.time import runs_seconds
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
        drawn = engrave.letters(text, 0.0, 0.0, engrave.CAP_HEIGHT)
        assert len(drawn) == len(wanted)
        for ours, theirs in zip(drawn, wanted, strict=True):
            written = np.column_stack([theirs[:, 0], engrave.BASE_LINE - theirs[:, 1]])
            # Ends that all but reach another stroke are drawn out to it.
            assert ours[1:-1] == pytest.approx(written[1:-1])
            assert np.abs(ours - written).max() < pen.NEAR
        most = max(each[:, 0].max() for each in wanted)
        assert engrave.written_width(text, 1.0) == pytest.approx(most / engrave.CAP_HEIGHT)


def test_a_pen_goes_along_every_stroke_of_a_letter_and_lifts_only_where_that_is_quicker() -> None:
    lifts = {}
    for letter in ALPHABET - {" "}:
        strokes, ways = engrave._written(letter)
        for way in ways:
            through = [pen.along(strokes[leg.stroke], leg) for leg in way]
            for before, after in pairwise(through):
                assert before[-1] == pytest.approx(after[0]), letter
        for number, stroke in enumerate(strokes):
            gone = sorted(sorted((leg.start, leg.end)) for way in ways for leg in way if leg.stroke == number)
            reached = 0.0
            for start, end in gone:
                assert start <= reached + 1e-9, letter
                reached = max(reached, end)
            assert reached == len(stroke) - 1, letter
        lifts[letter] = len(ways) - 1
    # Q, X, + and : have parts that meet nowhere at an end; all else is written without a lift.
    assert {letter for letter, count in lifts.items() if count} == set("QX+:")


def test_a_letter_whose_lines_are_far_apart_is_not_gone_back_along() -> None:
    """Two arms as long as a room, joined far away: a lift is quicker than to go back along either."""
    beam = np.array([(0.0, 0.0), (10.0, 0.0)])
    long = [np.array([(x, 0.0), (x, y)]) for x, y in ((2.0, 900.0), (5.0, 900.0), (8.0, 900.0))]
    assert sum(len(way) for way in pen.ways([beam, *long])) == 7, "every leg once: the beam has four"
    assert len(pen.ways([beam, *long])) > 1


@pytest.mark.parametrize("backward", [False, True])
def test_a_text_is_cut_in_one_run_with_a_low_lift_between_letters(backward: bool) -> None:
    bit = a_bit(1.5, plunges=True)
    cutter = Cutter(bit, choose(bit, "mdf", MACHINE, engrave.DEPTH, at_once=True), MACHINE)
    text = engrave.written("HEF TAKE", 10.0, 20.0, 6.0)
    assert [len(letter.drawn) for letter in text] == [3, 4, 3, 2, 3, 3, 4]
    run = engrave.text_run(text, cutter)
    run = run.back or run if backward else run
    cut = [move for move in run.moves if move.z < 0.0]
    assert {round(move.z, 6) for move in cut} == {-engrave.DEPTH}
    inner = run.moves[3:-1]
    assert max(move.z for move in inner) == engrave.LIFT
    assert sum(move.z == engrave.LIFT for move in inner) == 2 * (len(text) - 1), "up and over, from letter to letter"
    assert "rapid" not in {move.kind for move in inner}
    # The tip goes across in the air at that height, or in the wood along a stroke, and nowhere else.
    for before, move in pairwise(inner):
        if math.dist(before.point[:2], move.point[:2]) > 1e-9:
            assert before.z == move.z in (engrave.LIFT, -engrave.DEPTH)
        if before.z == move.z == -engrave.DEPTH:
            middle = np.add(before.point[:2], move.point[:2]) / 2.0
            places = np.array([before.point[:2], middle, move.point[:2]])
            off = np.min([stroke.distance(places) for letter in text for stroke in letter.drawn], axis=0)
            assert off.max() < (1e-6 if move.kind == "line" else 0.5)
    # Every stroke is there.
    ends = {(round(x, 6), round(y, 6)) for letter in text for each in letter.drawn for x, y in (each.start, each.end)}
    assert ends <= {(round(move.x, 6), round(move.y, 6)) for move in cut}


def test_a_text_takes_less_time_than_its_strokes_one_by_one() -> None:
    bit = a_bit(1.5, plunges=True)
    cutter = Cutter(bit, choose(bit, "mdf", MACHINE, engrave.DEPTH, at_once=True), MACHINE)
    text = engrave.written("FENCE: LOWER EDGE", 0.0, 0.0, 5.0, room=68.0)
    # The same with a lift between any two strokes, in the best order that there is.
    apart = [replace(letter, pens=letter.drawn) for letter in text]
    times = [runs_seconds([engrave.text_run(each, cutter)], MACHINE) for each in (text, apart)]
    assert times[0] < 0.85 * times[1]
