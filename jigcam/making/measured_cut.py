"""What a file that cuts flat floors leaves behind, measured in the virtual cut of its text, in its board's frame."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from jigcam.gcode import read
from jigcam.geometry import Region, invert
from jigcam.proof import milled_region

if TYPE_CHECKING:
    from jigcam.kit import Machine
    from jigcam.making.gcode_file import GcodeFile

SAME_HEIGHT = 1e-3
"""Heights that differ by less are one, mm."""


@dataclass(frozen=True)
class MeasuredCut:
    """What straight bits clear at each height at which their tip turns, deepest first. Heights in mm, 0 on the face."""

    heights: tuple[float, ...]
    cleared: tuple[Region, ...]

    @classmethod
    def of(cls, file: GcodeFile, text: str, machine: Machine) -> MeasuredCut:
        """From a text in place of the file's own."""
        reading = read(text)
        tips = reading.motions["end"][:, 2]
        steps = np.unique(np.round(tips[tips < -SAME_HEIGHT] / SAME_HEIGHT))
        heights = tuple(float(step) for step in steps * SAME_HEIGHT)
        back = invert(file.setup.placement)
        cleared = (milled_region(reading, machine, file.tools, z).transformed(back) for z in heights)
        return cls(heights, tuple(cleared))

    def section(self, z: float) -> Region:
        """What is cleared at a height, mm."""
        below = [region for height, region in zip(self.heights, self.cleared, strict=True) if height <= z]
        return below[-1] if below else Region.empty()

    def depths(self, points: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        """How deep the floor lies below the face at points (k, 2), (k,) mm; 0 where nothing is cut."""
        depths = np.zeros(len(points))
        for height, region in reversed(list(zip(self.heights, self.cleared, strict=True))):
            depths[region.signed_distance(points) > 0.0] = -height
        return depths
