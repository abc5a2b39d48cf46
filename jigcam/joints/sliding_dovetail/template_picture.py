"""A socket by template in pictures: the sheet on its board, and each bit at its depth in its opening."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from jigcam.drawing import Drawing, Item, Label
from jigcam.drawing.scenes.section import stack_view
from jigcam.drawing.scenes.shared import scene_shared
from jigcam.drawing.scenes.template import scene_template
from jigcam.geometry import disc
from jigcam.joints.sliding_dovetail.template_words import HOLE_SPARE, ways_in

if TYPE_CHECKING:
    from jigcam.joints.sliding_dovetail.socket_sheet import SocketSheet
    from jigcam.units import Voice


def scene_sheet(sheet: SocketSheet, voice: Voice, base_radius: float) -> Drawing:
    """The sheet from above, with its opening or both, and the holes to be bored in strips that lie in the way."""
    if sheet.shared is not None:
        drawing = scene_shared(sheet.shared, voice, base_radius=base_radius)
    else:
        drawing = scene_template(sheet.dovetail, units=voice.units, base_radius=base_radius)
    holes = [way for way in ways_in(sheet) if way.strip]
    (view, *beside), *rows = drawing.rows
    items = [Item("hole", disc(*way.place, sheet.dovetail.bit.radius + HOLE_SPARE)) for way in holes]
    labels = [Label(*way.place, f"bored in the {way.strip}", "right", True, weight=2) for way in holes]
    view = replace(view, items=(*view.items, *items), labels=(*view.labels, *labels))
    facts, before = drawing.facts, sheet.clearing
    if before is not None and sheet.shared is None:
        facts = (*facts, ("before it", f"{before.pair}, {voice.rule(before.stack.projection)} below the base"))
    return replace(drawing, rows=((view, *beside), *rows), facts=facts)


def scene_passes(sheet: SocketSheet, voice: Voice) -> Drawing:
    """Across the opening: the straight bit at its full depth, then the dovetail bit at the one that it is set to."""
    plans = [sheet.dovetail] if sheet.clearing is None else [sheet.clearing, sheet.dovetail]
    views = []
    facts = []
    for number, plan in enumerate(plans, start=1):
        what = "dovetail bit" if plan is sheet.dovetail else "straight bit"
        below = voice.rule(plan.stack.projection)
        views.append(replace(stack_view(plan, voice.units), caption=f"{number}. {what}, {below} below the base"))
        facts.append((f"{number}. {what}", f"{plan.pair}"))
        facts.append(("below the base", f"{below}, {voice.rule(plan.stack.depth)} deep"))
    return Drawing(f"{sheet.joint.name}: both bits", (tuple(views),), voice.units, tuple(facts))
