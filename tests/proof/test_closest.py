"""Least distances of strokes against brute force over fine points."""

from __future__ import annotations

import numpy as np
import pytest

from jigcam.proof.closest import closest
from jigcam.proof.strokes import Strokes


def some_strokes(count: int, seed: int) -> Strokes:
    rng = np.random.default_rng(seed)
    a = rng.uniform(-10, 10, (count, 2))
    centre = a + rng.uniform(-6, 6, (count, 2))
    sweep = np.where(rng.random(count) < 0.5, 0.0, rng.uniform(-np.pi, np.pi, count))
    cosine, sine = np.cos(sweep), np.sin(sweep)
    spoke = a - centre
    turned = np.column_stack([cosine * spoke[:, 0] - sine * spoke[:, 1], sine * spoke[:, 0] + cosine * spoke[:, 1]])
    b = np.where((sweep != 0.0)[:, None], centre + turned, rng.uniform(-10, 10, (count, 2)))
    return Strokes.turns(a, b, centre, sweep)


def fine(strokes: Strokes, index: int, count: int = 700) -> np.ndarray:
    return strokes.at(np.linspace(0.0, 1.0, count), np.full(count, index))


@pytest.mark.parametrize("seed", range(3))
def test_least_distance_of_pairs(seed: int) -> None:
    p, q = some_strokes(60, seed), some_strokes(60, seed + 100)
    index = np.arange(60)
    gap, place = closest(p, index, q, index)
    assert np.allclose(p.distance(place, index), 0.0, atol=1e-8)
    assert np.allclose(q.distance(place, index), gap, atol=1e-7)
    for k in index:
        one, two = fine(p, k), fine(q, k)
        brute = np.hypot(*(one[:, None, :] - two[None, :, :]).transpose(2, 0, 1)).min()
        assert gap[k] <= brute + 1e-9
        # Points 40 µm apart can miss a crossing by as much.
        assert brute - gap[k] < 0.06


def test_distance_of_points_and_boxes() -> None:
    strokes = some_strokes(200, 7)
    rng = np.random.default_rng(8)
    points = rng.uniform(-15, 15, (200, 2))
    index = np.arange(200)
    distance, foot = strokes.foot(points, index)
    for k in index:
        brute = np.hypot(*(fine(strokes, k) - points[k]).T).min()
        assert distance[k] == pytest.approx(brute, abs=1e-3)
    assert np.allclose(strokes.distance(foot, index), 0.0, atol=1e-9)
    for k in index:
        on = fine(strokes, k)
        assert np.allclose(strokes.boxes[k], [*on.min(axis=0), *on.max(axis=0)], atol=1e-3)


def test_nearest_stroke_from_the_tree() -> None:
    strokes = some_strokes(300, 9)
    points = np.random.default_rng(10).uniform(-15, 15, (50, 2))
    found = strokes.distance(points, strokes.tree.nearest(points))
    every = np.array([[strokes.distance(q[None], np.array([k]))[0] for k in range(300)] for q in points])
    assert np.allclose(found, every.min(axis=1), atol=0.02)


def test_parts_of_strokes() -> None:
    strokes = some_strokes(50, 11)
    part = strokes.between(np.full(50, 0.25), np.full(50, 0.75))
    assert np.allclose(part.length, strokes.length / 2)
    assert np.allclose(part.at(np.full(50, 0.5)), strokes.at(np.full(50, 0.5)))


def test_a_point_is_a_stroke() -> None:
    point = Strokes.lines(np.array([[1.0, 2.0]]), np.array([[1.0, 2.0]]))
    line = Strokes.lines(np.array([[0.0, 0.0]]), np.array([[10.0, 0.0]]))
    zero = np.array([0])
    assert closest(point, zero, line, zero)[0][0] == pytest.approx(2.0)
    assert point.tree.nearest(np.array([[5.0, 5.0]]))[0] == 0


@pytest.mark.parametrize("seed", range(3))
def test_the_nearest_of_few_strokes_is_the_nearest_of_all(seed: int) -> None:
    """Lines, arcs and points, against the distance from each."""
    rng = np.random.default_rng(seed)
    ends, sweep = rng.uniform(-20, 20, (40, 2, 2)), rng.uniform(-np.pi, np.pi, 40) * rng.choice([0.0, 1.0], 40)
    chord = ends[:, 1] - ends[:, 0]
    lift = np.where(sweep != 0.0, 0.5 / np.tan(np.where(sweep != 0.0, sweep, 1.0) / 2.0), 0.0)
    centre = ends.mean(axis=1) + lift[:, None] * np.column_stack([-chord[:, 1], chord[:, 0]])
    plunge = np.where((rng.random(40) < 0.1)[:, None], ends[:, 0], ends[:, 1])
    strokes = Strokes.turns(ends[:, 0], np.where((sweep == 0.0)[:, None], plunge, ends[:, 1]), centre, sweep)
    points = np.concatenate([rng.uniform(-30, 30, (2000, 2)), ends[:, 0], centre])
    every = [strokes.distance(points, np.full(len(points), k)) for k in range(len(strokes))]
    found = strokes.distance(points, strokes.nearest(points))
    assert found == pytest.approx(np.min(every, axis=0), abs=1e-7)
