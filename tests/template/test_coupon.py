"""Test coupons: their steps, their openings, their labels."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.errors import Refused
from jigcam.geometry import difference, offset
from jigcam.kit import Kit, load_kit
from jigcam.template import Need, Text, Verdict, rank_pairs
from jigcam.template.coupon import plan_coupon, stepped_widths
from jigcam.tolerances import TOLERANCES
from jigcam.units import Voice


@pytest.fixture
def kit() -> Kit:
    return load_kit("metric-shop")


def best(kit: Kit, width: float = 12.35, depth: float = 8.0) -> Verdict:
    return rank_pairs(kit, Need(width, depth))[0]


@given(st.floats(6.0, 20.0), st.floats(0.0, 2.0), st.integers(1, 6), st.floats(0.02, 1.0))
def test_steps_bracket_the_wanted_width(bit: float, play: float, steps: int, step: float) -> None:
    widths, wanted = stepped_widths(bit + play, bit, steps=steps, step=step)
    assert widths[wanted] == pytest.approx(bit + play)
    assert len(widths) - 1 - wanted == steps
    assert widths[0] >= min(bit + play, bit + TOLERANCES.binds / 2.0) - 1e-9
    assert all(b - a == pytest.approx(step) for a, b in itertools.pairwise(widths))


def test_openings_are_the_grooves_and_two_offsets(kit: Kit) -> None:
    coupon = plan_coupon("tilted shelf", 12.35, 8.0, best(kit), kit, step=0.1, voice=Voice("mm"))
    plan = coupon.plan
    assert len(plan.opening.outlines) == len(coupon.widths)
    spans = sorted((loop.bounds[0], loop.bounds[2] - loop.bounds[0]) for loop in plan.opening.loops)
    assert [span for _, span in spans] == pytest.approx(coupon.openings)
    assert coupon.openings[0] == pytest.approx(coupon.widths[0] + plan.bushing.outside - plan.bit.diameter)
    assert not plan.support.tips
    assert not difference(plan.opening, offset(plan.sheet, -20.0)).area


def test_every_opening_is_labelled_with_groove_and_opening(kit: Kit) -> None:
    coupon = plan_coupon("tilted shelf", 12.35, 8.0, best(kit), kit, step=0.1, voice=Voice("mm"))
    texts = [mark for mark in coupon.plan.marks if isinstance(mark, Text)]
    strings = [text.string for text in texts]
    for size in (*coupon.widths, *coupon.openings):
        assert f"{size:.2f}".rstrip("0").rstrip(".") in strings
    x0, y0, x1, y1 = coupon.plan.sheet.bounds
    low, high = coupon.plan.opening.bounds[1], coupon.plan.opening.bounds[3]
    for text in texts:
        assert x0 < text.x
        assert text.x + text.width < x1
        assert y0 < text.y
        assert text.y + text.height < y1
        assert text.y > high or text.y + text.height < low


def test_a_narrow_play_leaves_steps_out(kit: Kit) -> None:
    coupon = plan_coupon("shelf", 12.15, 8.0, best(kit, 12.15), kit, step=0.1, voice=Voice("mm"))
    assert coupon.plan.bit.name == "straight 12"
    assert coupon.wanted == 1
    assert "coupon-narrow" in {finding.rule for finding in coupon.plan.findings}


def test_what_cannot_be_cut_is_refused(kit: Kit) -> None:
    refused = next(verdict for verdict in rank_pairs(kit, Need(12.35, 8.0)) if not verdict.ok)
    with pytest.raises(Refused):
        plan_coupon("shelf", 12.35, 8.0, refused, kit, step=0.1, voice=Voice("mm"))
    small = kit.model_copy(update={"machine": kit.machine.model_copy(update={"travel": (150.0, 150.0, 80.0)})})
    with pytest.raises(Refused) as caught:
        plan_coupon("shelf", 12.35, 8.0, best(kit), small, step=0.1, voice=Voice("mm"))
    assert caught.value.findings[0].rule == "template-too-large"
