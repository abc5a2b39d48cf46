"""How errors add up, against the worked examples of the GUM and its first supplement.

Sources: JCGM 100:2008, H.1 (end-gauge calibration); JCGM 101:2008, 9.2 (additive model) and 9.5 (gauge block). The
figures are quoted from memory and were recomputed from the examples' own inputs.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from jigcam.template.spread import Budget, Term, below_and_above, budget, even, normal_below, summary

# JCGM 100:2008, H.1: l = l_S + d − l_S·(δα·θ + α_S·δθ), nm and °C; Table H.1.
L_S = 50_000_623.0
END_GAUGE = (
    Term("standard", 1.0, 0.0, 25.0),
    Term("comparison", 1.0, 0.0, 9.7),
    Term("difference of expansion", -L_S * -0.1, 1.0e-6, even(1.0e-6)),
    Term("difference of temperature", -L_S * 11.5e-6, 0.05, even(0.05)),
)


def test_the_end_gauge_of_the_gum() -> None:
    result = Budget(END_GAUGE)
    parts = {term.name: term.part for term in END_GAUGE}
    assert parts["difference of expansion"] == pytest.approx(2.9, abs=0.05)
    assert parts["difference of temperature"] == pytest.approx(16.6, abs=0.05)
    assert result.uncertainty == pytest.approx(32.0, abs=0.5)
    assert next(iter(result.shares())) == "standard"
    # Second-order terms (H.1.7): u(δα)·u(θ) and u(α_S)·u(δθ) raise it to 34 nm.
    second = L_S * even(1.0e-6) * math.hypot(0.2, 0.5 / math.sqrt(2.0)), L_S * even(2.0e-6) * even(0.05)
    assert second[0] == pytest.approx(11.7, abs=0.1)
    assert second[1] == pytest.approx(1.7, abs=0.1)
    assert math.hypot(result.uncertainty, *second) == pytest.approx(34.0, abs=0.5)


def test_even_limits() -> None:
    # JCGM 100:2008, Eq. 7: u² = a²/3.
    assert even(0.05) ** 2 == pytest.approx(0.05**2 / 3.0)


def test_four_normal_and_four_even_inputs() -> None:
    # JCGM 101:2008, 9.2.2 and 9.2.3: sums of four of u = 1 have u = 2; 95 % intervals ± 3.92 and ± 3.88.
    rng = np.random.default_rng(7)
    normal = summary(rng.standard_normal((4, 400_000)).sum(axis=0))
    assert normal.deviation == pytest.approx(2.0, abs=0.01)
    assert (normal.low, normal.high) == pytest.approx((-3.92, 3.92), abs=0.03)
    flat = summary(math.sqrt(3.0) * (2.0 * rng.random((4, 400_000)) - 1.0).sum(axis=0))
    assert flat.deviation == pytest.approx(2.0, abs=0.01)
    assert (flat.low, flat.high) == pytest.approx((-3.88, 3.88), abs=0.03)
    assert Budget(tuple(Term(str(k), 1.0, math.sqrt(3.0), 1.0) for k in range(4))).uncertainty == pytest.approx(2.0)


def test_one_dominant_even_input() -> None:
    # JCGM 101:2008, 9.2.4: one of ten times the size; u = 10.1, 95 % interval ± 17.0 where the squares say ± 19.9.
    rng = np.random.default_rng(7)
    scale = np.array([1.0, 1.0, 1.0, 10.0])[:, None]
    values = (scale * math.sqrt(3.0) * (2.0 * rng.random((4, 400_000)) - 1.0)).sum(axis=0)
    result = summary(values)
    assert result.deviation == pytest.approx(10.1, abs=0.1)
    assert (result.low, result.high) == pytest.approx((-17.0, 17.0), abs=0.1)
    squares = Budget(tuple(Term(str(k), float(c), 0.0, 1.0) for k, c in enumerate(scale[:, 0])))
    assert 1.96 * squares.uncertainty == pytest.approx(19.9, abs=0.1)


def test_the_gauge_block_by_simulation() -> None:
    # JCGM 101:2008, 9.5: mean 838 nm, u 36 nm, shortest 99 % interval [740, 935] nm, nearly that of equal tails.
    rng = np.random.default_rng(7)
    n = 400_000

    def trapezoid(middle: float, half: float, inexact: float) -> np.ndarray:
        low = middle - half - inexact + 2.0 * inexact * rng.random(n)
        return low + (2.0 * middle - 2.0 * low) * rng.random(n)

    standard = 50_000_623.0 + 25.0 * rng.standard_t(18, n)
    comparison = 215.0 + 6.0 * rng.standard_t(24, n)
    first, second = 4.0 * rng.standard_t(5, n), 7.0 * rng.standard_t(8, n)
    alpha = 11.5e-6 + 2.0e-6 * (2.0 * rng.random(n) - 1.0)
    theta = -0.1 + 0.2 * rng.standard_normal(n) + 0.5 * np.cos(2.0 * np.pi * rng.random(n))
    d_alpha, d_theta = trapezoid(0.0, 1.0e-6, 0.1e-6), trapezoid(0.0, 0.05, 0.025)
    length = standard + comparison + first + second - standard * (d_alpha * theta + alpha * d_theta)
    result = summary(length - 50_000_000.0, 0.99)
    assert result.mean == pytest.approx(838.0, abs=1.0)
    assert result.deviation == pytest.approx(36.0, abs=0.6)
    # The interval's ends are known from memory only, and ours is that of equal tails.
    assert (result.low, result.high) == pytest.approx((740.0, 935.0), abs=6.0)


def test_shares_and_limits() -> None:
    terms = [Term("a", 1.0, 0.1, 0.03), Term("a", -1.0, 0.1, 0.04), Term("b", 2.0, 0.05, 0.06)]
    terms.append(Term("nothing", 1.0, 0.0, 0.0))
    result = budget(terms)
    assert result.worst == pytest.approx(0.3)
    assert result.uncertainty == pytest.approx(0.13)
    assert list(result.shares()) == ["b", "a"]
    assert sum(result.shares().values()) == pytest.approx(1.0)
    assert below_and_above(np.array([0.0, 1.0, 2.0, 3.0]), 0.5, 2.5) == (0.25, 0.25)
    assert normal_below(1.96, 0.0, 1.0) == pytest.approx(0.975, abs=1e-4)
    assert [normal_below(x, 0.0, 0.0) for x in (-1.0, 1.0)] == [0.0, 1.0]
