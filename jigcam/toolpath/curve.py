"""A smooth curve through points: lines where the points run straight, arcs where they turn, corners where they are
sharp.

Every arc leaves its point along the tangent of the one before, or nearly so: a machine need not slow down in it.
Between two points with their tangents lies a biarc, two arcs that share a tangent where they meet: K. M. Bolton,
Biarc curves, Computer-Aided Design 7 (1975), from memory.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from jigcam.geometry import Path

SHARP = math.radians(50.0)
"""A turn by more than this is a corner."""
BENT, LONG = math.radians(30.0), 0.25
"""So is a turn by more than the first between two lines that are as long as this share of the whole, or longer."""
STRAIGHT = 2.1
"""A stretch so many times as long as its neighbour is a straight line that the curve leaves along it."""
SAME_ARC = 0.35
"""A chord whose tangents lean to it unlike by no more than this share is spanned by one arc: the kinks that this leaves
are of a degree or two, and no machine slows down for them."""
KINK = math.radians(3.0)
"""No kink is larger."""
FLAT_TURN = 1e-3
"""rad; points that turn by less run straight."""


Row = tuple[float, float, float]


def smooth(points: npt.ArrayLike) -> Path:
    """The curve through points (n, 2), mm, open; n at least 2. Points on a circle give its arcs."""
    p = np.asarray(points, dtype=float).reshape(-1, 2)
    p = p[np.concatenate([[True], np.any(np.diff(p, axis=0) != 0.0, axis=1)])]
    if len(p) < 3:
        return Path.through(points)
    last = p[-1].tolist()
    return Path(np.array([*(row for rows in smooth_chords(p) for row in rows), (*last, 0.0)]))


def smooth_chords(p: npt.NDArray[np.float64]) -> list[list[Row]]:
    """The vertices of that curve, chord by chord and without its end; of points (n, 2), no neighbours the same."""
    z = [complex(x, y) for x, y in p.tolist()]
    if len(z) < 3:
        return [[(z[0].real, z[0].imag, 0.0)]]
    way = [b - a for a, b in pairwise(z)]
    round_trip = abs(z[-1] - z[0]) < 1e-9
    turn = [abs(_angle(a, b)) for a, b in pairwise([*way, way[0]])]
    if not round_trip:
        turn[-1] = math.inf
    least = LONG * float(np.ptp(p, axis=0).max())
    long = [abs(each) > least for each in way]
    sharp = [t > SHARP or (t > BENT and a and b) for t, a, b in zip(turn, long, [*long[1:], long[0]], strict=True)]
    # Corners stand where the curve begins and ends, and at every sharp turn; between them it is smooth.
    corners = [0, *(k for k in range(1, len(way)) if sharp[k - 1]), len(way)]
    closes = round_trip and not sharp[-1]
    rows: list[list[Row]] = []
    for first, last in pairwise(corners):
        before = way[-1] if first == 0 and closes else None
        after = way[0] if last == len(way) and closes else None
        rows += _smooth(z[first : last + 1], before, after)
    return rows


def _smooth(z: Sequence[complex], before: complex | None, after: complex | None) -> list[list[Row]]:
    """Vertices of the curve, chord by chord, from the first point up to, and without, the last one.

    before, after: the ways into the first point and out of the last, where the curve goes on there.
    """
    way = [b - a for a, b in pairwise(z)]
    inner = [_tangent(a, b) for a, b in pairwise(way)]
    if before is not None:
        first = _tangent(before, way[0])
    else:
        first = _mirrored(inner[0], way[0]) if inner else way[0] / abs(way[0])
    if after is not None:
        last = _tangent(way[-1], after)
    else:
        last = _mirrored(inner[-1], way[-1]) if inner else way[-1] / abs(way[-1])
    tangents = [first, *inner, last]
    return [_biarc(z[k], tangents[k], z[k + 1], tangents[k + 1]) for k in range(len(way))]


def _tangent(a: complex, b: complex) -> complex:
    """Unit tangent where the ways a and b meet: of the circle through the three points, or of the longer way."""
    if abs(a) > STRAIGHT * abs(b):
        return a / abs(a)
    if abs(b) > STRAIGHT * abs(a):
        return b / abs(b)
    middle = a / abs(a) ** 2 + b / abs(b) ** 2
    return middle / abs(middle)


def _mirrored(tangent: complex, way: complex) -> complex:
    """The tangent at the other end of an arc with that chord."""
    unit = way / abs(way)
    return unit * unit * tangent.conjugate()


def _biarc(p: complex, t: complex, q: complex, u: complex) -> list[Row]:
    """Vertices from p, left along t, to q, reached along u: one or two, q itself left out."""
    chord = q - p
    lean, tilt = _angle(t, chord), _angle(chord, u)
    if max(abs(lean), abs(tilt)) < FLAT_TURN:
        return [(p.real, p.imag, 0.0)]
    if abs(lean - tilt) <= min(SAME_ARC * max(abs(lean), abs(tilt)), KINK):
        return [(p.real, p.imag, math.tan((lean + tilt) / 4.0))]
    # Equal arms d: |q − p − d(t + u)| = 2d, a quadratic of which the root that goes forward is wanted.
    along, both = (chord.conjugate() * (t + u)).real, 2.0 - 2.0 * (t.conjugate() * u).real
    square = abs(chord) ** 2
    arm = square / (along + math.sqrt(along * along + both * square))
    m = (p + q + arm * (t - u)) / 2.0
    return [
        (p.real, p.imag, math.tan(_angle(t, m - p) / 2.0)),
        (m.real, m.imag, math.tan(_angle(q - m, u) / 2.0)),
    ]


def _angle(a: complex, b: complex) -> float:
    """From the direction of a to that of b, rad."""
    return cmath.phase(b / a)
