"""Which bit is in the spindle where a program only pauses for it to be changed by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from jigcam.gcode import Reading
from jigcam.kit import Machine


def changed_by_hand(reading: Reading, machine: Machine) -> Reading:
    """The reading with tool numbers 1, 2, … counted by its pauses (M0), if that is how the machine's bits are changed.

    A text that names its tools itself (M6) comes back as it is.
    """
    if machine.tool_change != "pause" or reading.tool_changes:
        return reading
    pauses = [stop.before for stop in reading.stops if stop.kind == "pause"]
    motions = reading.motions.copy()
    motions["tool"] = 1 + np.searchsorted(pauses, np.arange(len(motions)), side="right")
    return replace(reading, motions=motions)
