"""The drawing of a file height by height, and what the proof measures there."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from jigcam.geometry import GeometryError, Region, intersection
from jigcam.player.numbers import loops_of, plain
from jigcam.proof import CrossSection, Target
from jigcam.proof.target import INSIDE, Layer

STEP = 0.5
"""Steps in which a section is dragged, mm, where a layer is not too thick for that."""
MOST_STEPS = 24
"""Heights in one layer at most."""


def sections_of(
    target: Target, measured: Callable[[float], CrossSection | None]
) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """Heights at which a section can be taken, descending, and the drawings that they are compared with.

    measured: what the proof finds gone at a height, None where it does not say. A height has its `z`, `at` where it
    stands for a face or a floor, and the number of its `drawing`; where it is measured (`_told`), the `area` and `edge`
    of what is gone there, mm² and mm, and `engraved` where lines of marks are among it. A drawing has `may` and `must`,
    as loops, and the area that has to go within the stock, mm², marks apart.
    """
    heights: list[dict[str, Any]] = []
    drawings: list[dict[str, Any]] = []
    for layer in target.layers:
        stops = _stops(layer)
        low = stops[-1]  # which is no stop where nothing may go
        if target.may(stops[0]).is_empty and not target.marks_at(stops[-1]):
            # Nothing may go here: right under its face is enough to look at.
            stops = stops[:1]
        for z in stops:
            if not layer.upright or z == stops[0]:
                drawings.append(_drawing(target, z))
            height: dict[str, Any] = {"z": plain(z), "drawing": len(drawings) - 1}
            if z in (stops[0], low):
                height["at"] = plain(layer.high if z == stops[0] else layer.low)
            if z in _told(layer, stops, bool(target.marks_at(stops[0]))):
                section = measured(z)
                if section is not None and (section.area or drawings[-1]["area"]):
                    height |= {"area": plain(section.area, 4), "edge": plain(section.edge, 2)}
                    if target.marks_at(z):
                        height["engraved"] = 1
            heights.append(height)
    return heights, drawings


def _stops(layer: Layer) -> list[float]:
    """Heights from just under the face of a layer to just above its floor."""
    high, low = layer.high - INSIDE, layer.low + INSIDE
    count = min(MOST_STEPS, max(2, math.ceil((high - low) / STEP)))
    count += count % 2  # so that one of them is half way
    return [high + (low - high) * k / count for k in range(count + 1)]


def _told(layer: Layer, stops: list[float], engraved: bool) -> tuple[float, ...]:
    """Heights of a layer at which the proof is asked what is gone.

    Where walls slope, right under its face as well; where lines are engraved, half way down, as a pointed bit leaves
    next to nothing open at its tip.
    """
    if engraved:
        return (stops[len(stops) // 2],) if layer.upright else (stops[len(stops) // 2], stops[-1])
    return (stops[-1],) if layer.upright else (stops[0], stops[-1])


def _drawing(target: Target, z: float) -> dict[str, Any]:
    must, may = target.must(z), target.may(z)
    return {"may": loops_of(_near(may, target)), "must": loops_of(must), "area": plain(must.area, 4)}


def _near(may: Region, target: Target) -> Region:
    """What may go, within the stock, where that is to be had; else as it is, beyond the stock too."""
    try:
        return intersection(may, target.stock.region) if not may.is_empty else may
    except GeometryError:
        return may
