"""Drilling cycles: the words of the standard, and text with them and without them comes to the same moves."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Literal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.cutting import a_bit
from support.programs import CLEAR, a_machine, a_program, an_operation
from support.pygcode_reader import assert_pygcode_agrees

from jigcam.findings import stops
from jigcam.gcode import Reading, read, write
from jigcam.gcode.cycles import PECK_BACKOFF
from jigcam.geometry import disc, union
from jigcam.proof import Removal, Stock, Target, prove
from jigcam.toolpath import Move, Program, choose
from jigcam.toolpath.hole import BACK_OFF, hole_run
from jigcam.toolpath.operations import operation
from jigcam.toolpath.rehearsal import dry_run
from jigcam.toolpath.track import Cutter

Units = Literal["mm", "in"]
Holes = Sequence[tuple[float, float, float]]
"""x, y and bottom of each."""
SAME = 2e-4
"""mm; of a text with cycles and one without."""


def machines(units: Units = "mm", **changes: object) -> tuple[object, object]:
    """Two of a kind, one with cycles and one without."""
    plain = a_machine(output_units=units, **changes)
    return plain.model_copy(update={"drilling_cycles": True}), plain


def drilled(holes: Holes, diameter: float = 5.0, units: Units = "mm", *, hops: bool = False) -> Program:
    """A program that drills those holes. hops: from hole to hole at the approach height where it is near."""
    bit, machine = a_bit(diameter, plunges=True), a_machine(output_units=units)
    cutter = Cutter(bit, choose(bit, "mdf", machine, 12.7), machine)
    runs = [hole_run(x, y, diameter, cutter, z) for x, y, z in holes]
    return replace(a_program(operation("drill", cutter, runs, hops=hops)), clear_height=machine.clear_height)


def lines(text: str) -> list[str]:
    """The lines of the operation, without comments."""
    bare = [line for line in text.splitlines() if not line.startswith("(")]
    return bare[next(k for k, line in enumerate(bare) if line.startswith("G4 P")) + 1 : bare.index("M5")]


def assert_same_motions(one: Reading, other: Reading) -> None:
    """Motion by motion the same kinds, ends, feeds and speeds."""
    assert one.ok
    assert other.ok
    a, b = one.motions, other.motions
    assert len(a) == len(b)
    assert (a["kind"] == b["kind"]).all()
    assert np.nanmax(np.abs(a["end"] - b["end"])) < SAME
    for name in ("feed", "rpm", "spindle", "tool", "exact"):
        assert a[name] == pytest.approx(b[name], rel=1e-12)


def test_holes_drilled_in_one() -> None:
    """NISTIR 6556, 3.5.16.2: as `G90 G81 G98 X4 Y5 Z1.5 R2.8`; what stays in force is not said again."""
    text = write(drilled([(10, 10, -4), (20, 10, -4), (80, 10, -4), (80, 90, -3)]), machines()[0])
    assert lines(text) == [
        "X10.0000 Y10.0000",
        "G81 G98 X10.0000 Y10.0000 Z-4.0000 R1.5000 F996",
        "X20.0000",
        "X80.0000",
        "Y90.0000 Z-3.0000",
        "G80",
    ]


def test_a_deep_hole_is_pecked() -> None:
    """NISTIR 6556, 3.5.16.4: Q is what each peck goes down, from R on; the last is smaller."""
    text = write(drilled([(10, 10, -13), (20, 10, -13)]), machines()[0])
    assert lines(text) == [
        "X10.0000 Y10.0000",
        "G83 G98 X10.0000 Y10.0000 Z-13.0000 R1.5000 Q5.0000 F996",
        "X20.0000",
        "G80",
    ]


def test_a_short_way_is_made_at_the_height_of_r_and_never_left_by_g98() -> None:
    """G98 after G99 goes up to the height before the run (NISTIR 6556, 3.5.16), but pygcode stays low: plain then."""
    program = drilled([(10, 10, -4), (20, 10, -4), (80, 10, -4)], hops=True)
    with_cycles, plain = machines()
    text = write(program, with_cycles)
    assert lines(text) == [
        "X10.0000 Y10.0000",
        "G81 G99 X10.0000 Y10.0000 Z-4.0000 R1.5000 F996",
        "G80",
        "G0 X20.0000",
        "G1 Z-4.0000",
        "G0 Z5.0000",
        "X80.0000",
        "G81 G98 X80.0000 Y10.0000 Z-4.0000 R1.5000",
        "G80",
    ]
    assert_same_motions(read(text), read(write(program, plain)))


def test_in_inches() -> None:
    text = write(drilled([(25.4, 12.7, -13)], 6.35, "in"), machines("in")[0])
    assert lines(text) == ["X1.00000 Y0.50000", "G83 G98 X1.00000 Y0.50000 Z-0.51181 R0.05906 Q0.22800 F39.21", "G80"]


def test_one_cycle_follows_another() -> None:
    text = write(drilled([(10, 10, -13), (80, 10, -4)]), machines()[0])
    assert [line.partition(" ")[0] for line in lines(text)] == ["X10.0000", "G83", "G81", "G80"]
    assert "Z-4.0000 R1.5000" in lines(text)[2]
    assert "Q" not in lines(text)[2]


def test_the_same_hole_twice_is_said_twice() -> None:
    """A line of a cycle needs X, Y or Z (NISTIR 6556, 3.5.16)."""
    hole = list(drilled([(10, 10, -4)]).operations[0].moves)
    program = a_program(an_operation([*hole, *hole]))
    with_cycles, plain = machines()
    text = write(program, with_cycles)
    assert [line.partition(" F")[0] for line in lines(text)[1:]] == [
        "G81 G98 X10.0000 Y10.0000 Z-4.0000 R1.5000",
        "X10.0000",
        "G80",
    ]
    assert_same_motions(read(text), read(write(program, plain)))


_PLACES = st.floats(5, 180)
_HOLES = st.lists(
    st.tuples(_PLACES, _PLACES, st.floats(-40, -0.5)),
    min_size=1,
    max_size=6,
    unique_by=lambda hole: (round(hole[0], 2), round(hole[1], 2)),
)


@settings(max_examples=100)
@given(_HOLES, st.floats(0.6, 12.0), st.sampled_from(["mm", "in"]), st.booleans())
def test_cycles_and_plain_moves_are_the_same_moves(holes: Holes, diameter: float, units: Units, hops: bool) -> None:
    program = drilled(holes, diameter, units, hops=hops)
    with_cycles, plain = machines(units)
    for each in (program, dry_run(program)):
        text = write(each, with_cycles)
        assert_same_motions(read(text), read(write(each, plain)))
        assert hops or "G1 " not in text  # all of it is folded
    assert read(write(dry_run(program), with_cycles)).motions["end"][:, 2].min() >= CLEAR - SAME


@settings(max_examples=100)
@given(_HOLES, st.floats(0.6, 12.0), st.sampled_from(["mm", "in"]), st.booleans())
def test_pygcode_reads_the_same(holes: Holes, diameter: float, units: Units, hops: bool) -> None:
    """Every word, and where each line ends."""
    assert_pygcode_agrees(write(drilled(holes, diameter, units, hops=hops), machines(units)[0]))


def test_a_peck_goes_back_as_near_as_the_cycle_does() -> None:
    assert BACK_OFF == PECK_BACKOFF


def drawn(program: Program, depth: float, units: Units) -> Target:
    """The holes of a program, all of one depth, in a board of 130 x 130 x 25 mm."""
    radius = program.bits[0].diameter / 2.0
    places = {(move.x, move.y) for move in program.operations[0].moves}
    region = union(*(disc(x, y, radius) for x, y in places))
    return Target(Stock.of_size(130.0, 130.0, 25.0), (Removal.prism("holes", region, depth),), units=units)


@settings(max_examples=15)
@given(
    st.floats(3.0, 9.0),
    st.floats(4.0, 20.0),
    st.lists(st.tuples(st.integers(0, 4), st.integers(0, 4)), min_size=1, max_size=4, unique=True),
    st.sampled_from(["mm", "in"]),
)
def test_the_proof_passes_both(diameter: float, depth: float, places: list[tuple[int, int]], units: Units) -> None:
    program = drilled([(20.0 + 22.0 * i, 20.0 + 22.0 * k, -depth) for i, k in places], diameter, units)
    for machine in machines(units):
        proof = prove(write(program, machine), drawn(program, depth, units), machine, program.bits[0])
        assert not stops(proof.findings), proof.findings


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("Z-13.0000", "Z-13.0600", "gouge"),
        ("Z-13.0000", "Z-12.9400", "left"),
        ("Z-13.0000", "Z-26.0000", "too-deep"),
        ("R1.5000", "R-0.1000", "rapid-in-wood"),
        ("X60.0000", "X60.0600", "gouge"),
        ("G98 X", "G99 X", ""),  # over at R: lower than before, and still clear
        ("R1.5000", "R0.5000", "rapid-low"),  # together with G99
        ("\nX60.0000", "\nG80\nX60.0000", "axis-words-unused"),
    ],
)
def test_the_proof_objects_to_a_changed_word_of_a_cycle(old: str, new: str, rule: str) -> None:
    program = drilled([(30, 30, -13), (60, 30, -13)])
    machine = machines()[0]
    text = write(program, machine)
    assert old in text
    changed = text.replace(old, new, 1)
    if rule == "rapid-low":
        changed = changed.replace("G98", "G99")
    proof = prove(changed, drawn(program, 13.0, "mm"), machine, program.bits[0])
    found = {finding.rule for finding in stops(proof.findings)}
    assert rule in found if rule else not found


@settings(max_examples=50)
@given(_HOLES, st.integers(0, 5))
def test_a_cycle_is_cancelled_before_anything_else_moves(holes: Holes, other: int) -> None:
    """Another operation between two that drill, and a groove at the approach height in the midst of one."""
    program = drilled(holes, hops=True)
    moves = list(program.operations[0].moves)
    cut = next(k for k in range(min(other * 4, len(moves) - 1), -1, -1) if k == 0 or moves[k - 1].z == CLEAR)
    moves[cut:cut] = [
        Move("rapid", 1.0, 1.0, CLEAR),
        Move("line", 1.0, 1.0, -1.0, 300.0),
        Move("line", 9.0, 1.0, -1.0, 300.0),
        Move("rapid", 9.0, 1.0, CLEAR),
    ]
    mixed = a_program(
        *(
            an_operation(each, bit=program.bits[0])
            for each in (program.operations[0].moves, moves, program.operations[0].moves)
        )
    )
    with_cycles, plain = machines()
    text = write(mixed, with_cycles)
    assert_same_motions(read(text), read(write(mixed, plain)))
    assert_cancelled(text)


def assert_cancelled(text: str) -> None:
    """Between a cycle and a line that moves otherwise, changes the spindle or ends there is G80."""
    drilling = False
    for line in text.splitlines():
        words = line.split()
        if {"G81", "G83"} & set(words):
            drilling = True
        elif line == "G80":
            drilling = False
        elif drilling:
            assert re.fullmatch(r"(G9[89] )?([XYZRQF]-?[0-9.]+ ?)+", line), line
    assert not drilling
    assert not any(a == "G80" and not b.startswith(("G", "M", "(", "S", "T")) for a, b in pairwise(text.splitlines()))


def test_a_machine_without_the_key_gets_no_cycle() -> None:
    text = write(drilled([(10, 10, -13), (20, 10, -4)]), machines()[1])
    assert not re.search(r"G8[13]|G9[89]", text)


def test_a_machine_that_cannot_cancel_a_cycle_gets_none() -> None:
    program = drilled([(10, 10, -13)])
    with_cycles, plain = machines(omit=("G80",))
    assert write(program, with_cycles) == write(program, plain)


ONE = [Move("rapid", 10, 10, 5), Move("rapid", 10, 10, 1.5), Move("line", 10, 10, -4, 300), Move("rapid", 10, 10, 5)]
PECKED = [*ONE[:3], Move("rapid", 10, 10, 1.5), Move("rapid", 10, 10, -3.746), Move("line", 10, 10, -9, 300), ONE[3]]


def put(moves: list[Move], **changes: Move) -> list[Move]:
    """The moves, some of them others: `at2` is the third."""
    return [changes.get(f"at{number}", move) for number, move in enumerate(moves)]


def test_the_moves_that_the_next_test_changes_are_a_cycle() -> None:
    assert "G81" in write(a_program(an_operation(ONE)), machines()[0])
    assert "G83" in write(a_program(an_operation(PECKED)), machines()[0])


@pytest.mark.parametrize(
    "moves",
    [
        put(ONE, at2=Move("line", 10.1, 10, -4, 300)),  # aslant
        put(ONE, at3=Move("line", 10, 10, 5, 300)),  # out at a feed
        put(ONE, at3=Move("rapid", 10, 10, 4)),  # out to neither height
        put(ONE, at3=Move("rapid", 20, 10, 5)),  # out aslant
        put(PECKED, at3=Move("rapid", 10, 10, 2)),  # drawn out to another height
        put(PECKED, at4=Move("rapid", 10, 10, -3.7)),  # back to another height
        put(PECKED, at5=Move("line", 10, 10, -9, 200)),  # at another feed
        put(PECKED, at5=Move("line", 10, 10, -9.6, 300)),  # a last bite larger than Q
        put(PECKED, at5=Move("line", 10, 10, -9.5, 300)),  # as large: rounding would decide
    ],
)
def test_what_a_cycle_cannot_say_exactly_stays_plain(moves: list[Move]) -> None:
    if moves[-1].z != CLEAR:
        moves = [*moves, Move("rapid", moves[-1].x, moves[-1].y, CLEAR)]
    program = a_program(an_operation(moves))
    with_cycles, plain = machines()
    text = write(program, with_cycles)
    assert_same_motions(read(text), read(write(program, plain)))
    assert "G83" not in text
    assert len(moves) > len(ONE) or "G81" not in text  # a hole drilled halfway in one is one
