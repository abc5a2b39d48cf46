"""A socket by template: which bits ride it in which bushings, by plain geometry of circles and frustums."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.jobs import write_job
from support.kinds.sliding_dovetail import sliding_job
from support.shop import jigcam

from jigcam.joints.sliding_dovetail.guided_socket import (
    clearing_pair,
    fitted_from_below,
    goes_in,
    socket_pairs,
)
from jigcam.joints.sliding_dovetail.shape import Shape
from jigcam.kit import Bit, Bushing, load_kit


def shape(base: float, depth: float = 8.0, degrees: float = 8.0) -> Shape:
    return Shape(120.0, base, depth, math.radians(degrees), 0.0, False, False, 0.05)


@given(base=st.floats(12.8, 24.0), depth=st.floats(6.0, 10.0), kit=st.sampled_from(["inch-shop", "metric-shop"]))
def test_what_rides_an_opening_cuts_the_bottom_and_clears_within_the_mouth(base: float, depth: float, kit: str) -> None:
    shop, drawn = load_kit(kit), shape(base, depth)
    pairs = socket_pairs(drawn, shop, tuple(bit for bit in shop.bits if abs(math.degrees(bit.angle) - 8.0) < 1.1))
    assert pairs
    for pair in pairs:
        # The bushing's axis swings by what the opening leaves; the bit's tip cuts that and its own width.
        swing = pair.opening - pair.bushing.outside
        assert swing + pair.bit.diameter == pytest.approx(base, abs=1e-9)
        mouth = swing + pair.bit.diameter - 2.0 * depth * math.tan(pair.bit.angle)
        first = clearing_pair(drawn.sloped(pair.bit.angle), shop, pair.opening)
        if first is not None:
            cut = pair.opening - first.bushing.outside + first.bit.diameter
            assert first.bushing.outside < pair.opening
            assert cut == pytest.approx(first.cut, abs=1e-9)
            assert first.bit.diameter <= cut <= mouth - 2.0 * 0.8 + 1e-6
        other = clearing_pair(drawn.sloped(pair.bit.angle), shop)
        assert other is not None
        assert other.opening - other.bushing.outside + other.bit.diameter == pytest.approx(mouth - 1.6, abs=1e-9)


def test_a_straight_pair_of_the_same_difference_would_cut_away_the_mouth() -> None:
    """B₁ − d₁ = B₂ − d₂ gives both bits one width: the straight one then cuts the mouth as wide as the bottom."""
    drawn, opening = shape(12.8), 12.8 + 17.0 - 12.7
    same = opening - (11.0 - 6.7)  # a bit of 6.7 in a bushing of 11: the difference of 12.7 in 17
    assert same == pytest.approx(drawn.base)
    assert same > min(drawn.necks)
    kit = load_kit("metric-shop")
    found = clearing_pair(drawn, kit, opening)
    assert found is not None
    assert found.bushing.outside - found.bit.diameter > 17.0 - 12.7
    assert found.cut < min(drawn.necks)


def bit(diameter: float, degrees: float, height: float, shank: float) -> Bit:
    return Bit(
        name="dovetail",
        kind="dovetail",
        diameter=diameter,
        angle=math.radians(degrees),
        cutting_length=height,
        overall_length=70.0,
        shank=shank,
    )


def test_a_tip_that_does_not_pass_is_put_in_from_below_where_its_neck_turns_free() -> None:
    router = load_kit("metric-shop").the_router
    collar = Bushing(name="bushing", outside=13.0, inside=11.0, collar=8.0)
    # At 8 + 12 − 8 = 12 mm above its tip the collar begins: 12.7 − 2 · 12 · tan 8° = 9.33 wide there.
    tall, low = bit(12.7, 8.0, 20.0, 6.0), bit(12.7, 8.0, 9.0, 6.0)
    for each in (tall, low):
        assert fitted_from_below(each, collar)
        assert goes_in(each, collar, sheet=12.0, depth=8.0, router=router)
    narrow = Bushing(name="bushing", outside=11.0, inside=9.5, collar=8.0)
    assert not goes_in(tall, narrow, sheet=12.0, depth=8.0, router=router)  # its flanks reach up into it
    assert goes_in(low, narrow, sheet=12.0, depth=8.0, router=router)  # its shank alone does
    assert not goes_in(bit(12.7, 8.0, 9.0, 10.0), narrow, sheet=12.0, depth=8.0, router=router)
    assert not goes_in(tall, collar, sheet=8.5, depth=8.0, router=router)  # its collar rubs on the board
    assert not goes_in(low, collar, sheet=12.0, depth=9.5, router=router)  # its edges are too low
    assert not fitted_from_below(tall, Bushing(name="bushing", outside=17.0, inside=14.4, collar=8.0))


def test_by_template_is_refused_with_the_ways_that_work_and_the_sizes_of_one_made_by_hand(tmp_path: Path) -> None:
    job = write_job(
        tmp_path, sliding_job(way="template", base=12.8, from_=[100.0, 15.0], length=105.0, start="stopped")
    )
    run = jigcam("check", job)
    words = " ".join(run.out.split()) + " ".join(run.err.split())
    assert run.status == 1
    assert 'write way = "direct"' in words
    assert 'way = "hand"' in words
    found = re.search(
        r"dovetail 12.7 x 8 in bushing 17, which its tip passes, rides an opening ([\d.]+) mm wide, ([\d.]+) mm "
        r"longer than the socket at its stopped end, which goes on over the board's edge at the finish of the "
        r"socket by (\d+) mm",
        words,
    )
    assert found, words
    assert float(found[1]) == pytest.approx(12.8 + 17.0 - 12.7)
    assert float(found[2]) == pytest.approx((17.0 - 12.7) / 2.0)
    assert float(found[3]) - 17.0 / 2.0 > 12.7 / 2.0  # the rim of the bit is off the board
    assert "before it straight 8 in bushing 17 in the same opening, where it cuts 8.1 mm" in words


def test_a_base_as_wide_as_the_only_bit_has_no_room_for_the_bushing_to_move(tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, sliding_job(way="template", base=12.7)))
    assert run.status == 1
    assert "has to be a little narrower at its tip than 12.7 mm" in " ".join((run.out + run.err).split())
