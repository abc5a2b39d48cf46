"""The size of a template's sheet and where it lies on the board: base support, fence, end stop, index lines.

The sheet is a rectangle along the face's axes. It reaches a base radius beyond the ride of the bushing on every side,
as far as the machine allows; it holds together round the opening; and it overhangs one side of the board, where a strip
screwed under it is the *fence* that bears against that side. Where the board's nearer end (or edge) can be reached too,
a second strip is the *stop*; otherwise an *index line* lies at a round distance from it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import NamedTuple

from jigcam.template.box import Box
from jigcam.units import INCH

HOLD = 25.0
"""Sheet left round the opening, so that it holds together, mm."""


class Sizes(NamedTuple):
    """What a maker sets out with a rule, mm.

    fence, stop: least widths of the strips. step: to which the sides of sheet and blank are rounded; line: the same of
    the distances of index lines.
    """

    fence: float
    stop: float
    step: float
    line: float


METRIC = Sizes(40.0, 30.0, 1.0, 10.0)
INCHES = Sizes(1.5 * INCH, 1.25 * INCH, INCH / 16.0, INCH / 2.0)
CLAMP_ROOM = 12.0
"""Room for clamps round the blank, beyond the outline cutter's path, mm."""
INDEX_ROOM = 12.0
"""An index line keeps this far from the sheet's edge, mm."""

Side = int
"""A side of the board by its place in (x = 0, x = length, lower, upper)."""
RIGHT, LOWER, UPPER = 1, 2, 3
Step = tuple[float, float]
STAYS: tuple[Step, ...] = ((0.0, 0.0),)
"""Steps of a sheet that is laid in one place."""
ON_BOARD = 5.0
"""A line that is drawn on the board keeps this far from its sides, mm."""
LINE_CLEAR = 6.0
"""By which a line on a sheet that moves should stay clear of the opening, mm: a mark has to be seen beside it."""
FINER = 8
"""Where no round distance will do, this part of one is taken for a step."""
ORDER: tuple[Side, ...] = (LOWER, UPPER, 0, 1)
"""Sides in the order in which a fence prefers them: the lower edge is the reference edge."""


@dataclass(frozen=True, slots=True)
class FenceStrip:
    """A strip of the sheet's material under the sheet. box: its place; side: of the board that it bears against."""

    side: Side
    box: Box

    @property
    def upright(self) -> bool:
        """Whether it runs along y (it bears against an end)."""
        return self.side < LOWER


@dataclass(frozen=True, slots=True)
class Index:
    """A line across the sheet at a round distance from a side of the board, to be laid on a line drawn on the board.

    at: its x (or y, for an edge); distance: from the side, mm.
    """

    side: Side
    at: float
    distance: float


@dataclass(frozen=True, slots=True)
class SheetLayout:
    """Where a sheet lies. box: its finished outline, face frame. fence: None where no side of the board is in reach.

    stop: the second strip. indexes: lines, where strips are lacking. margin: by which the sheet reaches beyond the ride
    of the bushing's centre, at least, mm. steps: how far it is moved for each cut that it serves, (x, y) in mm; along
    an axis on which it moves it has lines and no strips.
    """

    box: Box
    fence: FenceStrip | None
    stop: FenceStrip | None
    indexes: tuple[Index, ...]
    margin: float
    steps: tuple[Step, ...] = STAYS

    @property
    def true_corner(self) -> tuple[bool, bool]:
        """Whether the corner on whose two edges its strips lie is the right one, and whether it is the upper one."""
        sides = [strip.side for strip in (self.fence, self.stop) if strip is not None]
        return RIGHT in sides, UPPER in sides

    def moves_along(self, side: Side) -> bool:
        """Whether it is moved to and from a side of the board."""
        return any(abs(step[_axis(side)]) > 0.0 for step in self.steps)


@dataclass(frozen=True, slots=True)
class TooLarge:
    """The least blank (along x and y, mm) that a template needs, where the machine cannot make it."""

    blank: tuple[float, float]


def blank_side(side: float, cutter: float, step: float) -> float:
    """The blank of a sheet along one side, mm: room for the outline's path and clamps, rounded up to a whole step."""
    return step * ceil((side + 2.0 * blank_margin(cutter)) / step - 1e-9)


