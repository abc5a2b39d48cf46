"""Terraces: a wall that leans in toward the bottom, cut by a straight bit in steps.

Each step has the section of the cut at its own floor, the narrowest that it reaches, so nothing beyond the wall is
cut; what is left on the wall is a row of triangles. For a wall that leans by α from upright, steps of height h leave
triangles h·sin α high, square to the wall (D): the *scallop*.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from jigcam.errors import InputError
from jigcam.geometry import Region
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.outline import finish_ring, within
from jigcam.toolpath.pocket import ALLOWANCE, Air, in_air, pocket
from jigcam.toolpath.rings import centres_of
from jigcam.toolpath.track import Cutter, Run

Section = Callable[[float], Region]
"""From z (mm, 0 at the face, negative downward) to the exact region removed there."""
HIGHEST = 5.0
"""mm; steps are no higher than this however steep the wall is."""


class Terraces(NamedTuple):
    """Runs by level, from the top down; those of one level in any order. The rough ones come first."""

    rough: tuple[tuple[Run, ...], ...]
    finish: tuple[tuple[Run, ...], ...]


def terrace_height(lean: float, scallop: float) -> float:
    """The step (mm) that leaves a scallop (mm) on walls that lean by at most `lean` (rad) from upright: s / sin α.

    Raises InputError unless the scallop is positive and the lean from 0 to under a quarter turn.
    """
    if not (scallop > 0.0 and 0.0 <= lean < 0.5 * math.pi):
        found = f"{scallop:g} mm on {math.degrees(lean):g} degrees"
        raise InputError("a scallop is positive and a wall leans by less than 90 degrees", found=found)
    return min(HIGHEST, scallop / math.sin(lean)) if lean > 0.0 else HIGHEST


def terraces(section: Section, depth: float, lean: float, scallop: float, cutter: Cutter, *, through: float = 0.0,
             air: Air | None = None) -> Terraces:  # fmt: skip
    """Clears a cut whose section shrinks with depth and finishes its walls in terraces, from the top down.

    section: shrinking downward. through: mm by which the last floor goes below `depth`, with the section of the bottom.
    lean: the most that a wall leans from upright, rad. scallop: the most that may be left, mm, square to the wall.
    """

    def at(z: float) -> Region:
        return section(max(z, -depth))

    rough = []
    floor = 0.0
    for level in even_levels(depth + through, cutter.feeds.depth_per_pass):
        rough.append(pocket(at(level), cutter, [level], top=floor, air=air).rough)
        floor = level
    steps = terrace_levels(depth, terrace_height(lean, scallop), through)
    return Terraces(tuple(rough), tuple(tuple(_walls(at(z), cutter, z, lean, air)) for z in steps))


def terrace_levels(depth: float, height: float, through: float = 0.0) -> list[float]:
    """Floors of the terraces, descending; the last goes `through` mm below the depth."""
    floors = even_levels(depth, height)
    return [*floors[:-1], floors[-1] - through]


def _walls(region: Region, cutter: Cutter, level: float, lean: float, air: Air | None) -> Sequence[Run]:
    """Round the walls of one terrace; the roughing below it kept away by the allowance and by the lean of a pass."""
    centres = centres_of(region, cutter.radius)
    away = ALLOWANCE + cutter.feeds.depth_per_pass * math.tan(lean)
    return [
        finish_ring(loop, cutter, [level], within(centres), (away, math.inf), start=in_air(loop, air))
        for loop in centres.loops
    ]
