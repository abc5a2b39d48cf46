"""Sockets between pins that lie flat, their walls cut by a dovetail bit: where it runs, what it leaves for whom.

Seen from the inside face sockets widen downward, so a bit whose angle is their slope cuts a wall in one pass along the
grain, in from the end. Its middle stays as far from the end at all depths, and across it stays where it is, as the wall
leans by what the bit grows. A straight bit has been there before it: from the outside face in steps, each as wide as
the socket is at the bottom of the step, and from the inside face through the web that the steps leave. It also cuts
the upright floor, of which a dovetail bit could touch no more than the lowest line. So in each corner there stays:
along the wall, as far from the floor as the dovetail bit's radius reaches, what the steps leave; and at the floor the
round of the straight bit. Lengths in mm; t is the distance from the board's lower edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from jigcam.dovetails.layout import Flank, Layout, Strip
from jigcam.geometry import Region
from jigcam.kit import Bit
from jigcam.toolpath.levels import even_levels
from jigcam.wood.solid import Solid

STOCK = 0.2
"""What the straight bit leaves on each wall, square to it, mm: more than two clampings differ by (common practice, no
source)."""
STEP = 0.25
"""What a step leaves on the wall at its top, beside `STOCK`, mm: as much as one shaving of a chisel takes (common
practice, no source)."""
OFF_FLOOR = 0.1
"""How far the dovetail bit stays off the floor, mm: the floor, cut in the clamping before, is not to be marked."""
WEB = 1.5
"""What the steps leave at the inside face, mm, so that they break nothing out of it (common practice, no source)."""
BREAK = 0.5
"""How far below the web the straight bit goes, mm: into the air of the steps, were the board a little thicker."""


@dataclass(frozen=True, slots=True)
class SocketRun:
    """t of the bit's middle along the lower and the upper wall of a socket."""

    low: float
    high: float


def wall_runs(strip: Strip, bit: Bit, depth: float) -> SocketRun:
    """Where a dovetail bit runs whose tip is at the outside face, `depth` below the inside face.

    It touches each wall at its tip or at its neck, whichever comes first, and both where its angle is the wall's.
    """
    tip, neck = bit.radius, float(bit.radius_at(depth))
    return SocketRun(
        max(strip.lower.end + tip, strip.lower.base + neck),
        min(strip.upper.end - tip, strip.upper.base - neck),
    )


def off_the_wall(strips: Sequence[Strip], bit: Bit, depth: float) -> float:
    """The most that a bit leaves on any wall whose angle is not its own, square to the wall, mm."""
    narrowing = bit.radius - float(bit.radius_at(depth))
    leans = [
        lean for strip in strips for lean in (strip.lower.base - strip.lower.end, strip.upper.end - strip.upper.base)
    ]
    return max((abs(lean - narrowing) * math.cos(math.atan2(lean, depth)) for lean in leans), default=0.0)


@dataclass(frozen=True, slots=True)
class Stepped:
    """A solid that narrows with depth as a straight bit opens it: each step as wide as the solid is at its bottom.

    bottoms: z of the bottoms of the steps, descending; the last is the bottom of all.
    """

    whole: Solid
    bottoms: tuple[float, ...]

    @property
    def depth(self) -> float:
        """Down to the last step."""
        return -self.bottoms[-1]

    def section(self, z: float) -> Region:
        """The whole's section at the bottom of the step that z is in."""
        bottom = next((each for each in self.bottoms if each <= z), None)
        return Region.empty() if bottom is None or z > 0.0 else self.whole.section(bottom)

    def levels(self) -> tuple[float, ...]:
        """The face and the bottom of every step."""
        return 0.0, *self.bottoms


def steps_down(layout: Layout) -> tuple[float, ...]:
    """z of the bottoms of the steps from the outside face, as far down as the web; none leaves more than `STEP`."""
    return tuple(even_levels(layout.length - WEB, STEP / math.sin(max(layout.slopes))))


def beside_walls(strips: Sequence[Strip], bit: Bit, depth: float) -> Iterator[tuple[Flank, Flank]]:
    """What a dovetail bit clears for certain: beside each wall as much as its neck's radius, or all between both walls
    where it passes everywhere; as pairs of sides."""
    neck = float(bit.radius_at(depth))
    for strip in strips:
        run = wall_runs(strip, bit, depth)
        if run.high - run.low <= 2.0 * neck:
            yield strip.lower, strip.upper
            continue
        yield strip.lower, _moved(strip.lower, neck)
        yield _moved(strip.upper, -neck), strip.upper


def _moved(flank: Flank, t: float) -> Flank:
    return Flank(flank.end + t, flank.base + t)


@dataclass(frozen=True, slots=True)
class CornerLeft:
    """What stays in each corner of a socket between its walls and its floor, over the whole thickness of the board.

    along: how far from the floor it reaches along the wall; thick: how thick it is on the wall at the most, square to
    it; radius: of the round at the floor; corner: how far it stands before the sharp corner of the tail that comes home
    there. All mm.
    """

    along: float
    thick: float
    radius: float
    corner: float


def corner_left(layout: Layout, bit: Bit, straight: Bit, clearance: float) -> CornerLeft:
    """What the two bits leave. clearance: from the flank of a tail to the wall, square to them, mm."""
    steepest = max(layout.slopes)
    highest = max(above - below for above, below in pairwise((0.0, *steps_down(layout), -layout.length)))
    thick = STOCK + highest * math.sin(steepest)
    # The round touches the floor and the wall that the straight bit leaves, which meet at a right angle (derived).
    radius, across = straight.radius, (thick - clearance) / math.cos(steepest)
    return CornerLeft(
        along=max(bit.radius + OFF_FLOOR, radius),
        thick=thick,
        radius=radius,
        corner=math.hypot(radius, radius + across) - radius,
    )


def relief_beyond(bit: Bit, depth: float) -> float:
    """How far a dovetail bit would have to cut past floor and wall at the outside face to free a corner up to the
    inside face, where no more than its neck reaches into the corner, mm (derived: R − r/√2)."""
    return bit.radius - float(bit.radius_at(depth)) / math.sqrt(2.0)
