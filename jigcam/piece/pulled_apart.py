"""A piece pulled apart: how far each board is moved in the picture, and the ways by which they come back together.

The steps of assembly are undone: what a step brings on is drawn back against it, until it is clear of what it goes onto,
and a little more. What came together in an earlier step moves as one. Space: mm, any frame.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

CLEAR: Final = 0.1
"""What stays between two groups that are pulled apart, as a share of the piece's greatest side."""


@dataclass(frozen=True, eq=False)
class Joining:
    """A step of assembly: boards (by number) that move together onto others, along a unit vector."""

    moves: frozenset[int]
    onto: frozenset[int]
    direction: FloatArray


@dataclass(frozen=True, eq=False)
class PulledApart:
    """moved: (n, 3), how far each board is moved. ways: (k, 3) each, from a place on one board, as moved, to the same
    place on the board that it meets there."""

    moved: FloatArray
    ways: tuple[FloatArray, ...]


def pulled_apart(
    corners: Sequence[FloatArray], joinings: Sequence[Joining], meets: Sequence[tuple[int, int, FloatArray]]
) -> PulledApart:
    """Boards by their corners ((8, 3) each) pulled apart. meets: two boards and a place (3,) at which they meet."""
    whole = np.vstack(corners)
    clear = CLEAR * float((whole.max(axis=0) - whole.min(axis=0)).max())
    shifts: list[list[FloatArray]] = [[] for _ in corners]
    moved = np.zeros((len(corners), 3))
    for joining in joinings:
        back = -joining.direction
        first = min(float(((corners[n] + moved[n]) @ back).min()) for n in joining.moves)
        last = max(float(((corners[n] + moved[n]) @ back).max()) for n in joining.onto)
        shift = (max(last - first, 0.0) + clear) * back
        for number, steps in enumerate(shifts):
            steps.append(shift if number in joining.moves else np.zeros(3))
        moved[sorted(joining.moves)] += shift
    return PulledApart(moved, tuple(way for one in meets if (way := _way(*one, shifts, joinings)) is not None))


def _way(
    a: int, b: int, place: FloatArray, shifts: Sequence[Sequence[FloatArray]], joinings: Sequence[Joining]
) -> FloatArray | None:
    """From a place on one board to the same on another, straight back along each step; None where no step joins them."""
    for number, joining in enumerate(joinings):
        if b in joining.moves and a in joining.onto:
            break
        if a in joining.moves and b in joining.onto:
            a, b = b, a
            break
    else:
        return None
    at = place + np.sum(shifts[b], axis=0)
    way = [at]
    # What the board that moves did before, then this step, then back what the other one did before.
    for shift in (*(-each for each in shifts[b][: number + 1]), *reversed(shifts[a][:number])):
        if np.any(shift):
            at = at + shift
            way.append(at)
    return np.array(way)
