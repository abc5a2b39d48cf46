"""A board's face in a drawing: the part that matters, its edges and ends named, with breaks where it goes on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from jigcam.drawing.model import Dimension, Item, Label, Point, Spot
from jigcam.drawing.roles import Role
from jigcam.geometry import Path, Region, rectangle
from jigcam.units import format_length
from jigcam.wood.band import sides

if TYPE_CHECKING:
    from jigcam.job import Board

NEAR = 0.9
"""An edge of the board is shown if it is no further from the work than this many times the work's size …"""
LEAST = 60.0
"""… or than this, mm."""
AROUND = 0.3
"""Past a break, the board is shown for this share of the work's size beyond the work."""

Box = tuple[float, float, float, float]
Origin = Literal["nearer", "x = 0", "x = length"]
"""The end from which a drawing's figures run."""


@dataclass(frozen=True, slots=True)
class Window:
    """The part of a rectangle that is shown: x0, y0, x1, y1, and whether it goes on beyond each of them."""

    box: Box
    cut: tuple[bool, bool, bool, bool]

    def clamp(self, x: float, y: float) -> Point:
        """The nearest point within."""
        x0, y0, x1, y1 = self.box
        return min(max(x, x0), x1), min(max(y, y0), y1)

    @property
    def region(self) -> Region:
        """The part shown."""
        return rectangle(*self.box)


def window_on(length: float, width: float, work: Box, grow: float = 0.0) -> Window:
    """What to show of the rectangle (0, 0)–(length, width) about the work's bounds: up to an edge that is near, or
    else a little beyond the work. grow: further room wanted around the work, mm."""
    size = max(work[2] - work[0], work[3] - work[1])
    near, around = max(NEAR * size, LEAST), AROUND * size + 15.0 + grow
    low = [min(max(v, 0.0), limit) for v, limit in zip(work[:2], (length, width), strict=True)]
    high = [min(max(v, 0.0), limit) for v, limit in zip(work[2:], (length, width), strict=True)]
    box, cut = [], []
    for value in low:
        broken = value > near + around * 0.5
        box.append(value - around if broken else 0.0)
        cut.append(broken)
    for value, limit in zip(high, (length, width), strict=True):
        broken = limit - value > near + around * 0.5
        box.append(value + around if broken else limit)
        cut.append(broken)
    return Window((box[0], box[1], box[2], box[3]), (cut[0], cut[1], cut[2], cut[3]))


def break_line(a: Point, b: Point, size: float) -> Path:
    """A thin line with a zigzag in the middle, from a to b and a little beyond both (long break line, ISO 128-2, m)."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = (dx * dx + dy * dy) ** 0.5 or 1.0
    ux, uy = dx / length, dy / length
    stations = [
        (-0.5 * size, 0.0),
        (length / 2 - 0.75 * size, 0.0),
        (length / 2 - 0.25 * size, size),
        (length / 2 + 0.25 * size, -size),
        (length / 2 + 0.75 * size, 0.0),
        (length + 0.5 * size, 0.0),
    ]
    return Path.through([(a[0] + s * ux - t * uy, a[1] + s * uy + t * ux) for s, t in stations])


def outline(window: Window, role: Role = "stock") -> list[Item]:
    """The edges of a board within a window, and break lines where it goes on."""
    x0, y0, x1, y1 = window.box
    if not any(window.cut):
        return [Item(role, window.region)]
    size = min(5.0, 0.04 * max(x1 - x0, y1 - y0))
    sides = (((x0, y1), (x0, y0)), ((x0, y0), (x1, y0)), ((x1, y0), (x1, y1)), ((x1, y1), (x0, y1)))
    return [
        Item("break", break_line(*side, size)) if broken else Item(role, Path.through(side))
        for side, broken in zip(sides, window.cut, strict=True)
    ]


def end_names(face: str) -> tuple[str, str]:
    """What the sides at x = 0 and x = length are called: seen from the inside, the left end is on the right."""
    return sides(face)[:2]


def seen_on(board: Board, face: str) -> str:
    """Which face is looked at, and which of the board's ends is then at the left: a note below the views."""
    if face.endswith("end"):
        at_left = sides(face)[0]
        return f"The {face} of {board.name} is seen square, its outside face down: its {at_left} is then at the left."
    return (
        f"The {face} face of {board.name} is seen square, its lower edge down: the board's {end_names(face)[0]} is "
        "then at the left."
    )


def edge_labels(board: Board, face: str, window: Window, units: str) -> list[Label]:
    """Names of the edges and ends that are seen, and how far the board goes on past its breaks."""
    x0, y0, x1, y1 = window.box
    middle_x, middle_y = (x0 + x1) / 2, (y0 + y1) / 2
    at_zero, at_length = end_names(face)
    long, wide = format_length(board.length, units), format_length(board.width, units)
    whole = f"to the {at_length}, at {long}", f"to the upper edge, at {wide}"
    names: tuple[tuple[float, float, str, str, Spot], ...] = (
        (x0, middle_y, at_zero, "to the " + at_zero, "right"),
        (middle_x, y0, "lower edge", "to the lower edge", "above"),
        (x1, middle_y, at_length, whole[0], "left"),
        (middle_x, y1, "upper edge", whole[1], "below"),
    )
    return [
        Label(x, y, beyond if broken else name, spot, weight=1)
        for (x, y, name, beyond, spot), broken in zip(names, window.cut, strict=True)
    ]


def place_dimensions(
    board: Board, face: str, window: Window, point: Point, units: str, end: Origin = "nearer"
) -> list[Dimension]:
    """Where a point is, from the lower edge and from an end: the nearer one, or as words beside the drawing have it the
    one at x = 0 or at x = length; a dimension that crosses a break gives its true figure and says from where it is
    measured."""
    x0, y0, x1, _ = window.box
    x, y = point
    near_zero = not window.cut[0] or window.cut[2] or x <= board.length - x
    if end == "x = 0" or (end == "nearer" and near_zero):
        figure = f"{format_length(x, units)} from {end_names(face)[0]}" if window.cut[0] else ""
        ends = (x0, x)
    else:
        figure, ends = f"{format_length(board.length - x, units)} from {end_names(face)[1]}", (x1, x)
    dimensions = []
    if abs(ends[1] - ends[0]) > 1e-6:
        dimensions.append(Dimension((ends[0], y0), (ends[1], y), -(9.0), figure, "x"))
    if abs(y - y0) > 1e-6:
        figure = f"{format_length(y, units)} from lower edge" if window.cut[1] else ""
        dimensions.append(Dimension((x0, y0), (x, y), 9.0, figure, "y"))
    return dimensions
