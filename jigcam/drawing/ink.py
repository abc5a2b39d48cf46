"""What a page is made of: strokes, fillings and words, each with the role that says how it is drawn.

Frame: mm on paper, y up. Renderers only write these down; everything that is decided is decided before.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np

from jigcam.drawing.roles import Role
from jigcam.drawing.text import advance
from jigcam.geometry import Path

Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class InkLine:
    """A line of a role; solid: also filled with its ink (arrowheads)."""

    role: Role
    path: Path
    solid: bool = False


@dataclass(frozen=True, slots=True)
class Fill:
    """The inside of outlines, by the even-odd rule, with the role's hatching."""

    role: Role
    loops: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class Words:
    """Text on its base line at (x, y). size: height of its capitals. angle_deg: anticlockwise, about (x, y). room: how
    wide it runs, 0 for as wide as the letters are."""

    x: float
    y: float
    text: str
    size: float = 2.5
    anchor: Anchor = "start"
    angle_deg: float = 0.0
    bold: bool = False
    role: Role = "dimension"
    room: float = 0.0

    @property
    def corners(self) -> np.ndarray:
        """(4, 2): the corners of the room that it takes, a little more than the letters."""
        left, low, right, high = self._room
        table = np.array([(left, low), (right, low), (right, high), (left, high)])
        a = math.radians(self.angle_deg)
        turn = np.array([[math.cos(a), math.sin(a)], [-math.sin(a), math.cos(a)]])
        corners: np.ndarray = table @ turn + (self.x, self.y)
        return corners

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """x0, y0, x1, y1 of that room."""
        if not self.angle_deg:  # as most words are: in plain numbers
            left, low, right, high = self._room
            return left + self.x, low + self.y, right + self.x, high + self.y
        corners = self.corners
        (x0, y0), (x1, y1) = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
        return x0, y0, x1, y1

    @property
    def _room(self) -> tuple[float, float, float, float]:
        """The same of words that stand level at the origin."""
        wide = self.room or advance(self.text, self.size) * (1.08 if self.bold else 1.0)
        left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[self.anchor]
        pad = 0.15 * self.size
        return left - pad, -0.35 * self.size - pad, left + wide + pad, self.size + pad


@dataclass(slots=True)
class Ink:
    """A collection of all three."""

    strokes: list[InkLine] = field(default_factory=list)
    fills: list[Fill] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)

    def line(self, role: Role, *points: tuple[float, float]) -> None:
        """A run of straight lines."""
        self.strokes.append(InkLine(role, Path.through(points)))

    def box(self, role: Role, x0: float, y0: float, x1: float, y1: float) -> None:
        """The outline of a rectangle."""
        self.strokes.append(InkLine(role, Path.through([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], closed=True)))

    def arrow(self, role: Role, tip: tuple[float, float], way: tuple[float, float], size: float = 3.0) -> None:
        """A slim filled head whose tip is there, pointing that way (unit vector)."""
        (x, y), (ux, uy) = tip, way
        back = (x - ux * size, y - uy * size)
        half = size / 6.0
        corners = [tip, (back[0] - uy * half, back[1] + ux * half), (back[0] + uy * half, back[1] - ux * half)]
        self.strokes.append(InkLine(role, Path.through(corners, closed=True), solid=True))

    def moved(self, dx: float, dy: float) -> Ink:
        """The same elsewhere."""
        return Ink(
            [InkLine(s.role, s.path.moved(dx, dy), s.solid) for s in self.strokes],
            [Fill(f.role, tuple(p.moved(dx, dy) for p in f.loops)) for f in self.fills],
            [replace(w, x=w.x + dx, y=w.y + dy) for w in self.words],
        )

    def add(self, other: Ink) -> None:
        """All of the other's as well."""
        self.strokes += other.strokes
        self.fills += other.fills
        self.words += other.words

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """x0, y0, x1, y1 of all of it; zeros if there is nothing."""
        return _hull(
            [
                *(s.path.bounds for s in self.strokes),
                *(p.bounds for f in self.fills for p in f.loops),
                *(w.bounds for w in self.words),
            ]
        )


def _hull(boxes: Iterable[tuple[float, ...]]) -> tuple[float, float, float, float]:
    table = np.array([tuple(box) for box in boxes], float).reshape(-1, 4)
    if not len(table):
        return 0.0, 0.0, 0.0, 0.0
    low, high = table[:, :2].min(axis=0), table[:, 2:].max(axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])
