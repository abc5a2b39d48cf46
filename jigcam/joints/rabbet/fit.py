"""A rabbet as its file cuts it: width to the shoulder and depth to the cheek."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from jigcam.geometry import apply
from jigcam.making.measured_cut import MeasuredCut
from jigcam.values import dataclass
from jigcam.wood.practice import SLACK

if TYPE_CHECKING:
    from jigcam.joints.rabbet.rabbet import Rabbet
    from jigcam.kit import Kit
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.units import Voice


@dataclass(frozen=True)
class RabbetFit:
    """A rabbet as it was cut, mm: least and greatest of what its shoulder and its cheek measure, beside the drawing."""

    drawn: tuple[float, float]
    width: tuple[float, float]
    depth: tuple[float, float]

    def as_dict(self) -> dict[str, Any]:
        """For the manifest, mm."""
        drawn, width, depth = ([round(mm, 4) for mm in pair] for pair in (self.drawn, self.width, self.depth))
        return {"width_drawn_mm": drawn[0], "width_mm": width, "depth_drawn_mm": drawn[1], "depth_mm": depth}

    def brief(self, voice: Voice) -> list[str]:
        """In a few words."""
        return [f"{voice.span(*self.width)} wide, {voice.span(*self.depth)} deep"]

    def lines(self, voice: Voice) -> list[str]:
        """For people."""
        parts = (("width to the shoulder", 0, self.width), ("depth to the cheek", 1, self.depth))
        says = "the {} of the rabbet measures {} as cut, {} drawn"
        return [says.format(what, voice.span(*cut), voice.length(self.drawn[k])) for what, k, cut in parts]


def rabbet_fit(it: Rabbet, file: GcodeFile, text: str, kit: Kit) -> RabbetFit:
    """Measured in the virtual cut of a text at five places along, clear of the corners of stopped ends."""
    cut = MeasuredCut.of(file, text, kit.the_machine)
    radius = max(bit.radius for bit in file.tools.values())
    low, high = (radius * (not is_open) + SLACK for is_open in it.open_ends)
    middle = it.start + 0.5 * it.length
    along = np.linspace(it.start + low, it.start + it.length - high, 5) if low + high < it.length else [middle]

    def at(e: float) -> np.ndarray:
        return apply(it.matrix, [(e, t) for t in along])

    near = it.width - min(0.5, 0.25 * it.width)  # beside the shoulder, mm, where it is the nearest wall
    section = cut.section(-0.5 * it.depth)
    widths = near + section.signed_distance(at(near)) if not section.is_empty else np.zeros(1)
    depths = cut.depths(np.vstack([at(share * it.width) for share in (0.1, 0.5, 0.9)]))
    return RabbetFit(
        (it.width, it.depth), (float(widths.min()), float(widths.max())), (float(depths.min()), float(depths.max()))
    )
