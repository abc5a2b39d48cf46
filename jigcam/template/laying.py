"""Where a sheet lies when it is laid again: on another place of its board, or on another board, and by what it is laid.

Strips bear and lines lie where they come to by the move, as long as the sheet is only shifted, or turned over like the
page of a book; turned by any angle it is laid by the centrelines and sights of its openings.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from jigcam.geometry import apply
from jigcam.template.sheet import LOWER
from jigcam.template.turning import MIRRORED

if TYPE_CHECKING:
    import numpy.typing as npt

    from jigcam.template.plan import TemplatePlan
    from jigcam.units import Voice

NEAR = 0.01
"""mm; a strip that would bear so near to its side bears against it."""
LONGEST_SPACER = 150.0
"""mm; further off a strip under the sheet leads it no more, and is taken off (common practice, no source)."""
STRAIGHT = 1e-6
"""Sine of an angle by which a sheet may be turned and still lie as it was."""

Move = tuple[tuple[float, float, float], tuple[float, float, float]]


def as_move(matrix: npt.NDArray[np.float64]) -> Move:
    """A matrix (2, 3) as one that can be compared."""
    (a, b, c), (d, e, f) = matrix.tolist()
    return (a, b, c), (d, e, f)


@dataclass(frozen=True, slots=True)
class Ground:
    """A face or an end that a sheet is laid on. size: along x and y, mm; edges: what lies at x = 0, at the greatest x,
    at y = 0 and at the greatest y, as it is seen. end: whether it is one, "left" or "right".
    """

    board: str
    where: str
    size: tuple[float, float]
    edges: tuple[str, str, str, str]
    end: str | None = None


def laid_by(plan: TemplatePlan, move: Move, ground: Ground, voice: Voice) -> tuple[list[str], int]:
    """By what a sheet is laid, in parts of a sentence, and how many of them place it: two are enough.

    move: from where it lies for its openings as drawn to where it lies on `ground`, both as they are seen.
    """
    found, known = [], 0
    turned = is_turned(move)
    strips = [(what, strip.side) for what, strip in (("fence", plan.fence), ("stop block", plan.stop)) if strip]
    straight = _straight(move)
    for what, side in strips:
        there = MIRRORED[side] if turned else side
        room = -_from_side(_side_at(plan, side), side, move, ground, there)
        if not straight or room < -NEAR or room > LONGEST_SPACER:
            found.append(f"take the {what} off")
            continue
        moved = f"the {what}, moved to the other face of the sheet through the same holes," if turned else f"the {what}"
        spacer = "" if room < NEAR else f", with a spacer of {voice.rule(room)} between"
        found.append(f"{moved} against the {ground.edges[there]}{spacer}")
        known += 1
    for index in plan.indexes:
        there = MIRRORED[index.side] if turned else index.side
        distance = _from_side(index.at, index.side, move, ground, there)
        if straight and distance >= 0.0:
            found.append(f"the index line on one drawn {voice.rule(distance)} from the {ground.edges[there]}")
            known += 1
    return found, known


def is_turned(move: Move) -> bool:
    """Whether the face that was milled up is down."""
    (a, b, _), (d, e, _) = move
    return a * e - b * d < 0.0


def upright(matrix: npt.NDArray[np.float64], about: tuple[float, float]) -> npt.NDArray[np.float64]:
    """A move (2, 3) of a cut that looks alike after half a turn about its middle, turned as little as may be.

    about: where the middle comes to, mm. A sheet that is turned over is so like the page of a book, left for right.
    """
    mirrored = matrix[0, 0] * matrix[1, 1] - matrix[0, 1] * matrix[1, 0] < 0.0
    first = matrix[0, 0] * (-1.0 if mirrored else 1.0)
    least = matrix[1, 0] if abs(first) < STRAIGHT else first
    return matrix if least > 0.0 else half_turned(matrix, about)


def half_turned(matrix: npt.NDArray[np.float64], about: tuple[float, float]) -> npt.NDArray[np.float64]:
    """The same move (2, 3) with half a turn about a point (mm) after it."""
    made = -matrix
    made[:, 2] += 2.0 * np.asarray(about)
    return made


def _straight(move: Move) -> bool:
    """Whether it keeps x and y as they are, or mirrors x alone."""
    (a, b, _), (d, e, _) = move
    return e > 0.0 and max(abs(b), abs(d), abs(abs(a) - 1.0)) < STRAIGHT


def _side_at(plan: TemplatePlan, side: int) -> float:
    """Where a side of the board that a sheet was laid out on lies on its axis, mm."""
    board = plan.cut.board
    return (0.0, board.length, 0.0, board.width)[side]


def _from_side(at: float, side: int, move: Move, ground: Ground, there: int) -> float:
    """How far a line across an axis of the sheet (the one of `side`, at `at`) comes to lie from a side, inward, mm."""
    axis = int(side >= LOWER)
    ((x, y),) = apply(np.array(move), [(at, 0.0) if axis == 0 else (0.0, at)]).tolist()
    came = (x, y)[axis]
    return float(came if there in (0, LOWER) else ground.size[axis] - came)
