"""What a file that cuts flat floors leaves behind, measured in the virtual cut of its text, in its board's frame."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from jigcam.gcode import read
from jigcam.geometry import Region, invert
from jigcam.proof import milled_region
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.kit import Machine
    from jigcam.making.gcode_file import GcodeFile

SAME_HEIGHT = 1e-3
"""Heights that differ by less are one, mm."""


@dataclass(frozen=True)
class MeasuredCut:
    """What straight bits clear at each height at which their tip turns, deepest first. Heights in mm, 0 on the face.

    cleared: at one of them. A ramp along chords has thousands, so only those are cut that are asked for.
    """

    heights: tuple[float, ...]
    cleared: Callable[[float], Region]

    @classmethod
    def of(cls, file: GcodeFile, text: str, machine: Machine) -> MeasuredCut:
        """From a text in place of the file's own."""
        reading = read(text)
        tips = reading.motions["end"][:, 2]
        steps = np.unique(np.round(tips[tips < -SAME_HEIGHT] / SAME_HEIGHT))
        heights = tuple(float(step) for step in steps * SAME_HEIGHT)
        back = invert(file.setup.placement)

        @cache
        def cleared(z: float) -> Region:
            return milled_region(reading, machine, file.tools, z).transformed(back)

        return cls(heights, cleared)

    def section(self, z: float) -> Region:
        """What is cleared at a height, mm."""
        below = [height for height in self.heights if height <= z]
        return self.cleared(below[-1]) if below else Region.empty()

    def depths(self, points: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        """How deep the floor lies below the face at points (k, 2), (k,) mm; 0 where nothing is cut."""
        depths = np.zeros(len(points))
        self._sound(points, depths, np.arange(len(points)), 0, len(self.heights))
        return depths

    def _sound(
        self,
        points: npt.NDArray[np.float64],
        depths: npt.NDArray[np.float64],
        which: npt.NDArray[np.intp],
        first: int,
        last: int,
    ) -> None:
        """Sets the depths of some points whose floor is at one of a range of heights, or above them all.

        What is cleared at a height is cleared at each above it, so half of the heights are left out at a time.
        """
        if not len(which):
            return
        if first == last:
            depths[which] = -self.heights[first] if first < len(self.heights) else 0.0
            return
        middle = (first + last) // 2
        gone = self.cleared(self.heights[middle]).signed_distance(points[which]) > 0.0
        self._sound(points, depths, which[gone], first, middle)
        self._sound(points, depths, which[~gone], middle + 1, last)
