"""A clamping as the person at the machine sees it: from above, and a standing board from the front as well.

Which end is up, which face is toward whom, where zero is, what stands behind, and the way of the bit. File frame, mm:
x to the right and y away from the person.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from jigcam.drawing.model import Axes, Dimension, Drawing, Item, Label, View
from jigcam.drawing.scenes.board import break_line
from jigcam.drawing.scenes.program import runs
from jigcam.geometry import Path, Region, chords, intersection, polygon, rectangle
from jigcam.making.setup import wastes_of
from jigcam.wood.band import sides

if TYPE_CHECKING:
    from jigcam.making.gcode_file import GcodeFile
    from jigcam.making.setup import Setup
    from jigcam.units import Voice
    from jigcam.wood import Solid

BACKER = 12.0
"""Thickness of a backer as drawn, mm: how thick it has to be, the words say."""
FREE = "keep free: the bit goes down here"
"""Said of what lies behind a standing board without a backer, where the bit goes in from."""
STANDS = 2.5
"""Of a standing board so many times the depth of its cut is shown above the break."""
LEAST_SHOWN = 45.0
"""And at least so much, mm."""
WITHIN = 1e-3
"""A section at a face is taken this far inside it, mm."""


def clamping_picture(setup: Setup, files: Sequence[GcodeFile], voice: Voice) -> Drawing:
    """From above, and for a board that stands also as it is seen by whoever stands before it."""
    views = [_from_above(setup, files)]
    if setup.clamping == "upright":
        views.insert(0, _from_the_front(setup))
    return Drawing(setup.title, tuple((view,) for view in views), voice.units)


def _names(setup: Setup) -> tuple[str, str, str, str]:
    """What lies at the left, at the right, toward the person and away, in the file's frame."""
    if setup.clamping == "upright":
        left, right = ("lower edge", "upper edge") if setup.placement[0][0] > 0.0 else ("upper edge", "lower edge")
        return left, right, "outside face, toward you", "inside face"
    if setup.clamping == "template":
        return "left edge", "right edge", "lower edge of the blank, toward you", "upper edge"
    left, right, lower, upper = sides(setup.face)
    return left, right, f"{lower}, toward you", upper


def _from_above(setup: Setup, files: Sequence[GcodeFile]) -> View:
    x0, y0, x1, y1 = setup.box
    stands, sheet = setup.clamping == "upright", setup.clamping == "template"
    items = [Item("blank" if sheet else "stock", rectangle(x0, y0, x1, y1))]
    labels: list[Label] = []
    if stands:
        labels += _backed(items, setup, (y0, y1))
    for waste in wastes_of(tuple(step for file in files for step in file.steps)):
        region = intersection(_seen(waste.must or waste.may), rectangle(x0, y0, x1, y1))
        if not region.is_empty:
            items.append(Item("cut", region))
    for file in files:
        motions = file.reading().motions
        known = np.isfinite(motions["end"][:, :2]).all(axis=1) & np.isfinite(motions["start"][:, :2]).all(axis=1)
        items += [Item(role, path) for role, path in runs(motions[known]) if role == "path-cut"]
    left, right, near, far = _names(setup)
    middle_x, middle_y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
    labels += [
        Label(x0 - (BACKER if setup.backer == "left" else 0.0), middle_y, left, "left", weight=3, size=3.0, kept=True),
        Label(
            x1 + (BACKER if setup.backer == "right" else 0.0), middle_y, right, "right", weight=3, size=3.0, kept=True
        ),
        Label(middle_x, y0, near, "below", weight=5, size=3.0, kept=True),
    ]
    if not stands:
        labels.append(Label(middle_x, y1, far, "above", weight=3, size=3.0, kept=True))
    dimensions = (
        Dimension((x0, y0), (x1, y0), -14.0, along="x"),
        Dimension((x1, y0), (x1, y1), -9.0 if stands else -26.0, along="y"),
    )
    up = "the face that gets the marks" if sheet else f"the {setup.end} end" if stands else f"the {setup.face} face"
    caption = f"from above, as you stand before it: {up} is up"
    return View(caption, tuple(items), tuple(labels), dimensions, axes=Axes("X", "Y", (0.0, 0.0)))


