"""The tree of segments against all pairs."""

from __future__ import annotations

import numpy as np
import pytest
from support.shapes import ZOO

from jigcam.geometry import Region, disc, winding
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


def test_winding_numbers_of_shapes_side_by_side_look_along_the_shorter_way(monkeypatch: pytest.MonkeyPatch) -> None:
    """In a row along x nearly every shape is at the height of every point: pairs were the square of the shapes.

    The oracle is the same row stood on end, for which the ray along +x meets few.
    """
    row = Region(
        tuple(loop for k in range(300) for loop in (disc(9.0 * k, 0.0, 4.0).loops + disc(9.0 * k, 0, 1).loops))
    )
    rng = np.random.default_rng(5)
    points = rng.uniform(-5.0, 2700.0, 2000) + 1j * rng.uniform(-5.0, 5.0, 2000)
    segments = row.as_segments()
    looked = []
    crosses = winding._crosses_right

    def counted(some: np.ndarray, chain: Segments) -> np.ndarray:
        looked.append(len(some))
        return crosses(some, chain)

    monkeypatch.setattr(winding, "_crosses_right", counted)
    kinds = np.arange(len(segments)) // 2 % 2  # each circle is two arcs
    lying = winding_number(points, segments, kinds, 2)
    pairs = sum(looked)
    looked.clear()
    upright = winding_number(points * -1j, Segments(segments.start * -1j, segments.end * -1j, segments.bulge), kinds, 2)
    assert np.array_equal(lying, upright)
    assert pairs == sum(looked) < 20 * len(points)
    monkeypatch.setattr(winding, "FEWER", np.inf)
    looked.clear()
    assert np.array_equal(winding_number(points, segments, kinds, 2), lying)
    assert sum(looked) > 50 * pairs
