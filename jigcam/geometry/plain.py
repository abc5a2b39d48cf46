"""One point and a few lines and arcs, in plain numbers: the same answers as `Segments` and `winding` give of many.

Arrays of eight numbers cost a hundred times what their sums do; a search that asks for one place after the other, each
from what it found at the last, spends all of its time in calls. So here the same formulas stand once more, for one.
"""

from __future__ import annotations

import math

from jigcam.geometry.segment import Segments
from jigcam.geometry.winding import monotone


class PlainSegments:
    """The segments of closed loops, made ready for questions about single points; mm."""

    def __init__(self, segments: Segments) -> None:
        chain, _ = monotone(segments)
        self._feet = [
            (start + end, end - start, bulge)
            for start, end, bulge in zip(
                segments.start.tolist(), segments.end.tolist(), segments.bulge.tolist(), strict=True
            )
        ]
        self._chain = [
            (start, end, start + end, end - start, bulge)
            for start, end, bulge in zip(chain.start.tolist(), chain.end.tolist(), chain.bulge.tolist(), strict=True)
        ]

    def distance(self, point: complex) -> float:
        """Distance to the nearest of them, mm; inf where there are none. See `Segments.foot`."""
        least, twice = math.inf, 2.0 * point
        for both, chord, s in self._feet:
            q = (twice - both) / chord
            u, v = q.real, q.imag
            if s:
                k = (1.0 - s * s) / (2.0 * s)
                # Seen from the centre, the point lies within half the sweep of the middle of the arc.
                inside = abs(math.atan2(u, k - v if s > 0.0 else v - k)) <= 2.0 * math.atan(abs(s))
                radius = (1.0 + s * s) / (2.0 * abs(s))
                gap = abs(u * u + v * v - 1.0 - 2.0 * k * v) / (math.hypot(u, v - k) + radius)
            else:
                inside, gap = abs(u) <= 1.0, abs(v)
            if not inside:
                gap = math.hypot(abs(u) - 1.0, v)
            gap *= 0.5 * abs(chord)
            if gap < least:
                least = gap
        return least

    def winding_number(self, point: complex) -> int:
        """How often the loops wind round the point; see `winding.winding_number`."""
        x, y, number = point.real, point.imag, 0
        for start, end, both, chord, s in self._chain:
            up = end.imag > start.imag
            if not (start.imag <= y < end.imag if up else end.imag <= y < start.imag):
                continue
            q = (2.0 * point - both) / chord
            left_of_curve = ((1.0 - s * s) * q.imag - s * (q.real**2 + q.imag**2 - 1.0) > 0.0) == up
            if s == 0.0:
                right = x < min(start.real, end.real) or (left_of_curve and x <= max(start.real, end.real))
            elif (s > 0.0) == up:
                right = left_of_curve or x < min(start.real, end.real)
            else:
                right = left_of_curve and x <= max(start.real, end.real)
            if right:
                number += 1 if up else -1
        return number
