"""A sheet that several joints share, as it lies on the board: all its openings, named, and what stays between them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from jigcam.drawing.model import Dimension, Drawing, Label, View
from jigcam.drawing.scenes.board import seen_on
from jigcam.drawing.scenes.section import stack_view
from jigcam.drawing.scenes.template import on_wall, sheet_view

if TYPE_CHECKING:
    from jigcam.template import SharedSheet
    from jigcam.units import Voice


PLACES = 50
"""Places along a dimension at which it is asked what it runs through."""


def scene_shared(sheet: SharedSheet, voice: Voice, *, base_radius: float | None = None) -> Drawing:
    """The sheet seen from above in the board's frame, and the stack of lengths across each of its openings.

    base_radius: of the router, mm; given, its base is drawn where the sheet supports it least.
    """
    first = sheet.first
    wide, high = (first.sheet.bounds[i + 2] - first.sheet.bounds[i] for i in (0, 1))
    facts = [
        (
            "for",
            f"{', '.join(each.cut.joint for each in sheet.openings)}; {first.cut.board.name}, {first.cut.face} face",
        ),
        ("hand, this face up", first.cut.hand),
        ("sheet", f"{voice.rule(wide)} × {voice.rule(high)}"),
    ]
    for each in sheet.openings:
        facts.append((each.cut.joint, f"{each.pair}, bit {voice.rule(each.stack.projection)} below the base"))
    for near in sheet.neighbours:
        says = f"{voice.rule(near.wall.size)} of sheet, {voice.rule(near.wood.size)} of wood"
        facts.append((" to ".join(near.joints), says))
    stacks = [
        replace(stack_view(each, voice.units, minor=True), caption=f"{each.cut.joint}: bit at full depth")
        for each in sheet.openings
    ]
    rows = ((_view(sheet, voice, base_radius),), tuple(stacks))
    return Drawing(
        f"{sheet.name}: template", rows, voice.units, tuple(facts), (seen_on(first.cut.board, first.cut.face),)
    )


def _view(sheet: SharedSheet, voice: Voice, base_radius: float | None) -> View:
    """The sheet from above, with every opening, what is cut through it, and the least distances."""
    worst = min(sheet.openings, key=lambda each: each.support.fraction)
    views = [sheet_view(each, voice.units, base_radius if each is worst else None) for each in sheet.openings]
    # What each view has of the sheet is the same: it is taken once.
    items = tuple(dict.fromkeys(item for view in views for item in view.items))
    labels = [label for label in views[0].labels if label.text != "opening"]
    labels += [Label(*on_wall(each), each.cut.joint, "right", True, weight=2) for each in sheet.openings]
    dimensions = list(dict.fromkeys(each for view in views for each in view.dimensions if not _crosses(each, sheet)))
    for near in sheet.neighbours:
        for wall, away, what in ((near.wall, 9.0, "sheet"), (near.wood, 18.0, "wood")):
            if wall.size > 0.0:
                dimensions.append(Dimension(wall.a, wall.b, away, f"{what} {voice.length(wall.size)}"))
    return replace(views[0], items=items, labels=tuple(labels), dimensions=tuple(dimensions))


def _crosses(dimension: Dimension, sheet: SharedSheet) -> bool:
    """Whether a dimension would be drawn through an opening that it does not measure."""
    if dimension.offset != 0.0:
        return False
    points = np.linspace(dimension.p0, dimension.p1, PLACES)[1:-1]
    return any(bool(each.opening.contains(points).any()) for each in sheet.openings)
