"""Smooth curves through points: arcs of circles exactly, tangents shared, corners and straight lines kept."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.geometry import Path, arc_of
from jigcam.toolpath.curve import BENT, KINK, smooth
from jigcam.toolpath.engrave import letters


def directions(path: Path) -> list[tuple[complex, complex]]:
    """Unit tangents at start and end of each segment."""
    out = []
    for x0, y0, x1, y1, bulge in path.segments().tolist():
        chord, half = complex(x1 - x0, y1 - y0), 2.0 * math.atan(bulge)
        unit = chord / abs(chord)
        out.append((unit * np.exp(-1j * half), unit * np.exp(1j * half)))
    return out


def turns(path: Path) -> list[float]:
    """Turn of the direction at each inner vertex, rad."""
    ways = directions(path)
    return [abs(float(np.angle(b[0] / a[1]))) for a, b in pairwise(ways)]


@given(
    st.floats(0.5, 50.0),
    st.floats(-math.pi, math.pi),
    st.floats(0.5, math.tau - 0.7),
    st.integers(9, 40),
    st.booleans(),
)
def test_points_of_a_circle_give_its_arcs(radius: float, start: float, sweep: float, count: int, right: bool) -> None:
    angles = start + np.linspace(0.0, -sweep if right else sweep, count)
    path = smooth(np.column_stack([radius * np.cos(angles), radius * np.sin(angles)]))
    assert path.length == pytest.approx(radius * sweep, rel=1e-9)
    for x0, y0, x1, y1, bulge in path.segments().tolist():
        cx, cy, *_ = arc_of((x0, y0), (x1, y1), bulge)
        assert math.hypot(cx, cy) < 1e-6 * radius


def test_a_closed_curve_has_no_corner_where_it_begins() -> None:
    angles = np.linspace(0.0, math.tau, 17)
    path = smooth(np.column_stack([3.0 * np.cos(angles), 2.0 * np.sin(angles)]))
    (first, _), (_, last) = directions(path)[0], directions(path)[-1]
    assert abs(float(np.angle(first / last))) < KINK
    assert max(turns(path)) < KINK


def test_corners_stay_and_lines_stay_straight() -> None:
    corner = smooth([(0.0, 0.0), (5.0, 0.0), (5.0, 8.0)])
    assert corner.vertices[:, 2].tolist() == [0.0, 0.0, 0.0]
    quarter = [(5.0 + math.sin(a), 1.0 - math.cos(a)) for a in np.linspace(0.0, math.pi / 2, 6)]
    path = smooth([(0.0, 0.0), *quarter, (6.0, 9.0)])
    rows = path.segments()
    assert (rows[0, 4], rows[-1, 4]) == (0.0, 0.0), "the long lines at both ends stay lines"
    assert max(turns(path)) < 1e-9


@pytest.mark.parametrize("letter", "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789:-,.")
def test_letters_go_through_their_points_and_turn_only_at_corners(letter: str) -> None:
    for stroke in letters(letter, 0.0, 0.0, 6.0):
        path = smooth(stroke)
        ends = {(round(x, 6), round(y, 6)) for x, y in path.vertices[:, :2].tolist()}
        assert {(round(x, 6), round(y, 6)) for x, y in stroke.tolist()} <= ends
        assert all(turn <= KINK or turn > BENT for turn in turns(path))
        # The curve keeps to the letter: it leaves the chords of the font by no more than a twentieth of its height.
        assert np.abs(Path.through(stroke).distance(path.points(0.02))).max() < 0.3
