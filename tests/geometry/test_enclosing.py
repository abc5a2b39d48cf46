"""The smallest disc round a shape."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from support.shapes import ZOO, outlines

from jigcam.geometry import Region, disc, polygon, rectangle, slot
from jigcam.geometry.enclosing import enclosing_disc


def test_known_discs() -> None:
    assert enclosing_disc(disc(1, 2, 3).as_segments()) == pytest.approx((1 + 2j, 3.0))
    assert enclosing_disc(rectangle(0, 0, 6, 8).as_segments()) == pytest.approx((3 + 4j, 5.0))
    assert enclosing_disc(slot((0, 0), (30, 0), 8).as_segments()) == pytest.approx((15 + 0j, 15.0))
    # Circumradius of an acute triangle a·b·c / 4A: 3-4-5 is right-angled, half its hypotenuse.
    assert enclosing_disc(polygon([(0, 0), (4, 0), (0, 3)]).as_segments())[1] == pytest.approx(2.5)
    equilateral = polygon([(0, 0), (2, 0), (1, math.sqrt(3))])
    assert enclosing_disc(equilateral.as_segments())[1] == pytest.approx(2 / math.sqrt(3))


def check(region: Region) -> None:
    """Nothing sticks out, and the points on the rim leave no half turn free: a smaller disc would not do."""
    centre, radius = enclosing_disc(region.as_segments())
    curve = region.as_segments()
    points = np.concatenate([curve.at(np.full(len(curve), t)) for t in np.linspace(0, 1, 400)])
    gap = np.abs(points - centre)
    assert gap.max() <= radius * (1 + 1e-9)
    rim = np.sort(np.angle(points[gap > radius - 2e-3 * radius] - centre))
    free = np.diff(np.append(rim, rim[0] + 2 * math.pi)).max()
    assert free <= math.pi + 0.2


@pytest.mark.parametrize("region", ZOO.values(), ids=ZOO)
def test_the_zoo(region: Region) -> None:
    check(region)


@given(outlines())
def test_stars(region: Region) -> None:
    check(region)
