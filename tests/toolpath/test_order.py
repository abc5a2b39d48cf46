"""The order of runs: a tour, no longer than the nearest neighbour's, and near the best where that is known."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations, product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.toolpath.order import Legs, _settled, improved, nearest_neighbour, ordered, travel
from jigcam.toolpath.program import Move
from jigcam.toolpath.tabled import Table
from jigcam.toolpath.track import Run

PLACES = st.lists(
    st.tuples(st.floats(0, 300), st.floats(0, 300), st.floats(0, 300), st.floats(0, 300)), min_size=1, max_size=40
)


def as_legs(rows: list[tuple[float, float, float, float]], *, turnable: bool = False) -> Legs:
    table = np.array(rows)
    return Legs.of_ends(table[:, 0] + 1j * table[:, 1], table[:, 2] + 1j * table[:, 3], turnable=turnable)


def tours(count: int, *, turnable: bool) -> Iterator[tuple[int, ...]]:
    """Every tour there is."""
    for order in permutations(range(count)):
        for turned in product((0, count), repeat=count) if turnable else [(0,) * count]:
            yield tuple(k + more for k, more in zip(order, turned, strict=True))


@given(PLACES, st.booleans())
def test_every_run_once_and_no_longer_than_before(
    rows: list[tuple[float, float, float, float]], turnable: bool
) -> None:
    legs = as_legs(rows, turnable=turnable)
    first = nearest_neighbour(legs)
    best = improved(legs, first)
    assert sorted(k % len(rows) for k in best) == list(range(len(rows)))
    assert turnable or max(best) < len(rows)
    assert travel(legs, best) <= travel(legs, first) + 1e-9


@given(st.lists(st.tuples(*[st.floats(0, 100)] * 4), min_size=2, max_size=5), st.booleans())
def test_few_runs_are_ordered_nearly_as_well_as_possible(
    rows: list[tuple[float, float, float, float]], turnable: bool
) -> None:
    legs = as_legs(rows, turnable=turnable)
    found = travel(legs, improved(legs, nearest_neighbour(legs)))
    best = min(travel(legs, tour) for tour in tours(len(rows), turnable=turnable))
    assert found <= 1.35 * best + 1e-6


@given(PLACES.filter(lambda rows: len(rows) > 4), st.booleans(), st.booleans())
def test_lists_find_the_same_tour_as_arrays(
    rows: list[tuple[float, float, float, float]], turnable: bool, on_a_grid: bool
) -> None:
    legs = as_legs([tuple(round(v / 50) * 50.0 for v in row) if on_a_grid else row for row in rows], turnable=turnable)
    first, start = nearest_neighbour(legs), (3.0, 4.0)
    by_arrays = _settled(legs, np.asarray(first), start).tolist()
    assert Table.of(legs.starts, legs.finishes, legs.back, complex(*start)).settled(first) == by_arrays


def test_a_grid_is_run_line_by_line() -> None:
    grid = Legs.of_ends(*[[x + 1j * y for x in range(0, 200, 20) for y in range(0, 200, 20)]] * 2)
    order = improved(grid, nearest_neighbour(grid))
    assert travel(grid, order) == pytest.approx(99 * 20, rel=0.06)


def test_strokes_side_by_side_are_cut_to_and_fro() -> None:
    strokes = [Run((Move("rapid", x, 0.0, 5.0), Move("rapid", x, 80.0, 5.0))) for x in (0.0, 2.0, 4.0, 6.0)]
    turnable = [Run(run.moves, Run(run.moves[::-1])) for run in strokes]
    assert [run.start[1] for run in ordered(turnable)] == [0.0, 80.0, 0.0, 80.0]
    assert [run.start[1] for run in ordered(strokes)] == [0.0] * 4
