"""Lines and arcs as arrays: against elementary formulas and against chains of very short chords."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.geometry.segment import Segments, as_complex, as_pairs

coordinate = st.floats(-100.0, 100.0).map(lambda x: round(x, 3))
bulge = st.one_of(st.sampled_from([0.0, 1.0, -1.0, 1e-6, -1e-4]), st.floats(-1.0, 1.0))


@st.composite
def segments(draw: st.DrawFn) -> Segments:
    """One segment of some length."""
    x, y, dx, dy = (draw(coordinate) for _ in range(4))
    if math.hypot(dx, dy) < 0.01:
        dx += 1.0
    return Segments.of_rows([x, y, x + dx, y + dy, draw(bulge)])


def chords(segment: Segments, count: int = 4001) -> np.ndarray:
    """Points along one segment, built from its centre and angles rather than by `at`."""
    t = np.linspace(0.0, 1.0, count)
    if segment.bulge[0] == 0.0:
        return segment.start[0] + t * (segment.end[0] - segment.start[0])
    centre = segment.centre[0]
    return centre + (segment.start[0] - centre) * np.exp(1j * t * segment.sweep[0])


def test_bulge_is_the_tangent_of_a_quarter_of_the_sweep() -> None:
    # DXF reference, LWPOLYLINE, group code 42 (from memory): bulge 1 is a half circle, tan(90°/4) a quarter.
    quarter = Segments.of_rows([5.0, 0.0, 0.0, 5.0, math.tan(math.pi / 8)])
    assert quarter.centre[0] == pytest.approx(0.0, abs=1e-15)
    assert quarter.radius[0] == pytest.approx(5.0, rel=1e-15)
    assert quarter.length[0] == pytest.approx(2.5 * math.pi, rel=1e-15)
    half = Segments.of_rows([5.0, 0.0, -5.0, 0.0, 1.0])
    assert half.at(np.array([0.5]))[0] == pytest.approx(5.0j, abs=1e-15)


def test_the_tangent_arc_of_the_standard_has_the_centre_that_it_states() -> None:
    # NISTIR 6556, 3.5.3.2: from (7, 7) clockwise to (10, 16) about (10, 11), radius 5.
    sweep = math.atan2(16 - 11, 0) - math.atan2(7 - 11, 7 - 10)
    sweep = sweep - 2 * math.pi if sweep > 0 else sweep
    arc = Segments.of_rows([7.0, 7.0, 10.0, 16.0, math.tan(sweep / 4)])
    assert arc.centre[0] == pytest.approx(10 + 11j, abs=1e-12)
    assert arc.radius[0] == pytest.approx(5.0)


@given(segments())
def test_points_length_and_bounds_agree_with_short_chords(segment: Segments) -> None:
    chain = chords(segment)
    t = np.linspace(0.0, 1.0, len(chain))
    assert np.abs(segment.take(np.zeros(len(t), dtype=int)).at(t) - chain).max() < 1e-7
    assert np.abs(np.diff(chain)).sum() == pytest.approx(segment.length[0], rel=1e-6)
    x0, y0, x1, y1 = (float(b[0]) for b in segment.boxes())
    reach = float(segment.length[0]) / 4000.0  # the extreme lies between two points of the chain
    assert x0 == pytest.approx(chain.real.min(), abs=reach)
    assert y1 == pytest.approx(chain.imag.max(), abs=reach)
    assert x0 <= chain.real.min() + 1e-7
    assert x1 >= chain.real.max() - 1e-7
    assert y0 <= chain.imag.min() + 1e-7
    assert y1 >= chain.imag.max() - 1e-7


@given(segments())
def test_tangents_are_differences_of_near_points(segment: Segments) -> None:
    t = np.array([0.3])
    step = (segment.at(t + 1e-6) - segment.at(t - 1e-6)) / (2e-6 * segment.length)
    assert segment.tangent(t)[0] == pytest.approx(step[0], abs=1e-6)


@given(segments(), coordinate, coordinate)
def test_foot_is_the_nearest_of_many_points(segment: Segments, x: float, y: float) -> None:
    point = np.array([complex(x, y)])
    gap, t = segment.foot(point)
    chain = chords(segment)
    step = float(segment.length[0]) / 4000.0
    assert gap[0] <= np.abs(chain - point[0]).min() + 1e-7
    assert gap[0] >= np.abs(chain - point[0]).min() - step
    assert abs(segment.at(t)[0] - point[0]) == pytest.approx(gap[0], abs=1e-6)


@given(segments(), coordinate, coordinate)
def test_side_tells_left_from_right_of_the_whole_circle(segment: Segments, x: float, y: float) -> None:
    point = complex(x, y)
    if abs(segment.bulge[0]) < 1e-5:
        side = ((segment.end[0] - segment.start[0]).conjugate() * (point - segment.start[0])).imag
        clear = segment.distance(np.array([point]))[0] > 0.02
    else:
        side = (segment.radius[0] - abs(point - segment.centre[0])) * np.sign(segment.bulge[0])
        clear = abs(side) > 1e-6
    if clear and abs(side) > 1e-6:
        assert np.sign(segment.side(np.array([point]))[0]) == np.sign(side)


@given(segments(), st.floats(0.0, 0.5), st.floats(0.5, 1.0))
def test_parts_stay_on_the_curve(segment: Segments, t0: float, t1: float) -> None:
    part = segment.parts(np.array([t0]), np.array([t1]))
    if part.start[0] != part.end[0]:
        assert part.length[0] == pytest.approx((t1 - t0) * segment.length[0], rel=1e-6, abs=1e-9)
        assert segment.distance(part.at(np.array([0.5])))[0] < 1e-7


def test_facets_keep_within_their_tolerance_and_are_no_finer_than_needed() -> None:
    arc = Segments.of_rows([3.175, 0.0, -3.175, 0.0, 1.0])
    for tol in (1e-2, 1e-3, 1e-4):
        count = int(arc.facets(tol)[0])
        sagitta = 3.175 * (1.0 - math.cos(math.pi / count / 2.0))
        coarser = 3.175 * (1.0 - math.cos(math.pi / (count - 1) / 2.0))
        assert sagitta <= tol < coarser


def test_a_nearly_straight_arc_is_as_exact_as_a_line() -> None:
    # Radius 1.25 km over a chord of a metre: through a centre, the distance would lose half its digits.
    arc = Segments.of_rows([0.0, 0.0, 1000.0, 0.0, 2e-4])
    assert arc.distance(np.array([500.0 - 0.1j]))[0] == pytest.approx(0.0, abs=1e-12)
    assert arc.at(np.array([0.5]))[0] == pytest.approx(500.0 - 0.1j, abs=1e-12)


def test_pairs_and_complex_numbers_turn_into_each_other() -> None:
    assert as_complex([(1.0, 2.0), (3.0, -4.0)]).tolist() == [1 + 2j, 3 - 4j]
    assert as_pairs(np.array([[1 + 2j]])).tolist() == [[[1.0, 2.0]]]
