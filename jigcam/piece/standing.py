"""How a piece stands before who looks at its picture: which of its six sides is up, and which in front.

A job does not say it, but its words and its joints do: a board that is called top is above, a front in front, a shelf
lies level; a board whose end stands in another's face, across its grain, is a shelf; lower edges are below, or in front
where the boards stand on end. The turn that most of this speaks for is taken. It is for the picture alone: nothing is
cut by it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import permutations, product
from typing import Final

import numpy as np
import numpy.typing as npt

from jigcam.values import dataclass

FloatArray = npt.NDArray[np.float64]

# Space as in `drawing.isometric`: x to the right, y away, z up.
PLACES: Final[Mapping[str, tuple[float, float, float]]] = {
    "top": (0.0, 0.0, 1.0),
    "lid": (0.0, 0.0, 1.0),
    "bottom": (0.0, 0.0, -1.0),
    "base": (0.0, 0.0, -1.0),
    "plinth": (0.0, 0.0, -1.0),
    "front": (0.0, -1.0, 0.0),
    "back": (0.0, 1.0, 0.0),
    "left": (-1.0, 0.0, 0.0),
    "right": (1.0, 0.0, 0.0),
}
"""Words of boards' names, and where such a board is."""
LEVEL: Final = frozenset({"top", "bottom", "lid", "shelf", "tray", "seat", "base"})
UPRIGHT: Final = frozenset({"side", "front", "back", "end", "divider", "partition", "door", "leg"})
CALLED, FACES, LIES, HOUSED, EDGE_DOWN, EDGE_AHEAD = 4.0, 2.0, 2.0, 1.0, 0.3, 0.2
"""What each sign weighs: a name with a place, its outside face toward there, a name with a way to lie, a housing, a
lower edge below or in front."""


@dataclass(frozen=True, eq=False)
class StandingBoard:
    """A board in the world. middle: of it, mm; along, upward, out: of length, width and outside face, unit vectors.

    number: which of several of the same name; the first one counts most.
    """

    name: str
    number: int
    middle: FloatArray
    along: FloatArray
    upward: FloatArray
    out: FloatArray


def turns() -> Iterator[FloatArray]:
    """The 24 turns that carry axes to axes, the one that changes nothing first."""
    for order in permutations(range(3)):
        for signs in product((1.0, -1.0), repeat=3):
            turn = np.zeros((3, 3))
            turn[range(3), order] = signs
            if np.linalg.det(turn) > 0.0:
                yield turn


def standing(boards: Sequence[StandingBoard], housed: Sequence[tuple[int, int]] = ()) -> FloatArray:
    """The turn (3, 3) from the world to space in which the piece stands.

    housed: of each contact the numbers of the board that takes and of the one that enters.
    """
    if not boards:
        return np.eye(3)
    middles = np.array([board.middle for board in boards])
    middle = (middles.min(axis=0) + middles.max(axis=0)) / 2.0
    reach = float(np.abs(middles - middle).max()) or 1.0
    return max(turns(), key=lambda turn: round(_speaks_for(turn, boards, housed, middle, reach), 6))


def _speaks_for(
    turn: FloatArray,
    boards: Sequence[StandingBoard],
    housed: Sequence[tuple[int, int]],
    middle: FloatArray,
    reach: float,
) -> float:
    found = 0.0
    for board in boards:
        words = set(re.findall(r"[^\W\d_]+", board.name.casefold()))
        where = turn @ (board.middle - middle) / reach
        for word in sorted(words & PLACES.keys()):
            found += (
                CALLED * float(where @ PLACES[word]) + FACES * float(turn @ board.out @ PLACES[word])
            ) / board.number
        level = abs(float((turn @ board.out)[2]))
        found += LIES * (bool(words & LEVEL) * level + bool(words & UPRIGHT) * (1.0 - level))
        lower = turn @ -board.upward
        found += -EDGE_DOWN * float(lower[2]) - EDGE_AHEAD * float(lower[1])
    for taker, guest in housed:
        # Across the grain of a face: the one that enters is level.
        a, b = boards[taker], boards[guest]
        if abs(float(b.along @ a.out)) > 0.9 and abs(float(b.out @ a.along)) > 0.7:
            found += HOUSED * abs(float((turn @ b.out)[2]))
    return found
