"""Drawings: one model of shapes, words and dimensions, and what renders it. What does so stands in `renderers`."""

from jigcam.drawing.model import AngleDimension, Axes, Dimension, Drawing, Item, Label, View
from jigcam.drawing.roles import PENS, Pen, Role

__all__ = ["PENS", "AngleDimension", "Axes", "Dimension", "Drawing", "Item", "Label", "Pen", "Role", "View"]
