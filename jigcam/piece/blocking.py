"""Directional blocking graphs: which part holds which, when one is moved straight in a direction.

After R. H. Wilson and J.-C. Latombe, "Geometric reasoning about mechanical assembly", Artificial Intelligence 71
(1994), from memory. *Part*: a board in space, by its number. *Hold*: what a joint leaves two parts that it joins: one
comes off the other along any sum of some directions, a cone. For each *direction* the graph has an arc from a part to
each that blocks it: one that it is joined to and does not come off that way, or one that its box runs into. Parts from
which no arc leads to the rest can be taken off together, moving straight. What is blocked depends on pairs alone: so
taking a part away frees others and locks none, no choice of what to take off first is ever wrong, and parts that
cannot be parted in the end could not be in any order. Sets of parts are bit masks. Space: mm, any frame.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np
import numpy.typing as npt

from jigcam.piece.boxes import TOUCH, Boxes

FloatArray = npt.NDArray[np.float64]

SAME_WAY: Final = 1e-6
"""Unit vectors this near to each other are one direction."""


@dataclass(frozen=True, eq=False)
class Hold:
    """Part b comes off part a along any sum of `apart`, (k, 3) unit vectors. joint: its name. late: b should go in
    last, where there is a choice."""

    a: int
    b: int
    apart: FloatArray
    joint: str
    late: bool = False


@dataclass(frozen=True, eq=False)
class Blocking:
    """The graphs of a piece. directions: (m, 3). blocked: for each of them, by part, those that block it. joined: by
    part, those that a joint joins to it. far: for each direction, (n, n), how far a part goes until it is clear of
    another that it shares room with, mm. late: the parts that should go in last."""

    directions: FloatArray
    blocked: tuple[tuple[int, ...], ...]
    joined: tuple[int, ...]
    far: FloatArray
    late: int = 0

    @classmethod
    def of(cls, boxes: Boxes, holds: Sequence[Hold]) -> Blocking:
        """All the graphs: a direction is one that some joint leaves, there or back."""
        directions = ways([hold.apart for hold in holds])
        count = len(boxes.boxes)
        joined = [0] * count
        for hold in holds:
            joined[hold.a] |= 1 << hold.b
            joined[hold.b] |= 1 << hold.a
        held = np.zeros((count, count), bool)
        for a, mask in enumerate(joined):
            held[a, list(members(mask))] = True
        blocked, far = [], np.zeros((len(directions), count, count))
        for number, direction in enumerate(directions):
            far[number] = np.maximum(boxes.along(direction)[1], 0.0)
            # Boxes that share room at rest, which `collisions` judges, leave each other the shortest way out.
            out = (boxes.overlap > TOUCH) & (far[number] <= boxes.overlap)
            meets = boxes.meets(direction) & ~out & ~held
            # Few joints leave ways of their own: each cone is asked once.
            cones = {hold.apart.tobytes(): hold.apart for hold in holds}
            leaves = {key: (comes_off(apart, direction), comes_off(apart, -direction)) for key, apart in cones.items()}
            for hold in holds:
                there, back = leaves[hold.apart.tobytes()]
                meets[hold.b, hold.a] |= not there
                meets[hold.a, hold.b] |= not back
            blocked.append(tuple(mask_of(np.flatnonzero(row)) for row in meets))
        return cls(directions, tuple(blocked), tuple(joined), far, mask_of([hold.b for hold in holds if hold.late]))

    def connected(self, parts: int) -> bool:
        """Whether joints join the parts to one."""
        return self.reached(parts, parts & -parts) == parts

    def reached(self, parts: int, start: int) -> int:
        """Those of the parts that joints join to the first."""
        found, new = start, start
        while new:
            near = 0
            for part in members(new):
                near |= self.joined[part]
            new = near & parts & ~found
            found |= new
        return found

    def pieces(self, parts: int) -> list[int]:
        """The parts by what hangs together, the lowest number first."""
        found = []
        while parts:
            found.append(self.reached(parts, parts & -parts))
            parts &= ~found[-1]
        return found

    def removable(self, parts: int, way: int) -> list[int]:
        """The least sets that come off the rest in a direction: cycles that nothing else blocks; none if it is one."""
        found = [cycle for cycle in self.cycles(parts, way) if not self._held(cycle, parts & ~cycle, way)]
        return [] if found == [parts] else found

    def locked(self, parts: int) -> bool:
        """Whether no direction parts them."""
        return all(not self.removable(parts, way) for way in range(len(self.directions)))

    def free(self, moves: int, rest: int, way: int) -> bool:
        """Whether nothing of the rest blocks what moves."""
        return not self._held(moves, rest, way)

    def cycles(self, parts: int, way: int) -> list[int]:
        """The strongly connected components of a graph (S. R. Kosaraju's two passes, from memory)."""
        ahead = self.blocked[way]
        back = self._turned(parts, way)
        order = _finished(ahead, parts)
        found, left = [], parts
        for part in reversed(order):
            if left >> part & 1:
                cycle = _closure(back, left, 1 << part)
                left &= ~cycle
                found.append(cycle)
        return found

    def _held(self, moves: int, rest: int, way: int) -> bool:
        return any(self.blocked[way][part] & rest for part in members(moves))

    def _turned(self, parts: int, way: int) -> tuple[int, ...]:
        """The graph with its arcs turned round: that of the direction opposite, as motion is relative."""
        return self.blocked[opposite(way)]


def opposite(way: int) -> int:
    """Directions come in pairs, there and back."""
    return way ^ 1


def ways(cones: Sequence[FloatArray]) -> FloatArray:
    """(m, 3) the directions of all cones, each followed by its opposite, none twice."""
    found: list[FloatArray] = []
    for direction in (row for cone in cones for row in np.asarray(cone, float).reshape(-1, 3)):
        if not any(float(np.abs(direction - each).max()) < SAME_WAY for each in found):
            found += [direction, -direction]
    return np.array(found).reshape(-1, 3)


def comes_off(apart: FloatArray, direction: FloatArray) -> bool:
    """Whether a direction is a sum of those of a cone, none of them taken backward: at most three of them are needed
    (C. Carathéodory)."""
    rays = np.asarray(apart, float).reshape(-1, 3)
    for size in range(1, min(len(rays), 3) + 1):
        for some in combinations(range(len(rays)), size):
            chosen = rays[list(some)].T
            shares = np.linalg.lstsq(chosen, direction, rcond=None)[0]
            if bool((shares >= -SAME_WAY).all()) and float(np.abs(chosen @ shares - direction).max()) < SAME_WAY:
                return True
    return False


def members(mask: int) -> Iterator[int]:
    """The numbers of the parts in a set, ascending."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def mask_of(numbers: npt.NDArray[np.int64] | Sequence[int]) -> int:
    """The set of parts by their numbers."""
    mask = 0
    for number in numbers:
        mask |= 1 << int(number)
    return mask


def _finished(arcs: Sequence[int], parts: int) -> list[int]:
    """Parts in the order in which a walk in depth is done with them; each is entered once."""
    order: list[int] = []
    left = parts
    while left:
        stack = [(left & -left).bit_length() - 1]
        left &= ~(1 << stack[0])
        while stack:
            ahead = arcs[stack[-1]] & left
            if ahead:
                low = ahead & -ahead
                left ^= low
                stack.append(low.bit_length() - 1)
            else:
                order.append(stack.pop())
    return order


def _closure(arcs: Sequence[int], parts: int, start: int) -> int:
    found, new = start, start
    while new:
        ahead = 0
        for part in members(new):
            ahead |= arcs[part]
        new = ahead & parts & ~found
        found |= new
    return found
