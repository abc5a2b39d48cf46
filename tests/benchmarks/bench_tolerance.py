"""The time of 100,000 simulated cuts over that of the same arithmetic written straight in numpy, in one run.

Run: python tests/benchmarks/bench_tolerance.py. Nothing here is asserted.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np

from jigcam.kit import Accuracy
from jigcam.template.tolerance import Errors, simulate

CUTS = 100_000
TRIES = 30


def straight(a: Accuracy, clearance: float, n: int, seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The model of `tolerance`, line by line."""
    rng = np.random.default_rng(seed)
    bit, bushing = rng.uniform(-a.bit, a.bit, n), rng.uniform(-a.bushing, a.bushing, n)
    left, right = rng.uniform(-a.opening / 2, a.opening / 2, n), rng.uniform(-a.opening / 2, a.opening / 2, n)
    laying, stock = rng.uniform(-a.laying, a.laying, n), rng.uniform(-a.stock, a.stock, n)
    e = rng.uniform(0.0, a.concentricity, n)
    at_right = e * np.cos(rng.uniform(0.0, 2.0 * np.pi, n))
    at_left = e * np.cos(rng.uniform(0.0, 2.0 * np.pi, n))
    width = bit - bushing + left + right + at_right - at_left
    place = laying + (right - left) / 2 + (at_right + at_left) / 2
    return width, place, clearance + width - stock


def best(run: Callable[[], object]) -> float:
    times = []
    for _ in range(TRIES):
        start = time.perf_counter()
        run()
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    accuracy = Accuracy()
    ours = best(lambda: simulate(Errors(accuracy), 0.15, CUTS, 1))
    theirs = best(lambda: straight(accuracy, 0.15, CUTS, 1))
    ratio = ours / theirs
    print(f"{CUTS} cuts: {1000 * ours:.2f} ms; straight numpy {1000 * theirs:.2f} ms; ratio {ratio:.2f} (bar 2)")


if __name__ == "__main__":
    main()
