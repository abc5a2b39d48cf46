"""What stands above what while a template is ridden: base, sheet, bushing, bit and board, cut through the opening."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from jigcam.drawing.model import Dimension, Drawing, Item, Label, Point, View
from jigcam.drawing.roles import Role
from jigcam.drawing.scenes.board import break_line
from jigcam.geometry import Path, Region, rectangle
from jigcam.units import format_length

if TYPE_CHECKING:
    from jigcam.kit import Bit
    from jigcam.template import TemplatePlan

BASE = 6.0
"""Thickness of a router's base as drawn, mm; only its underside matters."""
SHANK = 8.0
"""How much of the bit is shown above the base, mm."""


def scene_section(plan: TemplatePlan, *, units: str = "mm") -> Drawing:
    """The stack of lengths at full depth, with the facts that a maker sets up by."""
    stack = plan.stack
    facts = (
        ("bit", plan.bit.name),
        ("bushing", plan.bushing.name),
        ("sheet", format_length(stack.sheet, units)),
        ("depth", format_length(stack.depth, units)),
        ("bit below the base", format_length(stack.projection, units)),
    )
    return Drawing(f"{plan.cut.joint}: set-up of the router", ((stack_view(plan, units),),), units, facts)


def stack_view(plan: TemplatePlan, units: str, *, minor: bool = False) -> View:
    """Across the opening, the bit in the middle of it and at full depth. Frame: x across, y up, y = 0 on the
    board's face."""
    stack, bit, bushing, board = plan.stack, plan.bit, plan.bushing, plan.cut.board
    sheet, depth = stack.sheet, stack.depth
    cut, opening = plan.cut.width / 2, plan.cut.width / 2 + plan.offset
    side = max(opening, bushing.outside / 2) + max(14.0, 0.6 * opening)
    low = -min(board.thickness, depth + max(10.0, depth))
    size, top = 2.0, sheet + BASE
    mouth = cut - depth * math.tan(bit.angle) if bit.undercuts else cut
    face = [(side, 0.0), (mouth, 0.0), (cut, -depth), (-cut, -depth), (-mouth, 0.0), (-side, 0.0)]
    body = Region((Path.through([(-side, low), (side, low), *face], closed=True),))
    items = [
        Item("stock", body, True, outlined=False),
        Item("stock", Path.through(face)),
        *_broken_off("sheet", -side, -opening, 0.0, sheet),
        *_broken_off("sheet", side, opening, 0.0, sheet),
        *(
            Item("base", Path.through([(sign * bushing.outside / 2, y), (sign * side, y)]))
            for sign in (-1.0, 1.0)
            for y in (sheet, sheet + BASE)
        ),
        *(
            Item("bushing", rectangle(*wall, top), True)
            for wall in (
                (-bushing.outside / 2, sheet - bushing.collar, -bushing.inside / 2),
                (bushing.inside / 2, sheet - bushing.collar, bushing.outside / 2),
            )
        ),
        Item("bit", bit_outline(bit, -depth, sheet + BASE + SHANK), True),
        Item("centreline", Path.through([(0.0, -depth - 4.0), (0.0, sheet + BASE + 12.0)])),
    ]
    items += [Item("break", break_line((x, low), (x, sheet + BASE), size)) for x in (-side, side)]
    if -low < board.thickness:
        items.append(Item("break", break_line((-side, low), (side, low), size)))
    else:
        items.append(Item("stock", Path.through([(-side, low), (side, low)])))
    labels = (
        Label(-side * 0.75, low / 2, board.name, "on", weight=1),
        Label(-(side + opening) / 2, sheet / 2, "sheet", "on", weight=1),
        Label((side + bushing.outside / 2) / 2, sheet + BASE / 2, "base", "on"),
    )
    figure = format_length
    dimensions = (
        Dimension((side, 0.0), (side, sheet), -7.0, along="y"),
        Dimension((side, -depth), (side, 0.0), -7.0, along="y"),
        Dimension((-side, -depth), (-side, sheet), 7.0, along="y"),
        Dimension((side, sheet - bushing.collar), (side, sheet), -19.0, f"collar {figure(bushing.collar, units)}", "y"),
        Dimension((-cut, low), (cut, low), -7.0, f"cut {figure(2 * cut, units)}", "x"),
        Dimension((-opening, low), (opening, low), -14.0, f"opening {figure(2 * opening, units)}", "x"),
        Dimension(
            (-bushing.outside / 2, top),
            (bushing.outside / 2, top),
            21.0,
            f"bushing {figure(bushing.outside, units)}",
            "x",
        ),
        Dimension(
            (-bit.radius, top + SHANK), (bit.radius, top + SHANK), 6.0, f"bit {figure(bit.diameter, units)}", "x"
        ),
    )
    return View("across the opening, bit at full depth", tuple(items), labels, dimensions, minor=minor)


def _broken_off(role: Role, far: float, near: float, low: float, high: float) -> list[Item]:
    """The cut face of something that goes on beyond x = far: filled, without an edge there."""
    edge = Path.through([(far, low), (near, low), (near, high), (far, high)])
    return [Item(role, rectangle(min(near, far), low, max(near, far), high), True, outlined=False), Item(role, edge)]


def bit_outline(bit: Bit, tip: float, top: float) -> Region:
    """The bit's profile as a region, its tip at height `tip`, cut off at height `top` (or at the end of the shank)."""
    heights = {0.0, bit.cutting_length, min(top - tip, bit.overall_length)}
    if bit.quarter_circle:  # in chords, finer than any pen
        quarter = np.linspace(0.0, math.pi / 2, 24)
        heights |= {float(bit.quarter_circle * (1.0 - math.cos(a))) for a in quarter}
    if bit.pointed:
        heights.add(bit.point)
    stations = sorted(h for h in heights if h <= top - tip)
    radii = [float(r) for r in bit.radius_at(np.array(stations))]
    right: list[Point] = []
    for h, r in zip(stations, radii, strict=True):
        right.append((r, tip + h))
        if h == bit.cutting_length and bit.overall_length > h:
            right.append((bit.shank / 2, tip + h))
    points = right + [(-x, y) for x, y in reversed(right)]
    unique = [p for i, p in enumerate(points) if i == 0 or p != points[i - 1]]
    return Region((Path.through(unique, closed=True),))
