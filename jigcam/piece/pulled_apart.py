"""A piece pulled apart: how far each board is moved in the picture, and the ways by which they come back together.

The steps of assembly are undone: what a step brings on is drawn back against it, until it is clear of what lies in its
way there, and a little more. What came together in an earlier step moves as one. Space: mm, any frame.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np
import numpy.typing as npt

from jigcam.values import dataclass

FloatArray = npt.NDArray[np.float64]

CLEAR: Final = 0.1
"""What stays between two groups that are pulled apart, as a share of the piece's greatest side."""
TOUCHING: Final = 0.1
"""Boxes that are nearer to each other than this, seen along the way, slide on each other: to be clear, both have to be
past each other, mm."""


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
        places = [points + by for points, by in zip(corners, moved, strict=True)]
        far = (_until_clear(places[b], places[a], back) for b in joining.moves for a in joining.onto)
        shift = (max(far, default=0.0) + clear) * back
        for number, steps in enumerate(shifts):
            steps.append(shift if number in joining.moves else np.zeros(3))
        moved[sorted(joining.moves)] += shift
    return PulledApart(moved, tuple(_ways(shifts, joinings, meets)))


def _until_clear(mover: FloatArray, other: FloatArray, way: FloatArray) -> float:
    """How far one box has to go along a unit vector to be clear of another; 0 where that is not in its way."""
    aside = np.linalg.svd(way.reshape(1, 3))[2][1:].T  # two ways square to it
    low = np.maximum(*((box @ aside).min(axis=0) for box in (mover, other)))
    high = np.minimum(*((box @ aside).max(axis=0) for box in (mover, other)))
    if bool((high <= low - TOUCHING).any()):
        return 0.0
    return max(float((other @ way).max() - (mover @ way).min()), 0.0)


def _ways(
    shifts: Sequence[Sequence[FloatArray]],
    joinings: Sequence[Joining],
    meets: Sequence[tuple[int, int, FloatArray]],
) -> Iterator[FloatArray]:
    """Of each board that a step moves the ways with the fewest bends: one that goes straight says enough."""
    found: dict[tuple[int, int], list[FloatArray]] = {}
    for one in meets:
        step, board, way = _way(*one, shifts, joinings)
        if way is not None:
            found.setdefault((step, board), []).append(way)
    for ways in found.values():
        least = min(map(_bends, ways))
        yield from (way for way in ways if _bends(way) == least)


def _bends(way: FloatArray) -> int:
    legs = np.diff(way, axis=0)
    legs /= np.linalg.norm(legs, axis=1)[:, None]
    return int((np.abs((legs[1:] * legs[:-1]).sum(axis=1)) < 1.0 - 1e-9).sum())


def _way(
    a: int, b: int, place: FloatArray, shifts: Sequence[Sequence[FloatArray]], joinings: Sequence[Joining]
) -> tuple[int, int, FloatArray | None]:
    """The step that joins two boards, the one that it moves, and from a place on that one to the same on the other,
    straight back along each step; None where no step joins them."""
    number = next((n for n, each in enumerate(joinings) if _joins(each, a, b) or _joins(each, b, a)), None)
    if number is None:
        return -1, -1, None
    if not _joins(joinings[number], a, b):
        a, b = b, a
    at = place + np.sum(shifts[b], axis=0)
    way = [at]
    # What the board that moves did before, then this step, then back what the other one did before.
    for shift in (*(-each for each in shifts[b][: number + 1]), *reversed(shifts[a][:number])):
        if np.any(shift):
            at = at + shift
            way.append(at)
    return number, b, np.array(way)


def _joins(joining: Joining, a: int, b: int) -> bool:
    """Whether a step brings b to a."""
    return b in joining.moves and a in joining.onto
