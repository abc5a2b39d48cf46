"""Running times against the closed formulas of evenly accelerated motion."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.programs import a_machine, a_program, an_operation

from jigcam.toolpath import Move, operation_seconds, seconds
from jigcam.toolpath.time import TOOL_CHANGE, move_seconds

MACHINE = a_machine(max_feed=(3000.0, 3000.0, 1500.0), acceleration=(250.0, 200.0, 100.0))


def one(*moves: Move) -> float:
    return sum(move_seconds(moves, MACHINE, (0.0, 0.0, 0.0)))


def test_a_long_line_speeds_up_runs_and_slows_down() -> None:
    # v/a for each ramp, half of it at full speed: t = L/v + v/a (textbook).
    v = 2400.0 / 60.0
    assert one(Move("line", 200.0, 0.0, 0.0, 2400.0)) == pytest.approx(200.0 / v + v / 250.0)


def test_a_short_line_never_reaches_its_feed() -> None:
    # t = 2 √(L/a) (textbook).
    assert one(Move("line", 0.0, 3.0, 0.0, 3000.0)) == pytest.approx(2.0 * math.sqrt(3.0 / 200.0))


def test_the_slowest_axis_decides() -> None:
    aslant = one(Move("rapid", 100.0, 0.0, -100.0))
    upright = one(Move("rapid", 0.0, 0.0, -100.0))
    assert aslant == pytest.approx(upright)


def test_pieces_of_a_line_take_as_long_as_the_whole() -> None:
    parts = [Move("line", 10.0 * k, 0.0, 0.0, 3000.0) for k in range(1, 21)]
    assert one(*parts) == pytest.approx(one(parts[-1]))


def test_a_corner_costs_nearly_a_stop_and_a_bend_does_not() -> None:
    there, corner, bend = Move("line", 100.0, 0.0, 0.0, 3000.0), (100.0, 100.0), (200.0, 0.5)
    v = 50.0
    square = one(there, Move("line", *corner, 0.0, 3000.0)) - one(there) - one(Move("line", 0.0, 100.0, 0.0, 3000.0))
    assert abs(square) < 0.05
    gentle = one(there, Move("line", *bend, 0.0, 3000.0))
    assert gentle < 200.0 / v + v / 250.0 + 0.25


def test_a_tight_arc_is_slower_than_its_feed() -> None:
    arc = Move("arc", 0.0, 2.0, 0.0, 3000.0, cx=0.0, cy=1.0)
    speed = math.pi / one(arc)
    assert speed**2 / 1.0 <= 200.0  # v²/r within the slower axis


def test_tool_changes_within_a_file_count() -> None:
    from support.cutting import a_bit

    moves = [Move("rapid", 0.0, 0.0, 5.0)]
    program = a_program(an_operation(moves, bit=a_bit(3.0)), an_operation(moves, bit=a_bit(6.0)))
    machine = a_machine(tool_change="pause")
    assert seconds(program, machine) == pytest.approx(sum(operation_seconds(program, machine)) + TOOL_CHANGE["pause"])


@given(
    st.lists(
        st.tuples(st.floats(-50, 50), st.floats(-50, 50), st.floats(-5, 5), st.floats(100, 3000)),
        min_size=1,
        max_size=20,
    )
)
def test_never_quicker_than_length_over_feed(rows: list[tuple[float, float, float, float]]) -> None:
    moves = [Move("line", x, y, z, feed) for x, y, z, feed in rows]
    at, least = (0.0, 0.0, 0.0), 0.0
    for move in moves:
        least += math.dist(at, move.point) / (move.feed / 60.0)
        at = move.point
    assert one(*moves) >= least - 1e-9
