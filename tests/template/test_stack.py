"""The stack of lengths under a router's base."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.kit import Router, load_kit
from jigcam.template import Stack


def test_worked_stack() -> None:
    """By hand, in inches: sheet 1/2 and depth 5/16 make 13/16; 2-7/8 of bit less 3/4 of grip, 1/4 of base plate and
    3/32 of flange reaches 1-25/32."""
    kit = load_kit("inch-shop")
    stack = Stack.of(
        kit.bit("straight 1/2"), kit.bushing("bushing 3/4"), sheet=12.7, depth=5 / 16 * 25.4, router=kit.router
    )
    assert stack.projection / 25.4 == pytest.approx(13 / 16)
    assert stack.reach / 25.4 == pytest.approx(1 + 25 / 32)
    assert stack.reach_spare / 25.4 == pytest.approx(1 + 25 / 32 - 13 / 16)
    assert stack.collar_spare / 25.4 == pytest.approx(1 / 2 - 7 / 16)
    assert stack.slenderness == pytest.approx(13 / 8)


def test_base_plate_and_flange_take_about_ten_millimetres_where_the_kit_does_not_say() -> None:
    """From memory: plate, flange and nut take about 10 mm of a bit's reach."""
    kit = load_kit("metric-shop")
    usual = Router(**{key: getattr(kit.router, key) for key in ("collets", "base_radius", "speeds", "grip")})
    bit = kit.bit("straight 12")
    assert usual.reach(bit) == pytest.approx(bit.overall_length - usual.grip - 10.0)
    assert usual.model_copy(update={"base_plate": 12.0, "flange": 0.0}).reach(bit) == pytest.approx(76 - 20 - 12)


@given(st.floats(0.5, 60.0), st.floats(3.0, 6.0))
def test_passes_go_down_evenly_to_the_full_depth(depth: float, each: float) -> None:
    """About 3 to 6 mm a pass (common practice, no source)."""
    stack = Stack(sheet=12.0, depth=depth, collar=8.0, reach=80.0, cutting=70.0, diameter=12.0)
    passes = stack.passes(each)
    assert passes[-1] == pytest.approx(depth)
    steps = [b - a for a, b in zip((0.0, *passes), passes, strict=False)]
    assert max(steps) <= each + 1e-6
    assert steps == pytest.approx([steps[0]] * len(steps))
    assert len(passes) == 1 or depth / (len(passes) - 1) > each - 1e-6