def _backed(items: list[Item], setup: Setup, span: tuple[float, float]) -> list[Label]:
    """Adds the backer, or what is kept free in its stead, and gives back its name.

    span: of the picture's upward axis, what the backer covers where it stands at an edge; behind the board it begins
    where that ends.
    """
    x0, _, x1, _ = setup.box
    low, high = span
    if setup.backer is None and setup.free and low == setup.box[1]:
        items.append(Item("free", rectangle(x0, high, x1, high + setup.free), True))
        return [Label((x0 + x1) / 2.0, high + setup.free, FREE, "above", weight=5, kept=True)]
    if setup.backer is None:
        return []
    if setup.backer == "behind":
        box = (x0, high, x1, high + BACKER)
    else:
        box = (x0 - BACKER, low, x0, high) if setup.backer == "left" else (x1, low, x1 + BACKER, high)
    items.append(Item("backer", rectangle(*box), True))
    return [Label((box[0] + box[2]) / 2.0, box[3], "backer", "above", weight=4)]


def _seen(solid: Solid) -> Region:
    """The waste from above: its section at the top."""
    return solid.section(max(-WITHIN, -solid.depth))


def _from_the_front(setup: Setup) -> View:
    """A standing board: x to the right, height above the end grain up; its cut as it opens in the face toward you, no
    farther than the board goes."""
    x0, y0, x1, _ = setup.box
    solids = [waste.must or waste.may for waste in wastes_of(setup.steps)]
    depth = max((solid.depth for solid in solids), default=0.0)
    low = -max(STANDS * depth, LEAST_SHOWN)
    wood = rectangle(x0, low, x1, 0.0)
    shown = [intersection(each, wood) for solid in solids for each in front_of(solid, y0 + WITHIN)]
    items = [
        Item("stock", Path.through([(x0, low), (x0, 0.0), (x1, 0.0), (x1, low)])),
        Item("break", break_line((x0, low), (x1, low), 3.0)),
        *(Item("cut", each, True) for each in shown if not each.is_empty),
    ]
    at_edge = setup.backer in ("left", "right")
    backer = _backed(items, setup, (low, 0.0)) if at_edge else []
    left, right, near, _ = _names(setup)
    labels = (
        *backer,
        Label(x0 - (BACKER if setup.backer == "left" else 0.0), low / 2.0, left, "left", weight=3, size=3.0, kept=True),
        Label(
            x1 + (BACKER if setup.backer == "right" else 0.0), low / 2.0, right, "right", weight=3, size=3.0, kept=True
        ),
        Label((x0 + x1) / 2.0, 0.0, f"{setup.end} end up", "above", weight=5, size=3.0, kept=True),
        Label((x0 + x1) / 2.0, low, near, "below", weight=5, size=3.0, kept=True),
    )
    dimensions = [Dimension((x1, -depth), (x1, 0.0), -9.0, along="y")] if depth else []
    where = {
        "behind": ", its backer behind it",
        "left": f", its backer at the {left}",
        "right": f", its backer at the {right}",
    }
    return View(
        "from the front: the board stands" + (where[setup.backer] if setup.backer else ""),
        tuple(items),
        labels,
        tuple(dimensions),
        axes=Axes("X", "Z", (0.0, 0.0)),
    )


def front_of(solid: Solid, y: float) -> list[Region]:
    """The places that a solid takes in the plane y, as quadrilaterals between the heights that matter (x, z)."""
    levels = solid.levels()
    found = []
    for high, low in pairwise(levels):
        if high - low < 2.0 * WITHIN:
            continue
        above, below = (chords(solid.section(z), "y", y) for z in (high - WITHIN, low + WITHIN))
        if len(above) != len(below):
            continue
        for (a, b), (c, d) in zip(above, below, strict=True):
            found.append(polygon([(c, low), (d, low), (b, high), (a, high)]))
    return found
