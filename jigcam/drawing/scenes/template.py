"""The template as it lies on the board: sheet, opening, fence, holes and marks above; board and cut beneath."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from jigcam.drawing.model import Axes, Dimension, Drawing, Item, Label, View
from jigcam.drawing.scenes.board import seen_on
from jigcam.drawing.scenes.section import stack_view
from jigcam.geometry import Path, Region, apply, disc, intersection, invert, rectangle
from jigcam.template import FenceStrip, Stroke, Text
from jigcam.toolpath.engrave import written_width
from jigcam.units import Voice
from jigcam.wood.band import sides

if TYPE_CHECKING:
    from jigcam.template import TemplatePlan


def scene_template(plan: TemplatePlan, *, units: str = "mm", base_radius: float | None = None) -> Drawing:
    """The sheet seen from above in the board's frame, and the stack of lengths across its opening.

    base_radius: of the router, mm; given, its base is drawn where the sheet supports it least.
    """
    bit, bushing, cut = plan.bit, plan.bushing, plan.cut
    wide, high = (plan.sheet.bounds[i + 2] - plan.sheet.bounds[i] for i in (0, 1))
    voice = Voice("in" if units == "in" else "mm")
    facts = (
        ("for", f"{cut.joint}, {cut.board.name}, {cut.side}"),
        ("hand, this face up", cut.hand),
        ("bit", bit.name),
        ("bushing", bushing.name),
        ("offset", voice.rule(plan.offset)),
        ("opening", f"{voice.rule(cut.width + 2 * plan.offset)} wide"),
        *((f"opening to {what}", voice.rule(gap)) for what, gap, _ in _gaps(plan)),
        ("sheet", f"{voice.rule(wide)} × {voice.rule(high)}{', sawn to size' if plan.sawn else ''}"),
        ("bit below the base", voice.rule(plan.stack.projection)),
        ("base supported", f"at least {plan.support.fraction:.0%}"),
    )
    rows = ((sheet_view(plan, units, base_radius), stack_view(plan, units, minor=True)),)
    return Drawing(f"{cut.joint}: template", rows, units, facts, (seen_on(cut.board, cut.face),))


def sheet_view(plan: TemplatePlan, units: str, base_radius: float | None = None) -> View:
    """The sheet from above, lower edge of the board down."""
    cut = plan.cut
    x0, y0, x1, y1 = plan.sheet.bounds
    origin = apply(invert(plan.placement), np.zeros((1, 2)))[0]
    left, bottom = plan.corner
    blank = rectangle(left, bottom, left + plan.blank[0], bottom + plan.blank[1]).transformed(invert(plan.placement))
    # A blank that is sawn to size is the sheet.
    items = [*([] if plan.sawn else [Item("blank", blank)]), Item("sheet", plan.sheet), Item("opening", plan.opening)]
    items += [Item("fence", strip.box.region, True) for strip in strips(plan)]
    items += [Item("hole", disc(hole.x, hole.y, hole.diameter / 2)) for hole in plan.holes]
    items += _beneath(plan)
    if base_radius:
        items.append(Item("base", disc(plan.support.x, plan.support.y, base_radius)))
    labels: list[Label] = []
    for mark in plan.marks:
        if isinstance(mark, Stroke):
            items.append(Item("mark", Path.through(mark.points)))
        elif isinstance(mark, Text):
            labels.append(_engraved(mark))
    items += [Item("tab", tab.region(1.5), True) for tab in plan.tabs]
    for name, strip in (("fence", plan.fence), ("stop", plan.stop)):
        if strip is not None:
            bx0, by0, bx1, by1 = strip.box
            labels.append(Label((bx0 + bx1) / 2, (by0 + by1) / 2, f"{name} beneath", "on", role="fence", weight=2))
    start, finish = cut.centreline.start, cut.centreline.end
    labels.append(Label(*on_wall(plan), "opening", "right", True, weight=1))
    dimensions = [Dimension((x0, y0), (x1, y0), -10.0, along="x"), Dimension((x0, y0), (x0, y1), 10.0, along="y")]
    if not cut.open_start and not cut.open_finish:
        ux, uy = _unit(start, finish)
        o = plan.offset
        ends = (start[0] - ux * o, start[1] - uy * o), (finish[0] + ux * o, finish[1] + uy * o)
        dimensions.append(Dimension(*ends, _reach(plan.opening, ends) + 6.0))
    dimensions += [Dimension(a, b, 0.0, along="x" if a[1] == b[1] else "y") for _, _, (a, b) in _gaps(plan)]
    low = sides(cut.face)[2]
    caption = f"template on the {cut.side} of {cut.board.name}, {cut.hand}, from above, {low} down"
    return View(
        caption, tuple(items), tuple(labels), tuple(dimensions), axes=Axes(origin=(float(origin[0]), float(origin[1])))
    )


def _engraved(mark: Text) -> Label:
    """A text as large as it is cut."""
    wide = written_width(mark.string, mark.height, mark.width)
    return Label(mark.x, mark.y, mark.string, "start", size=mark.height, role="mark", angle=mark.angle, room=wide)


def strips(plan: TemplatePlan) -> tuple[FenceStrip, ...]:
    """The fence and the stop, as far as there are any."""
    return tuple(strip for strip in (plan.fence, plan.stop) if strip is not None)


def _gaps(plan: TemplatePlan) -> list[tuple[str, float, tuple[tuple[float, float], tuple[float, float]]]]:
    """From what the sheet is laid by to the nearest of the opening: its name, the distance, mm, and its two ends."""
    x0, y0, x1, y1 = plan.opening.bounds
    laid = [
        (name, strip.side, _bearing(strip)) for name, strip in (("fence", plan.fence), ("stop", plan.stop)) if strip
    ]
    laid += [("index line", index.side, index.at) for index in plan.indexes]
    gaps = []
    for name, side, at in laid:
        if side < 2:
            near = x0 if abs(at - x0) <= abs(at - x1) else x1
            y = _place_of(plan.opening, 0, near)
            gaps.append((name, abs(near - at), ((at, y), (near, y))))
        else:
            near = y0 if abs(at - y0) <= abs(at - y1) else y1
            x = _place_of(plan.opening, 1, near)
            gaps.append((name, abs(near - at), ((x, at), (x, near))))
    return gaps


def _bearing(strip: FenceStrip) -> float:
    """Where the edge lies that bears against the board: x of a strip at an end, y of one at an edge."""
    x0, y0, x1, y1 = strip.box
    return (x1, x0, y1, y0)[strip.side]


def _place_of(region: Region, axis: int, extreme: float) -> float:
    """Where a region touches an extreme of an axis, along the other one."""
    points = np.vstack([loop.points(0.01) for loop in region.loops])
    return float(points[int(np.abs(points[:, axis] - extreme).argmin()), 1 - axis])


def _beneath(plan: TemplatePlan) -> list[Item]:
    """The board's edges under and a little around the sheet, the cut, and the ride of the bushing's centre."""
    board = plan.cut.board
    x0, y0, x1, y1 = plan.sheet.bounds
    low, high = (x0 - 15.0, y0 - 15.0), (x1 + 15.0, y1 + 15.0)
    items = []
    for x in (0.0, board.length):
        if low[0] < x < high[0]:
            items.append(Item("hidden", Path.through([(x, max(0.0, low[1])), (x, min(board.width, high[1]))])))
    for y in (0.0, board.width):
        if low[1] < y < high[1]:
            items.append(Item("hidden", Path.through([(max(0.0, low[0]), y), (min(board.length, high[0]), y)])))
    cut = intersection(plan.cut.solid.section(0.0), rectangle(0.0, 0.0, board.length, board.width))
    return [*items, Item("cut", cut, True), Item("ride", plan.ride)]


def on_wall(plan: TemplatePlan) -> tuple[float, float]:
    """A point on the opening's wall, to the right of the middle of the cut."""
    line = plan.cut.centreline
    (place,), (way,) = line.at([0.4 * line.length])
    half = plan.cut.width / 2 + plan.offset
    across = -1.0 if way[1] < 0 else 1.0  # the side with the greater x
    return float(place[0] + across * way[1] * half), float(place[1] - across * way[0] * half)


def _reach(opening: Region, ends: tuple[tuple[float, float], tuple[float, float]]) -> float:
    """How far the opening reaches to the left of the line between two points, mm: that of a bow-tie is widest at its
    ends."""
    (x, y), (ux, uy) = ends[0], _unit(*ends)
    points = np.vstack([loop.points(0.01) for loop in opening.loops])
    return float(((points - (x, y)) @ (-uy, ux)).max())


def _unit(a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
    length = math.dist(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length
