"""A zoo of regions, and strategies that make more of them."""

from __future__ import annotations

import numpy as np
from hypothesis import assume
from hypothesis import strategies as st

from jigcam.geometry import (
    Path,
    Region,
    bar,
    capsule,
    difference,
    disc,
    offset,
    polygon,
    rectangle,
    rotation,
    slot,
    translation,
    union,
)


def _loop(*vertices: tuple[float, float, float]) -> Region:
    return Region((Path(np.array(vertices), closed=True),))


ZOO: dict[str, Region] = {
    "rectangle": rectangle(0.0, 0.0, 20.0, 10.0),
    "disc": disc(3.0, -2.0, 7.5),
    "slot": slot((0.0, 0.0), (60.0, 25.0), 12.8524),
    "slot as long as wide": slot((0.0, 0.0), (8.0, 0.0), 8.0),
    "square-ended bar": bar((0.0, 0.0), (30.0, 40.0), 9.5),
    "ell": polygon([(0, 0), (30, 0), (30, 10), (10, 10), (10, 25), (0, 25)]),
    "comb": polygon(
        [(0, 0), (50, 0), (50, 20), (45, 20), (44, 3), (36, 3), (35, 20), (25, 20), (24, 3), (16, 3), (15, 20), (0, 20)]
    ),
    "needle": polygon([(0, 0), (40, 0), (40, 8), (20, 8.02), (20, 8), (0, 8)]),
    "spike": polygon([(0, 0), (10, 0), (10, 4), (60, 5), (10, 6), (10, 10), (0, 10)]),
    "inward needle": polygon([(0, 0), (40, 0), (40, 20), (20.01, 20), (20, 2), (19.99, 20), (0, 20)]),
    "scallops": _loop((0, 0, -0.6), (10, 0, -0.6), (20, 0, 0), (20, 15, 0.3), (0, 15, 0)),
    "concave half turn": _loop((0, 0, 0), (8, 0, -1), (22, 0, 0), (30, 0, 0), (30, 20, 0), (0, 20, 0)),
    "half disc": _loop((0, 0, 0), (20, 0, 1)),
    "nearly straight arcs": _loop((0, 0, 1e-5), (50, 0, -1e-7), (50, 30, 2e-4), (0, 30, 1e-9)),
    "repeated vertices": _loop(
        (0, 0, 0), (0, 0, 0.5), (20, 0, 0), (20, 0, 0), (20, 0, 0), (20, 12, -0.2), (0, 12, 0), (0, 12, 0)
    ),
    "ring": difference(disc(0.0, 0.0, 20.0), disc(0.0, 0.0, 12.0)),
    "two holes": difference(
        rectangle(0.0, 0.0, 40.0, 20.0), union(disc(10.0, 10.0, 4.0), rectangle(22.0, 6.0, 34.0, 14.0))
    ),
    "island in a hole": union(
        difference(rectangle(0.0, 0.0, 40.0, 40.0), disc(20.0, 20.0, 15.0)), disc(20.0, 20.0, 6.0)
    ),
    "crescent": difference(disc(0.0, 0.0, 10.0), disc(4.0, 0.0, 9.0)),
    "cusp": difference(disc(0.0, 0.0, 10.0), disc(4.0, 0.0, 6.0)),
    "touching corners": union(rectangle(0.0, 0.0, 10.0, 10.0), rectangle(10.0, 10.0, 20.0, 20.0)),
    "touching discs": union(disc(0.0, 0.0, 5.0), disc(10.0, 0.0, 5.0)),
    "hole touching the outline": difference(rectangle(0.0, 0.0, 20.0, 20.0), disc(10.0, 5.0, 5.0)),
    # A slot bent round until it touches itself along a line: one outline with a hole that it closes.
    "self-touching slot": union(
        rectangle(0.0, 0.0, 30.0, 6.0),
        rectangle(24.0, 6.0, 30.0, 24.0),
        rectangle(0.0, 18.0, 24.0, 24.0),
        rectangle(0.0, 6.0, 6.0, 18.0),
    ),
    "self-touching outline": _loop(
        (0, 0, 0),
        (10, 0, 0),
        (10, 5, 0),
        (20, 5, 0),
        (20, 0, 0),
        (30, 0, 0),
        (30, 15, 0),
        (20, 15, 0),
        (20, 5, 0),
        (10, 5, 0),
        (10, 15, 0),
        (0, 15, 0),
    ),
    "rounded": offset(rectangle(0.0, 0.0, 30.0, 12.0), 3.175),
    "far away": slot((0.0, 0.0), (60.0, 0.0), 12.7).transformed(translation(2400.0, -1200.0)),
    "small": slot((0.0, 0.0), (0.5, 0.1), 0.2),
    "turned cross": union(bar((-20.0, 0.0), (20.0, 0.0), 6.0), bar((0.0, -20.0), (0.0, 20.0), 6.0)).transformed(
        rotation(0.3)
    ),
    "two parts": union(capsule((0.0, 0.0), (20.0, 0.0), 3.0), capsule((0.0, 9.0), (20.0, 12.0), 2.0)),
}
"""By name. All are clean: loops neither cross nor overlap (one touches itself)."""

