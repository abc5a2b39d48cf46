"""The band of a straight cut across a board, against sampled points."""

from __future__ import annotations

from math import atan2, cos, hypot, pi, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.grooves import lengths

from jigcam.wood.band import Band

bands = st.builds(
    Band,
    x=lengths(-50, 350),
    y=lengths(-50, 250),
    angle=st.integers(-180, 180).map(lambda degrees: degrees * pi / 180),
    width=lengths(1, 40),
    length=st.just(300.0),
    breadth=st.just(200.0),
)


def on_board(points: np.ndarray, slack: float = 0.0) -> np.ndarray:
    return ((points >= -slack) & (points <= np.array([300.0, 200.0]) + slack)).all(axis=1)


def line(band: Band, t: float, s: np.ndarray) -> np.ndarray:
    u, v = np.array(band.along), np.array([-sin(band.angle), cos(band.angle)])
    return np.array([band.x, band.y]) + s[:, None] * u + t * v


@given(bands, st.floats(-0.5, 0.5))
def test_line_span_is_where_the_line_lies_on_the_board(band: Band, share: float) -> None:
    t = share * band.width
    s = np.arange(-800.0, 800.0, 0.5)
    here = s[on_board(line(band, t, s))]
    span = band.line_span(t)
    if span is None:
        assert len(here) == 0
    elif len(here):
        assert span[0] - 1e-6 <= here[0] <= span[0] + 0.5
        assert span[1] - 0.5 <= here[-1] <= span[1] + 1e-6


@given(bands)
def test_span_of_the_band_is_that_of_its_furthest_line_or_corner(band: Band) -> None:
    s = np.arange(-800.0, 800.0, 0.5)
    spans = [s[on_board(line(band, t, s))] for t in np.linspace(-0.5, 0.5, 41) * band.width]
    here = [part for part in spans if len(part)]
    span = band.span()
    if span is None:
        assert not here
    elif here:
        low, high = min(part[0] for part in here), max(part[-1] for part in here)
        assert span[0] - 1e-6 <= low
        assert high <= span[1] + 1e-6
        step = 0.5 + 0.025 * band.width / tan(pi / 180)  # a slanting edge is met between two of the lines
        assert low - span[0] <= step
        assert span[1] - high <= step


@given(bands, st.booleans(), st.sampled_from([1, -1]))
def test_distances_of_an_end_are_those_of_its_outline(band: Band, round_end: bool, outward: int) -> None:
    half = band.width / 2.0
    if round_end:
        turn = np.linspace(-pi / 2, pi / 2, 721)
        s, t = outward * (half * np.cos(turn) - half), half * np.sin(turn)
    else:
        s, t = np.zeros(2), np.array([-half, half])
    points = np.array([band.at(a, b) for a, b in zip(s, t, strict=True)])
    (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
    expected = (x0, 300.0 - x1, y0, 200.0 - y1)
    found = band.end_distances(0.0, outward=outward, round_end=round_end)
    assert found == pytest.approx(expected, abs=half * 1e-5 + 1e-9)


def test_a_square_dado_is_as_long_as_the_board_is_wide_and_a_slanting_one_longer() -> None:
    """A groove at θ off square across a board b wide is b/cos θ long (derived)."""
    assert Band(100.0, 0.0, pi / 2, 12.0, 560.0, 285.0).line_span() == pytest.approx((0.0, 285.0))
    theta = atan2(1.0, 5.0)
    low, high = Band(100.0, 0.0, pi / 2 - theta, 12.0, 560.0, 285.0).line_span() or (0.0, 0.0)
    assert high - low == pytest.approx(285.0 / cos(theta))
    assert high - low == pytest.approx(hypot(285.0, 57.0))
