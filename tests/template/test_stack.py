"""The stack of lengths under a router's base."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.kit import load_kit
from jigcam.template import Stack


def test_worked_stack() -> None:
    """By hand, in inches: sheet 1/2 and depth 5/16 make 13/16; 2-7/8 of bit less 3/4 of grip reaches 2-1/8."""
    kit = load_kit("inch-shop")
    stack = Stack.of(
        kit.bit("straight 1/2"), kit.bushing("bushing 3/4"), sheet=12.7, depth=5 / 16 * 25.4, grip=kit.router.grip
    )
    assert stack.projection / 25.4 == pytest.approx(13 / 16)
    assert stack.reach / 25.4 == pytest.approx(2 + 1 / 8)
    assert stack.reach_spare / 25.4 == pytest.approx(2 + 1 / 8 - 13 / 16)
    assert stack.collar_spare / 25.4 == pytest.approx(1 / 2 - 7 / 16)
    assert stack.slenderness == pytest.approx(13 / 8)


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
