"""The end of a tail board as a frame to draw in, and the corner that it makes with the pin board."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from jigcam.dovetails.solids import along_grain
from jigcam.drawing.model import AngleDimension, Dimension, Item, Label, Point, Spot, View
from jigcam.drawing.scenes.board import break_line
from jigcam.geometry import Path, Region, intersection, polygon, union
from jigcam.units import format_slope
from jigcam.values import dataclass

if TYPE_CHECKING:
    from jigcam.dovetails.choice import DovetailChoice
    from jigcam.dovetails.layout import Strip
    from jigcam.dovetails.solids import End

BEYOND = 0.8
"""How far a board is shown past the joint, in lengths of the joint …"""
LEAST = 20.0
"""… and at least, mm."""


@dataclass(frozen=True, slots=True)
class EndFrame:
    """Places (u, s) at one end of a board in its outside face's frame: u from the end along the grain, s from the lower
    edge, mm. board: its length; length: of the joint along the grain."""

    end: End
    board: float
    length: float

    @property
    def inward(self) -> float:
        """+1 where x grows from the end into the board, else −1."""
        return 1.0 if self.end == "left" else -1.0

    @property
    def sides(self) -> tuple[Spot, Spot]:
        """On which hand the view's outward side lies, off the end, and its inward one."""
        return ("left", "right") if self.end == "left" else ("right", "left")

    def at(self, u: float, s: float) -> Point:
        """The point in the face frame."""
        return along_grain(u, self.end, "outside", self.board), s

    def far(self, board: float) -> float:
        """How far from the end the board is shown."""
        return min(board, self.length + max(BEYOND * self.length, LEAST))

    def line(self, *places: tuple[float, float]) -> Path:
        """Through places (u, s)."""
        return Path.through([self.at(u, s) for u, s in places])

    def outline(self, places: list[tuple[float, float]]) -> Region:
        """The region within places (u, s), whichever way round they are given."""
        points = np.array([self.at(u, s) for u, s in places])
        x, y = points.T
        around = float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())
        return polygon(points if around > 0.0 else points[::-1])

    def box(self, u0: float, u1: float, s0: float, s1: float) -> Region:
        """Between two distances from the end, and from the lower edge."""
        return self.outline([(u0, s0), (u1, s0), (u1, s1), (u0, s1)])

    def strip(self, strip: Strip, length: float, floor: float) -> Region:
        """A strip from the end down to `floor`; its flanks are known over `length`."""
        share = floor / length
        return self.outline(
            [
                (0.0, strip.lower.end),
                (floor, strip.lower.at(share)),
                (floor, strip.upper.at(share)),
                (0.0, strip.upper.end),
            ]
        )

    def across(self, u0: float, u1: float, offset: float, s: float = 0.0) -> Dimension:
        """A dimension along the grain, on the height s."""
        a, b = sorted((self.at(u0, s), self.at(u1, s)))
        return Dimension(a, b, offset, along="x")

    def upward(self, u: float, s0: float, s1: float, offset: float) -> Dimension:
        """A dimension across the grain at u; a positive offset is outward, off the end."""
        return Dimension(self.at(u, s0), self.at(u, s1), offset * self.inward, along="y")


