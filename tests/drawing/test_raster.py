"""Dots of lines and areas, against plain arithmetic and the exact region."""

from __future__ import annotations

import numpy as np
from hypothesis import assume, given
from hypothesis import strategies as st
from support.drawings import regions

from jigcam.drawing.raster import dashed, inside, trace
from jigcam.geometry import Region, rotation, translation

spots = st.tuples(st.floats(-60, 60), st.floats(-60, 60))


@given(st.lists(spots, min_size=1, max_size=8))
def test_a_line_is_one_chain_of_dots_from_end_to_end_and_never_off_it(points: list[tuple[float, float]]) -> None:
    dots = trace(np.array(points))
    assert tuple(dots[0]) == tuple(np.rint(points[0]).astype(int))
    assert tuple(dots[-1]) == tuple(np.rint(points[-1]).astype(int))
    if len(dots) > 1:
        assert np.abs(np.diff(dots, axis=0)).max() == 1
    a, b = np.array(points[:-1]).reshape(-1, 2), np.array(points[1:]).reshape(-1, 2)
    if len(a):
        for dot in dots:
            way = b - a
            share = np.clip(((dot - a) * way).sum(1) / np.maximum((way * way).sum(1), 1e-300), 0, 1)
            assert np.hypot(*(a + share[:, None] * way - dot).T).min() <= np.sqrt(0.5) + 1e-9


@given(regions(), st.floats(0.0, 6.0))
def test_inside_is_what_the_exact_region_holds(region: Region, turn: float) -> None:
    x0, y0, x1, y1 = region.bounds
    scale = 40.0 / max(x1 - x0, y1 - y0)
    middle = translation(-(x0 + x1) / 2, -(y0 + y1) / 2)
    shape = region.transformed(middle).transformed(rotation(turn))
    shape = shape.transformed(np.array([[scale, 0, 30.3], [0, scale, 30.7]]))
    dots = inside([loop.points(0.001) for loop in shape.loops], 60, 60)
    grid = np.column_stack([c.ravel() for c in np.meshgrid(np.arange(60.0), np.arange(60.0))])
    sure = np.abs(shape.signed_distance(grid)) > 0.01
    assume(sure.any())
    assert (dots.ravel()[sure] == shape.contains(grid)[sure]).all()


def test_dashes_start_with_a_dot_and_skip_what_they_say() -> None:
    line = trace(np.array([(0, 0), (11, 0)]))
    assert dashed(line, (3, 2))[:, 0].tolist() == [0, 1, 2, 5, 6, 7, 10, 11]
    assert len(dashed(line[:1], (1, 3))) == 1
