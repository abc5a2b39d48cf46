"""RS-274/NGC: the writer of programs and the strict reader that the proof starts from."""

from jigcam.gcode.faults import FAULTS, Fault
from jigcam.gcode.reader import read
from jigcam.gcode.reading import (
    ARC,
    CCW,
    CW,
    FEED,
    MOTION,
    OFF,
    RAPID,
    Comment,
    Doubt,
    Dwell,
    Reading,
    ReadMotion,
    Selection,
    Stop,
    ToolChange,
)
from jigcam.gcode.writer import write

__all__ = [
    "ARC",
    "CCW",
    "CW",
    "FAULTS",
    "FEED",
    "MOTION",
    "OFF",
    "RAPID",
    "Comment",
    "Doubt",
    "Dwell",
    "Fault",
    "ReadMotion",
    "Reading",
    "Selection",
    "Stop",
    "ToolChange",
    "read",
    "write",
]
