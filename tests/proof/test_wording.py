"""Numbers in the words of findings."""

from __future__ import annotations

import math

import pytest

from jigcam.proof.wording import Wording
from jigcam.units import Unit


@pytest.mark.parametrize(
    ("units", "length", "place", "feed", "area"),
    [
        ("mm", "25.400 mm", "line 7, x 25.400 y 0.000 z -12.700 mm", "2540 mm/min", "6.5 cm²"),
        ("in", "1.0000 in", "line 7, x 1.0000 y 0.0000 z -0.5000 in", "100.0 in/min", "1.0 in²"),
    ],
)
def test_in_either_unit(units: Unit, length: str, place: str, feed: str, area: str) -> None:
    wording = Wording(units)
    assert wording.length(25.4) == length
    assert wording.place(7, (25.4, -0.0, -12.7)) == place
    assert wording.feed(2540.0) == feed
    assert wording.area(25.4**2) == area


def test_what_is_not_known_is_left_out() -> None:
    assert Wording("mm").spot((math.nan, 2.0, math.nan)) == "y 2.000 mm"
    assert Wording("mm").spot((math.nan,) * 3) == "an unknown place"
