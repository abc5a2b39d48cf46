"""The tree of polylines against every pair."""

from __future__ import annotations

import numpy as np
import shapely

from jigcam.geometry.nearby import BoxTree, Nearby

RANDOM = np.random.default_rng(6)
LINES = RANDOM.uniform(0, 50, (40, 1, 2)) + RANDOM.normal(size=(40, 5, 2))
TREE = Nearby(LINES.reshape(-1, 2), np.repeat(np.arange(40), 5))
POINTS = RANDOM.uniform(-5, 55, (60, 2))
GAPS = shapely.distance(shapely.points(POINTS)[:, None], shapely.linestrings(LINES)[None, :])


def test_nearest_is_the_nearest() -> None:
    assert np.array_equal(GAPS[np.arange(60), TREE.nearest(POINTS)], GAPS.min(axis=1))


def test_within_reach() -> None:
    for reach in (3.0, RANDOM.uniform(0, 10, 60)):
        point, line = TREE.within(POINTS, reach)
        wanted = np.argwhere(np.broadcast_to(reach, (60,))[:, None] >= GAPS)
        assert sorted(zip(point, line, strict=True)) == sorted(map(tuple, wanted.tolist()))


def test_parts_go_by_the_name_of_the_whole() -> None:
    halves = np.repeat(np.arange(40), 2)
    table = np.concatenate([LINES[:, :3], LINES[:, 2:]], axis=1).reshape(-1, 2)
    parts = Nearby(table, np.repeat(np.arange(80), 3), halves)
    assert np.array_equal(GAPS[np.arange(60), parts.nearest(POINTS)], GAPS.min(axis=1))
    assert set(zip(*parts.within(POINTS, 3.0), strict=True)) == set(zip(*TREE.within(POINTS, 3.0), strict=True))


def test_bounds_that_meet() -> None:
    low = RANDOM.uniform(0, 50, (20, 2))
    boxes = np.hstack([low, low + 4.0])
    least, most = LINES.min(axis=1), LINES.max(axis=1)
    box, line = BoxTree(np.hstack([least, most])).meeting(boxes)
    assert (np.diff(box) >= 0).all()
    meet = (boxes[:, None, :2] <= most).all(axis=2) & (least <= boxes[:, None, 2:]).all(axis=2)
    assert sorted(zip(box, line, strict=True)) == sorted(map(tuple, np.argwhere(meet).tolist()))


def test_nothing_is_near_nothing() -> None:
    none = Nearby(np.empty((0, 2)), np.empty(0, int))
    assert not len(BoxTree(np.empty((0, 4))).meeting(np.array([[0.0, 0.0, 1.0, 1.0]]))[0])
    assert not len(none.within(POINTS, 5.0)[0])