def blank_margin(cutter: float) -> float:
    """By how much the blank is larger than the finished sheet on each side: the outline's cutter (diameter), clamps."""
    return cutter + CLAMP_ROOM


def lay_out(
    opening: Box,
    ride: Box,
    board: tuple[float, float],
    *,
    base_radius: float,
    travel: tuple[float, float],
    cutter: float,
    sizes: Sizes,
    steps: tuple[Step, ...] = STAYS,
    sawn: bool = False,
) -> SheetLayout | TooLarge:
    """The sheet for an opening in which the bushing's centre rides; all mm, face frame.

    board: length, width. travel: of the machine along x and y; the blank has to lie within it. sizes: whole ones in
    the units of the job. sawn: the blank is as large as the sheet, and no outline is milled. steps: by which the sheet
    is moved, for each cut that it serves. Of the sides that a fence can bear against, the first of `ORDER` that leaves
    the most of the wanted margin.
    """
    margin = 0.0 if sawn else 2.0 * blank_margin(cutter)
    limit = (travel[0] - margin, travel[1] - margin)
    least = opening.grown(HOLD)
    if not _fits(least, limit):
        wide, high = least.size
        return TooLarge((wide + margin, high + margin))
    tried: list[tuple[Box, Side | None]] = []
    for side in (each for each in ORDER if not any(step[_axis(each)] for step in steps)):
        need = least.including(_overhang(least, side, board, sizes.fence))
        if _fits(need, limit):
            tried.append((_grown_to(need, ride, base_radius, limit, sizes.step), side))
    tried.append((_grown_to(least, ride, base_radius, limit, sizes.step), None))
    margins = [min(ride.margin_in(box), base_radius) for box, _ in tried]
    best = max(margins[:-1], default=-1.0)
    # Without any fence only where none is in reach: a fence places the sheet better than lines do.
    choice = margins.index(best) if len(tried) > 1 else len(tried) - 1
    box, bears_on = tried[choice]
    return _furnished(box, bears_on, opening, board, limit, margins[choice], sizes, steps)


def _axis(side: Side) -> int:
    """Along which a side of the board is placed: 0 for an end, 1 for an edge."""
    return int(side >= LOWER)


def _fits(box: Box, limit: tuple[float, float]) -> bool:
    return all(extent <= most + 1e-9 for extent, most in zip(box.size, limit, strict=True))


def _overhang(box: Box, side: Side, board: tuple[float, float], strip: float) -> Box:
    """The least box that has a strip of that width beyond a side of the board."""
    length, width = board
    lines = (
        Box(-strip, box.y0, 0.0, box.y1),
        Box(length, box.y0, length + strip, box.y1),
        Box(box.x0, -strip, box.x1, 0.0),
        Box(box.x0, width, box.x1, width + strip),
    )
    return lines[side]


def _grown_to(need: Box, ride: Box, base_radius: float, limit: tuple[float, float], step: float) -> Box:
    """`need`, grown as far round the ride as the base reaches, or as the limit allows, alike on both sides."""
    x0, x1 = _grown_along(need.x0, need.x1, ride.x0, ride.x1, base_radius, limit[0], step)
    y0, y1 = _grown_along(need.y0, need.y1, ride.y0, ride.y1, base_radius, limit[1], step)
    return Box(x0, y0, x1, y1)


def _grown_along(
    low: float, high: float, first: float, last: float, margin: float, limit: float, step: float
) -> tuple[float, float]:
    """One axis of `_grown_to`: the greatest margin ≤ `margin` with which the extent keeps to the limit.

    The ends go to whole steps where there is room for it.
    """

    def extent(m: float) -> tuple[float, float]:
        return min(low, first - m), max(high, last + m)

    # The extent grows piecewise linearly with m: its bends, and the one point between them that meets the limit.
    room = [margin, *(m for m in (limit - (high - first), limit - (last - low), (limit - (last - first)) / 2.0))]
    fit = [m for m in room if 0.0 <= m <= margin and extent(m)[1] - extent(m)[0] <= limit + 1e-9]
    a, b = extent(max(fit, default=0.0))
    whole = step * floor(a / step + 1e-9), step * ceil(b / step - 1e-9)
    return whole if whole[1] - whole[0] <= limit else (a, b)


