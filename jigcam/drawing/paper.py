"""Sheets of drawing paper, and where views, legend and title block stand on them. True size: 1 mm is 1 mm.

Frame of a page: mm, x to the right, y up, origin at the lower left corner of the paper.
"""

from __future__ import annotations

from typing import Literal

from jigcam.units import INCH, format_length
from jigcam.values import dataclass

FRAME = 10.0
"""From the paper's edge to the frame line."""
MARGIN = 5.0
"""Between the frame and what stands in it."""
GAP = 12.0
"""Between views."""

# ISO 216 A4 to A0 for millimetres, ASME Y14.1 sizes A to E for inches (both from memory): short and long side, mm.
PAPERS: dict[str, tuple[tuple[str, float, float], ...]] = {
    "mm": (
        ("A4", 210.0, 297.0),
        ("A3", 297.0, 420.0),
        ("A2", 420.0, 594.0),
        ("A1", 594.0, 841.0),
        ("A0", 841.0, 1189.0),
    ),
    "in": tuple(
        (name, short * INCH, long * INCH)
        for name, short, long in (("A", 8.5, 11), ("B", 11, 17), ("C", 17, 22), ("D", 22, 34), ("E", 34, 44))
    ),
}


@dataclass(frozen=True, slots=True)
class Paper:
    """Paper of one size: its name, and its width and height as it lies, mm."""

    name: str
    width: float
    height: float

    def size(self, units: str) -> str:
        """Name and size in words."""
        sides = (format_length(side, units).removesuffix(f" {units}") for side in (self.width, self.height))
        return f"{self.name}, " + " × ".join(sides) + f" {units}"


HomePaper = Literal["letter", "a4"]
HOME: dict[HomePaper, Paper] = {
    "letter": Paper("Letter", 8.5 * INCH, 11 * INCH),
    "a4": Paper("A4", 210.0, 297.0),
}
"""Paper of home printers, standing (ISO 216 and ASME Y14.1 size A, from memory)."""


def paper_for(width: float, height: float, units: str) -> Paper:
    """The smallest standard paper, lying or standing, that holds so much (mm, frame and margins included); one made
    to measure where none is large enough."""
    for name, short, long in PAPERS[units if units in PAPERS else "mm"]:
        if width <= long and height <= short:
            return Paper(name, long, short)
        if width <= short and height <= long:
            return Paper(name, short, long)
    return Paper("cut from the roll", float(-(-width // 10) * 10), float(-(-height // 10) * 10))


@dataclass(frozen=True, slots=True)
class Extent:
    """The size of something to be placed: its extent left, down, right and up of its own origin, mm."""

    left: float
    down: float
    right: float
    up: float

    @property
    def width(self) -> float:
        """Across."""
        return self.left + self.right

    @property
    def height(self) -> float:
        """Down."""
        return self.down + self.up


def extent_of(bounds: tuple[float, float, float, float]) -> Extent:
    """The size of something with these bounds (x0, y0, x1, y1) about its origin."""
    x0, y0, x1, y1 = bounds
    return Extent(-x0, -y0, x1, y1)


def arrange(rows: list[list[Extent]]) -> tuple[float, float, list[list[tuple[float, float]]]]:
    """Places blocks in rows from the top, each row aligned at its blocks' tops.

    Returns the width and height that everything takes, and for each block where its origin lies (x from the left, y up
    from the bottom of the whole).
    """
    widths = [sum(block.width for block in row) + GAP * (len(row) - 1) for row in rows]
    heights = [max(block.height for block in row) for row in rows]
    total = sum(heights) + GAP * max(len(rows) - 1, 0)
    places: list[list[tuple[float, float]]] = []
    top = total
    for row, height in zip(rows, heights, strict=True):
        left, line = 0.0, []
        for block in row:
            line.append((left + block.left, top - block.up))
            left += block.width + GAP
        places.append(line)
        top -= height + GAP
    return max(widths, default=0.0), total, places
