"""Holes: bored or drilled, to size, and refused for a reason."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.cutting import Stock, a_bit, feeds_over, gouge, left_over
from support.programs import a_machine

from jigcam.geometry import disc
from jigcam.toolpath import choose
from jigcam.toolpath.hole import can_make, hole_run
from jigcam.toolpath.track import Cutter

MACHINE = a_machine()


@settings(max_examples=20)
@given(st.floats(3.0, 9.0), st.floats(1.11, 1.99), st.booleans())
def test_bored_to_size(diameter: float, times: float, plunges: bool) -> None:
    bit = a_bit(diameter, plunges=plunges)
    hole = diameter * times
    assert can_make(bit, hole, 13.0) == ""
    run = hole_run(10.0, 20.0, hole, Cutter(bit, choose(bit, "mdf", MACHINE, 13.0), MACHINE), -13.0)
    region = disc(10.0, 20.0, hole / 2)
    assert gouge(run.moves, region, bit.radius) <= 0.005
    assert left_over(run.moves, region, bit.radius, -13.0) <= 0.01
    assert not feeds_over(run.moves, MACHINE)
    if not plunges:
        stock = Stock((0, 0, 40, 40), bit.radius, spacing=0.2)
        stock.cut(run.moves)
        assert not stock.plunges
    assert all(move.ccw for move in run.moves if move.kind == "arc")  # climb in an opening


@pytest.mark.parametrize("acceleration", [20.0, 250.0, 2000.0])
@pytest.mark.parametrize("times", [1.16, 1.4, 1.9])
def test_a_bore_goes_round_as_the_machine_can_and_with_a_chip_at_its_wall(acceleration: float, times: float) -> None:
    """It was sent round half a millimetre at 3000 mm/min. Pull to the centre v²/r, chip F/(n·z): textbook."""
    machine = a_machine(acceleration=(acceleration, 2.0 * acceleration, 200.0))
    bit = a_bit(6.35)
    feeds = choose(bit, "mdf", machine, 13.0)
    moves = hole_run(0.0, 0.0, 6.35 * times, Cutter(bit, feeds, machine), -13.0).moves
    rounds = [move for move in moves if move.kind == "arc"]
    assert rounds
    for move in rounds:
        radius = math.hypot(move.x, move.y)
        assert (move.feed / 60.0) ** 2 / radius <= acceleration
        chip = move.feed * (radius + bit.radius) / radius / (feeds.rpm * bit.flutes)
        assert chip <= feeds.chip + 1e-6
        assert chip == pytest.approx(feeds.chip, rel=0.01) or move.feed == pytest.approx(
            60.0 * math.sqrt(math.sqrt(0.5) * acceleration * radius), rel=0.01
        )


def test_drilled_in_pecks_where_the_bit_is_the_hole() -> None:
    bit = a_bit(5.0, plunges=True)
    run = hole_run(0.0, 0.0, 5.0, Cutter(bit, choose(bit, "mdf", MACHINE, 13.0), MACHINE), -13.0)
    assert {(m.x, m.y) for m in run.moves} == {(0.0, 0.0)}
    floors = [b.z for a, b in pairwise(run.moves) if b.z < a.z and b.z < 0.0]
    assert floors[-1] == -13.0
    new = [z for z in floors if z == min(floors[: floors.index(z) + 1])]
    assert all(a - b <= 5.0 + 1e-9 for a, b in pairwise([0.0, *new]))
    assert max(m.z for m in run.moves[3:-1]) == pytest.approx(1.5)  # drawn right out between pecks


@pytest.mark.parametrize(
    ("hole", "more", "why"),
    [
        (5.0, {}, "does not cut at its centre"),
        (4.0, {"plunges": True}, "wider than the hole"),
        (11.0, {}, "post"),
        (5.2, {}, "no room"),
        (8.0, {"cutting_length": 10.0}, "cutting length"),
        (8.0, {"kind": "ball"}, "ball"),
    ],
)
def test_what_cannot_be_made_says_why(hole: float, more: dict[str, object], why: str) -> None:
    assert why in can_make(a_bit(5.0, **more), hole, 13.0)


def test_a_bit_that_plunges_goes_down_steeper() -> None:
    times = []
    for plunges in (False, True):
        bit = a_bit(6.35, plunges=plunges)
        run = hole_run(0, 0, 7.5, Cutter(bit, choose(bit, "mdf", MACHINE, 13.0), MACHINE), -13.0)
        times.append(len(run.moves))
    assert times[1] < 0.7 * times[0]
    assert math.isfinite(times[0])


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize(("diameter", "depth"), [(3.0, 13.0), (5.0, 13.0), (6.35, 4.0), (1.0, 13.0), (12.0, 40.0)])
def test_pecks_are_round_numbers_and_the_last_is_smaller(units: str, diameter: float, depth: float) -> None:
    """As a G83 has them (NISTIR 6556, 3.5.16.4): all from the approach height on, out to it, back to 0.254 mm above."""
    machine = a_machine(output_units=units)
    bit = a_bit(diameter, plunges=True)
    moves = hole_run(0.0, 0.0, diameter, Cutter(bit, choose(bit, "mdf", machine, 13.0), machine), -depth).moves
    floors = [move.z for move in moves if move.kind == "line"]
    assert floors[-1] == -depth
    bites = [a - b for a, b in pairwise([1.5, *floors])]
    if depth <= diameter:
        assert len(floors) == 1
        return
    step = 0.01 if units == "mm" else 0.0254
    assert bites[:-1] == pytest.approx([bites[0]] * (len(bites) - 1))
    assert bites[0] / step == pytest.approx(round(bites[0] / step))
    assert 0.5 * bites[0] <= bites[-1] < bites[0] - 0.4 * step
    assert bites[0] <= diameter
    assert [move.z for move in moves if move.kind == "rapid"][2:-1] == pytest.approx(
        [z for floor in floors[:-1] for z in (1.5, floor + 0.254)]
    )
