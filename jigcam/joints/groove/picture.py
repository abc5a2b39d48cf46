"""The joint as it comes out: the board's face with the cut in it, and a section across the cut."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import groupby, pairwise
from typing import TYPE_CHECKING, Literal, Protocol

import numpy as np

from jigcam.drawing.model import AngleDimension, Axes, Dimension, Drawing, Item, Label, Point, View
from jigcam.drawing.scenes.board import break_line, edge_labels, outline, place_dimensions, seen_on, window_on
from jigcam.geometry import Path, Region, intersection, rectangle, union
from jigcam.units import format_angle, format_length

if TYPE_CHECKING:
    from jigcam.drawing.scenes.board import Origin, Window
    from jigcam.wood.solid import Cut


STATION = 0.6
"""Where along the cut the section is taken, as a share of its length: clear of the figures at the middle."""


class Entering(Protocol):
    """What has to be known of a board that enters the cut, mm."""

    @property
    def board(self) -> str:
        """Its name, or ""."""
        ...

    @property
    def thickness(self) -> float:
        """Of the part that enters."""
        ...


def scene_groove(cuts: Cut | Sequence[Cut], *, units: str = "mm", mate: Entering | None = None) -> Drawing:
    """Each cut on its board's face, dimensioned as a maker lays it out, and a section A–A of the first.

    cuts: of one joint, in face frames. mate: the board that enters it, drawn in the section.
    """
    cuts = tuple(cuts) if isinstance(cuts, Sequence) else (cuts,)
    first = cuts[0]
    angle = _angle(first)
    facts = [
        ("board", f"{first.board.name}, {first.face} face"),
        ("hand", " and ".join(dict.fromkeys(cut.hand for cut in cuts))),
        ("width", format_length(first.width, units)),
        ("length", format_length(first.centreline.length, units)),
        ("depth", format_length(first.solid.depth, units)),
        ("angle", format_angle(angle)),
    ]
    if len({(cut.hand, cut.face) for cut in cuts}) < len(cuts):
        facts.append(("alike", f"{sum((cut.hand, cut.face) == (first.hand, first.face) for cut in cuts)} in a row"))
    rows_of = [list(some) for _, some in groupby(cuts, key=lambda cut: (cut.hand, cut.face))]
    faces = [
        face_view(row[0], units, marked=place == 0, row=row[1:], origin=_origin(row[0], first))
        for place, row in enumerate(rows_of)
    ]
    rows = ((faces[0], section_view(first, units, mate)), *((face,) for face in faces[1:]))
    return Drawing(first.joint, rows, units, tuple(facts), (seen_on(first.board, first.face),))


def face_view(cut: Cut, units: str, *, marked: bool = True, row: Sequence[Cut] = (), origin: Origin = "x = 0") -> View:
    """The face that the cut is in, lower edge down. marked: with the plane of the section A–A. row: others like it.
    origin: from which figures along the grain run, as the words of the sheet have it."""
    board = cut.board
    window, seen = shown(cut, row)
    start, finish = cut.centreline.start, cut.centreline.end
    # Zero of the picture is where the file of that hand has it.
    mirrored = origin == "x = length"
    corner = board.length if mirrored else 0.0
    angle = _angle(cut)
    # On the side away from the angle's arc; where there is no arc, where there is more board.
    side = math.copysign(1.0, angle) if not _square(angle) else 1.0 if _points_left(cut) else -1.0
    items = [*outline(window), Item("cut", seen, True), Item("centreline", _beyond(cut.centreline, 4.0))]
    items += [Item("centreline", _beyond(each.centreline, 4.0)) for each in row]
    labels = [
        *edge_labels(board, cut.face, window, units),
        Label(*window.clamp(*start), "start" + (", open" if cut.open_start else ""), "near", True, weight=2),
        Label(*window.clamp(*finish), "finish" + (", open" if cut.open_finish else ""), "near", True, weight=2),
    ]
    dimensions = [
        *place_dimensions(board, cut.face, window, start, units, origin),
        Dimension(start, finish, side * (cut.width / 2 + 18.0)),
    ]
    if row:
        labels += [
            Label(*window.clamp(*each.centreline.end), f"{number}", "near", True, weight=2)
            for number, each in enumerate(row, start=2)
        ]
        (x0, y0), (x1, y1) = start, row[0].centreline.start
        way: Literal["x", "y", "points"] = "x" if y0 == y1 else "y" if x0 == x1 else "points"
        dimensions.append(Dimension(start, row[0].centreline.start, -8.0, along=way))
    reach = min(0.45 * cut.centreline.length, 60.0)
    angles = () if _square(angle) else (AngleDimension(start, min(0.0, angle), max(0.0, angle), reach),)
    if marked:
        for end, letter_at in _plane(cut):
            items.append(Item("plane", Path.through(end)))
            labels.append(Label(*letter_at, "A", "on", weight=3, size=3.5))
    caption = f"{cut.face} face of {board.name}, {cut.hand}, lower edge down"
    return View(
        caption,
        tuple(items),
        tuple(labels),
        tuple(dimensions),
        angles,
        Axes(origin=None if window.cut[2 if mirrored else 0] or window.cut[1] else (corner, 0.0)),
    )


def _origin(cut: Cut, first: Cut) -> Origin:
    """Where figures along run from: the end at the left, which in a mirrored cut is at the right."""
    return "x = length" if (cut.hand != first.hand) != (cut.face != first.face) else "x = 0"


def shown(cut: Cut, row: Sequence[Cut]) -> tuple[Window, Region]:
    """The part of the face that is shown, and what is removed within the board. row: others like the cut."""
    board = cut.board
    drawn = cut.solid.section(0.0)
    if row:
        drawn = union(drawn, *(each.solid.section(0.0) for each in row))
    seen = intersection(drawn, rectangle(0.0, 0.0, board.length, board.width))
    return window_on(board.length, board.width, (seen if not seen.is_empty else drawn).bounds), seen


def section_view(cut: Cut, units: str, mate: Entering | None = None) -> View:
    """Across the cut at `STATION`, seen from start to finish, the face up."""
    board, depth = cut.board, cut.solid.depth
    walls = profile(cut)
    half = max(abs(x) for x, _ in walls)
    side = half + max(0.8 * half, 12.0)
    low = -board.thickness
    body = Region((Path.through([(-side, low), (side, low), (side, 0.0), *walls, (-side, 0.0)], closed=True),))
    size = min(3.0, 0.1 * board.thickness)
    items = [Item("stock", body, True, outlined=False), Item("stock", Path.through([(-side, low), (side, low)]))]
    items += [Item("stock", Path.through([(end, 0.0), edge])) for end, edge in ((-side, walls[-1]), (side, walls[0]))]
    items += [Item("break", break_line((x, low), (x, 0.0), size)) for x in (-side, side)]
    items.append(Item("cut", Path.through(walls)))
    left, right = walls[-1][0], walls[0][0]
    dimensions = [
        Dimension((left, 0.0), (right, 0.0), 8.0, along="x"),
        Dimension((side, -depth), (side, 0.0), -8.0, along="y"),
        Dimension((-side, low), (-side, 0.0), 8.0, along="y"),
    ]
    if board.thickness - depth > 1e-6:
        dimensions.append(Dimension((side, low), (side, -depth), -16.0, along="y"))
    labels = []
    if mate is not None and mate.thickness > 0:
        t = mate.thickness / 2
        up = min(6.0, depth)
        items.append(Item("mate", Path.through([(-t, up), (-t, -depth), (t, -depth), (t, up)])))
        labels.append(Label(0.0, (up - depth) / 2, mate.board or "mate", "on"))
        dimensions[0] = Dimension((left, 0.0), (right, 0.0), up + 5.0, along="x")
    caption = f"A–A, across the {cut.joint or 'cut'}"
    return View(caption, tuple(items), tuple(labels), tuple(dimensions), minor=True)


def profile(cut: Cut) -> list[Point]:
    """The cut's walls and bottom in the plane across it at `STATION`, from the right edge on the face, down, along the
    bottom and up to the left edge: points (to the right of the centreline seen from the start, height)."""
    (place,), (way,) = cut.centreline.at([STATION * cut.centreline.length])
    right = np.array([way[1], -way[0]])
    levels = cut.solid.levels()
    eps = 1e-6 * cut.solid.depth
    steps: list[float] = []
    for upper, lower in pairwise(levels):
        steps += [upper - eps, lower + eps]
    sections = [(round(z, 4) + 0.0, cut.solid.section(z)) for z in steps]
    down = [(_reach(section, place, right), z) for z, section in sections]
    up = [(-_reach(section, place, -right), z) for z, section in reversed(sections)]
    return down + up


def _reach(region: Region, place: np.ndarray, way: np.ndarray) -> float:
    """How far from a point within a region its boundary is that way, mm: steps as long as the distance to the boundary
    never pass it, and the last one ends on it."""
    gone = 0.0
    for _ in range(200):
        free = float(region.signed_distance((place + gone * way)[None, :])[0])
        if free < 1e-6:
            break
        gone += free
    return round(gone, 5)


def _plane(cut: Cut) -> list[tuple[list[Point], Point]]:
    """The two marks of the section plane across the cut, and where their letters stand."""
    (place,), (way,) = cut.centreline.at([STATION * cut.centreline.length])
    across = np.array([way[1], -way[0]])
    marks = []
    for sign in (-1.0, 1.0):
        inner, outer = cut.width / 2 + 3.0, cut.width / 2 + 9.0
        end = place + sign * outer * across
        tip = end + 5.0 * way  # the way the section is looked at
        mark = [_point(place + sign * inner * across), _point(end), _point(tip)]
        marks.append((mark, _point(end + sign * 3.5 * across)))
    return marks


def _point(pair: np.ndarray) -> Point:
    return float(pair[0]), float(pair[1])


def _angle(cut: Cut) -> float:
    (x0, y0), (x1, y1) = cut.centreline.start, cut.centreline.end
    return math.atan2(y1 - y0, x1 - x0)


def _square(angle: float) -> bool:
    return abs(math.sin(2 * angle)) < 1e-9


def _points_left(cut: Cut) -> bool:
    """Whether there is more board to the left of the cut's way than to its right."""
    (place,), (way,) = cut.centreline.at([cut.centreline.length / 2])
    middle = np.array([cut.board.length / 2, cut.board.width / 2]) - place
    return bool(way[0] * middle[1] - way[1] * middle[0] > 0)


def _beyond(line: Path, by: float) -> Path:
    """The line, carried on by a little at both ends, as axes are drawn."""
    (a, b), ways = line.at([0.0, line.length])
    return Path.through([a - by * ways[0], *line.points()[1:-1], b + by * ways[1]])
