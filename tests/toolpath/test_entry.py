"""Ways down: none is steeper than the ramp angle, and all end where they say."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from support.cutting import a_bit, strokes
from support.programs import a_machine

from jigcam.geometry import Path, disc, rectangle
from jigcam.toolpath import choose
from jigcam.toolpath.entry import helix, ramp_round, zigzag
from jigcam.toolpath.track import Cutter, Track

MACHINE = a_machine()
BIT = a_bit(6.0)
CUTTER = Cutter(BIT, choose(BIT, "mdf", MACHINE, 6.0), MACHINE)


DIGIT = 1e-4
"""mm, of what is written."""


def steepest(track: Track) -> float:
    """Slope of the steepest descent at feed below z = 1, the last digit of the heights apart."""
    slopes = [
        math.atan2(s.z0 - s.z1 - DIGIT, math.hypot(*(s.b - s.a)))
        for s in strokes(track.moves, tol=1e-4)
        if not s.rapid and s.z0 < 1.0 and s.z1 < s.z0
    ]
    return max(slopes, default=0.0)


@example(width=3.3046875, height=0.30078125, depth=5.30078125, s=1.921875)  # ends with a stretch of 7 µm
@given(st.floats(0.3, 60.0), st.floats(0.3, 60.0), st.floats(0.1, 6.0), st.floats(0.0, 400.0))
def test_ramp_round_a_loop(width: float, height: float, depth: float, s: float) -> None:
    loop = rectangle(0, 0, width, height).loops[0]
    point, _ = loop.at(s % loop.length)
    track = Track(CUTTER, float(point[0]), float(point[1]))
    track.sink(0.2)
    end = ramp_round(track, loop, s % loop.length, -depth)
    assert track.z == pytest.approx(-depth)
    assert math.dist(track.point, loop.at(end)[0]) < 2e-3
    assert steepest(track) <= CUTTER.feeds.ramp_angle * 1.03


@given(st.floats(1.0, 200.0), st.floats(0.1, 6.0))
def test_zigzag_ends_where_it_starts(length: float, depth: float) -> None:
    track = Track(CUTTER, 0.0, 0.0)
    track.sink(0.2)
    zigzag(track, Path.through([(0.0, 0.0), (length, 0.0)]), -depth)
    assert (track.x, track.y) == pytest.approx((0.0, 0.0))
    assert track.z == pytest.approx(-depth)
    assert steepest(track) <= CUTTER.feeds.ramp_angle * 1.03


@given(st.floats(0.2, 20.0), st.floats(0.1, 6.0))
def test_helix(radius: float, depth: float) -> None:
    track = Track(CUTTER, radius, 0.0)
    track.sink(0.2)
    helix(track, (0.0, 0.0), radius, -depth)
    assert (track.x, track.y, track.z) == pytest.approx((radius, 0.0, -depth))
    assert all(move.ccw for move in track.moves if move.kind == "arc")
    assert steepest(track) <= CUTTER.feeds.ramp_angle * 1.03
    drops = [a.z - b.z for a, b in pairwise(track.moves[3:])]
    assert max(drops, default=0.0) <= CUTTER.feeds.depth_per_pass / 2 + 1e-9


def test_a_round_loop_makes_a_helix_of_arcs() -> None:
    loop = disc(0, 0, 5).loops[0]
    track = Track(CUTTER, 5.0, 0.0)
    ramp_round(track, loop, 0.0, -3.0)
    assert {move.kind for move in track.moves[2:]} == {"arc"}
