"""Grooves: their solids, both hands, open ends, and what the entering board needs."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.grooves import groove_job, grooves, made

from jigcam.errors import Refused
from jigcam.findings import stops
from jigcam.geometry import offset, opening
from jigcam.joints import design, kind_names
from jigcam.joints.groove.groove import Groove


def band_points(groove: Groove, count: int = 61) -> np.ndarray:
    """Points of the band on the board, past the stopped ends' round parts; a hair within the walls."""
    low, high = groove.stretch
    half = groove.width / 2.0
    inset = half if groove.ends == "round" else 0.0
    s0 = low if groove.open_start else low + inset
    s1 = high if groove.open_finish else high - inset
    grid = [(s, t) for s in np.linspace(s0, s1, count) for t in np.linspace(-half, half, 9) * (1.0 - 1e-6)]
    points = np.array([groove.band.at(s, t) for s, t in grid])
    on_board = ((points >= 0.0) & (points <= [groove.board.length, groove.board.width])).all(axis=1)
    return points[on_board]


@given(grooves())
def test_a_groove_that_lies_on_its_board_is_not_stopped(groove: Groove) -> None:
    assert not stops(groove.findings)
    drawn = groove.cuts()[0]
    assert drawn.solid.levels() == (0.0, -groove.depth)
    assert drawn.solid.section(-groove.depth * 1.001).is_empty
    assert drawn.width == groove.width
    assert drawn.centreline.length == pytest.approx(groove.length)


@given(grooves())
def test_area_is_that_of_a_stadium_or_a_bar(groove: Groove) -> None:
    low, high = groove.stretch
    w = groove.width
    expected = (high - low - w) * w + pi * w * w / 4 if groove.ends == "round" else (high - low) * w
    region = groove.cuts()[0].solid.section(0.0)
    assert region.area == pytest.approx(expected, rel=1e-9)
    lines = sum(int((loop.vertices[:, 2] == 0.0).sum()) for loop in region.loops)
    arcs = sum(int((loop.vertices[:, 2] != 0.0).sum()) for loop in region.loops)
    assert (lines, arcs) == ((2, 2) if groove.ends == "round" else (4, 0))


@given(grooves())
def test_stopped_ends_are_where_they_are_drawn_and_on_the_board(groove: Groove) -> None:
    low, high = groove.stretch
    if not groove.open_start:
        assert low == 0.0
    if not groove.open_finish:
        assert high == groove.length
    if not (groove.open_start or groove.open_finish):
        x0, y0, x1, y1 = groove.region.bounds
        assert min(x0, y0) >= -1e-9
        assert x1 <= groove.board.length + 1e-9
        assert y1 <= groove.board.width + 1e-9


@given(grooves(), st.floats(0.2, 1.0))
def test_any_bit_that_fits_cuts_open_ends_to_full_width_on_the_board(groove: Groove, share: float) -> None:
    if not (groove.open_start or groove.open_finish):
        return
    radius = share * groove.width / 2.0 * (1.0 - 1e-6)
    cut = opening(groove.region, radius)
    points = band_points(groove)
    if groove.ends == "square":  # corners of stopped ends keep the bit's radius
        low, high = groove.stretch
        along = (points - [groove.band.x, groove.band.y]) @ np.array(groove.band.along)
        near = ((along < low + radius) & (not groove.open_start)) | ((along > high - radius) & (not groove.open_finish))
        points = points[~near]
    assert (cut.signed_distance(points) > -1e-5).all()


@given(grooves())
def test_beyond_an_open_end_nothing_of_the_band_is_left_on_the_board(groove: Groove) -> None:
    for open_end, s, outward in zip((groove.open_start, groove.open_finish), groove.stretch, (-1, 1), strict=True):
        if open_end:
            straight = s - outward * groove.width / 2.0
            ahead = {"s_from": straight} if outward > 0 else {"s_to": straight}
            half = groove.width / 2.0
            assert not groove.band.on_board(t_from=-half, t_to=half, **ahead)


