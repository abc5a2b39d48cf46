"""Strategies for drawings: shapes of every kind and size, words that people might use, and words that do harm."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import strategies as st

from jigcam.drawing import PENS, AngleDimension, Axes, Dimension, Drawing, Item, Label, View
from jigcam.geometry import Path, Region, capsule, disc, rectangle

coordinates = st.floats(-3000.0, 3000.0, allow_nan=False).map(lambda v: round(v, 3))
sizes = st.floats(0.01, 2000.0, allow_nan=False).map(lambda v: round(v, 3))
points = st.tuples(coordinates, coordinates)
roles = st.sampled_from(sorted(PENS))

HOSTILE = (
    "x) G0 Z-50 (",
    "\x1b[31mred\x1b[0m",
    "a\nb\r\tc",
    "<script>&\"'",
    "]]>",
    "Kirschbaum Äpfel ß",
    "櫻木の棚",
    "é́́",
    "\u202egnol\u202c",
    "‮",
    "\x00",
    "\x9b2J",
    "🪵🪚",
    "",
    " ",
    "\u200b",
    "\ud800",
    "x" * 300,
    "\ufeff",
    "\ufffe",
)
words = st.one_of(st.sampled_from(HOSTILE), st.text(max_size=40))


@st.composite
def paths(draw: st.DrawFn) -> Path:
    corners = draw(st.lists(points, min_size=2, max_size=6))
    bulges = draw(
        st.lists(st.sampled_from([0.0, 0.0, 0.3, -0.5, 1.0, -1.0]), min_size=len(corners), max_size=len(corners))
    )
    return Path(np.column_stack([corners, bulges]), draw(st.booleans()))


@st.composite
def regions(draw: st.DrawFn) -> Region:
    (x, y), w, h = draw(points), draw(sizes), draw(sizes)
    kind = draw(st.sampled_from(["rectangle", "disc", "capsule", "frame"]))
    if kind == "rectangle":
        return rectangle(x, y, x + w, y + h)
    if kind == "disc":
        return disc(x, y, w)
    if kind == "capsule":
        return capsule((x, y), (x + h, y + w / 2), w)
    (outer,) = rectangle(x, y, x + w, y + h).loops
    (inner,) = disc(x + w / 2, y + h / 2, min(w, h) / 3).loops
    return Region((outer, inner.reversed()))


items = st.builds(Item, roles, st.one_of(paths(), regions()), st.booleans())
spots = st.sampled_from(["on", "near", "left", "right", "above", "below", "start"])
labels = st.builds(
    Label,
    coordinates,
    coordinates,
    words,
    spots,
    st.booleans(),
    st.floats(1.0, 12.0),
    roles,
    st.integers(0, 5),
    st.floats(-4.0, 4.0),
)
dimensions = st.builds(
    Dimension,
    points,
    points,
    st.floats(-40.0, 40.0),
    st.one_of(st.just(""), words),
    st.sampled_from(["x", "y", "points"]),
)
angles = st.builds(AngleDimension, points, st.floats(-3.0, 0.0), st.floats(0.01, math.pi), st.floats(0.1, 500.0))
axes = st.one_of(st.none(), st.builds(Axes, words, words, st.one_of(st.none(), points)))


@st.composite
def views(draw: st.DrawFn) -> View:
    some = [tuple(draw(st.lists(kind, max_size=4))) for kind in (items, labels, dimensions, angles)]
    return View(draw(words), *some, draw(axes), draw(st.booleans()))


@st.composite
def drawings(draw: st.DrawFn) -> Drawing:
    rows = tuple(tuple(row) for row in draw(st.lists(st.lists(views(), max_size=2), max_size=2)))
    facts = tuple(draw(st.lists(st.tuples(words, words), max_size=3)))
    return Drawing(
        draw(words), rows, draw(st.sampled_from(["in", "mm"])), facts, tuple(draw(st.lists(words, max_size=2)))
    )
