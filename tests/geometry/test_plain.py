"""One point in plain numbers: as far from a region, and as often within it, as the arrays say of many."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.shapes import regions

from jigcam.geometry import Region
from jigcam.geometry.plain import PlainSegments


@given(regions(), st.lists(st.tuples(st.floats(-80, 80), st.floats(-80, 80)), min_size=2, max_size=12))
def test_single_points_are_judged_as_many_are(region: Region, places: list[tuple[float, float]]) -> None:
    # Heights and places of vertices too: there a ray passes where two segments meet.
    vertices = np.concatenate([np.empty((0, 2)), *(loop.vertices[:6, :2] for loop in region.loops)])
    level = np.column_stack([np.resize([x for x, _ in places], len(vertices)), vertices[:, 1]])
    points = np.concatenate([places, vertices, level])
    plain = PlainSegments(region.as_segments())
    distances = region.distance(points)
    assert np.allclose([plain.distance(complex(*p)) for p in points], distances, rtol=0.0, atol=1e-9)
    clear = distances > 1e-6
    assert [plain.winding_number(complex(*p)) > 0 for p in points[clear]] == region.contains(points[clear]).tolist()
    if clear[0]:
        one, many = region.signed_distance(points[:1]), region.signed_distance(points[:2])
        assert one[0] == pytest.approx(many[0], abs=1e-9)
