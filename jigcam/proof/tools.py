"""With what a text cuts: whether the bit in the spindle is known at every motion, and its length offset with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from jigcam.findings import Finding
from jigcam.gcode import RAPID, Reading
from jigcam.kit import Bit, Machine
from jigcam.proof.safety import CLEAR, SLACK
from jigcam.proof.target import Target

Tools = Mapping[int, Bit] | Bit
"""Bits by tool number, 0 for the one in the spindle at the start, or the only bit, which is then number 0 and 1."""


def table_of(tools: Tools) -> Mapping[int, Bit]:
    """Bits by their numbers."""
    return tools if isinstance(tools, Mapping) else {0: tools, 1: tools}


def bit_of(tools: Tools, number: int) -> Bit | None:
    """The bit of a tool number, None for one that nobody has named."""
    return table_of(tools).get(number)


def findings_of(reading: Reading, target: Target, machine: Machine, tools: Tools) -> Iterator[Finding]:
    """What is wrong with the changes of bit. reading: with the tool numbers of changes by hand."""
    numbers = set(table_of(tools))
    if machine.tool_change == "automatic":
        # What a changer holds at the start is what the last file has left there.
        numbers.discard(0)
    yield from _changes(reading, machine, numbers)
    yield from _unknown(reading, numbers)
    yield from _lengths(reading, target, machine)


def _changes(reading: Reading, machine: Machine, numbers: set[int]) -> Iterator[Finding]:
    """Words that change bits, against what the machine's way of changing them leaves to a file."""
    lines = {change.line for change in reading.tool_changes} | {each.line for each in reading.selections}
    if machine.tool_change == "file-per-bit":
        for line in sorted(lines):
            yield Finding("stop", "tool-change", f"line {line}", "a change of bit in a file for one bit")
        return
    paused = any(stop.kind == "pause" for stop in reading.stops) or not reading.tool_changes
    if machine.tool_change == "pause" and lines and paused:
        says = "bits are changed by hand at M0; with T and M6 beside it nobody knows which one is in the spindle"
        yield Finding("stop", "tool-change", f"line {min(lines)}", says)
    named = [(each.line, each.tool) for each in reading.selections]
    named += [(each.line, each.tool) for each in reading.tool_changes]
    for line, tool in dict.fromkeys(named):
        if tool == 0 or tool not in numbers:
            says = f"no bit is known for tool {tool}" if tool else "a change to tool 0: an empty spindle, or no T word"
            yield Finding("stop", "tool-unknown", f"line {line}", says)


def _unknown(reading: Reading, numbers: set[int]) -> Iterator[Finding]:
    """Motions at work, or near it, with a bit that is not known."""
    motions = reading.motions
    with np.errstate(invalid="ignore"):
        free = (motions["kind"] == RAPID) & (motions["end"][:, 2] >= CLEAR - SLACK)
    used = motions["tool"][~free]
    for number in np.unique(used):
        if int(number) not in numbers:
            row = int(np.flatnonzero(~free & (motions["tool"] == number))[0])
            says = f"no bit is known for tool {number}" if number else "nothing has said which bit is in the spindle"
            yield Finding("stop", "tool-unknown", f"line {motions['line'][row]}", says)


def _lengths(reading: Reading, target: Target, machine: Machine) -> Iterator[Finding]:
    """Length offsets (G43): that of the bit in the spindle or none; and each bit its own where they are wanted."""
    motions = reading.motions
    length, tool = motions["length"], motions["tool"]
    by_machine = machine.tool_change == "automatic"
    wrong = np.flatnonzero((length != 0) & ((length != tool) | (not by_machine)))
    if len(wrong):
        row = wrong[0]
        says = f"the length offset {length[row]} (G43 H) is not that of tool {tool[row]}"
        if not by_machine:
            says = f"a length offset, G43 H{length[row]}, for a bit whose tip is set to zero by hand"
        yield Finding("stop", "length-offset", f"line {motions['line'][row]}", says)
    if not (target.length_offsets or (length != 0).any()):
        return
    with np.errstate(invalid="ignore"):
        bare = np.flatnonzero((tool != 0) & (length == 0) & np.isfinite(motions["end"][:, 2]))
    if len(bare):
        row = bare[0]
        says = f"tool {tool[row]} moves in z without its length offset, G43 H{tool[row]}"
        yield Finding("stop", "length-offset-missing", f"line {motions['line'][row]}", says)
