"""Bits that are changed by hand at a pause are told apart, as those of a tool changer are."""

from __future__ import annotations

from support.programs import SQUARE, a_bit, a_machine, a_program, an_operation

from jigcam.gcode import read, write
from jigcam.proof.changes import changed_by_hand

TWO_BITS = a_program(an_operation(SQUARE, bit=a_bit("first")), an_operation(SQUARE, bit=a_bit("second", 3.0)))


def test_pauses_count_the_bits() -> None:
    paused = a_machine(tool_change="pause")
    reading = read(write(TWO_BITS, paused))
    (first, _) = (stop.before for stop in reading.stops)
    tools = changed_by_hand(reading, paused).motions["tool"]
    assert set(tools[:first]) == {1}
    assert set(tools[first:]) == {2}


def test_other_pauses_change_no_bit() -> None:
    paused = a_machine(tool_change="pause")
    reading = read(write(TWO_BITS, paused))
    assert changed_by_hand(reading, a_machine(tool_change="automatic")) is reading
    named = read(write(TWO_BITS, a_machine(tool_change="automatic")))
    assert changed_by_hand(named, paused) is named
