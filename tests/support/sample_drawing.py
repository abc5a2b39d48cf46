"""A drawing with everything in it, for tests that want one of each."""

from __future__ import annotations

import math

from jigcam.drawing import PENS, AngleDimension, Axes, Dimension, Drawing, Item, Label, View
from jigcam.geometry import Path, disc, rectangle, slot


def sample() -> Drawing:
    """Every role, filled and not; every kind of dimension; words in every spot; two rows of views, one minor."""
    groove = slot((60, 30), (140, 110), 14)
    items = (
        Item("stock", rectangle(0, 0, 200, 140)),
        Item("cut", groove, True),
        Item("hole", disc(25, 120, 5)),
        Item("centreline", Path.through([(55, 25), (145, 115)])),
        Item("base", disc(100, 70, 40)),
    )
    spots = ("on", "near", "left", "right", "above", "below")
    labels = (
        *(Label(170, 20 + 18 * n, f"spot {spot}", spot) for n, spot in enumerate(spots)),
        Label(25, 120, "pointed at", "right", True),
        Label(20, 90, "AS ENGRAVED", "start", size=6.0, role="mark", angle=math.pi / 6),
    )
    dimensions = (
        Dimension((0, 0), (200, 0), -10, along="x"),
        Dimension((0, 0), (0, 140), 10, along="y"),
        Dimension((60, 30), (140, 110), 22),
        Dimension((200, 0), (203, 0), -10, along="x"),
    )
    angles = (AngleDimension((60, 30), 0.0, math.pi / 4, 50.0),)
    main = View("plan", items, labels, dimensions, angles, Axes(origin=(0.0, 0.0)))
    detail = View(
        "detail", (Item("stock", rectangle(0, -20, 60, 0), True), Item("mate", rectangle(20, -8, 40, 12))), minor=True
    )
    swatches = tuple(Item(role, rectangle(12 * n, 0, 12 * n + 10, 10), n % 2 == 0) for n, role in enumerate(PENS))
    return Drawing(
        "One of each",
        ((main, detail), (View("roles", swatches),)),
        "mm",
        (("board", "side"), ("hand", "as drawn")),
        ("A note that says something at some length about the drawing.",),
    )
