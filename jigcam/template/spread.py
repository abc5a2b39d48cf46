"""How errors add up: worst case, root of the sum of squares, and the summary of simulated values.

A *term* is one source of error as it acts on a result: the coefficient c (partial derivative of the result), the limit
a that it never exceeds, its standard uncertainty u. Sources: JCGM 100:2008 (GUM), Eq. 10 for the sum of squares of
uncorrelated terms, 4.3.7 for an even distribution (u = a/√3); JCGM 101:2008, 7.6 and 7.7 for what is read off simulated
values. Units are the caller's, mm throughout this program.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import erf, fsum, hypot, sqrt
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from jigcam.values import dataclass

Floats = npt.NDArray[np.float64]

COVERAGE_FACTOR = 2.0
"""k for the expanded uncertainty U = k·u_c: about 95 % where the result is nearly normal (JCGM 100:2008, 6.3.3)."""


def even(limit: float) -> float:
    """Standard uncertainty of an error of which only its limits ± a are known: a/√3 (JCGM 100:2008, Eq. 7)."""
    return limit / sqrt(3.0)


@dataclass(frozen=True, slots=True)
class Term:
    """One source's part in a result. coefficient: ∂result/∂source; limit, uncertainty: of the source."""

    name: str
    coefficient: float
    limit: float
    uncertainty: float

    @property
    def most(self) -> float:
        """The largest part, |c|·a."""
        return abs(self.coefficient) * self.limit

    @property
    def part(self) -> float:
        """The standard part, |c|·u."""
        return abs(self.coefficient) * self.uncertainty


@dataclass(frozen=True, slots=True)
class Budget:
    """The terms of one result, uncorrelated."""

    terms: tuple[Term, ...]

    @property
    def worst(self) -> float:
        """Everything at its limit on the bad side: Σ|c|·a."""
        return fsum(term.most for term in self.terms)

    @property
    def uncertainty(self) -> float:
        """The combined standard uncertainty u_c = √Σ(c·u)² (JCGM 100:2008, Eq. 10 and 11a)."""
        return hypot(*(term.part for term in self.terms))

    @property
    def expanded(self) -> float:
        """U = 2·u_c."""
        return COVERAGE_FACTOR * self.uncertainty

    def shares(self) -> dict[str, float]:
        """By source, its share of the variance, largest first; terms of one name are taken together."""
        total = self.uncertainty**2
        shares: dict[str, float] = {}
        for term in self.terms:
            shares[term.name] = shares.get(term.name, 0.0) + (term.part**2 / total if total > 0.0 else 0.0)
        return dict(sorted(shares.items(), key=lambda item: -item[1]))


class Summary(NamedTuple):
    """What simulated values come to: mean, standard deviation, ends of the interval that holds 95 % of them."""

    mean: float
    deviation: float
    low: float
    high: float


def summary(values: Floats, share: float = 0.95) -> Summary:
    """Mean, deviation and the interval with equal tails that holds a share of the values (JCGM 101:2008, 7.6, 7.7)."""
    tail = (1.0 - share) / 2.0
    n = len(values)
    ranks = [min(n - 1, int(tail * n)), min(n - 1, int((1.0 - tail) * n))]
    ordered = np.partition(values, ranks)
    return Summary(float(values.mean()), float(values.std()), float(ordered[ranks[0]]), float(ordered[ranks[1]]))


def below_and_above(values: Floats, low: float, high: float) -> tuple[float, float]:
    """The shares of the values under `low` and over `high`."""
    n = len(values)
    return int(np.count_nonzero(values < low)) / n, int(np.count_nonzero(values > high)) / n


def normal_below(limit: float, mean: float, deviation: float) -> float:
    """The share of a normal distribution under a limit; a step where the deviation is nothing."""
    if deviation <= 0.0:
        return float(mean < limit)
    return 0.5 * (1.0 + erf((limit - mean) / (deviation * sqrt(2.0))))


def budget(terms: Sequence[Term]) -> Budget:
    """The budget of terms that matter: those without any part in the result are left out."""
    return Budget(tuple(term for term in terms if term.most > 0.0 or term.part > 0.0))
