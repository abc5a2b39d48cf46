"""How far strokes stray from lines, against fine points."""

from __future__ import annotations

import numpy as np
import pytest

from jigcam.proof.straying import _bound, straying
from jigcam.proof.strokes import Strokes
from jigcam.toolpath.curve import smooth
from jigcam.toolpath.engrave import letters


@pytest.mark.parametrize("seed", range(4))
def test_against_fine_points(seed: int) -> None:
    rng = np.random.default_rng(seed)
    corners = rng.uniform(0, 30, (8, 2))
    lines = Strokes.lines(corners[:-1], corners[1:])
    ends = rng.uniform(0, 30, (20, 2, 2))
    strokes = Strokes.lines(ends[:, 0], ends[:, 1])
    off, place = straying(strokes, lines, np.zeros(20))
    for k in range(20):
        points = strokes.at(np.linspace(0, 1, 3001), np.full(3001, k))
        table = np.array([lines.distance(points, np.full(3001, j)) for j in range(len(lines))])
        assert off[k] == pytest.approx(table.min(axis=0).max(), abs=0.01)
        assert strokes.distance(place[k][None], np.array([k]))[0] < 1e-9


def test_a_short_cut_across_a_corner() -> None:
    lines = Strokes.lines(np.array([[0.0, 0], [10, 0]]), np.array([[10.0, 0], [10, 10]]))
    along = Strokes.lines(np.array([[0.0, 0], [9.9, 0], [10, 0]]), np.array([[9.9, 0], [10, 0.1], [10.0, 10]]))
    off, _ = straying(along, lines, np.full(3, 0.001))
    assert off[0] <= 0.001
    assert off[2] <= 0.001
    # Half way between the two lines it is as far from both.
    assert off[1] == pytest.approx(0.05, abs=0.004)


@pytest.mark.parametrize("seed", range(3))
def test_arcs_beside_arcs_against_fine_points(seed: int) -> None:
    """Letters as they are drawn, and as a file would have them if it had strayed."""
    rng = np.random.default_rng(seed)
    rows = np.concatenate([smooth(stroke).segments() for stroke in letters("RS8", 0.0, 0.0, 6.0)])
    lines = Strokes.of_rows(rows)
    off_by = rng.normal(0.0, 10.0 ** rng.uniform(-4.0, -1.0, len(rows)))
    moved = rows.copy()
    moved[:, 4] += off_by * (rows[:, 4] != 0.0)
    moved[:, 2:4] += rng.normal(0.0, 1e-3, (len(rows), 2))
    strokes = Strokes.of_rows(moved)
    off, _ = straying(strokes, lines, np.full(len(rows), 0.005))
    for k in range(len(rows)):
        points = strokes.at(np.linspace(0, 1, 801), np.full(801, k))
        true = np.array([lines.distance(points, np.full(801, j)) for j in range(len(lines))]).min(axis=0).max()
        assert off[k] <= true + 1e-4
        assert off[k] == pytest.approx(true, abs=0.01) if true > 0.005 else off[k] <= 0.005


@pytest.mark.parametrize("seed", range(4))
def test_no_bound_is_below_the_true_distance(seed: int) -> None:
    """Arcs beside arcs that are nearly the same, cut short, hanging over or far off: against fine points."""
    rng = np.random.default_rng(seed)
    count, fine = 300, 201
    scale = 10.0 ** rng.uniform(-4.0, 0.5, count)

    def arcs(middle: np.ndarray, radius: np.ndarray, first: np.ndarray, sweep: np.ndarray) -> Strokes:
        ends = [middle + radius[:, None] * np.column_stack([np.cos(t), np.sin(t)]) for t in (first, first + sweep)]
        return Strokes.turns(*ends, middle, sweep)

    middle, radius = rng.uniform(-5, 5, (count, 2)), 10.0 ** rng.uniform(-0.5, 2.0, count)
    first, sweep = rng.uniform(-3, 3, count), rng.uniform(0.05, np.pi, count) * rng.choice([-1.0, 1.0], count)
    lines = arcs(middle, radius, first, sweep)
    turned = rng.random(count) < 0.3
    pieces = arcs(
        middle + rng.normal(0, 1, (count, 2)) * scale[:, None],
        np.maximum(radius + rng.normal(0, 1, count) * scale, 0.1),
        np.where(turned, first + sweep, first) + rng.normal(0, 1, count) * scale / radius,
        np.where(turned, -sweep, sweep) * rng.choice([0.5, 1.0, 1.02], count),
    )
    every = np.arange(count)
    bound = _bound(pieces, lines, every, lines.distance(pieces.at(np.full(count, 0.5)), every))
    share = np.linspace(0, 1, fine)
    true = np.array([lines.distance(pieces.at(np.full(count, t)), every) for t in share]).max(axis=0)
    assert (bound >= true - 1e-9).all()
    # Where they are nearly the same, it is no more than what parts them.
    same = (np.abs(pieces.sweep) <= np.pi / 2) & (scale < 0.01 * radius)
    assert same.sum() > 20
    assert (bound[same] <= 1.5 * true[same] + 1e-6).mean() > 0.9
