"""Hidden lines and the isometric projection, against an oracle that casts rays and the standard's own figures."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from jigcam.drawing.hidden_lines import SKIN, Facet, front_solid, seen_parts
from jigcam.drawing.isometric import pictured

EYE = np.array([1.0, -1.0, 1.0]) / np.sqrt(3.0)
"""Toward the eye, in space: the way that the projection draws as a point."""


def turned(rng: np.random.Generator) -> np.ndarray:
    """Any turn, from three normal vectors made square to each other."""
    turn, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    return turn if np.linalg.det(turn) > 0.0 else turn[:, ::-1]


class Box:
    """A box, half sizes `half` about `middle`, turned by `turn`."""

    def __init__(self, middle: np.ndarray, half: np.ndarray, turn: np.ndarray) -> None:
        self.middle, self.half, self.turn = middle, half, turn

    def point(self, signs: tuple[float, ...]) -> np.ndarray:
        return self.middle + self.turn @ (self.half * signs)

    def edges(self) -> list[np.ndarray]:
        found = []
        for axis in range(3):
            for signs in product((-1.0, 1.0), repeat=2):
                ends = [np.insert(signs, axis, end) for end in (-1.0, 1.0)]
                found.append(np.array([self.point(tuple(end)) for end in ends]))
        return found

    def facets(self, solid: int) -> list[Facet]:
        found = []
        for axis, sign in product(range(3), (-1.0, 1.0)):
            corners = [np.insert(pair, axis, sign) for pair in ((-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0))]
            outward = self.turn[:, axis] * sign
            seen = pictured([outward])[0]
            loop = pictured([self.point(tuple(corner)) for corner in corners])
            found.append(Facet((loop,), seen / np.linalg.norm(seen), solid))
        return found

    def covers(self, points: np.ndarray, skin: float) -> np.ndarray:
        """Whether the ray from each point to the eye meets the box further on than `skin`: slab by slab."""
        start = (points - self.middle) @ self.turn
        way = EYE @ self.turn
        with np.errstate(divide="ignore"):
            ends = np.sort(np.stack([(-self.half - start) / way, (self.half - start) / way]), axis=0)
        near, far = ends[0].max(axis=1), ends[1].min(axis=1)
        return (far > np.maximum(near, skin)) & (far - np.maximum(near, 0.0) > skin)


@pytest.mark.parametrize("seed", range(6))
def test_what_is_seen_of_boxes_is_what_rays_reach(seed: int) -> None:
    rng = np.random.default_rng(seed)
    boxes = [
        Box(rng.uniform(-60.0, 60.0, 3), rng.uniform(4.0, 45.0, 3), turned(rng) if rng.random() < 0.7 else np.eye(3))
        for _ in range(9)
    ]
    edges = np.array([edge for box in boxes for edge in box.edges()])
    facets = [facet for number, box in enumerate(boxes) for facet in box.facets(number)]
    parts = seen_parts(np.array([pictured(edge) for edge in edges]), facets)
    share = np.linspace(0.003, 0.997, 300)
    wrong = clear = 0
    for number, (start, end) in enumerate(edges):
        points = start + share[:, None] * (end - start)
        # Where a hair's breadth decides, no answer is asked for.
        surely, maybe = (np.any([box.covers(points, skin) for box in boxes], axis=0) for skin in (0.2, 1e-3))
        first, last = pictured(np.array([start, end]))
        length = np.linalg.norm(last - first)
        seen, ends = np.zeros(len(points), bool), np.ones(len(points), bool)
        for part in parts:
            if part.edge == number:
                at = [float(np.linalg.norm(place - first) / length) for place in (part.start, part.end)]
                seen |= (share >= at[0]) & (share <= at[1])
                ends &= np.abs(share[:, None] - at).min(axis=1) * length > 0.01
        wrong += int(((seen & surely) | (~seen & ~maybe))[ends].sum())
        clear += int(((surely | ~maybe) & ends).sum())
    assert clear > 0.95 * share.size * len(edges)
    assert wrong == 0, f"{wrong} of {clear} places"


def test_a_hole_lets_through_what_is_behind_it() -> None:
    square = np.array([(-50.0, -50.0, 0.0), (50.0, -50.0, 0.0), (50.0, 50.0, 0.0), (-50.0, 50.0, 0.0)])
    plate = Facet((square, square[::-1] * 0.4), np.array([0.0, 0.0, 1.0]), 0)
    rod = np.array([[(-80.0, 0.0, -10.0), (80.0, 0.0, -10.0)]])
    spans = [(part.start[0], part.end[0]) for part in seen_parts(rod, [plate])]
    assert np.allclose(spans, [(-80.0, -50.0), (-20.0, 20.0), (50.0, 80.0)])
    leaning = np.array([[(-40.0, 0.0, -30.0), (40.0, 0.0, 50.0)]])  # comes through the plate, within the hole
    assert np.allclose([(p.start[0], p.end[0]) for p in seen_parts(leaning, [plate])], [(-20.0, 40.0)])
    solid, w = front_solid(np.array([(0.0, 0.0), (30.0, 0.0), (60.0, 0.0)]), [plate])
    assert solid.tolist() == [-1, 0, -1]
    assert w[1] == 0.0


def test_an_edge_in_the_plane_of_a_facet_is_seen_and_one_below_it_is_not() -> None:
    square = np.array([(0.0, 0.0, 0.0), (50.0, 0.0, 0.0), (50.0, 50.0, 0.0), (0.0, 50.0, 0.0)])
    plate = Facet((square,), np.array([0.0, 0.0, 1.0]), 0)
    for below, seen in ((0.0, 1), (SKIN / 2.0, 1), (2.0 * SKIN, 0)):
        edge = np.array([[(10.0, 10.0, -below), (40.0, 30.0, -below)]])
        assert len(seen_parts(edge, [plate])) == seen, below


def test_axes_lie_at_30_degrees_and_keep_their_lengths() -> None:
    # ISO 5456-3, isometric axonometry (from memory): axes 120° apart, two of them 30° to the horizontal, scale 1:1:1.
    axes = pictured(np.eye(3) * 100.0)[:, :2]
    assert np.allclose(np.hypot(*axes.T), 100.0)
    assert np.allclose(np.degrees(np.arctan2(axes[:, 1], axes[:, 0])), [-30.0, 30.0, 90.0])
    # A sphere stays round, √1.5 as large as it is: the picture is a true projection, made larger.
    matrix = pictured(np.eye(3)).T
    assert np.allclose(matrix @ matrix.T, 1.5 * np.eye(3))
    assert np.linalg.det(matrix) > 0.0  # no mirror image
    assert np.allclose(pictured([EYE])[0, :2], 0.0)
    assert pictured([EYE])[0, 2] > 0.0
