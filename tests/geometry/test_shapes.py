"""Constructors of regions."""

from __future__ import annotations

import math

import numpy as np
import pytest

from jigcam.errors import InputError
from jigcam.geometry import bar, capsule, disc, polygon, rectangle, slot


def test_areas_are_those_of_the_formulas() -> None:
    assert rectangle(1, 2, 4, 8).area == pytest.approx(18)
    assert disc(1, 2, 3).area == pytest.approx(9 * math.pi)
    assert bar((0, 0), (30, 40), 9.5).area == pytest.approx(475)
    assert slot((0, 0), (30, 40), 10).area == pytest.approx(400 + 25 * math.pi)
    assert capsule((0, 0), (30, 40), 5).area == pytest.approx(500 + 25 * math.pi)
    assert polygon([(0, 0), (4, 0), (0, 3)]).area == pytest.approx(6)
    assert polygon([(0, 0), (0, 3), (4, 0)]).area == pytest.approx(6)


def test_a_slot_runs_from_extreme_end_to_extreme_end() -> None:
    region = slot((10.0, 5.0), (60.0, 5.0), 8.0)
    assert region.bounds == pytest.approx((10.0, 1.0, 60.0, 9.0))
    assert np.count_nonzero(region.loops[0].vertices[:, 2]) == 2
    assert len(region.loops[0].vertices) == 4


def test_a_slot_as_long_as_wide_and_a_capsule_of_no_length_are_discs() -> None:
    for region in (slot((0, 0), (8, 0), 8), capsule((4, 0), (4, 0), 4)):
        assert region.area == pytest.approx(16 * math.pi)
        assert len(region.loops[0].vertices) == 2


def test_every_outline_is_anticlockwise() -> None:
    for region in (slot((50, 20), (0, 0), 8), bar((5, 5), (0, 0), 1), disc(0, 0, 1), polygon([(0, 0), (0, 3), (4, 0)])):
        assert region.loops[0].area > 0


@pytest.mark.parametrize(
    "build",
    [
        lambda: rectangle(5, 0, 5, 3),
        lambda: rectangle(0, 3, 5, 0),
        lambda: disc(0, 0, 0),
        lambda: disc(0, 0, math.nan),
        lambda: capsule((0, 0), (1, 0), -1),
        lambda: slot((0, 0), (5, 0), 6),
        lambda: slot((0, 0), (5, 0), 0),
        lambda: bar((0, 0), (0, 0), 1),
        lambda: bar((0, 0), (5, 0), math.inf),
        lambda: polygon([(0, 0), (1, 1)]),
    ],
)
def test_sizes_that_cannot_be_are_refused(build) -> None:
    with pytest.raises(InputError):
        build()
