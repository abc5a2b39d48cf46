"""The opening that guides a bushing, where the bushing's centre rides in it, and what the bit then cuts.

For a wanted cut C, bit diameter d, bushing outside diameter B, offset o = (B − d)/2: opening T = C ⊕ disc(o); the
bushing's centre goes over T ⊖ disc(B/2) = C ⊖ disc(d/2); the bit cuts that ⊕ disc(d/2), which is C less its corners
tighter than d/2. Derived; the offset is the magazines' (see `bushing`).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from jigcam.geometry import Region, offset
from jigcam.template import bushing as sums
from jigcam.values import dataclass

SMALLEST_CORNER = 0.01
"""Corners that keep less wood than this (mm from the drawn corner to the cut) are not worth a word."""
ON_EDGE = 1e-6
"""A point this near to the board's edge is on the board, mm."""
THINNEST_RIDE = 0.005
"""A ride is kept at least this wide to each side of its centreline (mm), so that a bushing without play has one."""


def template_opening(cut: Region, bit: float, bushing: float) -> Region:
    """T = C ⊕ disc((B − d)/2): the edge that a bushing of outside diameter B follows from within. Exact; mm."""
    return offset(cut, sums.offset(bit, bushing))


def ride_region(cut: Region, bit: float, width: float) -> Region:
    """Where the bushing's centre, and so the bit's axis, can go: C ⊖ disc(d/2).

    width: of the cut at its narrowest. Where the play is next to nothing, the ride is a line; it then comes back as a
    sliver that is at most 2 · `THINNEST_RIDE` wide.
    """
    return offset(cut, -min(bit / 2.0, width / 2.0 - THINNEST_RIDE))


def has_corners(cut: Region, board: tuple[float, float]) -> bool:
    """Whether two straight sides of the cut meet on the board (length, width; mm): there a round bit leaves wood."""
    for loop in cut.loops:
        straight = loop.vertices[:, 2] == 0.0
        if np.any(straight & np.roll(straight, 1) & _on_board(loop.vertices[:, :2], board)):
            return True
    return False


def _on_board(points: npt.NDArray[np.float64], board: tuple[float, float]) -> npt.NDArray[np.bool_]:
    inside: npt.NDArray[np.bool_] = np.all((points >= -ON_EDGE) & (points <= np.array(board) + ON_EDGE), axis=1)
    return inside


@dataclass(frozen=True, slots=True)
class RoundedCorner:
    """A corner of the drawn cut that the bit cannot reach. x, y: the drawn corner; radius: what is left there, mm.

    reach: from the drawn corner to the nearest wood that the bit takes, mm.
    """

    x: float
    y: float
    radius: float
    reach: float


def corners_left(cut: Region, ride: Region, bit: float, board: tuple[float, float]) -> tuple[RoundedCorner, ...]:
    """The corners of the cut on the board (length, width; mm) that stay rounded for the chisel, largest first."""
    reached = offset(ride, bit / 2.0)
    left = []
    for loop in cut.loops:
        points = loop.vertices[:, :2]
        gaps = -reached.signed_distance(points)
        left += [
            RoundedCorner(float(x), float(y), bit / 2.0, float(gap))
            for (x, y), gap, on in zip(points, gaps, _on_board(points, board), strict=True)
            if on and gap > SMALLEST_CORNER
        ]
    return tuple(sorted(left, key=lambda corner: (-corner.reach, corner.x, corner.y)))
