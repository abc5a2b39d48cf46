"""Bits: their profiles, and those that cannot be made."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from jigcam.kit import Bit

SIZES: dict[str, Any] = {"diameter": 12.7, "cutting_length": 20.0, "overall_length": 60.0, "shank": 6.35}


def bit(kind: str, **keys: Any) -> Bit:
    return Bit(**({"name": kind, "kind": kind} | SIZES | keys))


STRAIGHT = bit("straight")
DOVETAIL = bit("dovetail", angle=math.radians(8))
BALL = bit("ball")
VEE = bit("vee", angle=math.radians(30))
ROUND_OVER = bit("round-over", corner_radius=4.0)
EVERY = [STRAIGHT, DOVETAIL, BALL, VEE, ROUND_OVER]


def each_bit(test: Any) -> Any:
    return pytest.mark.parametrize("bit", EVERY, ids=lambda b: b.kind)(test)


@each_bit
def test_there_is_no_bit_below_the_tip_nor_above_the_shank(bit: Bit) -> None:
    assert list(bit.radius_at([-1e-9, 60.001])) == [-math.inf, -math.inf]


@each_bit
def test_above_the_cutting_length_there_is_the_shank(bit: Bit) -> None:
    assert list(bit.radius_at([20.0001, 40.0, 60.0])) == [3.175, 3.175, 3.175]


@each_bit
def test_the_profile_is_never_wider_than_the_diameter_and_has_a_number_everywhere(bit: Bit) -> None:
    radii = bit.radius_at(np.linspace(0, 60, 601).reshape(1, 601))
    assert radii.shape == (1, 601)
    assert np.all((radii >= 0) & (radii <= bit.radius + 1e-12))
    assert bit.radius_at(5.0).shape == ()


def test_a_straight_bit_is_a_cylinder() -> None:
    assert list(STRAIGHT.radius_at([0.0, 10.0, 20.0])) == [6.35, 6.35, 6.35]
    assert STRAIGHT.neck == 12.7
    assert not STRAIGHT.undercuts


def test_a_dovetail_bit_narrows_upward_to_its_neck() -> None:
    # D − 2h·tan α; 12.7 mm × 8°, 20 mm high: 7.078 mm.
    assert DOVETAIL.neck == pytest.approx(12.7 - 40 * math.tan(math.radians(8)))
    assert DOVETAIL.neck == pytest.approx(7.0784, abs=1e-4)
    assert 2 * DOVETAIL.radius_at(20.0) == pytest.approx(DOVETAIL.neck)
    assert DOVETAIL.radius_at(0.0) == 6.35
    assert DOVETAIL.undercuts


@given(st.floats(0, 6.35))
def test_a_ball_bit_lies_on_its_sphere(height: float) -> None:
    radius = float(BALL.radius_at(height))
    assert math.hypot(radius, 6.35 - height) == pytest.approx(6.35)


def test_a_ball_bit_is_a_cylinder_above_the_ball() -> None:
    assert list(BALL.radius_at([0.0, 6.35, 20.0])) == [0.0, 6.35, 6.35]


def test_a_vee_bit_of_60_degrees_is_as_wide_as_its_slant() -> None:
    # Between flanks of 60° the width equals the slant height: an equilateral triangle.
    radius = float(VEE.radius_at(3.0))
    assert 2 * radius == pytest.approx(math.hypot(radius, 3.0))
    assert list(VEE.radius_at([0.0, 20.0])) == [0.0, 6.35]


@given(st.floats(0, 4.0))
def test_a_round_over_bit_leaves_a_quarter_circle(height: float) -> None:
    # The edge that it leaves is round about a point in the wood, at the height of the tip and the widest radius.
    radius = float(ROUND_OVER.radius_at(height))
    assert math.hypot(6.35 - radius, height) == pytest.approx(4.0)


def test_a_round_over_bit_is_narrow_at_its_tip_and_full_above_the_circle() -> None:
    assert list(ROUND_OVER.radius_at([0.0, 4.0, 20.0])) == pytest.approx([2.35, 6.35, 6.35])


def test_bits_are_values() -> None:
    assert bit("straight") == STRAIGHT
    assert len({bit("straight"), STRAIGHT, DOVETAIL}) == 2
    with pytest.raises(ValidationError):
        STRAIGHT.diameter = 3.0  # type: ignore[misc]  # frozen is the point


@pytest.mark.parametrize(
    ("kind", "keys", "blamed"),
    [
        ("straight", {"cutting_length": 60.0}, "no shank"),
        ("straight", {"angle": 0.1}, "no sloped flank"),
        ("straight", {"corner_radius": 1.0}, "no quarter circle"),
        ("dovetail", {}, "needs the angle"),
        ("dovetail", {"angle": math.radians(20)}, "flanks meet"),
        ("vee", {}, "needs the angle"),
        ("vee", {"angle": math.radians(10)}, "do not reach the diameter"),
        ("ball", {"cutting_length": 5.0}, "less than the ball"),
        ("round-over", {}, "quarter circle does not fit"),
        ("round-over", {"corner_radius": 7.0}, "quarter circle does not fit"),
        ("straight", {"diameter": -1.0}, "cannot be negative"),
        ("straight", {"diameter": 0.0}, "cannot be zero"),
        ("straight", {"diameter": math.nan}, "not a number"),
        ("straight", {"diameter": math.inf}, "not a number"),
        ("straight", {"diameter": 1000.0}, "too large"),
        ("straight", {"flutes": 0}, "cannot be zero"),
        ("straight", {"flutes": 2.5}, "flutes"),
        ("straight", {"max_rpm": -1}, "cannot be negative"),
        ("straight", {"name": ""}, "an empty name"),
    ],
)
def test_bits_that_cannot_be_made(kind: str, keys: dict[str, Any], blamed: str) -> None:
    with pytest.raises(ValidationError, match=blamed):
        bit(kind, **keys)


def test_a_right_angled_vee_as_sold_is_taken() -> None:
    assert bit("vee", angle=math.radians(45), cutting_length=6.35).radius_at(6.35) == pytest.approx(6.35)
