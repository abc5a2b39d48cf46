"""Where a sheet lies when it is laid again: on another place of its board, or on another board, and by what it is laid.

Strips bear and lines lie where they come to by the move, as long as the sheet is only shifted, or turned over like the
page of a book; turned by any angle it is laid by the centrelines and sights of its openings.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from jigcam.geometry import apply
from jigcam.template.sheet import LOWER
from jigcam.template.turning import MIRRORED
from jigcam.wood.band import sides

if TYPE_CHECKING:
    import numpy.typing as npt

    from jigcam.template.plan import TemplatePlan
    from jigcam.units import Voice
    from jigcam.wood.solid import Cut

NEAR = 0.01
"""mm; a strip that would bear so near to its side bears against it."""
LONGEST_SPACER = 150.0
"""mm; further off a strip under the sheet leads it no more, and is taken off (common practice, no source)."""
STRAIGHT = 1e-6
"""Sine of an angle by which a sheet may be turned and still lie as it was."""

Move = tuple[tuple[float, float, float], tuple[float, float, float]]
STAYS: Move = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
"""The move of a sheet that lies as it does for its openings as drawn."""


def as_move(matrix: npt.NDArray[np.float64]) -> Move:
    """A matrix (2, 3) as one that can be compared."""
    (a, b, c), (d, e, f) = matrix.tolist()
    return (a, b, c), (d, e, f)


@dataclass(frozen=True, slots=True)
class Site:
    """A face or an end that a sheet is laid on. size: along x and y, mm; edges: what lies at x = 0, at the greatest x,
    at y = 0 and at the greatest y, as it is seen. end: whether it is one, "left" or "right".
    """

    board: str
    where: str
    size: tuple[float, float]
    edges: tuple[str, str, str, str]
    end: str | None = None

    @classmethod
    def of(cls, cut: Cut) -> Site:
        """What the sheet for a cut is laid on."""
        end = cut.face.removesuffix(" end") if cut.on_end else None
        where = cut.face if cut.on_end else f"{cut.face} face"
        return cls(cut.board.name, where, (cut.board.length, cut.board.width), sides(cut.face), end)

    def at_hand(self, edge: int) -> str:
        """What lies there, with the hand at which it is where it is not before or behind the person."""
        hand = {0: " (at your left)", 1: " (at your right)"}.get(edge, "")
        return f"{self.edges[edge]}{hand}"


def laid_by(plan: TemplatePlan, move: Move, site: Site, voice: Voice, *, moved: bool = False) -> tuple[list[str], int]:
    """By what a sheet is laid, in parts of a sentence, and how many of them place it: two are enough.

    move: from where it lies for its openings as drawn to where it lies on `site`, both as they are seen. moved:
    whether the strips are on the face that is then down already.
    """
    found, known = [], 0
    turned = is_turned(move)
    straight = is_straight(move)
    for what, there, room in _strips(plan, move, site):
        if there is None:
            found.append(f"take the {what} off")
            continue
        to_move = turned and not moved
        strip = f"the {what}{', moved to the other face of the sheet through the same holes,' if to_move else ''}"
        spacer = "" if room < NEAR else f", with a spacer of {voice.rule(room)} between"
        found.append(f"{strip} against the {site.at_hand(there)}{spacer}")
        known += 1
    for index in plan.indexes:
        there = MIRRORED[index.side] if turned else index.side
        distance = _from_side(index.at, index.side, move, site, there)
        if straight and distance >= 0.0:
            found.append(f"the index line on one drawn {voice.rule(distance)} from the {site.at_hand(there)}")
            known += 1
    return found, known


def bears_on(plan: TemplatePlan, move: Move, site: Site) -> frozenset[str]:
    """The edges and faces beside which a strip stays under the sheet where it is laid so."""
    return frozenset(site.edges[there] for _, there, _ in _strips(plan, move, site) if there is not None)


def _strips(plan: TemplatePlan, move: Move, site: Site) -> Iterator[tuple[str, int | None, float]]:
    """Each strip: what it is, the side that it bears against there (None: it has to come off), and the gap, mm."""
    for what, strip in (("fence", plan.fence), ("stop block", plan.stop)):
        if strip is None:
            continue
        there = MIRRORED[strip.side] if is_turned(move) else strip.side
        room = -_from_side(_side_at(plan, strip.side), strip.side, move, site, there)
        fits = is_straight(move) and -NEAR <= room <= LONGEST_SPACER
        yield what, there if fits else None, room


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


def is_straight(move: Move) -> bool:
    """Whether it keeps x and y as they are, or mirrors x alone."""
    (a, b, _), (d, e, _) = move
    return e > 0.0 and max(abs(b), abs(d), abs(abs(a) - 1.0)) < STRAIGHT


def _side_at(plan: TemplatePlan, side: int) -> float:
    """Where a side of the board that a sheet was laid out on lies on its axis, mm."""
    board = plan.cut.board
    return (0.0, board.length, 0.0, board.width)[side]


def _from_side(at: float, side: int, move: Move, site: Site, there: int) -> float:
    """How far a line across an axis of the sheet (the one of `side`, at `at`) comes to lie from a side, inward, mm."""
    axis = int(side >= LOWER)
    ((x, y),) = apply(np.array(move), [(at, 0.0) if axis == 0 else (0.0, at)]).tolist()
    came = (x, y)[axis]
    return float(came if there in (0, LOWER) else site.size[axis] - came)
