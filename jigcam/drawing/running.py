"""Running dimensions: many places along one line, every figure from the same origin, so that no error adds up.

The origin has a small circle, the line runs past all places, and each figure stands at the end of its extension line,
square to the line of dimensions (ISO 129-1, running dimensioning, from memory). Where places are nearer to each other
than figures are high, the extension lines have a knee and the figures stand apart. Frame: mm on paper, of the view.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

from jigcam.drawing.text import clean
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.drawing.ink import Ink

FIGURE = 2.5
"""Height of the figures, mm."""
APART = 3.9
"""Between the base lines of neighbouring figures at least, mm."""
KNEE = 7.0
"""Length of the extension line beyond the line of dimensions, knee and all, mm."""


@dataclass(frozen=True, slots=True)
class Running:
    """Places along x or y.

    origin: from where they are measured, a point on the edge of the shape. marks: for each place its way from the
    origin along the axis, negative to the left or down; how far from the origin across the axis it stands on the shape
    (there its extension line begins); and its figure. offset: of the line of dimensions from the origin, square to the
    axis, mm on paper: up (along x) or to the right (along y) if positive, and figures stand on that side.
    """

    along: Literal["x", "y"]
    origin: tuple[float, float]
    marks: tuple[tuple[float, float, str], ...]
    offset: float

    def point(self, at: float, across: float) -> tuple[float, float]:
        """A point of the view, from its way along the axis and across it."""
        x, y = self.origin
        return (x + at, y + across) if self.along == "x" else (x + across, y + at)


def spread(wanted: Sequence[float], apart: float = APART) -> list[float]:
    """Places as near to the wanted ones (ascending) as may be, and `apart` from each other.

    >>> spread([0.0, 1.0, 20.0], 4.0)
    [-1.5, 2.5, 20.0]
    """
    groups: list[tuple[float, int]] = []  # middle and count of figures that stand close together
    for place in wanted:
        groups.append((place, 1))
        while len(groups) > 1:
            (a, m), (b, n) = groups[-2:]
            if b - a >= apart * (m + n) / 2.0 - 1e-9:
                break
            groups[-2:] = [((a * m + b * n) / (m + n), m + n)]
    return [middle + apart * (k - (count - 1) / 2.0) for middle, count in groups for k in range(count)]


def ink_running(running: Running, ink: Ink) -> None:
    """Draws it."""
    from jigcam.drawing.ink import InkLine, Words
    from jigcam.geometry import disc

    out = math.copysign(1.0, running.offset)
    marks = sorted(running.marks)
    line = running.offset
    low, high = min(0.0, marks[0][0]), max(0.0, marks[-1][0])
    ink.line("dimension", running.point(low, line), running.point(high, line))
    (circle,) = disc(*running.point(0.0, line), 1.0).loops
    ink.strokes.append(InkLine("dimension", circle))
    _extension(ink, running, 0.0, 0.0, line)
    for (at, reach, figure), stands in zip(marks, spread([at for at, _, _ in marks]), strict=True):
        way = math.copysign(1.0, at)
        if abs(at) > 2.0:
            tip = running.point(at, line)
            ink.arrow("dimension", tip, (way, 0.0) if running.along == "x" else (0.0, way), 2.2)
        _extension(ink, running, at, reach, line)
        knee = [running.point(at, line), running.point(at, line + out * 1.5)]
        knee += [running.point(stands, line + out * (KNEE - 1.5)), running.point(stands, line + out * KNEE)]
        ink.line("extension", *knee)
        x, y = running.point(stands, line + out * (KNEE + 0.8))
        anchor: Literal["start", "end"] = "start" if out > 0.0 else "end"
        half = FIGURE / 2.0
        if running.along == "x":
            ink.words.append(Words(x + half, y, clean(figure), FIGURE, anchor, 90.0))
        else:
            ink.words.append(Words(x, y - half, clean(figure), FIGURE, anchor))


def _extension(ink: Ink, running: Running, at: float, reach: float, line: float) -> None:
    """From the shape to the line of dimensions."""
    start = reach + math.copysign(1.0, line - reach)
    if abs(line - reach) > 1.5:
        ink.line("extension", running.point(at, start), running.point(at, line))