COORDINATE = st.one_of(
    st.integers(-12, 12).map(float), st.floats(-12.0, 12.0, allow_nan=False).map(lambda x: round(x, 4))
)
"""Half of them whole numbers, so that edges coincide and circles touch often."""
SIZE = st.one_of(st.integers(1, 8).map(float), st.floats(0.3, 8.0).map(lambda x: round(x, 4)))
BULGE = st.sampled_from([0.0, 0.0, 0.0, 1.0, -1.0, 0.41421356237309503, -0.41421356237309503, 0.2, -0.3, 1e-4])


@st.composite
def primitives(draw: st.DrawFn) -> Region:
    """One simple shape."""
    x, y = draw(COORDINATE), draw(COORDINATE)
    a, b = draw(SIZE), draw(SIZE)
    p = (x + draw(COORDINATE), y + draw(COORDINATE))
    kind = draw(st.sampled_from(["rectangle", "disc", "capsule", "bar", "rounded"]))
    if kind == "rectangle":
        return rectangle(x, y, x + a, y + b)
    if kind == "disc":
        return disc(x, y, a)
    if kind == "capsule":
        return capsule((x, y), p, a / 2.0)
    if kind == "bar":
        return bar((x, y), p if p != (x, y) else (x + 1.0, y), a)
    return offset(rectangle(x, y, x + a, y + b), 1.0)


@st.composite
def outlines(draw: st.DrawFn) -> Region:
    """A star of lines and arcs round the origin, corners as sharp as they come, made clean where its arcs cross."""
    count = draw(st.integers(3, 12))
    radii = draw(st.lists(st.floats(3.0, 30.0), min_size=count, max_size=count))
    bulges = draw(st.lists(BULGE, min_size=count, max_size=count))
    angles = np.sort(draw(st.lists(st.integers(0, 359), min_size=count, max_size=count, unique=True)))
    points = np.array(radii)[:, None] * np.column_stack([np.cos(np.radians(angles)), np.sin(np.radians(angles))])
    repeat = draw(st.lists(st.integers(1, 2), min_size=count, max_size=count))  # repeated vertices too
    star = union(Region((Path(np.repeat(np.column_stack([points, bulges]), repeat, axis=0), closed=True),)))
    assume(not star.is_empty)
    return star


@st.composite
def regions(draw: st.DrawFn) -> Region:
    """Shapes put together and cut out of each other; sometimes empty."""
    region = union(*draw(st.lists(st.one_of(primitives(), outlines()), min_size=1, max_size=3)))
    for cutter in draw(st.lists(primitives(), max_size=2)):
        region = difference(region, cutter)
    return region
