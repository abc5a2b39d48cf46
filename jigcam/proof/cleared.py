"""Ways that earlier motions have cleared, told of many strokes at once, whatever the order in which they come.

A sufficient test, and quick: the way of each stroke is covered with squares, and a square is clear when one earlier
stroke took all of it. What is not, is quartered a few times. A way of which every square is clear meets nothing; of the
others the exact comparison (`Ground`) has to decide, one by one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from jigcam.geometry.pairs import spread
from jigcam.proof.envelope import Envelope
from jigcam.proof.strokes import FACET
from jigcam.proof.target import INSIDE, Stock
from jigcam.proof.travel import Travel
from jigcam.values import dataclass

DIAGONAL = float(np.sqrt(2.0))
QUARTERS = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]])
ROUNDS = 9
"""How often squares are quartered: from a few millimetres to about 10 µm."""
MOST_SQUARES = 4_000
"""Squares of one way that are worth it; a way that needs more is left to the exact comparison."""
BATCH = 4_000
"""Squares looked at in one go."""


@dataclass(frozen=True)
class Cleared:
    """What one bit cuts on purpose, and its profile."""

    envelope: Envelope
    travel: Travel


@dataclass(frozen=True)
class Ways:
    """k strokes; at the height z (k,) the tool is `radius` (k,) wide. edges: only what was cut with the edges of a bit
    counts, and not what its shank would have taken."""

    travel: Travel
    radius: np.ndarray
    z: np.ndarray
    edges: bool = False


def cleared(ways: Ways, cuts: Sequence[Cleared], stock: Stock, slack: float) -> np.ndarray:
    """(k,) whether all of each way, within the stock, lies within `slack` (mm) of what one stroke before it took, place
    by place. False is no verdict."""
    count = len(ways.travel)
    clear = np.ones(count, bool)
    owner, middles, half = _first(ways)
    for _ in range(ROUNDS):
        keep = clear[owner] & _touching(ways, owner, middles, half, stock)
        owner, middles, half = owner[keep], middles[keep], half[keep]
        many = np.bincount(owner, minlength=count) > MOST_SQUARES
        clear[many] = False
        open_ = clear[owner]
        owner, middles, half = owner[open_], middles[open_], half[open_]
        taken, bare = _taken(ways, owner, middles, half, cuts, slack)
        # One place that nothing took is enough: such a way needs no finer look here.
        inside = _touching(ways, owner, middles, np.zeros(len(half)), stock)
        clear[owner[bare & inside]] = False
        left = ~taken & clear[owner]
        owner, middles, half = owner[left], middles[left], half[left]
        if not len(owner):
            return clear
        middles = (middles[:, None, :] + QUARTERS[None] * half[:, None, None]).reshape(-1, 2)
        owner, half = np.repeat(owner, 4), np.repeat(half / 2.0, 4)
    clear[owner] = False
    return clear


def _first(ways: Ways) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Squares over the bounds of every way, about as wide as its tool's radius: owners, middles, half sides."""
    boxes = ways.travel.strokes.boxes
    half = np.maximum(ways.radius, INSIDE) / 2.0
    low, size = boxes[:, :2] - ways.radius[:, None], boxes[:, 2:] - boxes[:, :2] + 2.0 * ways.radius[:, None]
    # A long way has squares in proportion to its length, not to its bounds.
    half = np.maximum(half, np.sqrt(size.prod(axis=1) / MOST_SQUARES))
    steps = np.maximum(np.ceil(size / (2.0 * half[:, None])), 1).astype(np.intp)
    owner, rank = spread(np.zeros(len(half), np.intp), steps.prod(axis=1))
    place = np.column_stack([rank // steps[owner, 1], rank % steps[owner, 1]])
    return owner, low[owner] + (2.0 * place + 1.0) * half[owner, None], half[owner]


def _touching(ways: Ways, owner: np.ndarray, middles: np.ndarray, half: np.ndarray, stock: Stock) -> np.ndarray:
    """(m,) which squares reach into their way and into the stock."""
    low, high = middles - half[:, None], middles + half[:, None]
    within = (high[:, 0] > stock.x0) & (low[:, 0] < stock.x1) & (high[:, 1] > stock.y0) & (low[:, 1] < stock.y1)
    gap = ways.travel.strokes.distance(middles, owner)
    touching: np.ndarray = within & (gap - DIAGONAL * half < ways.radius[owner])
    return touching


def _taken(
    ways: Ways, owner: np.ndarray, middles: np.ndarray, half: np.ndarray, cuts: Sequence[Cleared], slack: float
) -> tuple[np.ndarray, np.ndarray]:
    """(m,) which squares one stroke before their way took as a whole, and of which not even the middle was taken."""
    taken, bare = np.zeros(len(owner), bool), np.ones(len(owner), bool)
    for cut in cuts:
        for some in _batches(~taken):
            points, mine = middles[some], owner[some]
            i, j = cut.travel.strokes.tree.within(points, cut.envelope.largest + slack + FACET)
            able = cut.travel.motion[j] < ways.travel.motion[mine[i]]
            i, j = i[able], j[able]
            room = _radius(cut, j, ways.z[mine[i]], edges=ways.edges) + slack
            gap = cut.travel.strokes.distance(points[i], j)
            bare[some[i[gap <= room]]] = False
            taken[some[i[gap <= room - DIAGONAL * half[some][i]]]] = True
    return taken, bare


def _radius(cut: Cleared, j: np.ndarray, z: np.ndarray, *, edges: bool) -> np.ndarray:
    """(p,) least radius of the bit at heights z on strokes j; −inf where the tip is above somewhere."""
    travel, envelope = cut.travel, cut.envelope
    high, low = travel.highest[j], travel.lowest[j]
    # A plunge clears down to its end all that is as wide as the bit there.
    high = np.where(travel.strokes.length[j] > 0.0, high, low)
    below = high <= z + INSIDE
    least = envelope.extremes(np.maximum(z + INSIDE - high, 0.0), np.maximum(z + INSIDE - low, 0.0))[0]
    if edges:
        below &= low + envelope.bit.cutting_length >= z
    return np.where(below, least, -np.inf)


def _batches(which: np.ndarray) -> Iterator[np.ndarray]:
    rows = np.flatnonzero(which)
    for k in range(0, len(rows), BATCH):
        yield rows[k : k + BATCH]
