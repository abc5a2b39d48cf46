"""What is in force at a point of the program (NISTIR 6556 sections 3.4–3.7), beside the coordinate systems."""

from __future__ import annotations

import math
from dataclasses import field

from jigcam.gcode.cycles import Sticky
from jigcam.gcode.frames import Frames
from jigcam.gcode.modal import LINE_CODE, NO_MOTION
from jigcam.gcode.reading import CCW, CW, OFF
from jigcam.values import dataclass

XY, ABSOLUTE, PER_MINUTE, INVERSE_TIME, TO_INITIAL, NO_COMPENSATION = 170, 900, 940, 930, 980, 400
EXACT = frozenset((610, 611))
INCH_SCALE = 25.4


@dataclass(slots=True)
class State:
    """The modal state, as G codes in tenths, and where the tool is.

    position: mm in the file frame, NaN where not known. scale: mm per program unit. feed: mm/min, of G94.
    spindle: OFF, CW or CCW. selected: the tool that the next M6 takes. path, retract: None until the file states it.
    length: number of the length offset in force, 0 for none.
    """

    motion: int = NO_MOTION
    plane: int = XY
    distance: int = ABSOLUTE
    feed_mode: int = PER_MINUTE
    retract: int | None = None
    compensation: int = NO_COMPENSATION
    path: int | None = None
    scale: float = 1.0
    units_stated: bool = False
    feed: float = 0.0
    rpm: float = 0.0
    spindle: int = OFF
    selected: int = 0
    tool: int = 0
    coolant: int = 0
    length: int = 0
    position: list[float] = field(default_factory=lambda: [math.nan, math.nan, math.nan])
    frames: Frames = field(default_factory=Frames)
    sticky: Sticky = field(default_factory=Sticky)

    @property
    def plain(self) -> bool:
        """Absolute coordinates, feed per minute, arcs in xy, no cycle: what all but a few lines of any file rest on."""
        return (
            self.frames.anchored
            and self.motion in (0, LINE_CODE, 20, 30)
            and self.plane == XY
            and self.distance == ABSOLUTE
            and self.feed_mode == PER_MINUTE
        )

    @property
    def turning(self) -> bool:
        """The spindle has been told to turn. S0 does not count as standing: a dial or an override may still turn it."""
        return self.spindle != OFF

    @property
    def exact(self) -> bool:
        """G61 or G61.1 is in force and the file said so."""
        return self.path in EXACT

    @property
    def direction(self) -> int:
        """+1 clockwise, −1 anticlockwise, 0 standing."""
        return {OFF: 0, CW: 1, CCW: -1}[self.spindle]

    def target(self, words: dict[str, float]) -> tuple[float, float, float]:
        """The end point that the axis words of a line give, in mm, file frame."""
        shift, incremental = self.frames.shift, self.distance != ABSOLUTE
        place = list(self.position)
        for axis, letter in enumerate("XYZ"):
            if letter in words:
                base = place[axis] if incremental else shift[axis]
                place[axis] = base + words[letter] * self.scale
        return place[0], place[1], place[2]
