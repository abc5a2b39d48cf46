"""Overlapping boxes by sorting and by the tree, against trying every pair."""

from __future__ import annotations

import numpy as np
import pytest

from jigcam.geometry import pairs
from jigcam.geometry.pairs import overlaps_between, overlaps_within


def boxes(count: int, seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Boxes on a coarse grid, so that many touch and some are points; a few are huge."""
    random = np.random.default_rng(seed)
    low = random.integers(0, 30, (2, count)).astype(float)
    size = random.integers(0, 4, (2, count)) * np.where(random.random(count) < 0.05, 8.0, 1.0)
    return low[0], low[1], low[0] + size[0], low[1] + size[1]


def every_pair(a: tuple[np.ndarray, ...], b: tuple[np.ndarray, ...]) -> set[tuple[int, int]]:
    """The definition."""
    meet = [(a[k][:, None] <= b[k + 2][None, :]) & (b[k][None, :] <= a[k + 2][:, None]) for k in (0, 1)]
    return {(int(i), int(j)) for i, j in zip(*np.nonzero(meet[0] & meet[1]), strict=True)}


@pytest.mark.parametrize("many", [pairs.MANY, 0], ids=["sweep", "tree"])
@pytest.mark.parametrize("count", [0, 1, 2, 200])
def test_overlaps_are_those_of_every_pair(count: int, many: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pairs, "MANY", many)
    one, other = boxes(count, 1), boxes(count // 2, 2)
    within = list(zip(*(index.tolist() for index in overlaps_within(one)), strict=True))
    assert len(within) == len(set(within))
    assert set(within) == {(i, j) for i, j in every_pair(one, one) if i < j}
    between = list(zip(*(index.tolist() for index in overlaps_between(one, other)), strict=True))
    assert len(between) == len(set(between))
    assert set(between) == every_pair(one, other)
