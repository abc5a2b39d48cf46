"""What the writer writes, read back by the strict reader and by pygcode."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.programs import CLEAR, SQUARE, a_bit, a_machine, a_program, an_operation, programs
from support.pygcode_reader import assert_pygcode_agrees

from jigcam.errors import InputError
from jigcam.gcode import Reading, read, write
from jigcam.gcode.rounded import FLAT
from jigcam.toolpath import Move, Program

COMMENT = re.compile(r"\([^()]*\)")


def outside_comments(text: str) -> list[str]:
    """The lines that hold words."""
    return [line for line in COMMENT.sub("", text).split("\n") if line.strip()]


def test_a_whole_file() -> None:
    program = a_program(an_operation(SQUARE, note="climb"))
    text = write(program, a_machine(), header=["Tilted shelf – template", "zero: corner"])
    assert (
        text
        == """\
(Tilted shelf - template)
(zero: corner)
G17
G21
G40
G49
G80
G90
G94
G54
G61
G0 Z5.0000
(pocket: climb)
S18000 M3
G4 P5
X10.0000 Y10.0000
G1 Z-2.0000 F300
X30.0000 F900
Y30.0000
X10.0000
Y10.0000
G0 Z5.0000
M5
M30
"""
    )


def test_a_file_in_inches() -> None:
    text = write(a_program(an_operation(SQUARE)), a_machine(output_units="in"))
    assert "G20\n" in text
    assert "X0.39370 Y0.39370\nG1 Z-0.07874 F11.81\nX1.18110 F35.43\n" in text


def test_without_a_header_the_program_describes_itself() -> None:
    text = write(a_program(an_operation(SQUARE), comments=("Wear eye protection.",)), a_machine())
    assert text.partition("G17")[0].splitlines() == [
        "(tilted shelf)",
        "(setup: template, stock 300.0 x 200.0 x 12.7 mm)",
        "(zero: lower left corner, top)",
        "(bit 1: straight 1/4)",
        "(Wear eye protection.)",
    ]


def test_words_that_a_machine_does_not_know_are_left_out() -> None:
    text = write(a_program(an_operation(SQUARE)), a_machine(omit=("G61", "G54")))
    assert outside_comments(text)[:7] == ["G17", "G21", "G40", "G49", "G80", "G90", "G94"]


@given(programs(), st.sampled_from(["mm", "in"]))
def test_the_moves_come_back_within_rounding(program: Program, units: str) -> None:
    reading = assert_pygcode_agrees(write(program, a_machine(output_units=units)))
    assert not reading.remarks
    assert (reading.units, reading.path_mode, reading.ended) == (units, "exact path", True)
    assert_same_moves(program, reading, tick=1e-4 if units == "mm" else 2.54e-4)


def assert_same_moves(program: Program, reading: Reading, tick: float) -> None:
    """Every planned end point is reached in turn within half a tick, by a move of the planned kind and size."""
    ends = reading.motions["end"]
    at = 0
    for operation in program.operations:
        x = y = math.nan
        for move in operation.moves:
            moved = not all(abs(ends[at] - move.point) <= tick * 0.51)  # unknown at first, so neither near nor far
            at += moved
            assert ends[at] == pytest.approx(move.point, abs=tick * 0.51)
            motion = reading.motion(at)
            if moved and motion.kind == "arc" and move.kind == "arc":
                assert (motion.sweep > 0) == move.ccw
                assert abs(motion.sweep) <= math.pi + 1e-9
                assert math.dist(motion.centre[:2], motion.start[:2]) == pytest.approx(
                    math.dist((move.cx, move.cy), move.point[:2]), abs=5 * tick
                )
            elif moved and move.kind == "arc":
                radius, chord = math.dist((move.cx, move.cy), (x, y)), math.dist((x, y), move.point[:2])
                assert radius - math.sqrt(max(0.0, radius**2 - chord**2 / 4)) <= FLAT + tick
            x, y = move.x, move.y
    assert at in (len(ends) - 1, len(ends) - 2)


THREE_BITS = (a_bit("one"), a_bit("two", 3.0), a_bit("three", 9.525))


@given(programs(bits=THREE_BITS), st.sampled_from(["mm", "in"]), st.sampled_from(["pause", "automatic"]))
def test_the_form_of_every_line(program: Program, units: str, tool_change: str) -> None:
    """Upper-case ASCII, a command a line, every axis word with its decimals, no word repeated that is in force."""
    text = write(program, a_machine(output_units=units, tool_change=tool_change))
    assert text.isascii()
    assert not read(text).faults
    places = 4 if units == "mm" else 5
    motion = rf"(G[0123] )?([XYZIJ]-?[0-9]+\.[0-9]{{{places}}} ?)+(F[0-9]+(\.[0-9]+)?)?"
    line_form = re.compile(rf"G[0-9]+( P[0-9]+)?|G43 H[1-3]|M[0-9]+|T[1-3] M6|S[0-9]+( M3)?|{motion}")
    force = {"G": "", "F": "", "S": ""}
    for line in outside_comments(text):
        assert line_form.fullmatch(line), line
        assert not re.search(r"-0\.?0*( |$)", line)
        for word in line.split():
            if word[0] in force and (word[0] != "G" or word in ("G0", "G1", "G2", "G3")):
                assert word != force[word[0]], line
                force[word[0]] = word
        if line.startswith(("G2 ", "G3 ")) or "I" in line:
            assert "I" in line
            assert "J" in line
            assert "X" in line
            assert "Y" in line


@given(programs())
def test_no_move_before_the_lift_and_no_cut_before_the_spindle_is_up(program: Program) -> None:
    lines = outside_comments(write(program, a_machine()))
    first = next(line for line in lines if line[0] in "XYZ" or line.startswith("G0"))
    assert first == "G0 Z5.0000"
    reading = read("\n".join(lines) + "\n")
    assert not reading.faults
    for index, motion in enumerate(reading):
        if motion.spindle != "off":
            assert motion.rpm > 0
            assert any(dwell.before <= index and dwell.seconds >= motion.rpm / 4000 for dwell in reading.dwells)
    assert lines[-2:] == ["M5", "M30"]
    assert reading.motions["end"][-1][2] >= CLEAR


def test_an_end_that_is_not_clear_is_cleared() -> None:
    lines = outside_comments(write(a_program(an_operation(SQUARE[:-1])), a_machine()))
    assert lines[-3:] == ["G0 Z5.0000", "M5", "M30"]


def test_moves_of_no_length_are_dropped() -> None:
    moves = [SQUARE[0], Move("rapid", 10.00004, 10.0, CLEAR), *SQUARE[1:3], Move("line", 30.00001, 10.0, -2.0, 50.0)]
    lines = outside_comments(write(a_program(an_operation(moves)), a_machine()))
    assert "F50" not in " ".join(lines)
    assert sum(line[0] in "XYZG" and " " in line for line in lines) == 6


def test_a_dry_run_does_not_turn_the_spindle() -> None:
    text = write(a_program(an_operation(SQUARE, rpm=0.0)), a_machine())
    assert not re.search(r"M3\b|S[0-9]|G4\b", COMMENT.sub("", text))
    assert "M5\nM30\n" in text


def test_a_change_of_speed_waits_again() -> None:
    program = a_program(an_operation(SQUARE), an_operation(SQUARE, rpm=9000.0), an_operation(SQUARE, rpm=9000.0))
    lines = outside_comments(write(program, a_machine()))
    assert [line for line in lines if line.startswith(("S", "G4 "))] == ["S18000 M3", "G4 P5", "S9000", "G4 P3"]


TWO_BITS = a_program(
    an_operation(SQUARE, bit=a_bit("first")),
    an_operation(SQUARE, bit=a_bit("second", 3.0), rpm=9000.0),
)


def test_an_automatic_changer_calls_the_length_of_each_bit_before_it_moves() -> None:
    """With a table of lengths 40 and 62 mm the second bit ran 22 mm deep (NISTIR 6556, 3.5.11: G43 H)."""
    text = write(TWO_BITS, a_machine(tool_change="automatic"))
    reading = assert_pygcode_agrees(text)
    assert not reading.faults
    assert [change.tool for change in reading.tool_changes] == [1, 2]
    assert "T1 M6\nG43 H1\nG0 Z40.0000\nS18000 M3\nG4 P5\nX10.0000 Y10.0000\nZ5.0000\n" in text
    assert "Z40.0000\nT2 M6\nG43 H2\nZ40.0000\nS9000 M3\nG4 P3\nX10.0000 Y10.0000\nZ5.0000\n" in text
    assert text.index("M5\nZ40") < text.index("T2 M6")
    lines = outside_comments(text)
    assert lines.index("G49") < lines.index("T1 M6")
    assert lines.count("G49") == 1


@given(programs(bits=THREE_BITS), st.sampled_from(["mm", "in"]))
def test_no_height_between_a_change_and_the_length_of_its_bit(program: Program, units: str) -> None:
    """The lengths of a table, told to a machine of our own: no tip ever comes lower than the plan has it."""
    lengths = {"1": 40.0, "2": 71.0, "3": 18.0}
    machine = a_machine(tool_change="automatic", output_units=units)
    lowest = min(move.z for operation in program.operations for move in operation.moves)
    bit, offset = None, None
    for line in outside_comments(write(program, machine)):
        if change := re.fullmatch(r"T([123]) M6", line):
            bit = change[1]
        elif line.startswith("G43 H"):
            offset = line[5:]
        elif height := re.search(r"Z(-?[0-9.]+)", line):
            assert bit is not None, "a height before any bit was put in"
            assert offset is not None
            said = float(height[1]) * (25.4 if units == "in" else 1.0)
            tip = said + lengths[offset] - lengths[bit]
            assert tip >= lowest - 1e-3
            assert tip == pytest.approx(said)


def test_a_machine_that_measures_its_bits_gets_no_length() -> None:
    text = write(TWO_BITS, a_machine(tool_change="automatic", measures_bits=True))
    assert "G43" not in COMMENT.sub("", text)
    assert "T2 M6\nZ40.0000\nS9000 M3\n" in text


def test_a_pause_waits_beside_the_stock_and_asks_for_z_zero() -> None:
    """It stopped 5 mm above the work and said nothing of Z."""
    text = write(TWO_BITS, a_machine(tool_change="pause"))
    reading = assert_pygcode_agrees(text)
    assert [stop.kind for stop in reading.stops] == ["pause", "end"]
    pause = reading.stops[0].before
    x, y, z = reading.motions["end"][pause - 1]
    assert z == 40.0
    assert y <= -3.175 - 10.0  # the stock begins at y 0; the widest bit is 6.35 mm
    assert reading.motions["spindle"][pause - 1] == 0
    assert reading.motions["end"][pause].tolist() == [x, y, 40.0]
    said = " ".join(message.text for message in reading.messages)
    for part in (
        "take out first put in second",
        "at least 7 mm below the nut",
        "onto the top of the stock",
        "make that Z 0",
    ):
        assert part in said
    after = text[text.index("M0\n") :]
    assert after.startswith("M0\nZ40.0000\nS9000 M3\nG4 P3\nX10.0000 Y10.0000\nZ5.0000\n")
    assert not reading.tool_changes


def test_a_pause_goes_to_the_changing_place_of_the_kit() -> None:
    text = write(TWO_BITS, a_machine(tool_change="pause", change_at=(-30.0, 150.0, 55.0)))
    pause = read(text).stops[0].before
    assert read(text).motions["end"][pause - 1].tolist() == [-30.0, 150.0, 55.0]
    assert text[text.index("M0\n") :].startswith("M0\nZ55.0000\n")


@pytest.mark.parametrize(
    ("travel", "place"),
    [
        ((400.0, 40.0, 90.0), "left"),
        ((40.0, 40.0, 90.0), "none"),
        ((400.0, 400.0, 20.0), "low"),
    ],
)
def test_a_changing_place_lies_within_the_travel(travel: tuple[float, float, float], place: str) -> None:
    reading = read(write(TWO_BITS, a_machine(tool_change="pause", travel=travel)))
    x, y, z = reading.motions["end"][reading.stops[0].before - 1]
    if place == "left":
        assert x <= -3.175 - 10.0
    elif place == "none":
        assert (x, y, z) == (10.0, 10.0, 40.0)
    else:
        assert z == 18.0  # 2 mm deep
    for axis in range(3):
        ends = reading.motions["end"][1:, axis]
        assert max(ends[ends == ends]) - min(ends[ends == ends]) <= travel[axis] + 1e-9


@pytest.mark.parametrize(
    ("kit", "wait"),
    [({}, "P5"), ({"spin_up": 9.0}, "P9"), ({"spin_up": 0.25}, "P0.3"), ({"spin_up": 0.0}, "P0")],
)
def test_the_spindle_gets_the_time_that_the_kit_says(kit: dict[str, float], wait: str) -> None:
    assert f"S18000 M3\nG4 {wait}\n" in write(a_program(an_operation(SQUARE)), a_machine(**kit))


def test_a_file_per_bit_takes_one_bit() -> None:
    text = write(a_program(an_operation(SQUARE)), a_machine())
    assert not re.search(r"[TM]6|T[0-9]", COMMENT.sub("", text))
    with pytest.raises(InputError) as refused:
        write(TWO_BITS, a_machine())
    assert refused.value.found == "first, second"


def test_a_machine_without_arcs_gets_none() -> None:
    moves = [SQUARE[0], Move("arc", 20.0, 10.0, -2.0, 100.0, 15.0, 10.0, True)]
    assert "G3" in write(a_program(an_operation(moves)), a_machine())
    with pytest.raises(InputError, match="without arcs"):
        write(a_program(an_operation(moves)), a_machine(arcs=False))


@pytest.mark.parametrize(
    "move",
    [
        Move("line", 1.0, 1.0, math.nan, 100.0),
        Move("line", math.inf, 1.0, 0.0, 100.0),
        Move("line", 1.0, 1.0, 1.0, 0.0),
        Move("line", 1.0, 1.0, 1.0, -5.0),
        Move("line", 1.0, 1.0, 1.0, math.nan),
        Move("arc", 20.0, 10.0, 0.0, 100.0, 15.1, 10.0, True),
        Move("arc", 20.0, 10.0, 0.0, 100.0, math.nan, 10.0, True),
    ],
)
def test_a_move_that_cannot_be_written_is_refused(move: Move) -> None:
    with pytest.raises(InputError):
        write(a_program(an_operation([SQUARE[0], move])), a_machine())


def test_the_first_move_is_a_rapid() -> None:
    with pytest.raises(InputError, match="place that is not known"):
        write(a_program(an_operation(SQUARE[1:])), a_machine())


HOSTILE = [
    "x) G0 Z-50 (",
    "a\nG0 Z-50\n",
    "a\r\nM30",
    "\u2028G0 Z-50",
    "é漢字😀",
    "%",
    "; M3",
    "x" * 500,
    "(" * 50,
    ")" * 50,
    "MSG, G0",
    "\x00\x1b",
    "#1=[2]",
    "G0 Z-50",
    "/G0",
]


def named(name: str) -> Program:
    """A program in which every text that a person can give is that name. The kit would refuse some as names of bits."""
    bits = [a_bit().model_copy(update={"name": f"{name} {number}"}) for number in (1, 2)]
    operations = [an_operation(SQUARE, name=name, bit=bit, note=name) for bit in bits]
    return a_program(*operations, name=name, comments=(name, name), zero=name)


def assert_harmless(name: str) -> None:
    for machine in (a_machine(tool_change="pause"), a_machine(tool_change="automatic")):
        for header in ([], [name, f"board: {name}"]):
            text = write(named(name), machine, header=header)
            assert outside_comments(text) == outside_comments(write(named("plain"), machine))
            assert all(len(line) <= 100 for line in text.split("\n"))
            assert not read(text).faults


@pytest.mark.parametrize("name", HOSTILE)
def test_a_name_never_becomes_a_word(name: str) -> None:
    assert_harmless(name)
    assert_pygcode_agrees(write(named(name), a_machine(tool_change="pause")))


@given(st.text(min_size=1, max_size=500))
def test_no_name_becomes_a_word(name: str) -> None:
    assert_harmless(name)


def test_the_same_program_gives_the_same_bytes() -> None:
    assert write(TWO_BITS, a_machine(tool_change="pause")) == write(TWO_BITS, a_machine(tool_change="pause"))
