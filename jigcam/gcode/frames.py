"""Where programmed zero is: coordinate systems (G54–G59.3, G10), axis offsets (G92) and the machine's own zero (G53).

The file frame is the frame of programmed coordinates at the first motion, or at the first G92, whichever comes first:
there the operator has set the zero that the file speaks of. Where another frame lies is known only if the file
says so; every number that rests on what only the machine knows is NaN.
"""

from __future__ import annotations

import math
from dataclasses import field

from jigcam.values import dataclass

NAN = math.nan
Triple = list[float]


def _unknown() -> Triple:
    return [NAN, NAN, NAN]


def _zeros() -> Triple:
    return [0.0, 0.0, 0.0]


@dataclass(slots=True)
class Frames:
    """State of the coordinate systems, in mm, x y z.

    shift: programmed zero in the file frame. system: 1–9 for G54–G59.3. in_machine: origin of each system in machine
    coordinates, as far as G10 gave it. offset: the part of the shift that G92 made, with `kept` what G92.3 brings back.
    lost: axes on which the file knew the position until a move went where only the machine knows.
    """

    anchored: bool = False
    system: int = 1
    shift: Triple = field(default_factory=_zeros)
    in_machine: dict[int, Triple] = field(default_factory=dict)
    origins: dict[int, Triple] = field(default_factory=dict)
    machine_zero: Triple = field(default_factory=_unknown)
    offset: Triple = field(default_factory=_zeros)
    kept: Triple = field(default_factory=_unknown)
    lost: set[int] = field(default_factory=set)

    def anchor(self) -> None:
        """Take the present frame as the file frame; does nothing the second time."""
        if self.anchored:
            return
        self.anchored = True
        self.origins[self.system] = _zeros()
        given = self.in_machine.get(self.system, _unknown())
        self.machine_zero = [-value for value in given]
        self.offset = _zeros()
        self._renew()

    def select(self, system: int) -> None:
        """G54–G59.3."""
        self.system = system
        self._renew()

    def set_origin(self, system: int, values: dict[int, float]) -> None:
        """G10 L2: origin of a system in machine coordinates; axis → mm."""
        given = self.in_machine.setdefault(system, _unknown())
        for axis, value in values.items():
            given[axis] = value
            if self.anchored:
                origin = self.origins.setdefault(system, self._origin(system))
                origin[axis] = self.machine_zero[axis] + value
        self._renew()

    def set_here(self, position: Triple, values: dict[int, float]) -> None:
        """G92: the current point gets these coordinates. Changes `position` on axes that nothing has given yet."""
        self.anchor()
        for axis, value in values.items():
            here = position[axis]
            if math.isnan(here) and axis not in self.lost:
                position[axis] = value + self.shift[axis]
            else:
                self.offset[axis] += here - value - self.shift[axis]
        self.kept = list(self.offset)
        self._renew()

    def clear_offset(self, *, forget: bool) -> None:
        """G92.1 (forget) and G92.2."""
        self.offset = _zeros()
        if forget:
            self.kept = _zeros()
        self._renew()

    def restore_offset(self) -> None:
        """G92.3."""
        if self.anchored:
            self.offset = list(self.kept)
            self._renew()

    def _origin(self, system: int) -> Triple:
        """Origin of a system in the file frame."""
        if system in self.origins:
            return self.origins[system]
        given = self.in_machine.get(system, _unknown())
        return [zero + value for zero, value in zip(self.machine_zero, given, strict=True)]

    def _renew(self) -> None:
        if self.anchored:
            origin = self._origin(self.system)
            self.shift = [a + b for a, b in zip(origin, self.offset, strict=True)]
