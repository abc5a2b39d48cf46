"""How the base rests on the sheet, against Monte Carlo and against a convex hull by the reference library."""

from __future__ import annotations

from math import acos, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.grooves import lengths

from jigcam.geometry import Region, disc, faceted, offset, rectangle, slot
from jigcam.template.support import _last, support, supported_fraction

SHEET = rectangle(0.0, 0.0, 300.0, 200.0)


def carried(
    centre: tuple[float, float], sheet: Region, opening: Region, radius: float, points: np.ndarray
) -> np.ndarray:
    """Which of the points of a unit disc, laid under the base, are carried."""
    spots = np.asarray(centre) + radius * points
    return sheet.contains(spots) & ~opening.contains(spots)


@pytest.fixture(scope="module")
def unit_points() -> np.ndarray:
    """Even in area over the unit disc: a sunflower, whose error is far below that of random points."""
    n = 20_000
    k = np.arange(n) + 0.5
    turn = pi * (3.0 - sqrt(5.0)) * k
    return np.sqrt(k / n)[:, None] * np.column_stack([np.cos(turn), np.sin(turn)])


@settings(max_examples=40)
@given(
    centre=st.tuples(lengths(-20, 320), lengths(-20, 220)),
    radius=lengths(20, 90),
    ends=st.tuples(lengths(60, 140), lengths(60, 140), lengths(150, 240), lengths(60, 140)),
    width=lengths(3, 10),
)
def test_supported_fraction_is_the_area_that_monte_carlo_finds(
    unit_points: np.ndarray, centre: tuple[float, float], radius: float, ends: tuple[float, ...], width: float
) -> None:
    opening = slot(ends[:2], ends[2:], width)
    fraction = supported_fraction([centre], SHEET, opening, radius)[0]
    sampled = carried(centre, SHEET, opening, radius, unit_points).mean()
    assert fraction == pytest.approx(sampled, abs=0.004)


def test_known_fractions() -> None:
    """Half a plane carries half a disc; a segment at half the radius has (acos ½ − √3/4)/π of it (any handbook)."""
    nothing = disc(-500.0, 0.0, 1.0)
    inside, edge, half, corner = supported_fraction(
        [(150.0, 100.0), (150.0, 0.0), (150.0, 20.0), (0.0, 0.0)], SHEET, nothing, 40.0
    )
    assert inside == pytest.approx(1.0)
    assert edge == pytest.approx(0.5)
    assert half == pytest.approx(1.0 - (acos(0.5) - sqrt(3.0) / 4.0) / pi)
    assert corner == pytest.approx(0.25)
    ring = supported_fraction([(150.0, 100.0)], SHEET, disc(150.0, 100.0, 20.0), 40.0)[0]
    assert ring == pytest.approx(0.75, abs=2e-4)


@settings(max_examples=25)
@given(
    centre=st.tuples(lengths(5, 295), lengths(5, 195)),
    radius=lengths(20, 90),
    hole=st.tuples(lengths(60, 240), lengths(60, 140), lengths(5, 55)),
)
def test_the_lever_is_the_distance_to_the_hull_of_what_carries(
    centre: tuple[float, float], radius: float, hole: tuple[float, float, float]
) -> None:
    """The hull by shapely, which the program does not use here."""
    import shapely

    opening = disc(*hole)
    ride = disc(*centre, 0.01)
    found = support(SHEET, opening, ride, radius)
    base = shapely.Point(centre).buffer(radius, quad_segs=64)
    carrier = base.intersection(faceted(SHEET)).difference(faceted(opening))
    point = shapely.Point(centre)
    if carrier.is_empty:
        assert found.tips
        return
    hull = carrier.convex_hull
    lever = point.distance(hull.exterior) * (1.0 if hull.contains(point) else -1.0)
    # Probed in 120 directions and at points 4 mm apart, so slightly off, by a share of the base's radius.
    if abs(lever) > 0.05 * radius:
        assert found.tips == (lever < 0.0)
    if lever > 0.0:
        assert found.lever == pytest.approx(lever, abs=0.05 * radius + 0.1)


def test_the_worst_place_of_a_ride_is_named() -> None:
    opening = slot((30.0, 100.0), (200.0, 100.0), 20.0)
    held = support(SHEET, opening, offset(opening, -9.5), 60.0)
    assert (held.x, held.y) == pytest.approx((39.5, 100.0), abs=0.6)
    assert 0.0 < held.fraction < 1.0
    assert not held.tips


def test_a_base_on_a_narrow_rim_tips() -> None:
    opening = rectangle(10.0, 10.0, 200.0, 190.0)
    held = support(SHEET, opening, offset(opening, -9.5), 60.0)
    assert held.tips
    assert held.lever < 0.0


def test_over_a_wide_opening_the_middle_is_worst() -> None:
    opening = rectangle(100.0, 60.0, 200.0, 140.0)
    held = support(rectangle(-200.0, -200.0, 500.0, 400.0), opening, offset(opening, -9.5), 80.0)
    assert held.fraction == pytest.approx(1.0 - 100.0 * 80.0 / (pi * 80.0**2))
    assert not held.tips


def test_the_last_true_place_of_a_circle_is_found() -> None:
    rows = np.random.default_rng(1).random((40, 12)) < 0.3
    found = _last(rows)
    for row, places in zip(rows, found, strict=True):
        for place in range(12) if row.any() else ():
            expected = next((place - back) % 12 for back in range(12) if row[(place - back) % 12])
            assert places[place] == expected
