"""Order of runs: the shortest way over the stock from run to run, by nearest neighbour and then by improving it.

The way from one run to another leads from its end to the other's start, so distances have a direction. The tour starts
at a given point and is open. 2-opt (turning a stretch round) and Or-opt (moving a stretch of up to three elsewhere) are
tried on near neighbours until nothing shortens it: G. A. Croes, Operations Research 6 (1958), and I. Or, thesis,
Northwestern University (1976), both from memory.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from jigcam.toolpath.loops import Point
from jigcam.toolpath.track import Run

SWEEPS = 50
"""Sweeps over the tour after which it is good enough."""
KICKS, KICKED = 30, 600
"""At most so many kicks for a tour, and so many runs in all that they go through: more costs more than it saves."""
STRETCH = 3
"""Or-opt moves stretches of up to this many runs."""
GAIN = 1e-6
"""mm; less is no improvement."""
Ends = npt.NDArray[np.complex128]
Tour = npt.NDArray[np.int64]


def ordered(runs: Sequence[Run], start: Point = (0.0, 0.0)) -> list[Run]:
    """The runs in an order that travels little, beginning near `start`."""
    if len(runs) < 2:
        return list(runs)
    tour = improved(*ends(runs), nearest_neighbour(*ends(runs), start), start)
    return [runs[i] for i in tour]


def ends(runs: Sequence[Run]) -> tuple[Ends, Ends]:
    """Starts and ends as complex numbers."""
    return np.array([complex(*run.start) for run in runs]), np.array([complex(*run.end) for run in runs])


def travel(starts: Ends, finishes: Ends, tour: npt.ArrayLike,
           start: Point = (0.0, 0.0)) -> float:  # fmt: skip
    """Length of the ways between the runs of a tour, the way to the first included, mm."""
    order = np.asarray(tour, dtype=np.int64)
    first = abs(starts[order[0]] - complex(*start))
    return float(first + np.abs(starts[order[1:]] - finishes[order[:-1]]).sum())


def nearest_neighbour(starts: Ends, finishes: Ends,
                      start: Point = (0.0, 0.0)) -> list[int]:  # fmt: skip
    """The tour that always goes on to the nearest start that is left; the lower index where two are as near."""
    at = complex(*start)
    left = np.ones(len(starts), dtype=bool)
    tour = []
    for _ in range(len(starts)):
        gap = np.where(left, np.abs(starts - at), np.inf)
        nearest = int(np.argmin(gap))
        tour.append(nearest)
        left[nearest] = False
        at = finishes[nearest]
    return tour


def improved(starts: Ends, finishes: Ends, tour: Sequence[int], start: Point = (0.0, 0.0)) -> list[int]:
    """The tour after 2-opt and Or-opt; a short one again after each of some kicks, keeping what is best.

    A kick swaps two neighbouring stretches at places from a sequence that spreads evenly; nothing is left to chance.
    """
    best = _settled(starts, finishes, np.asarray(tour), start)
    length = travel(starts, finishes, best, start)
    for number in range(1, min(KICKS, KICKED // len(best)) + 1 if 4 < len(best) <= KICKED // 5 else 1):
        tried = _settled(starts, finishes, _kicked(best, number), start)
        if (there := travel(starts, finishes, tried, start)) < length - GAIN:
            best, length = tried, there
    return best.tolist()


def _kicked(order: Tour, number: int) -> Tour:
    """The tour with two neighbouring stretches swapped; their ends are parts of the golden ratio and its powers."""
    places = sorted(1 + int(number * share % 1.0 * (len(order) - 1)) for share in (0.618034, 0.381966, 0.236068))
    i, j, k = places
    return np.concatenate([order[:i], order[j:k], order[i:j], order[k:]])


def _settled(starts: Ends, finishes: Ends, order: Tour, start: Point) -> Tour:
    """The tour improved by the best partner for each place in turn, until a sweep gains nothing."""
    for _ in range(SWEEPS):
        before = travel(starts, finishes, order, start)
        for i in range(len(order)):
            order = _turned_round(starts, finishes, order, i, start)
        for i in range(len(order)):
            for length in range(1, STRETCH + 1):
                order = _moved(starts, finishes, order, i, length, start)
        if before - travel(starts, finishes, order, start) < GAIN:
            break
    return order


def _turned_round(starts: Ends, finishes: Ends, order: Tour, i: int, start: Point) -> Tour:
    """The tour with the stretch from place i to the best other place turned round, if that is shorter."""
    s, f = starts[order], finishes[order]
    before = f[i - 1] if i else complex(*start)
    # Ways within the stretch i … j, forward and backward, for every j.
    forward = np.concatenate([[0.0], np.cumsum(np.abs(s[i + 1 :] - f[i:-1]))])
    backward = np.concatenate([[0.0], np.cumsum(np.abs(s[i:-1] - f[i + 1 :]))])
    gain = abs(s[i] - before) - np.abs(s[i:] - before) + forward - backward
    gain[:-1] += np.abs(s[i + 1 :] - f[i:-1]) - np.abs(s[i + 1 :] - f[i])
    best = int(np.argmax(gain))
    if gain[best] < GAIN:
        return order
    return np.concatenate([order[:i], order[i : i + best + 1][::-1], order[i + best + 1 :]])


def _moved(starts: Ends, finishes: Ends, order: Tour, i: int, length: int, start: Point) -> Tour:
    """The tour with the stretch of that length from place i set in where it is best, if that is shorter."""
    stretch, rest = order[i : i + length], np.delete(order, slice(i, i + length))
    if len(stretch) < length or not len(rest):
        return order
    s, f = starts[rest], finishes[rest]
    first, last = starts[stretch[0]], finishes[stretch[-1]]
    left = np.concatenate([[complex(*start)], f])
    cost = np.abs(first - left)
    cost[:-1] += np.abs(s - last) - np.abs(s - left[:-1])
    best = int(np.argmin(cost))
    if cost[i] - cost[best] < GAIN:
        return order
    return np.concatenate([rest[:best], stretch, rest[best:]])