@given(grooves())
def test_the_opposite_hand_is_the_mirror_image_on_the_same_face(groove: Groove) -> None:
    cuts = groove.cuts()
    assert [cut.hand for cut in cuts] == ["as drawn", "opposite"][: 2 if groove.opposite_hand else 1]
    if not groove.opposite_hand:
        return
    drawn, opposite = (cut.solid.section(0.0) for cut in cuts)
    length = groove.board.length
    rng = np.random.default_rng(1)
    points = rng.uniform((-20.0, -20.0), (length + 20.0, groove.board.width + 20.0), (500, 2))
    mirrored = points * [-1.0, 1.0] + [length, 0.0]
    assert drawn.signed_distance(points) == pytest.approx(opposite.signed_distance(mirrored), abs=1e-6)
    assert opposite.area == pytest.approx(drawn.area)
    assert cuts[1].face == cuts[0].face
    assert cuts[1].centreline.start == pytest.approx((length - groove.band.x, groove.band.y))


def test_the_width_is_the_measured_thickness_and_the_clearance() -> None:
    groove = made(groove_job(shelf=12.35, clearance=0.15))
    assert groove.width == pytest.approx(12.5)
    assert groove.mate.clearance == pytest.approx(0.15)
    assert groove.mate.thickness == 12.35


def test_a_width_that_is_given_is_the_final_one() -> None:
    alone = made(groove_job(receives=None, width=12.5, clearance=0.2))
    assert alone.width == 12.5
    assert alone.mate.thickness == pytest.approx(12.3)
    both = made(groove_job(shelf=12.2, width=12.5, clearance=0.2))
    assert both.width == 12.5
    assert both.mate.clearance == pytest.approx(0.3)


def test_what_the_shelf_needs() -> None:
    """A shelf edge rounded over at half its thickness, from both faces, seats in a round end (derived).

    The clearance holds at the ends as well: a shelf as wide as its groove is long is too wide by that.
    """
    mate = made(groove_job(depth=8.0)).mate
    assert mate.board == "shelf"
    assert mate.edge_radius == pytest.approx(12.2 / 2)
    assert mate.enters == 8.0
    assert mate.length == pytest.approx(200.0)
    assert mate.notch == pytest.approx(0.15)
    dado = made(groove_job(start_point=(100.0, 0.0), angle=pi / 2, length=285.0, start="open", finish="open")).mate
    assert (dado.edge_radius, dado.notch) == (0.0, 0.0)
    assert dado.length == pytest.approx(285.0)


def test_the_worked_groove_of_the_shipped_job() -> None:
    """A shelf of 1/2 in and a clearance of 0.006 in: 0.506 in."""
    groove = made(groove_job(shelf=12.7, clearance=0.006 * 25.4, units="in"))
    assert groove.width / 25.4 == pytest.approx(0.506)


def test_an_open_end_drawn_far_out_is_drawn_back() -> None:
    near = made(groove_job(start_point=(100.0, 0.0), angle=pi / 2, length=285.0, start="open", finish="open"))
    far = made(groove_job(start_point=(100.0, -90.0), angle=pi / 2, length=500.0, start="open", finish="open"))
    assert far.region.bounds == pytest.approx(near.region.bounds)


def test_a_stopped_groove_makes_no_solid() -> None:
    groove = made(groove_job(depth=23.0))
    with pytest.raises(Refused) as refused:
        groove.cuts()
    assert refused.value.exit_status == 1
    assert refused.value.findings == groove.findings


def test_every_kind_of_a_job_has_a_builder() -> None:
    job = groove_job()
    assert design(job.joints[0], job) == made(job)
    assert "groove" in kind_names()


def test_growing_a_groove_by_an_offset_keeps_lines_and_arcs() -> None:
    region = offset(made(groove_job()).region, 3.0)
    assert len(region.loops) == 1
    assert len(region.loops[0].vertices) == 4
