"""Where the sheet lies: reach round the ride, fence, stop and index lines, within what the machine makes."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from support.grooves import lengths

from jigcam.template.box import Box
from jigcam.template.sheet import (
    HOLD,
    LOWER,
    METRIC,
    UPPER,
    SheetLayout,
    TooLarge,
    blank_margin,
    lay_out,
)

BASE = 76.2
CUTTER = 6.35
BOARD = (560.0, 285.0)


def layout(
    opening: tuple[float, float, float, float],
    board: tuple[float, float] = BOARD,
    travel: tuple[float, float] = (406.4, 406.4),
) -> SheetLayout | TooLarge:
    box = Box(*opening)
    return lay_out(box, box.grown(-9.5), board, base_radius=BASE, travel=travel, cutter=CUTTER, sizes=METRIC)


def made(*args: object, **keys: object) -> SheetLayout:
    found = layout(*args, **keys)  # type: ignore[arg-type]  # passed on as they are
    assert isinstance(found, SheetLayout)
    return found


@given(
    st.tuples(lengths(20, 500), lengths(20, 250), lengths(20, 200), lengths(20, 200)),
    st.tuples(lengths(150, 700), lengths(150, 700)),
)
def test_the_blank_fits_the_machine_and_the_sheet_holds_round_the_opening(
    place: tuple[float, float, float, float], travel: tuple[float, float]
) -> None:
    x, y, wide, high = place
    opening = Box(x, y, x + wide, y + high)
    found = layout(opening, travel=travel)
    room = 2.0 * (blank_margin(CUTTER) + HOLD)
    if wide + room > travel[0] or high + room > travel[1]:
        assert isinstance(found, TooLarge)
        assert found.blank == pytest.approx((wide + room, high + room))
        return
    assert isinstance(found, SheetLayout)
    for extent, most in zip(found.box.size, travel, strict=True):
        assert extent + 2.0 * blank_margin(CUTTER) <= most + 1e-6
    assert opening.margin_in(found.box) >= HOLD - 1e-6
    assert found.margin <= BASE
    assert opening.grown(-9.5).margin_in(found.box) >= found.margin - 1e-6
    for strip, least in ((found.fence, METRIC.fence), (found.stop, METRIC.stop)):
        if strip is not None:
            across = strip.box.size[0 if strip.upright else 1]
            assert across >= least - 1e-6
            assert min(Box(*strip.box).margin_in(found.box), 0.0) >= -1e-6
    directions = {strip.upright for strip in (found.fence, found.stop) if strip}
    directions |= {index.side < LOWER for index in found.indexes}
    assert directions == {True, False}, "the sheet is placed along and across the board"


@given(st.tuples(lengths(20, 500), lengths(20, 250)), lengths(200, 500))
def test_no_larger_margin_would_have_fitted(corner: tuple[float, float], travel: float) -> None:
    x, y = corner
    opening = Box(x, y, x + 60.0, y + 60.0)
    found = layout(opening, travel=(travel, travel))
    assume(isinstance(found, SheetLayout))
    assert isinstance(found, SheetLayout)
    if found.margin < BASE - 1e-6:
        limit = travel - 2.0 * blank_margin(CUTTER)
        assert any(extent > limit - 1.0 - 1e-6 for extent in found.box.size)


def test_a_groove_near_the_reference_edge_gets_a_fence_there_and_a_stop_at_the_nearer_end() -> None:
    found = made((100.0, 30.0, 150.0, 230.0))
    assert found.fence
    assert found.fence.side == LOWER
    assert found.fence.box.y1 == 0.0
    assert found.stop
    assert found.stop.side == 0
    assert found.stop.box.x1 == 0.0
    assert found.stop.box.y0 == 0.0
    assert not found.indexes
    assert found.margin == pytest.approx(BASE)
    right = made((400.0, 30.0, 450.0, 230.0))
    assert right.stop
    assert right.stop.side == 1
    assert right.stop.box.x0 == BOARD[0]


def test_far_from_the_lower_edge_the_fence_takes_the_upper_one() -> None:
    found = made((100.0, 500.0, 150.0, 560.0), board=(560.0, 600.0))
    assert found.fence
    assert found.fence.side == UPPER
    assert found.fence.box.y0 == 600.0


def test_in_the_middle_of_a_panel_there_are_only_lines() -> None:
    found = made((580.0, 430.0, 640.0, 480.0), board=(1200.0, 900.0))
    assert (found.fence, found.stop) == (None, None)
    assert [index.side for index in found.indexes] == [0, LOWER]


def test_an_index_line_is_at_a_round_distance_beside_the_opening() -> None:
    found = made((270.0, 30.0, 290.0, 230.0))
    (index,) = found.indexes
    assert index.distance % 10.0 == 0.0
    expected = index.distance if index.side == 0 else BOARD[0] - index.distance
    assert index.at == expected
    assert not 270.0 - 5.0 < index.at < 290.0 + 5.0
    assert found.box.x0 < index.at < found.box.x1