def put_together(plan: DovetailChoice, frame: EndFrame) -> View:
    """The corner from the tail board's outside face: tails, and end grain of the pins between them, and of the lap
    before their ends; of a wide board the lower part, which shows each kind of tail and pin once."""
    layout, length, lap = plan.layout, plan.layout.length, plan.joint.sizes.lap
    far = frame.far(plan.joint.tail_board.length)
    top = _top(plan)
    shown = frame.box(0.0, far, 0.0, top)
    pins = [intersection(frame.strip(pin, length, length), shown) for pin in layout.pins(plan.joint.sizes.clearance)]
    wood = [pin for pin in pins if not pin.is_empty]
    if lap:
        # Pins and lap are one piece of wood: no line parts them.
        wood = [union(*wood, frame.box(-lap, 0.0, 0.0, top))]
    items = [Item("grain", each, True) for each in wood]
    edges = [[(far, 0.0), (-lap, 0.0), (-lap, top)]]
    if top >= layout.width:
        edges[0].append((far, top))
    edges += [
        [(0.0, flank.end), (length, flank.base)]
        for tail in layout.tails
        for flank in (tail.lower, tail.upper)
        if max(flank.end, flank.base) <= top
    ]
    edges += [
        [(length, max(0.0, space.lower.base)), (length, min(top, space.upper.base))]
        for space in layout.spaces
        if space.lower.base < top
    ]
    items += [Item("stock", frame.line(*edge)) for edge in edges]
    items.append(Item("break", break_line(frame.at(far, 0.0), frame.at(far, top), min(3.0, 0.05 * top))))
    if top < layout.width:
        items.append(Item("break", break_line(frame.at(-lap, top), frame.at(far, top), 2.0)))
    first, half = layout.tails[0], layout.spaces[0]
    dimensions = [
        frame.upward(-lap, 0.0, half.end_width, 9.0),
        frame.upward(-lap, first.lower.end, first.upper.end, 9.0),
        frame.upward(far, first.lower.base, first.upper.base, -9.0),
        frame.across(0.0, length, -9.0),
    ]
    if len(layout.tails) > 1:
        dimensions.append(frame.upward(-lap, first.upper.end, layout.tails[1].lower.end, 9.0))
    if lap:
        dimensions.append(frame.across(-lap, 0.0, -9.0))
    middle = (first.lower.end + first.upper.end) / 2
    labels = [
        Label(*frame.at(length / 2, middle), "tail 1", "on"),
        Label(*frame.at((length + far) / 2, middle), plan.joint.tail_board.name, "on"),
        Label(*frame.at((length + far) / 2, 0.0), "lower edges, flush", "below", weight=2),
        Label(*frame.at(0.0, top + 5.0), f"{frame.end} end", frame.sides[0], weight=4),
    ]
    caption = "put together, seen on the tails" + (", lower part" if top < layout.width else "")
    return View(caption, tuple(items), tuple(labels), tuple(dimensions), _slope(plan, frame))


def seen_on_lower_edges(plan: DovetailChoice, frame: EndFrame) -> View:
    """The corner from below, the tail board's outside face up: thicknesses, and the rabbet if there is one."""
    joint, length = plan.joint, plan.layout.length
    thick, deep, lap = joint.tail_board.thickness, joint.sizes.pin_length, joint.sizes.lap
    far = frame.far(joint.tail_board.length)
    low = -thick - LEAST

    def at(*places: tuple[float, float]) -> Path:
        return frame.line(*places)

    items = [
        Item("stock", at((-lap, low), (-lap, 0.0), (length, 0.0), (length, low))),
        Item("stock", at((far, 0.0), (length, 0.0))),
        Item("stock", at((length, -thick), (far, -thick))),
        Item("break", break_line(frame.at(far, -thick), frame.at(far, 0.0), 2.0)),
        Item("break", break_line(frame.at(-lap, low), frame.at(length, low), 2.0)),
        Item("behind", at((0.0, -deep), (length, -deep))),
        *([Item("behind", at((0.0, -deep), (0.0, 0.0)))] if lap else []),
    ]
    dimensions = [
        frame.across(0.0, length, 8.0),
        frame.upward(far, -thick, 0.0, -8.0),
        frame.upward(0.0, -deep, 0.0, 8.0),
    ]
    if lap:
        dimensions.append(frame.across(-lap, 0.0, 8.0))
    if joint.sizes.rabbet:
        dimensions.append(frame.upward(0.0, -thick, -deep, 8.0))
    labels = (
        Label(*frame.at((length + far) / 2, -thick / 2), joint.tail_board.name, "on"),
        Label(*frame.at(length / 2, -thick - 8.0), joint.pin_board.name, "on"),
        Label(*frame.at((length + far) / 2, 0.0), "outside", "above"),
    )
    caption = "seen on the lower edges" + (", rabbet behind the pin" if joint.sizes.rabbet else "")
    return View(caption, tuple(items), labels, tuple(dimensions), minor=True)


def _top(plan: DovetailChoice) -> float:
    """Up to where the corner is shown: past the first tail that has two pins beside it, or all of a narrow board."""
    layout = plan.layout
    if len(layout.tails) < 3:
        return layout.width
    second = layout.tails[1]
    return (second.lower.end + second.upper.end) / 2


def _slope(plan: DovetailChoice, frame: EndFrame) -> tuple[AngleDimension, ...]:
    """The lean of the first tail's upper flank from the grain."""
    tail, length = plan.layout.tails[0], plan.layout.length
    lean = -tail.upper.lean(length)
    apex = frame.at(0.0, tail.upper.end)
    start, end = (-lean, 0.0) if frame.inward > 0 else (np.pi, np.pi + lean)
    return (AngleDimension(apex, float(start), float(end), 1.2 * length, format_slope(lean)),)
