"""The second, independent reader: pygcode 0.2.1, a dependency of the tests only.

What it is known to do differently, and what the comparison therefore leaves out:
* it starts every axis at 0 where our reading starts at NaN: coordinates are compared once a word has given them;
* G20 leaves its positions in program units: they are scaled here;
* M6 does not stop its spindle, and it does not undo anything at M30: the line of M30 is the last one compared;
* it never checks an arc and never raises for what is merely wrong, so agreement says what a text means, not that it is
  right;
* it does not carry out G92 or G10: the texts compared hold none of them;
* of a canned cycle it knows the end alone, and after G99 it takes the height of R for that to which G98 goes back.
"""

from __future__ import annotations

import math

from pygcode import Line, Machine

from jigcam.gcode import CCW, CW, OFF, Reading, read
from jigcam.gcode.words import scan

_SPINDLES = {"M03": CW, "M04": CCW, "M05": OFF}
_MOTIONS = {
    "G00": ("rapid", 0),
    "G01": ("feed", 0),
    "G02": ("arc", -1),
    "G03": ("arc", 1),
    "G81": ("rapid", 0),
    "G83": ("rapid", 0),
}  # a cycle ends with the way out


def assert_pygcode_agrees(text: str) -> Reading:
    """Read a text with both readers, line by line: same words, same comments, same modal state, same end points.

    Returns our reading, which must be free of faults.
    """
    reading = read(text)
    assert reading.faults == ()
    last_of_line = {int(line): index for index, line in enumerate(reading.motions["line"])}
    machine = Machine()
    for number, source in enumerate(text.split("\n"), 1):
        theirs = Line(source)
        _compare_words(theirs, source, number)
        machine.process_block(theirs.block)
        if number in last_of_line:
            _compare_state(machine, reading, last_of_line[number])
        if any(str(word) in ("M02", "M30") for word in theirs.block.words):
            break
    else:
        raise AssertionError("no program end")
    assert str(machine.mode.spindle) == "M05"
    return reading


def _compare_words(theirs: Line, source: str, number: int) -> None:
    ours = scan(source, number)
    expected = sorted((word.letter, float(word.value)) for word in theirs.block.words)
    found = sorted([*ours.words.items(), *((letter, value) for letter, value, _ in ours.codes)])
    assert found == expected, f"line {number}: {source}"
    comment = theirs.comment.text if theirs.comment else ""
    assert ". ".join(ours.comments) == comment, f"line {number}: {source}"


def _compare_state(machine: Machine, reading: Reading, index: int) -> None:
    """What pygcode's machine holds after a line against the last motion that we read from it."""
    motion = reading.motion(index)
    mode = machine.mode
    where = f"line {motion.line}"
    scale = 25.4 if str(mode.units) == "G20" else 1.0
    for axis, ours in zip("XYZ", motion.end, strict=True):
        if not math.isnan(ours):
            assert math.isclose(getattr(machine.pos, axis) * scale, ours, abs_tol=1e-9), f"{where}: {axis}"
    kind, way = _MOTIONS[str(mode.motion.word)]
    assert (motion.kind, int(math.copysign(1, motion.sweep)) if motion.sweep else 0) == (kind, way), where
    assert str(mode.plane_selection) == {"xy": "G17", "zx": "G18", "yz": "G19"}[motion.plane], where
    assert str(mode.distance) == "G90", where
    assert str(mode.feed_rate_mode) == "G94", where
    assert str(mode.control_mode) == "G61", where
    if motion.kind != "rapid":
        assert math.isclose(mode.feed_rate.word.value * scale, motion.feed, rel_tol=1e-12), where
    assert math.isclose(mode.spindle_speed.word.value, motion.rpm), where
    assert _SPINDLES[str(mode.spindle)] == reading.motions["spindle"][index], where
    assert int(mode.tool.word.value) == motion.tool, where
