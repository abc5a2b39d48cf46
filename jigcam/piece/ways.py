"""Directions in a maker's words: seen from a board, out of which face or toward which end or edge they go."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from jigcam.piece.space import Placed

FloatArray = npt.NDArray[np.float64]

STRAIGHT = 0.9999
"""A direction whose cosine to an edge of a board is greater goes along it."""
_SIDES = (("left end", "right end"), ("lower edge", "upper edge"), ("inside face", "outside face"))


def side_words(direction: FloatArray, placed: Placed) -> str:
    """The side of a board to which a direction of the world leads: "right end", "inside face"."""
    own = placed.motion.inverse().turned(direction)
    axis = int(np.abs(own).argmax())
    return _SIDES[axis][int(own[axis] > 0.0)]


def toward(direction: FloatArray, placed: Placed) -> str:
    """Where a way off or along a board leads: "out of its inside face", "slantwise toward its upper edge"."""
    own = placed.motion.inverse().turned(direction)
    side = side_words(direction, placed)
    slant = "" if float(np.abs(own).max()) > STRAIGHT else "slantwise "
    return f"{slant}out of its {side}" if side.endswith("face") else f"{slant}toward its {side}"


def from_side(direction: FloatArray, placed: Placed) -> str:
    """Where a board comes from that goes in along a direction, seen from one that it goes into, by its name."""
    own = placed.motion.inverse().turned(-direction)
    side = side_words(-direction, placed)
    slant = "" if float(np.abs(own).max()) > STRAIGHT else "slantwise "
    if side.endswith("face"):
        return f"{slant or 'straight '}onto the {side} of {placed.copy.name}"
    return f"{slant}from the {side} of {placed.copy.name}"


def listed(names: list[str] | tuple[str, ...]) -> str:
    """Names as a sentence has them: "a, b and c"."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def joints_listed(names: list[str] | tuple[str, ...]) -> str:
    """Names of joints as a sentence has them; one that has a comma of its own is told off by quotes."""
    return listed([f'"{name}"' if "," in name else name for name in names])
