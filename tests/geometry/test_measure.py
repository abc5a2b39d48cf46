"""How far one region reaches beyond another."""

from __future__ import annotations

import math

import pytest
from support.regions import boundary_points
from support.shapes import ZOO

from jigcam.geometry import Region, difference, disc, max_excess, offset, rectangle, slot

PLATE = rectangle(-1.0, -1.0, 41.0, 31.0)


def test_nothing_sticks_out_of_itself() -> None:
    for region in (ZOO["slot"], ZOO["two holes"]):
        far, place = max_excess(region, region)
        assert far == pytest.approx(0.0, abs=1e-9)
        assert len(place) == 2
    assert max_excess(rectangle(0, 0, 5, 5), PLATE)[0] == 0.0
    assert math.isnan(max_excess(rectangle(0, 0, 5, 5), PLATE)[1][0])


@pytest.mark.parametrize("d", [0.001, 0.005, 0.3])
def test_a_grown_region_sticks_out_by_what_it_grew(d: float) -> None:
    for name in ("slot", "ell", "ring", "scallops"):
        far, (x, y) = max_excess(offset(ZOO[name], d), ZOO[name])
        assert far == pytest.approx(d, abs=2e-6)
        assert ZOO[name].distance([(x, y)])[0] == pytest.approx(d, abs=2e-6)


@pytest.mark.parametrize(
    ("hole", "depth", "place"),
    [
        (disc(20, 15, 2.0), 2.0, (20, 15)),
        (disc(20, 15, 0.004), 0.004, (20, 15)),
        (slot((10, 15), (30, 15), 6.0), 3.0, None),
        (rectangle(10, 10, 13, 25), 1.5, None),
    ],
)
def test_a_hole_that_is_covered_counts_by_its_depth(
    hole: Region, depth: float, place: tuple[float, float] | None
) -> None:
    """Boundaries alone do not see it."""
    far, spot = max_excess(PLATE, difference(PLATE, hole))
    assert far == pytest.approx(depth, abs=1e-4)
    if place is not None:
        assert spot == pytest.approx(place, abs=0.02)


def test_apart_and_empty() -> None:
    far, place = max_excess(rectangle(0, 0, 1, 1), disc(31, 41, 10))
    assert far == pytest.approx(math.hypot(31, 41) - 10)
    assert place == (0.0, 0.0)
    assert max_excess(PLATE, Region.empty())[0] == math.inf
    assert max_excess(Region.empty(), PLATE)[0] == 0.0


def test_the_farthest_of_many_points_is_never_farther() -> None:
    a, b = ZOO["comb"], ZOO["ell"]
    far, place = max_excess(a, b)
    assert far >= -b.signed_distance(boundary_points(a, 101)).min() - 1e-4
    assert b.distance([place])[0] == pytest.approx(far, abs=2e-4)
