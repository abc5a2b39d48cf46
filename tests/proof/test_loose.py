"""Connected pieces of a grid against a plain flood."""

from __future__ import annotations

import numpy as np
import pytest

from jigcam.proof.loose import pieces


def flooded(wood: np.ndarray) -> np.ndarray:
    label = np.full(wood.shape, -1)
    for start in zip(*np.nonzero(wood), strict=True):
        if label[start] >= 0:
            continue
        todo, number = [start], int(label.max()) + 1
        while todo:
            i, j = todo.pop()
            if 0 <= i < wood.shape[0] and 0 <= j < wood.shape[1] and wood[i, j] and label[i, j] < 0:
                label[i, j] = number
                todo += [(i + 1, j), (i - 1, j), (i, j + 1), (i, j - 1)]
    return label


@pytest.mark.parametrize("share", [0.0, 0.3, 0.55, 0.62, 0.8, 1.0])
def test_pieces_of_a_random_grid(share: float) -> None:
    wood = np.random.default_rng(int(share * 100)).random((37, 23)) < share
    found, plain = pieces(wood), flooded(wood)
    assert ((found >= 0) == wood).all()
    pairs = set(zip(found[wood].tolist(), plain[wood].tolist(), strict=True))
    assert len(pairs) == len({a for a, _ in pairs}) == len({b for _, b in pairs})


def test_a_spiral_is_one_piece() -> None:
    wood = np.ones((41, 41), bool)
    for k in range(1, 20, 2):
        wood[k, k : 41 - k] = wood[40 - k, k : 41 - k] = wood[k : 41 - k, k] = wood[k : 41 - k, 40 - k] = False
        wood[k + 1, k] = True
        wood[k, 20] = True
    assert len(np.unique(pieces(wood)[wood])) == len(np.unique(flooded(wood)[wood]))
