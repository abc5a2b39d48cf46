"""Views made smaller for a page: shapes shrink, and figures, words and the room of dimensions stay as they are.

A figure says the length in the wood, whatever the scale; so every dimension's figure is settled before it shrinks.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from jigcam.drawing.axes_arms import arms_below, arms_beside
from jigcam.drawing.ink import Ink
from jigcam.drawing.model import AngleDimension, Dimension, Drawing, Label, View
from jigcam.drawing.plate import Plate
from jigcam.drawing.running import Running
from jigcam.geometry import Path, Region

STEP = 1.06
"""From one scale that may be taken to the next."""
CLIMB = 1.13
"""By so much a view grows in turn while it finds room: two steps."""
LEAST_ARC = 9.0
"""Radius of the arc of an angle at least, mm on paper: in a smaller one its figure hides the corner."""


def sized(drawing: Drawing, scale: float) -> Drawing:
    """The drawing at that scale."""
    rows = tuple(tuple(sized_view(view, scale, drawing) for view in row) for row in drawing.rows)
    return replace(drawing, rows=rows)


def sized_view(view: View, scale: float, drawing: Drawing) -> View:
    """A view of the drawing at that scale."""
    axes = view.axes
    if axes is not None and axes.origin is not None:
        axes = replace(axes, origin=(axes.origin[0] * scale, axes.origin[1] * scale))
    return replace(
        view,
        items=tuple(replace(item, shape=_shape(item.shape, scale)) for item in view.items),
        labels=tuple(_label(label, scale) for label in view.labels),
        dimensions=tuple(_dimension(each, scale, drawing) for each in view.dimensions),
        angles=tuple(_angle(each, scale) for each in view.angles),
        running=tuple(_running(each, scale) for each in view.running),
        axes=axes,
    )


def _shape(shape: Path | Region, scale: float) -> Path | Region:
    return shape.transformed([[scale, 0.0, 0.0], [0.0, scale, 0.0]])


def _label(label: Label, scale: float) -> Label:
    """Words that are part of the thing drawn shrink with it."""
    own = scale if label.spot == "start" else 1.0
    return replace(label, x=label.x * scale, y=label.y * scale, size=label.size * own, room=label.room * own)


def _dimension(each: Dimension, scale: float, drawing: Drawing) -> Dimension:
    p0, p1 = ((x * scale, y * scale) for x, y in (each.p0, each.p1))
    return replace(each, p0=p0, p1=p1, text=each.figure(drawing.units))


def _angle(each: AngleDimension, scale: float) -> AngleDimension:
    apex = (each.apex[0] * scale, each.apex[1] * scale)
    return replace(each, apex=apex, radius=max(each.radius * scale, LEAST_ARC), text=each.figure())


def _running(each: Running, scale: float) -> Running:
    origin = (each.origin[0] * scale, each.origin[1] * scale)
    marks = tuple((at * scale, reach * scale, figure) for at, reach, figure in each.marks)
    return replace(each, origin=origin, marks=marks)


def fitted(view: View, drawing: Drawing, wide: float, high: float, scales: Sequence[float] = ()) -> tuple[float, Ink]:
    """A scale at which a view of the drawing finds room, and its ink without its caption.

    Words and figures stay as large as they are.

    scales: see `Flow.picture`; the last of them where none finds room.
    """
    bare, empty = replace(view, caption=""), Drawing("", (), drawing.units)

    def drawn(scale: float) -> Ink:
        """With the arms of its axes below it, or beside it where they find no room there."""
        ink, axes = _ink(bare, scale, empty), view.axes
        if axes is None:
            return ink
        below, beside = (_with(ink, place(axes, ink)) for place in (arms_below, arms_beside))
        u0, _, u1, _ = beside.bounds
        return below if _finds_room(below, wide, high) or u1 - u0 > wide else beside

    x0, y0, x1, y1 = view.bounds
    across, up = max(x1 - x0, 1e-6), max(y1 - y0, 1e-6)
    # Words and figures stand around the shapes.
    first = min(1.0, max(wide - 30.0, 0.4 * wide) / across, max(high - 24.0, 0.4 * high) / up)
    if scales:
        for scale in [each for each in scales if each <= 1.3 * first] or list(scales[-1:]):
            ink = drawn(scale)
            if _finds_room(ink, wide, high):
                break
        return scale, ink
    scale = _rung(min(1.4 * first, 1.0))
    while True:
        ink = drawn(scale)
        if _finds_room(ink, wide, high):
            break
        if scale < 0.3 * first:
            return scale, ink
        # What words and figures took this time, they will take again.
        u0, v0, u1, v1 = ink.bounds
        shapes = min((wide - (u1 - u0)) / across, (high - (v1 - v0)) / up)
        scale = _rung(max(min(scale + shapes, scale / STEP), 0.29 * first))
    while view.axes is not None and (more := _rung(scale * CLIMB)) <= 1.0:
        # Arms beside a view leave it more height than was reckoned with.
        larger = drawn(more)
        if not _finds_room(larger, wide, high):
            break
        scale, ink = more, larger
    return scale, ink


def _finds_room(ink: Ink, wide: float, high: float) -> bool:
    u0, v0, u1, v1 = ink.bounds
    return u1 - u0 <= wide + 0.01 and v1 - v0 <= high + 0.01


def _rung(scale: float) -> float:
    """The largest of the scales, a `STEP` from each other, that is no larger: views of one size are drawn once."""
    return float(STEP ** math.floor(math.log(scale, STEP) + 1e-9))


@lru_cache(maxsize=512)
def _ink(view: View, scale: float, drawing: Drawing) -> Ink:
    """A view at that scale, without the arms of its axes. Not to be changed: it is kept, as pages are laid out in
    several ways."""
    return Plate(sized_view(view, scale, drawing), drawing.units).ink


def _with(ink: Ink, more: Ink) -> Ink:
    """Both, as a new one."""
    return Ink([*ink.strokes, *more.strokes], [*ink.fills, *more.fills], [*ink.words, *more.words])


def scale_words(scale: float) -> str:
    """A scale as drawings tell it: 1:4."""
    return f"scale 1:{1.0 / scale:g}"
