"""A rabbet in its board: the face with the step, and a section across it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.drawing import Axes, Dimension, Drawing, Item, View
from jigcam.drawing.scenes.board import break_line, edge_labels, outline, place_dimensions, window_on
from jigcam.geometry import Path, Region, apply, intersection, rectangle

if TYPE_CHECKING:
    from jigcam.joints.rabbet.rabbet import Rabbet
    from jigcam.units import Voice


def scene_rabbet(it: Rabbet, voice: Voice) -> Drawing:
    """The step on its board's face, and a section across it."""
    facts = [("board", f"{it.board.name}, {it.face} face"), ("along", it.along)]
    facts += [("width", voice.rule(it.width)), ("depth", voice.rule(it.depth))]
    views = (_face_view(it, voice.units), _section_view(it))
    return Drawing(it.name, (views,), voice.units, tuple(facts))


def _face_view(it: Rabbet, units: str) -> View:
    """The face that the step is cut in, lower edge down."""
    board = it.board
    seen = intersection(it.solid.region, rectangle(0.0, 0.0, board.length, board.width))
    window = window_on(board.length, board.width, seen.bounds)
    (low, high), aside = it.stretch, it.start + 0.35 * it.length
    places = [(it.width, low), (it.width, high), (0.0, aside), (it.width, aside)]
    start, end, edge, shoulder = ((float(x), float(y)) for x, y in apply(it.matrix, places))
    (a, b, _), (c, d, _) = it.matrix
    inward = 10.0 * (b * c - a * d)  # mm, to the left of the way from start to end
    dimensions = [Dimension(start, end, inward), Dimension(edge, shoulder, 0.0)]
    if not it.open_ends[0]:
        way = "y" if it.along in ("left", "right") else "x"
        dimensions += [
            each for each in place_dimensions(board, it.face, window, start, units, "x = 0") if each.along == way
        ]
    items = (*outline(window), Item("cut", seen, True))
    axes = Axes(origin=None if window.cut[0] or window.cut[1] else (0.0, 0.0))
    caption = f"{it.face} face of {board.name}, lower edge down"
    return View(caption, items, tuple(edge_labels(board, it.face, window, units)), tuple(dimensions), (), axes)


def _section_view(it: Rabbet) -> View:
    """Across the edge, the face up, the edge on the left."""
    thick, far = it.board.thickness, it.width + max(1.5 * it.width, 20.0)
    step = [(far, 0.0), (it.width, 0.0), (it.width, -it.depth), (0.0, -it.depth), (0.0, -thick), (far, -thick)]
    items = (
        Item("stock", Region((Path.through(step, closed=True),)), True, outlined=False),
        Item("stock", Path.through(step)),
        Item("break", break_line((far, -thick), (far, 0.0), min(3.0, 0.1 * thick))),
    )
    dimensions = (
        Dimension((0.0, -it.depth), (it.width, 0.0), it.depth + 6.0, along="x"),
        Dimension((0.0, -it.depth), (0.0, 0.0), 8.0, along="y"),
        Dimension((0.0, -thick), (0.0, -it.depth), 8.0, along="y"),
        Dimension((far, -thick), (far, 0.0), -8.0, along="y"),
    )
    return View(f"across the {it.name}", items, (), dimensions, minor=True)
