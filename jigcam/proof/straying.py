"""How far strokes stray from a set of lines: from the nearest line, the farthest place along each stroke."""

from __future__ import annotations

import numpy as np

from jigcam.proof.strokes import Strokes

SHORT = 0.01
"""Pieces shorter than this are known well enough by their middle, mm."""


def straying(strokes: Strokes, lines: Strokes, enough: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Greatest distance (n,) of each stroke from the lines (there must be some), mm, and the (n, 2) places.

    enough: (n,) distances at or below which the answer need not be known: any not above it may come back.

    Distance from one straight line is convex along a straight stroke, so a line near both ends of a piece settles it;
    flat arcs lie near their chords, and two arcs of nearly one circle near each other. Pieces that nothing settles are
    halved, until they are `SHORT`.
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
        bound = np.minimum(bound, _by_chords(pieces, lines, nearest))
        bound = np.minimum(bound, _by_circles(pieces, lines, nearest))
        rest = np.flatnonzero((bound > np.maximum(off[owner], enough[owner])) & (pieces.length > SHORT))
        pieces, owner, half = pieces.take(rest), np.tile(owner[rest], 2), np.full(len(rest), 0.5)
        pieces = Strokes.joined([pieces.between(0.0 * half, half), pieces.between(half, 2.0 * half)])
    return off, place


def _rise(strokes: Strokes) -> np.ndarray:
    """(n,) how far strokes rise over their chords, mm; 0 for lines."""
    rise: np.ndarray = strokes.radius * (1.0 - np.cos(strokes.sweep / 2.0))
    return rise


def _by_chords(pieces: Strokes, lines: Strokes, nearest: np.ndarray) -> np.ndarray:
    """(n,) bound of each piece's distance from its line, by their chords and how far both rise over them, mm."""
    chords = Strokes.lines(lines.a, lines.b)
    ends = np.maximum(chords.distance(pieces.a, nearest), chords.distance(pieces.b, nearest))
    bound: np.ndarray = ends + _rise(pieces) + _rise(lines)[nearest]
    return bound


def _by_circles(pieces: Strokes, lines: Strokes, nearest: np.ndarray) -> np.ndarray:
    """(n,) bound by the circles of two arcs: centres and radii apart, mm; inf where it does not hold.

    Seen from a centre well within its circle, an arc runs one way round: where its ends lie in directions that the line
    covers, all of it does, and is as far from the line as from the line's circle (derived).
    """
    bound = np.full(len(pieces), np.inf)
    with np.errstate(invalid="ignore"):
        shift = np.hypot(*(pieces.centre - lines.centre[nearest]).T)
        near = pieces.arc & lines.arc[nearest] & (shift < pieces.radius / 2.0) & (np.abs(pieces.sweep) <= np.pi / 2.0)
    some = np.flatnonzero(near)
    if len(some):
        which = nearest[some]
        some = some[lines.facing(pieces.a[some], which) & lines.facing(pieces.b[some], which)]
        bound[some] = shift[some] + np.abs(pieces.radius[some] - lines.radius[nearest[some]])
    return bound
