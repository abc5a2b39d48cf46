"""Paths: lengths, areas, places along them, parts of them, and what is refused."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.shapes import ZOO

from jigcam.errors import InputError
from jigcam.geometry import Path, arc_of, compose, mirror_x, rotation, slot, translation
from jigcam.geometry.segment import Segments

LOOPS = [loop for region in ZOO.values() for loop in region.loops]

OPEN = Path(np.array([(0, 0, 0), (10, 0, 1), (10, 4, 0), (2, 4, -0.5), (0, 8, 7)]), closed=False)


def test_a_slot_has_the_length_and_area_of_its_formulas() -> None:
    loop = slot((0.0, 0.0), (100.0, 0.0), 10.0).loops[0]
    assert loop.length == pytest.approx(2 * 90 + math.pi * 10, rel=1e-14)
    assert loop.area == pytest.approx(90 * 10 + math.pi * 25, rel=1e-14)
    assert loop.bounds == pytest.approx((0.0, -5.0, 100.0, 5.0))


def test_area_far_from_the_origin_keeps_its_digits() -> None:
    near = slot((0.0, 0.0), (10.0, 0.0), 1.0).loops[0]
    far = near.transformed(translation(1e6, -2e6))
    assert far.area == pytest.approx(near.area, rel=1e-9)


def test_the_bulge_of_an_open_end_means_nothing() -> None:
    assert OPEN.vertices[-1, 2] == 0.0
    assert OPEN.length == pytest.approx(10 + 2 * math.pi + 8 + float(OPEN.as_segments().length[-1]))


@pytest.mark.parametrize("path", [OPEN, *LOOPS[:6]])
def test_places_along_a_path_lie_on_it_and_step_evenly(path: Path) -> None:
    s = np.linspace(0.0, path.length, 1001)
    points, tangents = path.at(s)
    assert path.distance(points).max() < 1e-9
    assert np.hypot(*tangents.T) == pytest.approx(1.0)
    steps = np.hypot(*np.diff(points, axis=0).T)
    assert (steps <= path.length / 1000 + 1e-9).all()
    assert points[0] == pytest.approx(path.start)
    assert points[-1] == pytest.approx(path.end)


def test_one_place_gives_one_point() -> None:
    point, tangent = OPEN.at(5.0)
    assert point == pytest.approx([5.0, 0.0])
    assert tangent == pytest.approx([1.0, 0.0])


def test_places_before_and_beyond_an_open_path_are_its_ends() -> None:
    points, _ = OPEN.at([-3.0, OPEN.length + 3.0])
    assert points.tolist() == [list(OPEN.start), list(OPEN.end)]


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.sampled_from([OPEN, *LOOPS]))
def test_a_part_has_the_length_asked_for_and_lies_on_the_path(a: float, b: float, path: Path) -> None:
    s0, s1 = sorted((a * path.length, b * path.length))
    if s1 - s0 < 1e-6:
        return
    part = path.substring(s0, s1)
    assert not part.closed
    assert part.length == pytest.approx(s1 - s0, rel=1e-9, abs=1e-9)
    assert path.distance(part.points()).max() < 1e-9
    assert part.start == pytest.approx(path.at(s0)[0], abs=1e-9)


def test_a_part_of_a_closed_path_may_pass_its_start() -> None:
    loop = slot((0.0, 0.0), (100.0, 0.0), 10.0).loops[0]
    part = loop.substring(loop.length - 5.0, loop.length + 20.0)
    assert part.length == pytest.approx(25.0)
    whole = loop.substring(30.0, 30.0 + loop.length)
    assert whole.length == pytest.approx(loop.length)
    assert whole.start == pytest.approx(whole.end)


@pytest.mark.parametrize(("s0", "s1"), [(5.0, 5.0), (5.0, 4.0), (-1.0, 4.0), (5.0, 1e4)])
def test_parts_that_are_not_there_are_refused(s0: float, s1: float) -> None:
    with pytest.raises(InputError, match="no such part"):
        OPEN.substring(s0, s1)


@pytest.mark.parametrize("path", [OPEN, *LOOPS])
def test_reversing_keeps_the_curve_and_turns_it_round(path: Path) -> None:
    back = path.reversed()
    assert back.length == pytest.approx(path.length)
    assert path.distance(back.points()).max() < 1e-9
    assert back.start == path.end
    if path.closed:
        assert back.area == pytest.approx(-path.area)
    assert np.array_equal(back.reversed().vertices, path.vertices)


@pytest.mark.parametrize("path", [OPEN, *LOOPS])
def test_moving_moves_every_point(path: Path) -> None:
    motion = compose(mirror_x(40.0), compose(rotation(0.7), translation(3.0, -8.0)))
    moved = path.transformed(motion)
    s = np.linspace(0.0, path.length, 50)
    there = path.at(s)[0] @ motion[:, :2].T + motion[:, 2]
    assert moved.at(s)[0] == pytest.approx(there, abs=1e-8)


def test_a_shear_would_bend_arcs_out_of_shape_and_is_refused() -> None:
    with pytest.raises(InputError, match="moved, turned, mirrored or scaled"):
        OPEN.transformed([[1.0, 0.5, 0.0], [0.0, 1.0, 0.0]])


@pytest.mark.parametrize("tol", [1e-2, 1e-3])
@pytest.mark.parametrize("path", [OPEN, *LOOPS])
def test_chords_keep_within_the_tolerance(path: Path, tol: float) -> None:
    chain = path.points(tol)
    assert path.distance(chain).max() < 1e-9
    fine = path.points(1e-5)
    assert Path.through(chain, closed=path.closed).distance(fine).max() <= tol * 1.001


def test_arc_of_gives_centre_radius_angle_and_sweep() -> None:
    assert arc_of((5.0, 0.0), (0.0, 5.0), math.tan(math.pi / 8)) == pytest.approx((0, 0, 5, 0, math.pi / 2), abs=1e-12)
    assert arc_of((-5.0, 0.0), (5.0, 0.0), -1.0) == pytest.approx((0, 0, 5, math.pi, -math.pi), abs=1e-12)
    with pytest.raises(InputError, match="no centre"):
        arc_of((0.0, 0.0), (1.0, 0.0), 0.0)


@pytest.mark.parametrize(
    ("vertices", "says"),
    [
        ([(0, 0, 0)], "two or more"),
        ([(0, 0), (1, 1)], "two or more"),
        ([(0, 0, 0), (math.nan, 1, 0)], "finite"),
        ([(0, 0, 0), (1, math.inf, 0)], "finite"),
        ([(0, 0, 1.1), (1, 1, 0)], "half a turn"),
    ],
)
def test_tables_that_are_no_path_are_refused(vertices: list[tuple[float, ...]], says: str) -> None:
    with pytest.raises(InputError, match=says):
        Path(np.array(vertices))


def test_an_open_path_has_no_area() -> None:
    with pytest.raises(InputError, match="no area"):
        _ = OPEN.area


def test_a_path_cannot_be_written_to_and_does_not_see_later_changes() -> None:
    table = np.array([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0)])
    path = Path(table)
    table[0, 0] = 99.0
    assert path.start == (0.0, 0.0)
    with pytest.raises(ValueError, match="read-only"):
        path.vertices[0, 0] = 5.0


def test_a_path_of_one_place_has_points_and_distances_but_no_direction() -> None:
    point = Path.through([(3.0, 4.0), (3.0, 4.0)])
    assert point.length == 0.0
    assert point.distance([(0.0, 0.0)]).tolist() == [5.0]
    assert point.points().tolist() == [[3.0, 4.0]]
    assert point.bounds == (3.0, 4.0, 3.0, 4.0)
    with pytest.raises(InputError, match="no direction"):
        point.at(0.0)


def test_repeated_vertices_are_skipped() -> None:
    path = Path.through([(0, 0), (0, 0), (5, 0), (5, 0), (5, 5)])
    assert len(path.segments()) == 2
    assert path.length == 10.0


def test_moving_is_translating_to_the_last_bit() -> None:
    path = Path(np.array([[0.1, 0.2, 0.3], [7.7, -3.3, 0.0], [1e3 / 3, 5.0, -1.0]]), closed=True)
    moved = path.moved(12.345678901234, -1e-3 / 3)
    assert (moved.vertices == path.transformed(translation(12.345678901234, -1e-3 / 3)).vertices).all()
    assert moved.closed
    assert path.bounds is path.bounds, "worked out once"


def test_lines_alone_are_where_they_are_among_arcs() -> None:
    rows = np.random.default_rng(3).uniform(-500.0, 500.0, (200, 5))
    rows[:, 4] = 0.0
    lines, mixed = Segments.of_rows(rows), Segments.of_rows([*rows, (0.0, 0.0, 1.0, 1.0, 0.5)])
    t = np.linspace(0.0, 1.0, 201)
    assert (lines.at(t[:200]) == mixed.at(t)[:200]).all(), "to the last bit: files must not depend on company"
    assert (lines.length == mixed.length[:200]).all()
    assert (lines.tangent(t[:200]) == mixed.tangent(t)[:200]).all()
