"""The arms that say which way the axes of a view run: below its ink, or beside it at the lower left."""

from __future__ import annotations

from jigcam.drawing.ink import Ink, Words
from jigcam.drawing.model import Axes
from jigcam.drawing.text import clean

SMALL = 2.5
"""Height of the capitals of their names, mm."""
ACROSS, UP = 16.0, 12.0
"""The room that arms with their names take, mm."""
OFF = 4.0
"""From what is drawn to arms beside it, mm; they come nearer by such steps where that meets nothing."""


def arms(axes: Axes, corner: tuple[float, float]) -> Ink:
    """Both arms, from a corner, with their names."""
    ink = Ink()
    x, y = corner
    ink.line("dimension", (x, y + 9.0), corner, (x + 9.0, y))
    ink.arrow("dimension", (x, y + 10.0), (0.0, 1.0), 2.5)
    ink.arrow("dimension", (x + 10.0, y), (1.0, 0.0), 2.5)
    ink.words.append(Words(x + 11.0, y - 0.9, clean(axes.x), SMALL))
    ink.words.append(Words(x + 1.2, y + 8.0, clean(axes.y), SMALL))
    return ink


def arms_below(axes: Axes, drawn: Ink) -> Ink:
    """The arms below what is drawn, at its left."""
    x0, y0, _, _ = drawn.bounds
    return arms(axes, (x0 + 2.0, y0 - 12.0))


def arms_beside(axes: Axes, drawn: Ink) -> Ink:
    """The arms at the lower left of what is drawn, as far in as they meet nothing: so they take no height."""
    x0, y0, _, _ = drawn.bounds
    boxes = [
        *((s.path.bounds) for s in drawn.strokes),
        *((*w.corners.min(axis=0), *w.corners.max(axis=0)) for w in drawn.words),
    ]
    left = x0 - ACROSS - OFF
    for _ in range(int(ACROSS / OFF) + 1):
        u, v = left + OFF + ACROSS, y0 + UP
        if any(a < u and left + OFF < c and b < v and y0 < d for a, b, c, d in boxes):
            break
        left += OFF
    return arms(axes, (left + 1.5, y0 + 2.0))
