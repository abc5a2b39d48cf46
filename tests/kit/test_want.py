"""What a cut wants of a bit: each thing that may be lacking, and the one slack of sizes."""

from __future__ import annotations

import math
from typing import Any

import pytest

from jigcam.kit import Bit, Want, load_kit
from jigcam.kit.want import SLACK, Ability


def bit(kind: str = "straight", **keys: Any) -> Bit:
    sizes = {"diameter": 6.0, "cutting_length": 20.0, "overall_length": 60.0, "shank": 6.0}
    return Bit(**({"name": kind, "kind": kind} | sizes | keys))


EVERY = (
    bit(),
    bit("dovetail", angle=math.radians(4)),
    bit("ball"),
    bit("vee", angle=math.radians(30)),
    bit("round-over", corner_radius=2.0),
)


@pytest.mark.parametrize(
    ("ability", "able"), [("upright_walls", "straight"), ("undercuts", "dovetail"), ("pointed", "vee")]
)
def test_each_ability_belongs_to_one_kind_of_bit(ability: Ability, able: str) -> None:
    assert [each.name for each in Want(ability).met_by(EVERY)] == [able]
    assert all(Want(ability).lacks(each) == {"ability"} for each in EVERY if each.name != able)


@pytest.mark.parametrize("each", EVERY, ids=lambda each: each.name)
def test_bits_that_leave_upright_walls_are_those_of_one_radius_from_the_tip_up(each: Bit) -> None:
    heights = [0.0, 0.1, 1.0, 10.0, each.cutting_length]
    assert each.upright_walls == (len(set(each.radius_at(heights).tolist())) == 1)


@pytest.mark.parametrize("each", EVERY, ids=lambda each: each.name)
def test_a_point_and_a_quarter_circle_are_where_the_profile_says(each: Bit) -> None:
    if each.pointed:
        assert each.radius_at(0.0) == 0.0
        assert each.radius_at(each.point) == pytest.approx(each.radius)
        assert each.radius_at(0.5 * each.point) == pytest.approx(0.5 * each.radius)
    else:
        assert each.point == 0.0
    if each.quarter_circle:
        r = each.quarter_circle
        low, mid, high, above = each.radius_at([0.0, 0.5 * r, r, 1.1 * r])
        assert high - low == above - low == pytest.approx(r)
        # At half its height a quarter circle has gone sin 60 deg of its way, or all but that, as it is full or hollow.
        assert mid - low == pytest.approx(r * (math.sqrt(0.75) if each.kind == "ball" else 1.0 - math.sqrt(0.75)))


def test_all_that_is_lacking_is_told_at_once() -> None:
    kit = load_kit("inch-shop")
    want = Want("undercuts", kit.router, width=5.0, edges=25.0)
    assert want.lacks(bit(shank=50.0)) == {"ability", "collet", "width", "edges"}
    assert want.lacks(bit("dovetail", angle=0.05, shank=6.35, diameter=4.9, cutting_length=25.0)) == set()


@pytest.mark.parametrize("by", [-0.5 * SLACK, 0.0, 0.5 * SLACK])
def test_a_bit_is_of_a_size_that_it_misses_by_less_than_the_slack(by: float) -> None:
    assert not Want("upright_walls", width=6.0 - by, edges=20.0 + by).lacks(bit())


def test_a_bit_that_misses_a_size_by_more_lacks_it() -> None:
    assert Want("upright_walls", width=6.0 - 2.0 * SLACK).lacks(bit()) == {"width"}
    assert Want("upright_walls", edges=20.0 + 2.0 * SLACK).lacks(bit()) == {"edges"}
