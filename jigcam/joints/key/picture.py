"""Bow-tie keys: their recesses along the crack, and the key that fills one, with the way its grain runs."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from jigcam.drawing.model import Axes, Dimension, Drawing, Item, Label, View
from jigcam.drawing.scenes.board import edge_labels, outline, place_dimensions, seen_on, window_on
from jigcam.geometry import Path, Region, compose, rotation, translation
from jigcam.units import format_angle, format_length

if TYPE_CHECKING:
    from collections.abc import Callable

    from jigcam.joints.key.key import Key
    from jigcam.joints.key.template import KeyTemplate
    from jigcam.units import Voice

CRACK = 0.35
"""How far the crack is drawn past the first and the last key, in lengths of a key."""
GRAIN = 5
"""Lines that show which way the grain of a key runs."""


def scene_key(plan: KeyTemplate, *, units: str = "mm") -> Drawing:
    """The board's face with its recesses as bit and bushing leave them, and one key by itself."""
    key = plan.key

    def says(mm: float) -> str:
        return format_length(mm, units)

    facts = (
        *_facts(key, says),
        ("bit", plan.inlay.recess.bit.name),
        ("bushing for the recess", plan.inlay.recess.bushing.name),
        ("bushing for the key", plan.inlay.plug.bushing.name),
        ("gap all round", says(plan.inlay.gap / 2.0)),
    )
    views = (face_view(key, recesses_of(plan), units), key_view(key, plan.plug, units))
    return Drawing(key.name, (views,), units, facts, _notes(key))


def scene_key_by_hand(key: Key, voice: Voice) -> Drawing:
    """The board's face with its recesses as drawn, and one key by itself: corners are sharp, as knife and chisel."""
    outlines = tuple(key.outline(centre) for centre in key.centres)
    views = (face_view(key, outlines, voice.units), key_view(key, outlines[0], voice.units))
    return Drawing(key.name, (views,), voice.units, tuple(_facts(key, voice.length)), _notes(key))


def _facts(key: Key, says: Callable[[float], str]) -> list[tuple[str, str]]:
    return [
        ("board", f"{key.board.name}, {key.face} face"),
        ("keys", str(len(key.centres))),
        ("direction", f"{format_angle(key.angle)} from the grain"),
        ("recess", f"{says(key.depth)} deep"),
    ]


def _notes(key: Key) -> tuple[str, ...]:
    return "The grain of a key runs along it, across the crack.", seen_on(key.board, key.face)


def face_view(key: Key, recesses: tuple[Region, ...], units: str) -> View:
    """The face that the keys are let into, lower edge down."""
    board = key.board
    boxes = np.array([region.bounds for region in recesses])
    box = (*boxes[:, :2].min(axis=0), *boxes[:, 2:].max(axis=0))
    window = window_on(board.length, board.width, (float(box[0]), float(box[1]), float(box[2]), float(box[3])))
    first, last = key.centres[0], key.centres[-1]
    items = [*outline(window), *(Item("cut", region, True) for region in recesses)]
    items.append(Item("crack", _crack(key)))
    labels = [*edge_labels(board, key.face, window, units)]
    if len(key.centres) > 1:
        labels += [Label(*centre, str(number), "on", weight=3) for number, centre in enumerate(key.centres, 1)]
    labels.append(Label(*_crack(key).start, "crack", "near", True, weight=2))
    dimensions = place_dimensions(board, key.face, window, first, units)
    if first != last:
        off = key.length / 2.0 + 8.0
        dimensions += [Dimension(a, b, off) for a, b in pairwise(key.centres)]
    caption = f"{key.face} face of {board.name}, lower edge down"
    axes = Axes(origin=None if window.cut[0] or window.cut[1] else (0.0, 0.0))
    return View(caption, tuple(items), tuple(labels), tuple(dimensions), axes=axes)


def key_view(key: Key, first: Region, units: str) -> View:
    """One key by itself, its length upright. first: the first key where it lies on the board, corners as they are."""
    x, y = key.centres[0]
    plug = first.transformed(compose(translation(-x, -y), rotation(math.pi / 2.0 - key.angle)))
    x0, y0, x1, y1 = plug.bounds
    waist = _half_width(plug)
    items = [Item("stock", plug)]
    for across in np.linspace(-waist, waist, GRAIN + 2)[1:-1]:
        items.append(Item("extension", Path.through([(float(across), y0 + 2.0), (float(across), y1 - 2.0)])))
    dimensions = (
        Dimension((x0, y1), (x1, y1), 8.0, along="x"),
        Dimension((x1, y0), (x1, y1), -9.0, along="y"),
        Dimension((-waist, y0), (waist, y0), -8.0, f"waist {format_length(2.0 * waist, units)}", along="x"),
    )
    labels = (Label(float(-0.6 * waist), 0.0, "grain", "left", True, weight=1),)
    return View("one key", tuple(items), labels, dimensions)


def recesses_of(plan: KeyTemplate) -> tuple[Region, ...]:
    """Every recess, as the one that the template is laid for."""
    section, (x0, y0) = plan.template.cut.solid.section(0.0), plan.key.centres[0]
    return tuple(section.transformed(translation(x - x0, y - y0)) for x, y in plan.key.centres)


def _crack(key: Key) -> Path:
    """Along the middles of the keys and a little beyond them, from left to right."""
    way = np.array([math.sin(key.angle), -math.cos(key.angle)])
    beyond = (key.ends / 2.0 + CRACK * key.length) * way
    return Path.through([np.array(key.centres[0]) - beyond, np.array(key.centres[-1]) + beyond])


def _half_width(plug: Region) -> float:
    """Half the width of an upright key at its waist, mm."""
    return float(plug.signed_distance(np.array([[0.0, 0.0]]))[0])
