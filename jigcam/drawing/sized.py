"""Views made smaller for a page: shapes shrink, and figures, words and the room of dimensions stay as they are.

A figure says the length in the wood, whatever the scale; so every dimension's figure is settled before it shrinks.
"""

from __future__ import annotations

from dataclasses import replace

from jigcam.drawing.model import AngleDimension, Dimension, Drawing, Label, View
from jigcam.drawing.running import Running
from jigcam.geometry import Path, Region

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
