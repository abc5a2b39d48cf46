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
