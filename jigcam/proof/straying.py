"""How far strokes stray from a set of lines: from the nearest line, the farthest place along each stroke."""

from __future__ import annotations

import numpy as np

from jigcam.proof.strokes import Strokes

SHORT = 0.01
"""Pieces shorter than this are known well enough by their middle, mm."""


def straying(strokes: Strokes, lines: Strokes, enough: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Greatest distance (n,) of each stroke from the lines (there must be some), mm, and the (n, 2) places.

    enough: (n,) distances at or below which the answer need not be known: any not above it may come back.

    Distance from one straight line is convex along a straight stroke, so a line near both ends of a piece settles it.
    Pieces that no line settles are halved, until they are `SHORT`.
    """
    off, place = np.minimum(enough, 0.0), strokes.a.copy()
    pieces, owner = strokes, np.arange(len(strokes))
    while len(pieces):
        middle = pieces.at(np.full(len(pieces), 0.5))
        nearest = lines.tree.nearest(middle)
        gap = lines.distance(middle, nearest)
        order = np.argsort(gap, kind="stable")
        rows = order[gap[order] > off[owner[order]]]
        off[owner[rows]], place[owner[rows]] = gap[rows], middle[rows]
        ends = np.maximum(lines.distance(pieces.a, nearest), lines.distance(pieces.b, nearest))
        bound = np.where(pieces.arc | lines.arc[nearest], gap + pieces.length / 2.0, ends)
        rest = np.flatnonzero((bound > np.maximum(off[owner], enough[owner])) & (pieces.length > SHORT))
        pieces, owner, half = pieces.take(rest), np.tile(owner[rest], 2), np.full(len(rest), 0.5)
        pieces = Strokes.joined([pieces.between(0.0 * half, half), pieces.between(half, 2.0 * half)])
    return off, place
