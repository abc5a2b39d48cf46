"""The tree of segments against all pairs."""

from __future__ import annotations

import numpy as np
import pytest
from support.shapes import ZOO

from jigcam.geometry import Region
from jigcam.geometry.nearest import FEW, nearest
from jigcam.geometry.segment import Segments
from jigcam.geometry.winding import winding_number


def many(count: int, seed: int = 3) -> Segments:
    """Random arcs and lines of very different lengths."""
    random = np.random.default_rng(seed)
    start = random.uniform(-50, 50, (count, 2))
    step = random.normal(size=(count, 2)) * 10.0 ** random.uniform(-4, 1.5, (count, 1))
    bulge = random.uniform(-1, 1, count) * (random.random(count) < 0.5)
    return Segments.of_rows(np.column_stack([start, start + step, bulge]))


@pytest.mark.parametrize("count", [1, 2, FEW, FEW + 1, 100, 1000, 4097])
def test_the_nearest_segment_is_the_nearest(count: int) -> None:
    segments = many(count)
    random = np.random.default_rng(4)
    points = random.uniform(-80, 80, 300) + 1j * random.uniform(-80, 80, 300)
    gap, index = nearest(points, segments)
    all_pairs = segments.distance(points[:, None])
    assert np.array_equal(gap, all_pairs.min(axis=1))
    assert np.array_equal(segments.take(index).distance(points), gap)


def test_points_in_one_place_and_segments_in_one_place_are_no_trouble() -> None:
    same = Segments.of_rows(np.tile([[0.0, 0.0, 1.0, 0.0, 0.5]], (200, 1)))
    gap, _ = nearest(np.full(50, 3.0 + 0j), same)
    assert gap == pytest.approx(2.0)


def test_nothing_is_infinitely_far() -> None:
    gap, index = nearest(np.array([1j]), many(0))
    assert gap[0] == np.inf
    assert index[0] == -1


@pytest.mark.parametrize("region", ZOO.values(), ids=ZOO)
def test_winding_number_is_the_sum_of_angles(region: Region) -> None:
    """The definition: the angle under which the loops are seen, over a full turn."""
    random = np.random.default_rng(5)
    x0, y0, x1, y1 = region.bounds
    points = random.uniform(x0 - 2, x1 + 2, 60) + 1j * random.uniform(y0 - 2, y1 + 2, 60)
    turns = np.zeros(len(points))
    for loop in region.loops:
        chain = loop.points(1e-3) @ np.array([1.0, 1j])
        seen = np.append(chain, chain[0])[None, :] - points[:, None]
        turns += np.angle(seen[:, 1:] / seen[:, :-1]).sum(axis=1) / (2 * np.pi)
    clear = region.distance(np.column_stack([points.real, points.imag])) > 2e-3
    got = winding_number(points, region.as_segments())[0]
    assert np.array_equal(got[clear], np.round(turns[clear]))
