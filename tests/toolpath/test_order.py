"""The order of runs: a tour, no longer than the nearest neighbour's, and near the best where that is known."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.toolpath.order import improved, nearest_neighbour, travel

PLACES = st.lists(st.tuples(st.floats(0, 300), st.floats(0, 300), st.floats(0, 300), st.floats(0, 300)), min_size=1,
                  max_size=40)  # fmt: skip


def as_ends(rows: list[tuple[float, float, float, float]]) -> tuple[np.ndarray, np.ndarray]:
    table = np.array(rows)
    return table[:, 0] + 1j * table[:, 1], table[:, 2] + 1j * table[:, 3]


@given(PLACES)
def test_every_run_once_and_no_longer_than_before(rows: list[tuple[float, float, float, float]]) -> None:
    starts, finishes = as_ends(rows)
    first = nearest_neighbour(starts, finishes)
    best = improved(starts, finishes, first)
    assert sorted(best) == list(range(len(rows)))
    assert travel(starts, finishes, best) <= travel(starts, finishes, first) + 1e-9


@given(st.lists(st.tuples(*[st.floats(0, 100)] * 4), min_size=2, max_size=6))
def test_few_runs_are_ordered_nearly_as_well_as_possible(rows: list[tuple[float, float, float, float]]) -> None:
    starts, finishes = as_ends(rows)
    found = travel(starts, finishes, improved(starts, finishes, nearest_neighbour(starts, finishes)))
    best = min(travel(starts, finishes, order) for order in permutations(range(len(rows))))
    assert found <= 1.35 * best + 1e-6


def test_a_grid_is_run_line_by_line() -> None:
    grid = np.array([x + 1j * y for x in range(0, 200, 20) for y in range(0, 200, 20)], dtype=complex)
    order = improved(grid, grid, nearest_neighbour(grid, grid))
    assert travel(grid, grid, order) == pytest.approx(99 * 20, rel=0.06)
