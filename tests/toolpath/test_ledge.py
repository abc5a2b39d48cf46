"""Ledges: lanes that a bit bears, and the direction in which they are cut."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.kit import Bit, load_kit
from jigcam.toolpath.feeds import choose
from jigcam.toolpath.gap import Mouth
from jigcam.toolpath.ledge import LANE, LEAD, Ledge, lanes_of
from jigcam.toolpath.pocket import ALLOWANCE
from jigcam.toolpath.track import Cutter

KIT = load_kit("metric-shop")
LOWER = Mouth(((0.0, 1.0, 0.0), (1.0, 0.0, 0.0)))
"""The lower edge of a board: t is x, e is y, so the wood is on the left of the way toward growing t."""
LEFT = Mouth(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)))
"""The left end: e is x, t is y, so the wood is on the right."""


def cutter_of(bit: Bit) -> Cutter:
    return Cutter(bit, choose(bit, None, KIT.machine, 5.0), KIT.machine)


@given(
    width=st.integers(1, 80000).map(lambda n: n / 1000),
    bit=st.sampled_from(["straight 3", "straight 6", "straight 10"]),
)
def test_no_lane_takes_more_than_the_bit_bears_and_the_last_leaves_the_allowance(width: float, bit: str) -> None:
    cutter = cutter_of(KIT.bit(bit))
    rims = [0.0] + [lane + cutter.radius for lane in lanes_of(width, cutter)]
    steps = [inner - outer for outer, inner in pairwise(rims)]
    assert all(0.0 < step <= LANE * cutter.bit.diameter + 1e-9 for step in steps)
    if width > ALLOWANCE:
        assert rims[-1] == pytest.approx(width - ALLOWANCE)
    else:
        assert rims == [0.0]


@pytest.mark.parametrize(("mouth", "rising"), [(LEFT, True), (LOWER, False)])
def test_climbing_has_the_wood_on_the_right_of_the_way(mouth: Mouth, rising: bool) -> None:
    ledge = Ledge(mouth, 8.0, 10.0, 70.0, False, True)
    for direction in ("climb", "conventional"):
        seen = ledge.seen_for(direction)  # type: ignore[arg-type]
        (x0, y0), (x1, y1), (x2, y2) = (
            seen.mouth.at(0.0, seen.low),
            seen.mouth.at(0.0, seen.high),
            seen.mouth.at(1.0, 0.0),
        )
        origin = seen.mouth.at(0.0, 0.0)
        along, inward = (x1 - x0, y1 - y0), (x2 - origin[0], y2 - origin[1])
        on_the_right = along[0] * inward[1] - along[1] * inward[0] < 0.0
        assert on_the_right == (direction == "climb")
        kept = (direction == "climb") == rising
        assert (seen.low, seen.high, seen.open_low) == ((10.0, 70.0, False) if kept else (-70.0, -10.0, True))


def test_the_bit_stands_off_the_board_at_open_ends_and_keeps_the_allowance_at_stopped_ones() -> None:
    ledge = Ledge(LEFT, 8.0, 10.0, 70.0, False, True)
    assert ledge.centres(5.0, 0.2) == (15.2, 70.0 + 5.0 + LEAD)
    tight = Ledge(LEFT, 8.0, 10.0, 20.0, False, False)
    assert tight.centres(5.0, 0.2) == (15.0, 15.0)
