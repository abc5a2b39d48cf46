"""A sliding dovetail: the socket on its face, socket and tail in section, and the tail board as it stands."""

from __future__ import annotations

from math import degrees
from typing import TYPE_CHECKING

from jigcam.drawing import Axes, Dimension, Drawing, Item, Label, View
from jigcam.drawing.scenes.board import break_line, edge_labels, outline, place_dimensions, seen_on, window_on
from jigcam.geometry import Path, Region, intersection, rectangle
from jigcam.joints.sliding_dovetail.shape import UNDER

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.joint import SlidingDovetail
    from jigcam.joints.sliding_dovetail.shape import FlankLine
    from jigcam.units import Voice


def scene_sliding(it: SlidingDovetail, voice: Voice) -> Drawing:
    """The socket on its board, a section across it with the tail in it, and the end of the tail board."""
    shape = it.shape
    facts = [("socket", f"{it.board.name}, {it.face} face"), ("tail", f"{it.tail_board.name}, {it.tail_end} end")]
    facts += [("base", voice.rule(shape.base)), ("neck", voice.rule(shape.necks[0]))]
    facts += [("depth", voice.rule(shape.depth)), ("flank", f"{degrees(shape.flank):.3g}°")]
    views = ((_face_view(it, voice.units), _section_view(it)), (_end_view(it),))
    return Drawing(it.name, views, voice.units, tuple(facts), (seen_on(it.board, it.face),))


def _face_view(it: SlidingDovetail, units: str) -> View:
    """The face that the socket is in, lower edge down: its mouth, and its bottom as hidden lines."""
    board, shape = it.board, it.shape
    whole = rectangle(0.0, 0.0, board.length, board.width)
    bottom = intersection(it.socket.section(-shape.depth), whole)
    mouth = intersection(it.socket.section(0.0), whole)
    window = window_on(board.length, board.width, bottom.bounds)
    start, finish = (it.band.at(s) for s in it.on_board)
    items = (*outline(window), Item("cut", mouth, True), Item("hidden", bottom))
    labels = (
        *edge_labels(board, it.face, window, units),
        Label(*start, "start" + ("" if shape.stopped_start else ", open"), "near", True, weight=2),
        Label(*finish, "finish" + ("" if shape.stopped_finish else ", open"), "near", True, weight=2),
    )
    dimensions = (
        *place_dimensions(board, it.face, window, start, units),
        Dimension(start, finish, shape.base / 2.0 + 14.0),
    )
    axes = Axes(origin=None if window.cut[0] or window.cut[1] else (0.0, 0.0))
    caption = f"{it.face} face of {board.name}, lower edge down"
    return View(caption, items, labels, dimensions, (), axes)


def _section_view(it: SlidingDovetail) -> View:
    """FlankLine the socket where the tail goes in, seen from start to finish, the face up, the tail a little lifted."""
    shape, thick = it.shape, it.board.thickness
    station = shape.length if shape.enters_at_finish else 0.0
    # Seen along the way from start to finish, what is to its left is on the left.
    right, left = -shape.low(0.0).at(station), -shape.high(0.0).at(station)
    neck_right, neck_left = -shape.low(shape.depth).at(station), -shape.high(shape.depth).at(station)
    half = max(abs(left), abs(right)) + 14.0
    walls = [(neck_right, 0.0), (right, -shape.depth), (left, -shape.depth), (neck_left, 0.0)]
    body = [(-half, -thick), (half, -thick), (half, 0.0), *walls, (-half, 0.0)]
    tail = [(-line.at(station), h) for line, h in _tail_corners(it)]
    lift = shape.depth + 6.0
    top = lift + 10.0
    v = it.tail_board.thickness / 2.0
    stands = [(-v, top), (-v, lift), *[(x, lift - shape.depth + h) for x, h in tail], (v, lift), (v, top)]
    items = (
        Item("stock", Region((Path.through(body, closed=True),)), True, outlined=False),
        Item("stock", Path.through([(-half, -thick), (half, -thick)])),
        Item("stock", Path.through([(-half, 0.0), (neck_left, 0.0)])),
        Item("stock", Path.through([(neck_right, 0.0), (half, 0.0)])),
        Item("cut", Path.through(walls)),
        Item("mate", Path.through(stands)),
        *(Item("break", break_line((x, -thick), (x, 0.0), min(3.0, 0.1 * thick))) for x in (-half, half)),
        Item("break", break_line((-v, top), (v, top), 2.0)),
    )
    dimensions = (
        Dimension((left, -shape.depth), (right, -shape.depth), -(thick - shape.depth) - 7.0, along="x"),
        Dimension((half, -shape.depth), (half, 0.0), -8.0, along="y"),
        Dimension((-half, -thick), (-half, 0.0), 8.0, along="y"),
    )
    labels = (
        Label(0.0, lift + 5.0, it.tail_board.name, "on"),
        Label(-half + 4.0, -thick / 2.0, it.board.name, "right"),
    )
    return View(f"across the {it.name}, the tail lifted out", items, labels, dimensions, minor=True)


def _tail_corners(it: SlidingDovetail) -> list[tuple[FlankLine, float]]:
    shape = it.shape
    return [
        (shape.high(shape.depth, tail=True), shape.depth),
        (shape.high(UNDER, tail=True), UNDER),
        (shape.low(UNDER, tail=True), UNDER),
        (shape.low(shape.depth, tail=True), shape.depth),
    ]


def _end_view(it: SlidingDovetail) -> View:
    """The end of the tail board as it stands on the machine, its outside face below, its lower edge on the left."""
    board, place, shape = it.tail_board, it.place, it.shape
    whole = rectangle(0.0, 0.0, board.width, board.thickness)
    gone = intersection(it.around_tail.section(0.0), whole)
    shoulder = intersection(it.around_tail.section(-shape.tail_length), whole)
    items = (Item("stock", whole), Item("cut", gone, True), Item("hidden", shoulder))
    station = shape.length if shape.enters_at_finish else 0.0
    y = min(max(place.y(station), 0.0), board.width)
    low, high = sorted(
        place.deep(line.at(station)) for line in (shape.low(UNDER, tail=True), shape.high(UNDER, tail=True))
    )
    toward = -9.0 if y > board.width / 2.0 else 9.0
    dimensions = [
        Dimension((0.0, 0.0), (board.width, 0.0), -13.0, along="x"),  # the name of the face stands between
        Dimension((y, low), (y, high), toward, along="y"),
    ]
    ends = sorted(place.y(s) for s in place.ends(UNDER))
    if max(place.notches):
        dimensions.append(Dimension((ends[0], board.thickness), (ends[1], board.thickness), 8.0, along="x"))
    labels = (
        Label(board.width / 2.0, 0.0, "outside face", "below"),
        Label(0.0, board.thickness / 2.0, "lower edge", "right"),
        Label(board.width, board.thickness / 2.0, "upper edge", "left"),
    )
    return View(f"{it.tail_end} end of {board.name}, the tail in white", items, labels, tuple(dimensions), minor=True)
