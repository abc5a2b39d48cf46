"""Laying marks and sights on a sheet: lines of the board, centreline, and what has to be read off it.

The upper face as milled is the one for the hand as drawn. Turned over about the grain's square (x mirrored), the same
sheet serves the opposite hand: sights, holes through the sheet, show the lines on that face.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jigcam.geometry import Region, union
from jigcam.template.box import Box
from jigcam.template.free import FreeSpace
from jigcam.template.marks import Mark, Stroke, Text, text_width
from jigcam.template.screws import CLEAR, SheetHole
from jigcam.template.sheet import LOWER, SheetLayout
from jigcam.wood.solid import Cut

GAP = 3.0
"""Marks keep this far from opening, holes, the sheet's edge and each other, mm: 2 mm and a generous stroke."""
SHORTEST = 4.0
"""Shorter pieces of a line are left out, mm."""
TICK = 7.0
"""Length of a centreline tick beyond the opening, mm."""
INDEX = "index line"
SLACK = 1e-6
"""mm; what lies off a line by less lies on it."""
HEIGHTS = (5.0, 4.0, 3.0)
"""Heights of capitals that are tried, mm: the first is some ten times the width of a stroke by a vee of 60°, as in
lettering of type B (ISO 3098-1, from memory)."""
LEADING = 1.7
"""Distance of baselines over the height of capitals."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Marking:
    """What is engraved, what is drilled, and the texts for which there is no room."""

    marks: tuple[Mark, ...]
    sights: tuple[SheetHole, ...]
    left_out: tuple[str, ...]


def mark_sheet(
    layout: SheetLayout,
    openings: Sequence[tuple[Region, Cut]],
    screws: Sequence[SheetHole],
    *,
    sight: float,
    lines: Sequence[str],
    labels: dict[int, str],
    blocks: Sequence[tuple[Sequence[str], Point]] = (),
) -> Marking:
    """Marks and sights for a sheet.

    openings: with the cut that each is for. sight: diameter of the sights, mm. lines: texts of the main block. labels:
    text beside the line of each side of the board (a strip's edge, or an index line), by side. blocks: further blocks
    of texts, each near a place.
    """
    sheet, cut = layout.box, openings[0][1]
    opening = openings[0][0] if len(openings) == 1 else union(*(each for each, _ in openings))
    ends = [end for each, its in openings for end in _beyond(each, its)]
    index_lines = [_across(sheet, index.side < LOWER, index.at) for index in layout.indexes]
    board = Box(0.0, 0.0, cut.board.length, cut.board.width)
    for dx, dy in layout.steps:  # a sight shows the board wherever the sheet is moved to
        board = board.within(Box(0.0, 0.0, cut.board.length, cut.board.width).moved(-dx, -dy))
    sights = tuple(_sights(ends, index_lines, opening, screws, sheet, board, sight))
    obstacles = Obstacles(opening, (*screws, *sights))
    but_for_sights = Obstacles(opening, tuple(screws))
    strokes: list[Stroke] = []
    anchors: dict[int, Point] = {}
    for side, line, says in _lines(layout, cut, index_lines):
        pieces = list((but_for_sights if says == INDEX else obstacles).clear_of(line))
        strokes += [Stroke(piece, says) for piece in pieces]
        if pieces:
            longest = max(pieces, key=lambda piece: np.hypot(*np.subtract(piece[0], piece[1])))
            anchors[side] = tuple((np.array(longest[0]) + longest[1]) / 2.0)
    for point, way in ends:
        tick = (point + GAP * way, point + _tick_end(point, way, sights, sheet) * way)
        strokes += [Stroke(piece, "centreline") for piece in but_for_sights.clear_of(tick)]
    space = FreeSpace(sheet, GAP)
    space.take_region(opening)
    for hole in (*screws, *sights):
        space.take_box(Box(hole.x, hole.y, hole.x, hole.y).grown(hole.across / 2.0))
    strokes += [Stroke(line, "a hole to drill") for hole in screws if hole.by_hand for line in hole.cross]
    for stroke in strokes:
        space.take_line(stroke.points)
    beside = [([labels[side]], anchors[side]) for side in anchors if side in labels]
    texts, left_out = _write(space, sheet, lines, [*beside, *blocks])
    return Marking((*strokes, *texts), sights, left_out)


@dataclass(frozen=True, slots=True)
class Obstacles:
    """What lines have to keep clear of: the opening and the holes."""

    opening: Region
    holes: tuple[SheetHole, ...]

    def gap(self, points: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        """Distance (k,) of points (k, 2) to the nearest obstacle, mm; negative within one."""
        gap = -self.opening.signed_distance(points)
        for hole in self.holes:
            gap = np.minimum(gap, np.hypot(points[:, 0] - hole.x, points[:, 1] - hole.y) - hole.across / 2.0)
        return gap

    def clear_of(self, line: Sequence[npt.ArrayLike]) -> Iterator[tuple[Point, Point]]:
        """The pieces of a straight line that keep `GAP` to every obstacle, within half a millimetre."""
        p, q = (np.asarray(end, dtype=float) for end in line)
        count = max(2, int(2.0 * np.hypot(*(q - p))) + 1)
        points = p + np.linspace(0.0, 1.0, count)[:, None] * (q - p)
        free = np.concatenate([[False], self.gap(points) >= GAP - 1e-9, [False]])
        edges = np.flatnonzero(np.diff(free.astype(int)))
        for first, beyond in edges.reshape(-1, 2):
            start, end = points[first], points[beyond - 1]
            if np.hypot(*(end - start)) >= SHORTEST:
                yield (float(start[0]), float(start[1])), (float(end[0]), float(end[1]))


def _across(sheet: Box, upright: bool, at: float) -> tuple[Point, Point]:
    """A line across the whole sheet at an x (upright) or y."""
    if upright:
        return (at, sheet.y0 + GAP), (at, sheet.y1 - GAP)
    return (sheet.x0 + GAP, at), (sheet.x1 - GAP, at)


def _lines(
    layout: SheetLayout, cut: Cut, index_lines: Iterable[tuple[Point, Point]]
) -> Iterator[tuple[int, tuple[Point, Point], str]]:
    """The sides of the board that cross the sheet, then the index lines: side, line, what it marks."""
    sheet = layout.box
    for side, at in enumerate((0.0, cut.board.length, 0.0, cut.board.width)):
        low, high = (sheet.x0, sheet.x1) if side < LOWER else (sheet.y0, sheet.y1)
        if low + GAP < at < high - GAP and not layout.moves_along(side):
            yield side, _across(sheet, side < LOWER, at), "side of the board"
    for index, line in zip(layout.indexes, index_lines, strict=True):
        yield index.side, line, INDEX


def _beyond(opening: Region, cut: Cut) -> list[tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]]:
    """The opening's two extremes on the cut's centreline, each with the unit vector that leads out of it."""
    start, finish = np.array(cut.centreline.start), np.array(cut.centreline.end)
    way = (finish - start) / np.hypot(*(finish - start))
    stations = (np.vstack([loop.points() for loop in opening.loops]) - start) @ way
    return [(start + stations.min() * way, -way), (start + stations.max() * way, way)]


def _tick_end(
    point: npt.NDArray[np.float64], way: npt.NDArray[np.float64], sights: Sequence[SheetHole], sheet: Box
) -> float:
    """How far beyond the opening (mm) a tick of the centreline goes: across and beyond the sight that lies on it."""
    end = GAP + TICK
    for sight in sights:
        along, aside = (np.array([sight.x, sight.y]) - point) @ np.column_stack([way, [-way[1], way[0]]])
        if along > 0.0 and abs(aside) < SLACK and sight.says.endswith("centreline"):
            end = max(end, float(along) + sight.diameter / 2.0 + TICK)
    inner = sheet.grown(-GAP)
    room = [
        ((high if step > 0.0 else low) - at) / step
        for at, step, low, high in zip(point, way, inner[:2], inner[2:], strict=True)
        if abs(step) > SLACK
    ]
    return float(min([end, *room]))


def _sights(
    ends: Iterable[tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]],
    index_lines: Iterable[tuple[Point, Point]],
    opening: Region,
    screws: Sequence[SheetHole],
    sheet: Box,
    board: Box,
    diameter: float,
) -> Iterator[SheetHole]:
    """One on the centreline beyond each tick, and one near each end of an index line, where there is room.

    They are windows onto lines drawn on the board, so they lie on the board.
    """
    taken = list(screws)
    inner = sheet.grown(-(GAP + diameter / 2.0)).within(board.grown(-diameter / 2.0))

    def fits(points: npt.NDArray[np.float64]) -> npt.NDArray[np.bool_]:
        x, y = points.T
        inside: npt.NDArray[np.bool_] = (x >= inner.x0) & (x <= inner.x1) & (y >= inner.y0) & (y <= inner.y1)
        clear: npt.NDArray[np.bool_] = Obstacles(opening, tuple(taken)).gap(points) >= CLEAR + diameter / 2.0
        inside &= clear
        return inside

    longest = max(*sheet.size)
    steps = np.arange(0.0, longest, 2.0)[:, None]
    runs = [(point + (GAP + TICK + GAP + diameter / 2.0) * way + steps[:3] * way, "centreline") for point, way in ends]
    for line in index_lines:
        p, q = np.array(line[0]), np.array(line[1])
        way = (q - p) / np.hypot(*(q - p))
        inset = (CLEAR + diameter / 2.0) * way
        runs += [(p + inset + steps * way, INDEX), (q - inset - steps * way, INDEX)]
    for points, says in runs:
        free = np.flatnonzero(fits(points))
        if len(free):
            x, y = points[free[0]]
            hole = SheetHole(float(x), float(y), diameter, f"sight on the {says}")
            taken.append(hole)
            yield hole


def _write(
    space: FreeSpace, sheet: Box, lines: Sequence[str], beside: Iterable[tuple[Sequence[str], Point]]
) -> tuple[list[Text], tuple[str, ...]]:
    """Blocks beside what they name, then the main one as one, or line by line where there is no room for it."""
    texts: list[Text] = []
    left_out: list[str] = []
    for strings, near in beside:
        # Part of a block that stands elsewhere could be taken for that of another opening: all of it or nothing.
        block = _block(space, strings, near)
        texts += block
        left_out += [] if block else [", ".join(strings)]
    corner = (sheet.x0, sheet.y1)
    block = _block(space, lines, corner)
    if block:
        return [*texts, *block], tuple(left_out)
    for string in lines:
        written = _block(space, [string], corner)
        texts += written
        left_out += [] if written else [string]
    return texts, tuple(left_out)


def _block(space: FreeSpace, lines: Sequence[str], near: Point) -> list[Text]:
    """The lines under each other in the free place nearest to a point, as high as there is room for, or nothing."""
    for height in HEIGHTS:
        wide = max(text_width(string, height) for string in lines)
        high = height * (1.0 + LEADING * (len(lines) - 1))
        box = space.place(wide, high, near)
        if box is not None:
            space.take_box(box)
            return [Text(s, box.x0, box.y1 - height * (1.0 + LEADING * i), height) for i, s in enumerate(lines)]
    return []