def _furnished(
    box: Box,
    side: Side | None,
    opening: Box,
    board: tuple[float, float],
    limit: tuple[float, float],
    margin: float,
    sizes: Sizes,
    steps: tuple[Step, ...],
) -> SheetLayout:
    """The sheet with its fence, and with a stop or an index line for every direction that the fence leaves open."""
    fence = _strip(box, side, board) if side is not None else None
    stop: FenceStrip | None = None
    indexes: list[Index] = []
    for axis in (0, 1):
        if side is not None and (side < LOWER) == (axis == 0):
            continue
        near = _nearer(opening, board, axis)
        wider = box.including(_overhang(box, near, board, sizes.stop))
        moves = [step[axis] for step in steps]
        if fence is not None and _fits(wider, limit) and not any(moves):
            box = wider
            fence = _strip(box, fence.side, board)
            stop = _strip(box, near, board, fence.box)
        else:
            # A line is drawn as well from far as from near: from the side from which the joint itself is drawn.
            if any(moves):
                indexes.append(_moved_index(box, opening, board, axis, sizes.line, moves))
            else:
                indexes.append(_index(box, opening, 2 * axis, board, axis, sizes.line))
    return SheetLayout(box, fence, stop, tuple(indexes), margin, steps)


def _nearer(opening: Box, board: tuple[float, float], axis: int) -> Side:
    """Of the two sides across an axis, the one that the opening is nearer to."""
    middle = (opening[axis] + opening[axis + 2]) / 2.0
    return 2 * axis if middle <= board[axis] / 2.0 else 2 * axis + 1


def _strip(box: Box, side: Side, board: tuple[float, float], fence: Box | None = None) -> FenceStrip:
    """The whole overhang beyond a side of the board, less what the fence covers."""
    length, width = board
    x0, y0, x1, y1 = box
    if fence is not None and side < LOWER:
        y0, y1 = (fence.y1, y1) if fence.y0 <= y0 else (y0, fence.y0)
    elif fence is not None:
        x0, x1 = (fence.x1, x1) if fence.x0 <= x0 else (x0, fence.x0)
    place = (Box(x0, y0, 0.0, y1), Box(length, y0, x1, y1), Box(x0, y0, x1, 0.0), Box(x0, width, x1, y1))[side]
    return FenceStrip(side, place)


def _index(box: Box, opening: Box, side: Side, board: tuple[float, float], axis: int, round_to: float) -> Index:
    """A line at a round distance from a side, clear of the opening where the sheet is wide enough for it."""
    low, high = box[axis] + INDEX_ROOM, box[axis + 2] - INDEX_ROOM
    origin, sign = (0.0, 1.0) if side in (0, LOWER) else (board[axis], -1.0)
    reach = sorted((sign * (low - origin), sign * (high - origin)))
    steps = range(ceil(reach[0] / round_to - 1e-9), floor(reach[1] / round_to + 1e-9) + 1)
    places = [(origin + sign * n * round_to, n * round_to) for n in steps] or [(low, sign * (low - origin))]

    def clear(place: tuple[float, float]) -> float:
        return max(opening[axis] - place[0], place[0] - opening[axis + 2])

    at, distance = max(places, key=lambda place: (clear(place), -place[1]))
    return Index(side, at, distance)


def _moved_index(
    box: Box, opening: Box, board: tuple[float, float], axis: int, round_to: float, moves: list[float]
) -> Index:
    """A line that lies on the board wherever the sheet is moved to, at a distance as round as may be.

    Where there is hardly any such place, the one that is furthest from the opening, be it round or not.
    """
    low = max(box[axis] + INDEX_ROOM, ON_BOARD - min(moves))
    high = min(box[axis + 2] - INDEX_ROOM, board[axis] - ON_BOARD - max(moves))

    def clear(at: float) -> float:
        return max(opening[axis] - at, at - opening[axis + 2])

    for step in (round_to, round_to / 2.0, round_to / FINER):
        places = [n * step for n in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1)]
        at = max(places, key=lambda place: (min(clear(place), 2.0 * LINE_CLEAR), -place), default=None)
        if at is not None and clear(at) >= LINE_CLEAR:
            return Index(2 * axis, at, at)
    at = max((low, high), key=clear) if low <= high else (low + high) / 2.0
    return Index(2 * axis, at, at)
