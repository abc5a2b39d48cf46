"""Order of runs: the shortest way over the stock from run to run, by nearest neighbour and then by improving it.

The way from one run to another leads from its end to the other's start, so distances have a direction; a run that may
as well be run backward has both. The tour starts at a given point and is open. 2-opt (turning a stretch round) and
Or-opt (moving a stretch of up to three elsewhere) are tried until nothing shortens it: G. A. Croes, Operations Research
6 (1958), and I. Or, thesis, Northwestern University (1976), both from memory.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import permutations, product

import numpy as np
import numpy.typing as npt

from jigcam.toolpath.loops import Point
from jigcam.toolpath.track import Run
from jigcam.values import dataclass

SWEEPS = 50
"""Sweeps over the tour after which it is good enough."""
KICKS, KICKED = 30, 600
"""At most so many kicks for a tour, and so many runs in all that they go through: more costs more than it saves."""
FEW = 4
"""Up to so many runs are tried in every order."""
STRETCH = 3
"""Or-opt moves stretches of up to this many runs."""
GAIN = 1e-6
"""mm; less is no improvement."""
Ends = npt.NDArray[np.complex128]
Tour = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Legs:
    """The ends of n runs in both directions. A *leg* is a number: k for run k as it is, n + k for it run backward.

    starts, finishes: (2n,) as complex numbers. back: (2n,) the leg that is the same the other way; the leg itself where
    the run must not be turned.
    """

    starts: Ends
    finishes: Ends
    back: Tour

    @classmethod
    def of_ends(cls, starts: npt.ArrayLike, finishes: npt.ArrayLike, *, turnable: bool = False) -> Legs:
        """Of runs by their ends (n,); all may be turned, or none."""
        there, back = np.asarray(starts, dtype=complex), np.asarray(finishes, dtype=complex)
        own = np.arange(2 * len(there))
        return cls(
            np.concatenate([there, back]), np.concatenate([back, there]), np.roll(own, len(there)) if turnable else own
        )

    @classmethod
    def of_runs(cls, runs: Sequence[Run]) -> Legs:
        """Of runs, each turned where it has a way back."""
        both = [*runs, *(run.back or run for run in runs)]
        count = len(runs)
        turned = [k + count if run.back else k for k, run in enumerate(runs)]
        turned += [k if run.back else k + count for k, run in enumerate(runs)]
        return cls(
            np.array([complex(*run.start) for run in both]),
            np.array([complex(*run.end) for run in both]),
            np.array(turned),
        )

    @property
    def count(self) -> int:
        """How many runs there are."""
        return len(self.starts) // 2

    def turned(self, legs: Tour) -> Tour:
        """A stretch run the other way round, each of its runs turned where it may be."""
        return self.back[legs[::-1]]

    def within(self, legs: Tour) -> float:
        """Length of the ways between the runs of a stretch, mm."""
        return float(np.abs(self.starts[legs[1:]] - self.finishes[legs[:-1]]).sum())


def ordered(runs: Sequence[Run], start: Point = (0.0, 0.0)) -> list[Run]:
    """The runs in an order that travels little, beginning near `start`, some of them backward if they have a `back`."""
    if len(runs) < 2:
        return list(runs)
    legs = Legs.of_runs(runs)
    tour = improved(legs, nearest_neighbour(legs, start), start)
    return [runs[k] if k < legs.count else runs[k - legs.count].back or runs[k - legs.count] for k in tour]


def travel(legs: Legs, tour: npt.ArrayLike, start: Point = (0.0, 0.0)) -> float:
    """Length of the ways between the runs of a tour, the way to the first included, mm."""
    order = np.asarray(tour, dtype=np.int64)
    return float(abs(legs.starts[order[0]] - complex(*start))) + legs.within(order)


def nearest_neighbour(legs: Legs, start: Point = (0.0, 0.0)) -> list[int]:
    """The tour that always goes on to the nearest start that is left; the lower leg where two are as near."""
    at = complex(*start)
    count = legs.count
    left = np.concatenate([np.ones(count, dtype=bool), legs.back[count:] != np.arange(count, 2 * count)])
    tour = []
    for _ in range(count):
        gap = np.where(left, np.abs(legs.starts - at), np.inf)
        nearest = int(np.argmin(gap))
        tour.append(nearest)
        left[[nearest % count, nearest % count + count]] = False
        at = legs.finishes[nearest]
    return tour


def improved(legs: Legs, tour: Sequence[int], start: Point = (0.0, 0.0)) -> list[int]:
    """The tour after 2-opt and Or-opt; a short one again after each of some kicks, keeping what is best.

    A kick swaps two neighbouring stretches at places from a sequence that spreads evenly; nothing is left to chance. Of
    a few runs, every tour is tried.
    """
    if len(tour) <= FEW:
        shortest = min(_every_tour(legs), key=lambda each: travel(legs, each, start))
        return list(shortest)
    best = _settled(legs, np.asarray(tour), start)
    length = travel(legs, best, start)
    for number in range(1, min(KICKS, KICKED // len(best)) + 1 if len(best) <= KICKED // 5 else 1):
        tried = _settled(legs, _kicked(best, number), start)
        if (there := travel(legs, tried, start)) < length - GAIN:
            best, length = tried, there
    order: list[int] = best.tolist()
    return order


def _every_tour(legs: Legs) -> Iterator[tuple[int, ...]]:
    ways = [sorted({k, int(legs.back[k])}) for k in range(legs.count)]
    for order in permutations(ways):
        yield from product(*order)


def _kicked(order: Tour, number: int) -> Tour:
    """The tour with two neighbouring stretches swapped; their ends are parts of the golden ratio and its powers."""
    places = sorted(1 + int(number * share % 1.0 * (len(order) - 1)) for share in (0.618034, 0.381966, 0.236068))
    i, j, k = places
    return np.concatenate([order[:i], order[j:k], order[i:j], order[k:]])


def _settled(legs: Legs, order: Tour, start: Point) -> Tour:
    """The tour improved by the best partner for each place in turn, until nothing gains any more.

    A run whose neighbours are as they were when it was last tried is not tried again (don't-look bits: J. L. Bentley,
    ORSA Journal on Computing 4 (1992), from memory).
    """
    awake = np.ones(legs.count, dtype=bool)
    for _ in range(SWEEPS):
        for i in range(len(order)):
            run = order[i] % legs.count
            if not awake[run]:
                continue
            awake[run] = False
            better = _turned_round(legs, order, i, start)
            for length in range(1, STRETCH + 1):
                better = _moved(legs, better, i, length, start)
            if better is not order:
                awake |= _neighbours(better % legs.count) != _neighbours(order % legs.count)
                # One that was only turned round has its neighbours still.
                awake[better[max(0, i - 1) : i + 2] % legs.count] = True
                order = better
        if not awake.any():
            break
    return order


def _neighbours(runs: Tour) -> Tour:
    """(n,) a number for each run that tells its two neighbours in a tour, whichever comes first."""
    count = len(runs) + 1
    before, after = np.append(count - 1, runs[:-1]), np.append(runs[1:], count - 1)
    out = np.empty(len(runs), dtype=np.int64)
    out[runs] = np.minimum(before, after) * count + np.maximum(before, after)
    return out


def _turned_round(legs: Legs, order: Tour, i: int, start: Point) -> Tour:
    """The tour with the stretch from place i to the best other place turned round, if that is shorter."""
    rest, turned = order[i:], legs.back[order[i:]]
    s, f, back_s, back_f = legs.starts[rest], legs.finishes[rest], legs.starts[turned], legs.finishes[turned]
    before = legs.finishes[order[i - 1]] if i else complex(*start)
    # Ways within the stretch i … j, forward and backward, for every j.
    forward = np.concatenate([[0.0], np.cumsum(np.abs(s[1:] - f[:-1]))])
    backward = np.concatenate([[0.0], np.cumsum(np.abs(back_s[:-1] - back_f[1:]))])
    gain = abs(s[0] - before) - np.abs(back_s - before) + forward - backward
    gain[:-1] += np.abs(s[1:] - f[:-1]) - np.abs(s[1:] - back_f[0])
    best = int(np.argmax(gain))
    if gain[best] < GAIN:
        return order
    return np.concatenate([order[:i], legs.turned(rest[: best + 1]), rest[best + 1 :]])


def _moved(legs: Legs, order: Tour, i: int, length: int, start: Point) -> Tour:
    """The tour with the stretch of that length from place i set in where it is best, either way round, if shorter."""
    stretch, rest = order[i : i + length], np.delete(order, slice(i, i + length))
    if len(stretch) < length or not len(rest):
        return order
    s, left = legs.starts[rest], np.concatenate([[complex(*start)], legs.finishes[rest]])

    def costs(put: Tour) -> npt.NDArray[np.float64]:
        cost: npt.NDArray[np.float64] = np.abs(legs.starts[put[0]] - left) + legs.within(put)
        cost[:-1] += np.abs(s - legs.finishes[put[-1]]) - np.abs(s - left[:-1])
        return cost

    now = costs(stretch)
    best, where, least = stretch, int(np.argmin(now)), float(now.min())
    turned = legs.turned(stretch)
    if (other := costs(turned)).min() < least:
        best, where, least = turned, int(np.argmin(other)), float(other.min())
    if now[i] - least < GAIN:
        return order
    return np.concatenate([rest[:where], best, rest[where:]])
