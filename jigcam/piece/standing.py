"""How a piece stands before who looks at its picture: which of its six sides is up, and which in front.

A job does not say it, but its words and its joints do: a board that is called top is above, a front in front, a shelf
lies level; a board whose end stands in another's face, across its grain, is a shelf; lower edges are below, or in front
where the boards stand on end. The turn that most of this speaks for is taken. It is for the picture alone: nothing is
cut by it.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import permutations, product
from typing import Final

import numpy as np
import numpy.typing as npt

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

LATE: Final = 8.0
"""The same of where a board is that goes in last and is called by a place."""
MOSTLY: Final = 0.7
"""Cosine from which on something points a way."""
APART: Final = 1.0
"""Boards no further before or behind the middle than this are neither, mm."""


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


def standing(
    boards: Sequence[StandingBoard], housed: Sequence[tuple[int, int]] = (), late: Collection[int] = ()
) -> FloatArray:
    """The turn (3, 3) from the world to space in which the piece stands.

    housed: of each contact the numbers of the board that takes and of the one that enters. late: numbers of boards that
    lie in the others from the outside, as backs do: where one is counts, and not which of its faces is out.
    """
    if not boards:
        return np.eye(3)
    middles = np.array([board.middle for board in boards])
    middle = (middles.min(axis=0) + middles.max(axis=0)) / 2.0
    reach = float(np.abs(middles - middle).max()) or 1.0
    return max(turns(), key=lambda turn: round(_speaks_for(turn, boards, housed, late, middle, reach), 6))


def seen_from(turn: FloatArray, boards: Sequence[StandingBoard], late: Collection[int] = ()) -> str:
    """From where a piece is seen that stands so, in words: the eye is in front, above and to the right.

    late: numbers of boards that lie in the others from the outside, as backs do: they say what is behind. Else boards
    that are called so do, and else it is said where lower edges are.

    >>> back = StandingBoard("back", 1, np.array([0.0, 9.0, 0.0]), *np.eye(3))
    >>> rail = StandingBoard("rail", 1, np.zeros(3), *np.eye(3))
    >>> seen_from(np.eye(3), [rail, back]), seen_from(np.diag([-1.0, -1.0, 1.0]), [rail, back], [1])
    ('seen from the front', 'seen from behind')
    >>> seen_from(np.eye(3), [rail])
    'seen from the side of the lower edges'
    """
    middles = np.array([turn @ board.middle for board in boards])
    away = (middles - (middles.min(axis=0) + middles.max(axis=0)) / 2.0)[:, 1]
    behind = sum(float(away[number]) for number in late)
    if abs(behind) < APART:
        behind = 0.0
        for off, board in zip(away, boards, strict=True):
            words = set(re.findall(r"[^\W\d_]+", board.name.casefold()))
            behind += float(off) * (("back" in words) - ("front" in words))
    if abs(behind) >= APART:
        return "seen from the front" if behind > 0.0 else "seen from behind"
    lower = np.array([turn @ -board.upward for board in boards])
    down, ahead = -lower[:, 2], -lower[:, 1]
    if (down > MOSTLY).mean() > 0.5:
        return "seen from above, lower edges down"
    if (np.abs(ahead) > MOSTLY).mean() > 0.5:
        return f"seen from the side of the {'lower' if ahead.sum() > 0.0 else 'upper'} edges"
    return "seen from above"


def _speaks_for(
    turn: FloatArray,
    boards: Sequence[StandingBoard],
    housed: Sequence[tuple[int, int]],
    late: Collection[int],
    middle: FloatArray,
    reach: float,
) -> float:
    found = 0.0
    for number, board in enumerate(boards):
        words = set(re.findall(r"[^\W\d_]+", board.name.casefold()))
        where = turn @ (board.middle - middle) / reach
        for word in sorted(words & PLACES.keys()):
            if number in late:
                found += LATE * float(np.sign(round(float(where @ PLACES[word]), 3)))
                continue
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
