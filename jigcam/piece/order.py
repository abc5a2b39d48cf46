"""The order in which a piece goes together: what is taken apart last goes together first.

The piece is taken apart step by step, each time into two that come off each other straight (`blocking`), and the steps
are told backward. Of what can come off a single board goes before several, one that should go in last (as a back)
before all, then the one that its joints leave the most ways, then the one with the fewest joints, then the later one of
the job; the reference board (number 0) goes last. So it stands first, and what can wait comes last. A board leaves by
the shortest way, and both halves hang together, where there is such a choice. For n boards that is n - 1 steps of n
looks at a set of boards a direction.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jigcam.piece.blocking import Blocking, members, opposite

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class OrderStep:
    """Boards, by number, that move together onto others that are together already. direction: (3,) unit vector of
    their way in. far: how far they go from where they are clear of those that they are joined to, mm."""

    moves: tuple[int, ...]
    onto: tuple[int, ...]
    direction: FloatArray
    far: float


@dataclass(frozen=True, eq=False)
class Order:
    """The steps from loose boards to pieces, in order, and the sets of boards that no order brings together; where
    there are some, the steps treat each of them as one."""

    steps: tuple[OrderStep, ...]
    locked: tuple[tuple[int, ...], ...]


@dataclass(frozen=True)
class _Parting:
    moves: int
    rest: int
    way: int
    far: float


def assembly_order(blocking: Blocking) -> Order:
    """An order for all that hangs together; parts that no joint joins to others have none."""
    locked: list[tuple[int, ...]] = []
    waiting = [parts for parts in reversed(blocking.pieces((1 << len(blocking.joined)) - 1)) if parts & (parts - 1)]
    pieces: list[list[_Parting]] = []
    while waiting:
        partings: list[_Parting] = []
        _take_apart(blocking, waiting.pop(), partings, locked)
        pieces.append(partings)
    steps = tuple(_step(blocking, each) for some in pieces for each in reversed(some))
    return Order(steps, tuple(locked))


def _take_apart(blocking: Blocking, whole: int, partings: list[_Parting], locked: list[tuple[int, ...]]) -> None:
    """What stands last is done first backward: a half that moves is whole before it does, the rest before that."""
    stack = [whole]
    while stack:
        parts = stack.pop()
        if not parts & (parts - 1):
            continue
        parting = _best(blocking, parts)
        if parting is None:
            locked.append(tuple(members(parts)))
            continue
        partings.append(parting)
        stack += [parting.rest, parting.moves]


def _best(blocking: Blocking, parts: int) -> _Parting | None:
    """The parting to be preferred; None where the parts lock each other."""
    kept: _Parting | None = None
    for parting in _singles(blocking, parts):
        if blocking.connected(parting.rest):
            return parting
        better = _by_a_half(blocking, parting)
        if better is not None:
            return better
        kept = kept or parting
    several = list(_several(blocking, parts))
    good = [each for each in several if blocking.connected(each.moves) and blocking.connected(each.rest)]
    if good or (several and kept is None):
        return min(good or several, key=lambda each: (each.moves.bit_count(), each.far))
    return kept


def _singles(blocking: Blocking, parts: int) -> Iterator[_Parting]:
    """Single boards that come off the rest, the best first."""
    first = (parts & -parts).bit_length() - 1
    found: list[tuple[bool, bool, float, int, int, list[int]]] = []
    for part in members(parts):
        free = [way for way, blocked in enumerate(blocking.blocked) if not blocked[part] & parts]
        if free:
            joined = blocking.joined[part] & parts
            held = sum((blocked[part] & joined).bit_count() for blocked in blocking.blocked)
            count = joined.bit_count()
            in_time = not blocking.late >> part & 1
            found.append((in_time, part == first, held / max(count, 1), count, -part, free))
    for *_, number, free in sorted(found):
        moves = 1 << -number
        rest = parts & ~moves
        fars = [_far(blocking, moves, rest, way) for way in free]
        best = int(np.argmin(np.round(fars, 3)))
        yield _Parting(moves, rest, free[best], fars[best])


def _by_a_half(blocking: Blocking, parting: _Parting) -> _Parting | None:
    """Where a board holds two halves that hang together by it alone: one of them moves instead, the other way."""
    back = opposite(parting.way)
    whole = parting.moves | parting.rest
    for half in sorted(blocking.pieces(parting.rest), key=lambda half: (half.bit_count(), -half)):
        rest = whole & ~half
        if blocking.free(half, rest, back) and blocking.connected(rest):
            return _Parting(half, rest, back, _far(blocking, half, rest, back))
    return None


def _several(blocking: Blocking, parts: int) -> Iterator[_Parting]:
    """Several boards that come off the rest together, or the rest off them where it is less."""
    first = parts & -parts
    for way in range(len(blocking.directions)):
        for moves in blocking.removable(parts, way):
            rest = parts & ~moves
            if (rest.bit_count(), rest & first) < (moves.bit_count(), moves & first):
                yield _Parting(rest, moves, opposite(way), _far(blocking, moves, rest, way))
            else:
                yield _Parting(moves, rest, way, _far(blocking, moves, rest, way))


def _far(blocking: Blocking, moves: int, rest: int, way: int) -> float:
    """How far these go along a direction until they are clear of those of the rest that a joint joins to them."""
    far = blocking.far[way]
    return max(
        (float(far[a, b]) for a in members(moves) for b in members(blocking.joined[a] & rest)),
        default=0.0,
    )


def _step(blocking: Blocking, parting: _Parting) -> OrderStep:
    way_in = -blocking.directions[parting.way]
    return OrderStep(tuple(members(parting.moves)), tuple(members(parting.rest)), way_in + 0.0, parting.far)
