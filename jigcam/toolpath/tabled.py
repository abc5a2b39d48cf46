"""The same improvement of a tour as in `order`, for tours of few runs: on lists, with all ways between runs in a table.

Arrays of thirty numbers cost more in calls than in sums; lists of thousands cost more in sums. Both ways take the same
steps in the same order, down to the last digit, so it does not show in a tour which of them found it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

SWEEPS = 50
"""Sweeps over the tour after which it is good enough."""
STRETCH = 3
"""Or-opt moves stretches of up to this many runs."""
GAIN = 1e-6
"""mm; less is no improvement."""


@dataclass(frozen=True, slots=True)
class Table:
    """Lengths of all ways between n runs, mm, by legs (see `order.Legs`); the place where a tour starts is leg 2n.

    onward: [a][b] from the end of leg a to the start of leg b. reached: [b][a] the same. back: the leg that is the same
    run the other way.
    """

    onward: list[list[float]]
    reached: list[list[float]]
    back: list[int]

    @classmethod
    def of(
        cls,
        starts: npt.NDArray[np.complex128],
        finishes: npt.NDArray[np.complex128],
        back: npt.NDArray[np.int64],
        start: complex,
    ) -> Table:
        """From the ends of both legs of each run, (2n,), and the place where the tour starts."""
        ways = np.abs(starts[None, :] - np.append(finishes, start)[:, None])
        return cls(ways.tolist(), ways.T.tolist(), back.tolist())

    def settled(self, order: Sequence[int]) -> list[int]:
        """The tour improved until nothing gains any more; see `order._settled`."""
        tour, count = list(order), len(order)
        gaps = self._gaps(tour)
        awake = [True] * count
        for _ in range(SWEEPS):
            for i in range(count):
                run = tour[i] % count
                if not awake[run]:
                    continue
                awake[run] = False
                better = self._turned_round(tour, gaps, i)
                ways = gaps if better is tour else self._gaps(better)
                for length in range(1, min(STRETCH, count - i, count - 1) + 1):
                    moved = self._moved(better, ways, i, length)
                    if moved is not better:
                        better, ways = moved, self._gaps(moved)
                if better is not tour:
                    before, after = _neighbours(tour), _neighbours(better)
                    awake = [one or before[k] != after[k] for k, one in enumerate(awake)]
                    # One that was only turned round has its neighbours still.
                    for leg in better[max(0, i - 1) : i + 2]:
                        awake[leg % count] = True
                    tour, gaps = better, ways
            if not any(awake):
                break
        return tour

    def _gaps(self, order: list[int]) -> list[float]:
        """(n,) the way to each leg of a tour from the one before."""
        onward = self.onward
        return [onward[a][b] for a, b in zip([-1, *order], order, strict=False)]

    def _turned_round(self, order: list[int], gaps: list[float], i: int) -> list[int]:
        """The tour with the stretch from place i to the best other place turned round, if that is shorter."""
        onward, back = self.onward, self.back
        before = onward[order[i - 1] if i else -1]
        last = back[order[i]]
        first, leaving = gaps[i], onward[last]
        forward = backward = most = 0.0
        best, end = -1, len(order) - 1
        for k in range(i, end + 1):
            turn = back[order[k]]
            if k > i:
                forward += gaps[k]
                backward += onward[turn][last]
                last = turn
            gain = first - before[turn] + forward - backward
            if k < end:
                gain += gaps[k + 1] - leaving[order[k + 1]]
            if best < 0 or gain > most:
                best, most = k, gain
        if most < GAIN:
            return order
        return [*order[:i], *(back[leg] for leg in reversed(order[i : best + 1])), *order[best + 1 :]]

    def _moved(self, order: list[int], gaps: list[float], i: int, length: int) -> list[int]:
        """The tour with the stretch of that length from place i set in where it is best, either way round, if shorter.

        The cost of a place is what the tour grows by with the stretch there; the last place is the end.
        """
        beyond = i + length
        stretch, rest = order[i:beyond], order[:i] + order[beyond:]
        left = [-1, *rest]
        bridged = [self.onward[left[i]][rest[i]]] if i < len(rest) else []
        parted = [*gaps[:i], *bridged, *gaps[beyond + 1 :]]
        now = self._costs(stretch, left, parted)
        turned = [self.back[leg] for leg in reversed(stretch)]
        best, costs, least = stretch, now, min(now)
        if turned != stretch:
            other = self._costs(turned, left, parted)
            if (lesser := min(other)) < least:
                best, costs, least = turned, other, lesser
        if now[i] - least < GAIN:
            return order
        where = costs.index(least)
        return [*rest[:where], *best, *rest[where:]]

    def _costs(self, put: list[int], left: list[int], parted: list[float]) -> list[float]:
        """What each place costs: after the leg left[k], which is parted[k] from the next, and after the last."""
        within = sum([self.onward[a][b] for a, b in pairwise(put)])
        there, away = self.reached[put[0]], self.onward[put[-1]]
        costs = [there[a] + within + (away[b] - gap) for a, b, gap in zip(left, left[1:], parted, strict=False)]
        costs.append(there[left[-1]] + within)
        return costs


def _neighbours(order: list[int]) -> list[tuple[int, int]]:
    """For each run its two neighbours in a tour, the lower first; −1 beyond either end."""
    count = len(order)
    runs = [-1, *(leg % count for leg in order), -1]
    out = [(-1, -1)] * count
    for before, run, after in zip(runs, runs[1:], runs[2:], strict=False):
        out[run] = (before, after) if before < after else (after, before)
    return out
