"""A part that is cut out of stock by one round of the bushing along the wall of a milled template, from the outside.

The bushing's centre goes along the edge of T ⊖ disc(B/2); the bit cuts what is within d/2 of that line, and what stands
inside is the part: T ⊖ disc((B + d)/2). Derived; frame: that of the opening, mm.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jigcam.geometry import Region, offset
from jigcam.proof.gouge import bites
from jigcam.proof.left import thickest_left
from jigcam.proof.outline import Outline
from jigcam.proof.whole import Swept


@dataclass(frozen=True)
class Around:
    """What a round comes to.

    centres: the ground whose edge the bushing's centre follows. cut: what the bit clears; part: what it leaves inside.
    gouge_mm, left_mm: how far it bites into the part as drawn, and how much stands of what had to go round it.
    """

    centres: Region
    cut: Region
    part: Region
    gouge_mm: float
    left_mm: float


def around(opening: Region, bushing: float, bit: float, drawn: Region) -> Around:
    """Takes a bushing round in an opening once, and compares what is left with a drawing.

    bushing, bit: outside and cutting diameters, mm. drawn: what has to go, a ring about the part. All in one frame.
    """
    centres = offset(opening, -bushing / 2.0)
    part, beyond = offset(centres, -bit / 2.0), offset(centres, bit / 2.0)
    cut = Region((*beyond.loops, *(loop.reversed() for loop in part.loops)))
    if centres.is_empty:
        return Around(centres, Region.empty(), Region.empty(), 0.0, thickest_left(Outline(drawn), []).size)
    # Of what has to stay only what stands inside the ring counts: round it there is stock to be sawn off.
    holes = Region(tuple(loop.reversed() for loop in drawn.loops if loop.area < 0.0))
    edge = Outline(centres).strokes
    gouge = 0.0
    if not holes.is_empty and len(edge):
        bite = bites(Outline(holes), edge, np.full(len(edge), bit / 2.0))
        gouge = max(0.0, float(bite.depth.max()))
    return Around(centres, cut, part, gouge, thickest_left(Outline(drawn), [Swept(edge, bit / 2.0)]).size)
