"""Where words find their place."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.drawing.placing import Cells


@pytest.mark.parametrize(
    ("spot", "place"),
    [
        ("right", (11, 5)),
        ("left", (5, 5)),
        ("above", (8, 4)),
        ("below", (8, 6)),
        ("on", (8, 5)),
        ("start", (10, 4)),
    ],
)
def test_free_ground_gives_the_spot_that_is_asked_for(spot: str, place: tuple[int, int]) -> None:
    assert Cells(np.zeros((12, 30)), tall=2.0).find(10.5, 5.5, 4, 1, spot) == place


def test_lines_are_avoided_before_distance() -> None:
    ink = np.zeros((12, 30))
    ink[5, 10:16] = 1
    column, row = Cells(ink).find(10.5, 5.5, 4, 1, "right")
    assert not ink[row, column : column + 4].any()


def test_taken_ground_is_never_given_twice_and_the_point_stays_in_sight() -> None:
    ground, seen = Cells(np.zeros((9, 21))), set()
    for _ in range(40):
        place = ground.find(10.5, 4.5, 3, 1, "near", reach=40)
        if place is None:
            break
        here = {(place[0] + i, place[1]) for i in range(3)}
        assert not here & seen
        assert (10, 4) not in here
        seen |= here
        ground.take(*place, 3)
    assert len(seen) >= 90


@given(st.integers(1, 12), st.integers(1, 5), st.floats(-5, 30), st.floats(-5, 15))
def test_words_stay_in_the_picture(wide: int, high: int, x: float, y: float) -> None:
    place = Cells(np.zeros((8, 20))).find(x, y, wide, high, reach=99)
    if place:
        assert 0 <= place[0] <= 20 - wide
        assert 0 <= place[1] <= 8 - high


def test_words_that_are_too_big_find_no_place() -> None:
    assert Cells(np.zeros((3, 5))).find(1, 1, 6) is None


def test_an_edge_is_named_on_its_other_side_where_a_line_would_strike_the_words() -> None:
    ink = np.zeros((12, 60))
    ink[:, 30] = ink[:, 38] = 2.0  # the edge that is named, and a line that leaves no room at its right
    ground = Cells(ink)
    struck = ground.find(30.5, 6.0, 10, 1, "right", reach=6.0)
    assert struck is not None
    assert ink[struck[1], struck[0] : struck[0] + 10].any()
    column, row = ground.find(30.5, 6.0, 10, 1, "right", reach=6.0, across=True) or (30, 6)
    assert column + 10 <= 30
    assert not ink[row, column : column + 10].any()
    # With room on the side that is asked for, it stays there.
    ink[:, 38] = 0.0
    ground = Cells(ink)
    assert ground.find(30.5, 6.0, 10, 1, "right", reach=6.0, across=True) == ground.find(
        30.5, 6.0, 10, 1, "right", reach=6.0
    )
