"""Which bit is in the spindle, and where the tool is known to be, after a change or a stop."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from jigcam.gcode import Reading
from jigcam.kit import Machine


def pauses_change(reading: Reading, machine: Machine) -> bool:
    """Whether each pause (M0) of a text is for another bit: the machine wants it so, and no M6 says otherwise."""
    return machine.tool_change == "pause" and not reading.tool_changes


def changed_by_hand(reading: Reading, machine: Machine) -> Reading:
    """The reading with tool numbers 1, 2, … counted by its pauses (M0), if that is how the machine's bits are changed.

    A text that names its tools itself (M6) comes back as it is.
    """
    if not pauses_change(reading, machine):
        return reading
    pauses = [stop.before for stop in reading.stops if stop.kind == "pause"]
    motions = reading.motions.copy()
    motions["tool"] = 1 + np.searchsorted(pauses, np.arange(len(motions)), side="right")
    return replace(reading, motions=motions)


def doubted(reading: Reading, machine: Machine) -> Reading:
    """The reading with coordinates unknown (NaN) that a change of bit, or of length offset, has made so.

    Whoever or whatever changes a bit has moved the spindle, and another length offset is another z: until words give a
    coordinate again, nobody knows it from the text. A pause in which no bit is changed moves nothing.
    """
    by_hand = pauses_change(reading, machine)
    doubts = [doubt for doubt in reading.doubts if doubt.cause != "pause" or by_hand]
    if not doubts:
        return reading
    motions = reading.motions.copy()
    for doubt in doubts:
        for axis, said in enumerate(doubt.said):
            if said > doubt.before or doubt.cause != "length offset" or axis == 2:
                motions["start"][doubt.before : said + 1, axis] = np.nan
                motions["end"][doubt.before : said, axis] = np.nan
    return replace(reading, motions=motions)
