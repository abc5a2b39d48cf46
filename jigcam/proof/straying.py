"""How far strokes stray from a set of lines: from the nearest line, the farthest place along each stroke."""

from __future__ import annotations

import numpy as np

from jigcam.proof.strokes import Strokes

SHORT = 0.01
"""Pieces shorter than this are known well enough by their middle, mm."""
ALIKE, OVERHANG = 0.1, 0.05
"""Shares of an arc's radius: by so much two circles may differ, and so far may an arc hang over, for `_by_circles`."""
CELL = 0.05
"""A stroke and a line with their middles in one square of this side are compared first, mm: the last digit of a text is
far less, so strokes that follow their lines nearly all are."""


def straying(strokes: Strokes, lines: Strokes, enough: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Greatest distance (n,) of each stroke from the lines (there must be some), mm, and the (n, 2) places.

    enough: (n,) distances at or below which the answer need not be known: any not above it may come back.

    Distance from one straight line is convex along a straight stroke, so a line near both ends of a piece settles it;
    flat arcs lie near their chords, and two arcs of nearly one circle near each other. Pieces that nothing settles are
    halved, until they are `SHORT`.
    """
    off, place = np.minimum(enough, 0.0), strokes.a.copy()
    owner = np.flatnonzero(~_along_alike(strokes, lines, enough))
    pieces = strokes.take(owner)
    while len(pieces):
        middle = pieces.at(np.full(len(pieces), 0.5))
        nearest = lines.nearest(middle)
        gap = lines.distance(middle, nearest)
        order = np.argsort(gap, kind="stable")
        rows = order[gap[order] > off[owner[order]]]
        off[owner[rows]], place[owner[rows]] = gap[rows], middle[rows]
        bound = _bound(pieces, lines, nearest, gap)
        rest = np.flatnonzero((bound > np.maximum(off[owner], enough[owner])) & (pieces.length > SHORT))
        pieces, owner, half = pieces.take(rest), np.tile(owner[rest], 2), np.full(len(rest), 0.5)
        pieces = Strokes.joined([pieces.between(0.0 * half, half), pieces.between(half, 2.0 * half)])
    return off, place


def _along_alike(strokes: Strokes, lines: Strokes, enough: np.ndarray) -> np.ndarray:
    """(n,) strokes that a line with nearly the same middle settles: what was cut as it was drawn needs no search."""
    settled = np.zeros(len(strokes), bool)
    cells, drawn = _cells(strokes), _cells(lines)
    order = np.argsort(drawn, kind="stable")
    place = np.minimum(np.searchsorted(drawn[order], cells), len(order) - 1)
    some = np.flatnonzero(drawn[order][place] == cells)
    if len(some):
        alike, pieces = order[place[some]], strokes.take(some)
        gap = lines.distance(pieces.at(np.full(len(some), 0.5)), alike)
        settled[some] = _bound(pieces, lines, alike, gap) <= enough[some]
    return settled


def _cells(strokes: Strokes) -> np.ndarray:
    """(n,) the middle of each stroke in whole steps of `CELL`, as a complex number."""
    cells: np.ndarray = np.round(strokes.at(np.full(len(strokes), 0.5)) / CELL) @ [1.0, 1j]
    return cells


def _bound(pieces: Strokes, lines: Strokes, which: np.ndarray, gap: np.ndarray) -> np.ndarray:
    """(n,) how far each piece strays from its line at most, mm; gap: of its middle from that line."""
    ends = np.maximum(lines.distance(pieces.a, which), lines.distance(pieces.b, which))
    bound = np.where(pieces.arc | lines.arc[which], gap + pieces.length / 2.0, ends)
    bound = np.minimum(bound, _by_chords(pieces, lines, which))
    bound = np.minimum(bound, _by_circles(pieces, lines, which))
    return np.asarray(bound)


def _rise(strokes: Strokes) -> np.ndarray:
    """(n,) how far strokes rise over their chords, mm; 0 for lines."""
    rise: np.ndarray = strokes.radius * (1.0 - np.cos(strokes.sweep / 2.0))
    return rise


def _by_chords(pieces: Strokes, lines: Strokes, nearest: np.ndarray) -> np.ndarray:
    """(n,) bound of each piece's distance from its line, by their chords and how far both rise over them, mm."""
    near, each = lines.take(nearest), np.arange(len(pieces))
    chords = Strokes.lines(near.a, near.b)
    ends = np.maximum(chords.distance(pieces.a, each), chords.distance(pieces.b, each))
    bound: np.ndarray = ends + _rise(pieces) + _rise(near)
    return bound


def _by_circles(pieces: Strokes, lines: Strokes, nearest: np.ndarray) -> np.ndarray:
    """(n,) bound by the circles of two arcs: centres and radii apart, mm; inf where it does not hold.

    Seen from a centre well within its circle, an arc runs one way round: where its ends lie in directions that the line
    covers, all of it does, and is as far from the line as from the line's circle (derived). An end may also be a little
    beyond an end of the line: what hangs over is then no farther from there than its own ends are, and one of them is
    in the direction of the line's end. Arcs of a quarter turn do not reach round to its other end.
    """
    bound = np.full(len(pieces), np.inf)
    with np.errstate(invalid="ignore"):
        shift = np.hypot(*(pieces.centre - lines.centre[nearest]).T)
        radius, other = pieces.radius, lines.radius[nearest]
        near = pieces.arc & lines.arc[nearest] & (shift < radius / 2.0) & (np.abs(pieces.sweep) <= np.pi / 2.0)
        near &= np.abs(radius - other) <= ALIKE * radius
    some = np.flatnonzero(near)
    if len(some):
        part, line = pieces.take(some), lines.take(nearest[some])
        over = np.maximum(_overhang(part.a, line), _overhang(part.b, line))
        bound[some] = np.where(over <= OVERHANG * part.radius, np.maximum(_off_circle(part, line), over), np.inf)
    return bound


def _overhang(ends: np.ndarray, lines: Strokes) -> np.ndarray:
    """(n,) how far an end in no direction that its round line covers is from the nearer end of that; else 0."""
    covered = lines.facing(ends, np.arange(len(lines)))
    apart = np.minimum(np.hypot(*(ends - lines.a).T), np.hypot(*(ends - lines.b).T))
    return np.where(covered, 0.0, apart)


def _off_circle(arcs: Strokes, lines: Strokes) -> np.ndarray:
    """(n,) greatest distance of each arc from the whole circle of its line, mm.

    With d from centre to centre and u from the arc's centre to a place of it, |d + r u|² = r² + d² + 2 r d · u, and
    d · u is greatest and least at the ends of the arc or where u lies along d (derived).
    """
    shift, every = arcs.centre - lines.centre, np.arange(len(arcs))
    long = np.hypot(*shift.T)
    along = shift / np.where(long > 0.0, long, 1.0)[:, None]
    ends = [np.column_stack([np.cos(t), np.sin(t)]) for t in (arcs.first, arcs.first + arcs.sweep)]
    low, high = np.sort([np.einsum("ij,ij->i", shift, end) for end in ends], axis=0)
    high = np.where(arcs.facing(arcs.centre + arcs.radius[:, None] * along, every), long, high)
    low = np.where(arcs.facing(arcs.centre - arcs.radius[:, None] * along, every), -long, low)
    square = arcs.radius**2 + long**2
    most = np.sqrt(square + 2.0 * arcs.radius * high) - lines.radius
    least = np.sqrt(np.maximum(square + 2.0 * arcs.radius * low, 0.0)) - lines.radius
    off: np.ndarray = np.maximum(np.abs(most), np.abs(least))
    return off
