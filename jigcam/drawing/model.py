"""The drawing model: shapes with roles, text and dimensions, in views; what every renderer takes.

Frame: each view has its own x, y in mm, y up. Sizes of text, and how far a dimension stands off, are mm on paper.
A drawing is read from left to right and from top to bottom: `rows` of views. Paper shows all views in true size, or in
the drawing's own scale, where it says one; a terminal gives each row the scale that fits.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from jigcam.drawing.roles import PENS, UNNAMED, Role, order
from jigcam.drawing.running import Running
from jigcam.errors import InputError
from jigcam.geometry import Path, Region, scaling
from jigcam.units import format_angle, format_length

Point = tuple[float, float]
Along = Literal["x", "y", "points"]
Spot = Literal["on", "near", "left", "right", "above", "below", "start"]


@dataclass(frozen=True, slots=True)
class Item:
    """A shape and what it stands for. filled: also with the fill of its pen (cut faces, wood to remove).

    outlined: False for a filling alone, whose edges are drawn as other items (a board that is broken off has none
    there).
    """

    role: Role
    shape: Path | Region
    filled: bool = False
    outlined: bool = True

    @property
    def paths(self) -> tuple[Path, ...]:
        """Its outlines."""
        return self.shape.loops if isinstance(self.shape, Region) else (self.shape,)


@dataclass(frozen=True, slots=True)
class Label:
    """Words at a point. spot: where they go by preference, seen from the point; a renderer moves them to free
    ground. "start" is for words that are part of the thing drawn: they start at the point, on a base line at
    `angle` (rad); paper shows them there, a terminal as near as it can, level.

    pointed: a thin line leads from the words to the point wherever the words had to stand off. weight: the more,
    the earlier it gets its place. size: height of capitals on paper, mm. room: along the base line, mm; given, words
    that start at the point run just so wide. kept: whether they stay wholly on that side of the point, as they tell a
    side: on paper they rather cover a line.
    """

    x: float
    y: float
    text: str
    spot: Spot = "near"
    pointed: bool = False
    size: float = 2.5
    role: Role = "dimension"
    weight: int = 0
    angle: float = 0.0
    room: float = 0.0
    kept: bool = False


@dataclass(frozen=True, slots=True)
class Dimension:
    """A distance with its line, its arrows and its figure.

    p0, p1: the points measured between. along: "points" measures from one to the other, "x" and "y" along an axis.
    offset: how far the dimension line stands off the first point, mm on paper, to the left of the direction p0 → p1
    (for "x" upward, for "y" to the left if positive). text: the figure; "" for the measured length in the drawing's
    units.
    """

    p0: Point
    p1: Point
    offset: float = 8.0
    text: str = ""
    along: Along = "points"

    @property
    def length(self) -> float:
        """The distance measured, mm."""
        dx, dy = self.p1[0] - self.p0[0], self.p1[1] - self.p0[1]
        return {"x": abs(dx), "y": abs(dy), "points": math.hypot(dx, dy)}[self.along]

    @property
    def direction(self) -> Point:
        """Unit vector along the dimension line."""
        dx, dy = self.p1[0] - self.p0[0], self.p1[1] - self.p0[1]
        if self.along == "x":
            return (1.0, 0.0)
        if self.along == "y":
            return (0.0, 1.0)
        length = math.hypot(dx, dy)
        return (dx / length, dy / length) if length else (1.0, 0.0)

    def figure(self, units: str) -> str:
        """What stands on the line."""
        return self.text.strip() or format_length(self.length, units)


@dataclass(frozen=True, slots=True)
class AngleDimension:
    """An angle at `apex`, anticlockwise from `start` to `end` (rad, from +x), with an arc of `radius` mm in the
    view."""

    apex: Point
    start: float
    end: float
    radius: float
    text: str = ""

    def figure(self) -> str:
        """What stands on the arc: degrees, to a hundredth where they are not whole."""
        return self.text.strip() or format_angle(self.end - self.start)


@dataclass(frozen=True, slots=True)
class Axes:
    """Where the view's frame lies: the axes' names, drawn as two arrows at the lower left corner of the picture.

    origin: marked with the sign of a zero point if given.
    """

    x: str = "x"
    y: str = "y"
    origin: Point | None = None


@dataclass(frozen=True, slots=True)
class View:
    """One picture: shapes, words and dimensions in one frame, with a caption below it.

    minor: a detail beside the main view, which a terminal shows smaller. running: dimensions from one origin.
    """

    caption: str
    items: tuple[Item, ...]
    labels: tuple[Label, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    angles: tuple[AngleDimension, ...] = ()
    axes: Axes | None = None
    minor: bool = False
    running: tuple[Running, ...] = ()

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """x0, y0, x1, y1 of all that has a place in the view: shapes, and the points of words and dimensions."""
        boxes = [box for item in self.items for path in item.paths for box in [path.bounds]]
        points = [(label.x, label.y) for label in self.labels]
        points += [p for dimension in self.dimensions for p in (dimension.p0, dimension.p1)]
        points += [angle.apex for angle in self.angles]
        points += [run.point(at, reach) for run in self.running for at, reach, _ in ((0.0, 0.0, ""), *run.marks)]
        if self.axes and self.axes.origin:
            points.append(self.axes.origin)
        boxes += [(x, y, x, y) for x, y in points]
        if not boxes:
            return 0.0, 0.0, 0.0, 0.0
        x0, y0, x1, y1 = zip(*boxes, strict=True)
        return min(x0), min(y0), max(x1), max(y1)

    def __post_init__(self) -> None:
        numbers = [v for label in self.labels for v in (label.x, label.y, label.size, label.angle, label.room)]
        numbers += [v for d in self.dimensions for v in (*d.p0, *d.p1, d.offset)]
        numbers += [
            v for r in self.running for v in (*r.origin, r.offset, *(n for at, up, _ in r.marks for n in (at, up)))
        ]
        numbers += [v for a in self.angles for v in (*a.apex, a.start, a.end, a.radius)]
        if not all(map(math.isfinite, numbers)):
            raise InputError("a drawing has no place for a number that is not finite", where=self.caption)


@dataclass(frozen=True, slots=True)
class Drawing:
    """What a renderer takes. facts: name and value, for the title block. notes: sentences that stand below the
    views. smaller: so many times smaller than it is, it stands on paper.
    """

    title: str
    rows: tuple[tuple[View, ...], ...]
    units: str = "mm"
    facts: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()
    smaller: float = 1.0

    @property
    def views(self) -> tuple[View, ...]:
        """All views, in reading order."""
        return tuple(view for row in self.rows for view in row)

    @property
    def items(self) -> Iterator[Item]:
        """All shapes, in reading order."""
        return (item for view in self.views for item in view.items)

    @property
    def legend(self) -> tuple[tuple[Role, str, bool], ...]:
        """What has to be explained, in the table's order: role, its words, and whether it is seen filled."""
        filled: dict[Role, bool] = {}
        for item in self.items:
            filled[item.role] = filled.get(item.role, False) or item.filled
        if any(view.axes and view.axes.origin for view in self.views):
            filled["zero"] = False
        return tuple((role, PENS[role].name, filled[role]) for role in sorted(filled, key=order) if role not in UNNAMED)

    @property
    def on_paper(self) -> Drawing:
        """The same as large as it stands on paper."""
        if self.smaller == 1.0:
            return self
        rows = tuple(tuple(_scaled(view, self) for view in row) for row in self.rows)
        return replace(self, rows=rows, smaller=1.0)

    def titled(self, title: str) -> Drawing:
        """The same under another title."""
        return replace(self, title=title)

    def _repr_svg_(self) -> str:
        """As notebooks show it."""
        from jigcam.drawing.svg import render

        return render(self)


def _scaled(view: View, drawing: Drawing) -> View:
    """A view of a drawing as large as it stands on paper, its dimensions with the figures of what is drawn."""
    by, units = 1.0 / drawing.smaller, drawing.units

    def at(point: Point) -> Point:
        return point[0] * by, point[1] * by

    axes = view.axes
    return replace(
        view,
        items=tuple(replace(item, shape=item.shape.transformed(scaling(by))) for item in view.items),
        labels=tuple(replace(each, x=each.x * by, y=each.y * by, room=each.room * by) for each in view.labels),
        dimensions=tuple(replace(d, p0=at(d.p0), p1=at(d.p1), text=d.figure(units)) for d in view.dimensions),
        angles=tuple(replace(a, apex=at(a.apex), radius=a.radius * by) for a in view.angles),
        axes=replace(axes, origin=at(axes.origin)) if axes and axes.origin else axes,
    )
