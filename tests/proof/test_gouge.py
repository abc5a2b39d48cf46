"""Bites into the wood to keep, against fine points along the strokes."""

from __future__ import annotations

import numpy as np
import pytest

from jigcam.geometry import Path, difference, disc, rectangle, slot
from jigcam.proof.gouge import bites
from jigcam.proof.outline import Outline
from jigcam.proof.strokes import Strokes
from jigcam.proof.target import Mark

KEEP = Outline(difference(difference(rectangle(0, 0, 100, 60), slot((20, 30), (80, 30), 14.0)), disc(50, 12, 6.0)))


@pytest.mark.parametrize("seed", range(5))
def test_bites_of_random_strokes(seed: int) -> None:
    rng = np.random.default_rng(seed)
    count = 40
    a = rng.uniform([-5, -5], [105, 65], (count, 2))
    centre = a + rng.uniform(-9, 9, (count, 2))
    sweep = np.where(rng.random(count) < 0.5, 0.0, rng.uniform(-np.pi, np.pi, count))
    spoke = a - centre
    turned = np.column_stack(
        [
            np.cos(sweep) * spoke[:, 0] - np.sin(sweep) * spoke[:, 1],
            np.sin(sweep) * spoke[:, 0] + np.cos(sweep) * spoke[:, 1],
        ]
    )
    b = np.where((sweep != 0)[:, None], centre + turned, a + rng.uniform(-10, 10, (count, 2)))
    strokes = Strokes.turns(a, b, centre, sweep)
    found = bites(KEEP, strokes, np.full(count, 3.0))
    for k in range(count):
        points = strokes.at(np.linspace(0, 1, 2001), np.full(2001, k))
        plain = 3.0 + KEEP.depth(points).max()
        # Strokes that run deep through the wood are probed at places, which may miss the deepest by a little.
        if plain > 0.0 or found.depth[k] > 0.0:
            assert found.depth[k] == pytest.approx(plain, abs=0.3 if plain > 3.0 else 0.01)


def test_a_spike_between_two_ends_is_found() -> None:
    # Both ends of the stroke are clear of the wall; only its middle reaches 0.06 mm too far.
    strokes = Strokes.lines(np.array([[40.0, 33.5]]), np.array([[60.0, 33.5]]))
    bulging = Strokes.along([Path(np.array([(40.0, 33.5, -2 * 0.56 / 20.0), (60.0, 33.5, 0.0)]))])
    radius = np.array([3.0])
    assert bites(KEEP, strokes, radius).depth[0] <= 0.0
    assert bites(KEEP, bulging, radius).depth[0] == pytest.approx(0.06, abs=1e-3)


def test_marks_spare_what_keeps_to_their_lines() -> None:
    outline = Outline(rectangle(0, 0, 100, 60))
    mark = Mark((Path.through([(10, 10), (40, 10), (40, 30)]), Path.through([(25, 5), (25, 20)])), 1.0, 0.5)
    radius = np.full(4, 0.5)
    ends = np.array([[[10, 10], [40, 10]], [[25, 5], [25, 20]], [[10, 10], [40, 10.06]], [[12, 10], [40, 10]]], float)
    found = bites(outline, Strokes.lines(ends[:, 0], ends[:, 1]), radius, (mark,))
    assert found.depth[:2] == pytest.approx([0.0, 0.0], abs=1e-9)
    assert found.depth[2] == pytest.approx(0.06, abs=1e-3)
    assert found.depth[3] == pytest.approx(0.0, abs=1e-9)
