"""Mortises in their boards: each face or end with the row in it, and a section across the first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigcam.drawing import Axes, Dimension, Drawing, Item, Label, View
from jigcam.drawing.model import Spot
from jigcam.drawing.scenes.board import break_line, edge_labels, outline, place_dimensions, window_on
from jigcam.geometry import Path, Region, apply, identity, mirror_x, rectangle

if TYPE_CHECKING:
    from jigcam.drawing.scenes.board import Window
    from jigcam.joints.mortise.mortise import Mortise
    from jigcam.joints.mortise.row import Row
    from jigcam.units import Voice

CLEAR = 5.0
"""A dimension line stands so far off the edge of a board at least, mm."""


def scene_mortise(it: Mortise, voice: Voice) -> Drawing:
    """Each board's face or end with its mortises, and a section along the first of each with the tenon in it."""
    first = it.first
    facts = [("board", f"{row.board.name}, {row.where}") for row in it.rows]
    facts += [("width", voice.rule(first.width)), ("length", voice.rule(first.length))]
    facts += [("depth", " and ".join(voice.rule(row.depth) for row in it.rows)), ("tenon", it.tenon.words(voice))]
    rows = tuple((_view(row, voice.units), _section(it, row)) for row in it.rows)
    notes = [
        f"The {row.end} end of {row.board.name} is seen, its lower edge at the {'right' if row.mirrored else 'left'}."
        for row in it.rows
        if row.end
    ]
    return Drawing(it.name, rows, voice.units, tuple(facts), tuple(notes))


def _view(row: Row, units: str) -> View:
    """Square at the face or the end, as it is seen: the right end with the lower edge at the right."""
    length, width = row.size
    seen = mirror_x(length) if row.mirrored else identity()

    def at(x: float, y: float) -> tuple[float, float]:
        (place,) = apply(seen, [(x, y)]).tolist()
        return place[0], place[1]

    region = row.solid.region.transformed(seen)
    window = window_on(length, width, region.bounds)
    lines = [Item("centreline", row.centreline(number).transformed(seen)) for number in range(row.count)]
    items = [*outline(window), Item("cut", region, True), *lines]
    (x, y), (ux, uy), half = row.at, row.along, row.length / 2.0
    ends = sorted([at(x - half * ux, y - half * uy), at(x + half * ux, y + half * uy)])
    away = row.width / 2.0 + 10.0
    to_edge = window.box[3] - max(y for _, y in ends)
    if abs(to_edge - away) < CLEAR:  # a dimension line along the board's edge is not told from it
        away = to_edge + CLEAR
    dimensions = [Dimension(ends[0], ends[1], away)]
    centre = at(x, y)
    if row.face:
        labels = edge_labels(row.board, row.face, window, units)
        dimensions += place_dimensions(row.board, row.face, window, centre, units)
    else:
        labels = _names(row, window)
        side = at(0.0, 0.0)[0]
        low, high = sorted((side, centre[0]))
        dimensions.append(Dimension((low, 0.0), (high, 0.0), -9.0, along="x"))
        dimensions.append(Dimension((window.box[0], 0.0), (window.box[0], y), 9.0, along="y"))
    if row.count > 1:
        pair = sorted((at(*row.centres[0]), at(*row.centres[1])))
        dimensions.append(Dimension(pair[0], pair[1], -(row.width / 2.0 + 10.0)))
    caption = f"{row.where} of {row.board.name}" + (", lower edge down" if row.face else ", outside face down")
    plain = not (window.cut[0] or window.cut[1] or row.mirrored)
    return View(caption, tuple(items), tuple(labels), tuple(dimensions), (), Axes(origin=(0.0, 0.0) if plain else None))


def _names(row: Row, window: Window) -> list[Label]:
    """Names of the sides of an end."""
    x0, y0, x1, y1 = window.box
    middle_x, middle_y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
    places: tuple[tuple[float, float, Spot], ...] = (
        (x0, middle_y, "right"),
        (x1, middle_y, "left"),
        (middle_x, y0, "above"),
        (middle_x, y1, "below"),
    )
    first, last, low, high = row.edges
    names = (last, first, low, high) if row.mirrored else row.edges
    return [
        Label(x, y, f"to the {name}" if broken else name, spot, weight=1)
        for (x, y, spot), name, broken in zip(places, names, window.cut, strict=True)
    ]


def _section(it: Mortise, row: Row) -> View:
    """Across the first mortise, the face or the end grain up, the tenon in it."""
    half, depth, tenon = row.width / 2.0, row.depth, it.tenon
    side = half + max(half, 12.0)
    low = -min(row.into, depth + max(0.5 * depth, 12.0))
    walls = [(half, 0.0), (half, -depth), (-half, -depth), (-half, 0.0)]
    body = Region((Path.through([(-side, low), (side, low), (side, 0.0), *walls, (-side, 0.0)], closed=True),))
    t, up = tenon.thickness / 2.0, min(8.0, tenon.length - depth)
    short = (it.rows[0].depth + it.rows[-1].depth - tenon.length) / 2.0
    items = (
        Item("stock", body, True, outlined=False),
        Item("stock", Path.through([(side, 0.0), *walls, (-side, 0.0)])),
        *(Item("break", break_line((x, low), (x, 0.0), 2.0)) for x in (-side, side)),
        Item("mate", rectangle(-t, -depth + short, t, up)),
    )
    dimensions = (
        Dimension((-half, 0.0), (half, 0.0), up + 8.0, along="x"),
        Dimension((side, -depth), (side, 0.0), -8.0, along="y"),
    )
    labels = (Label(0.0, (up - depth) / 2.0, "tenon", "on"),)
    return View(f"across the mortise in {row.board.name}", items, labels, dimensions, minor=True)
