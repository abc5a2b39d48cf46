"""Recess and plug from one opening, parts around a pattern, and bow-tie keys."""

from __future__ import annotations

import datetime
from math import pi
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.keys import keys

from jigcam.errors import Refused
from jigcam.geometry import Region, difference, offset, rectangle
from jigcam.joints.key.template import key_template
from jigcam.kit import Kit, Measured, load_kit
from jigcam.template.inlay import part_around, pattern_for, plug_in, recess_in
from jigcam.units import Voice

INCH = 25.4


def apart(a: Region, b: Region) -> float:
    """The greatest distance of a point of one outline from the other, mm."""
    return max(
        float(b.distance(np.vstack([loop.points(1e-4) for loop in a.loops])).max()),
        float(a.distance(np.vstack([loop.points(1e-4) for loop in b.loops])).max()),
    )


@pytest.mark.parametrize(
    ("d", "larger", "smaller", "same"),
    [
        (INCH / 8, 3 * INCH / 4, INCH / 2, True),
        (10.0, 40.0, 20.0, True),
        (INCH / 4, 3 * INCH / 4, INCH / 2, False),
    ],
)
def test_recess_and_plug_are_alike_where_the_rule_holds(d: float, larger: float, smaller: float, same: bool) -> None:
    # B1 - B2 = 2d (derived); examples of both kinds are common.
    opening = offset(rectangle(0.0, 0.0, 90.0, 60.0), larger / 2.0)
    recess, plug = recess_in(opening, d, larger), plug_in(opening, d, smaller)
    gap = (2.0 * d - (larger - smaller)) / 2.0
    assert (apart(recess, plug) < 2e-3) is same
    assert apart(offset(recess, -gap), plug) < 2e-3


@given(st.floats(0.5, 6.0), st.floats(0.5, 10.0))
def test_a_key_fills_its_recess(radius: float, spare: float) -> None:
    """For every bit and bushings of the rule: recess = plug, corners of both at d/2, the waist at o."""
    d = 2.0 * radius
    larger = 3.0 * d + spare
    made = keys(length=120.0, ends=70.0, waist=40.0, at=(300.0, 150.0))
    drawn = made.rounded(made.centres[0], d, larger)
    opening = offset(drawn, (larger - d) / 2.0)
    recess, plug = recess_in(opening, d, larger), plug_in(opening, d, larger - 2.0 * d)
    assert apart(recess, drawn) < 2e-3
    assert apart(plug, drawn) < 2e-3
    radii = [_radius(loop, i) for loop in drawn.loops for i in range(len(loop.vertices)) if loop.vertices[i, 2] != 0.0]
    for wanted in (d / 2.0, (larger - d) / 2.0):
        assert min(abs(radius - wanted) for radius in radii) < 1e-3
    assert all(min(abs(radius - d / 2.0), abs(radius - (larger - d) / 2.0)) < 1e-3 for radius in radii)


def _radius(loop: Any, i: int) -> float:
    from jigcam.geometry import arc_of

    p, q = loop.vertices[i], loop.vertices[(i + 1) % len(loop.vertices)]
    return float(arc_of(p[:2], q[:2], p[2])[2])


def test_a_pattern_and_its_part() -> None:
    # Around a pattern a sharp corner leaves the part rounded at o; two offsets in all (derived).
    part = offset(rectangle(0.0, 0.0, 80.0, 30.0), 3.5)
    pattern = pattern_for(part, 10.0, 17.0)
    assert pattern.bounds == pytest.approx((0.0, 0.0, 80.0, 30.0), abs=1e-6)
    assert apart(part_around(pattern, 10.0, 17.0), part) < 2e-3


def test_the_plan_of_keys() -> None:
    kit = load_kit("metric-shop")
    plan = key_template(keys(count=2, spacing=80.0), kit, voice=Voice("mm"))
    assert plan.inlay.gap == pytest.approx(0.0, abs=1e-9)
    assert apart(plan.plug, plan.template.cut.solid.section(0.0)) < 2e-3
    assert not difference(plan.template.opening, plan.template.sheet).area
    rules = {finding.rule for finding in plan.findings}
    assert {"inlay", "inlay-corners", "cut-the-key", "next-key", "try-the-key"} <= rules


def test_a_measured_pair_changes_the_gap() -> None:
    kit = load_kit("metric-shop")
    found = Measured(bit="straight 3", bushing="bushing 17", opening=30.06, width=16.0, date=datetime.date(2024, 5, 31))
    measured = Kit(**{**{name: getattr(kit, name) for name in Kit.model_fields}, "measured": (found,)})
    first = key_template(keys(), measured, bushing=kit.bushing("bushing 17"), voice=Voice("mm"))
    assert first.inlay.gap == pytest.approx(-0.06)
    assert "inlay-gap" in {finding.rule for finding in first.findings if finding.level == "caution"}
    # Left to choose, the pair without a gap is taken.
    assert key_template(keys(), measured, voice=Voice("mm")).inlay.recess.bushing.name == "bushing 30"


def test_no_pair_of_bushings() -> None:
    kit = load_kit("metric-shop")
    with pytest.raises(Refused) as caught:
        key_template(keys(), kit, bit=kit.bit("straight 6"), voice=Voice("mm"))
    (stop,) = [finding for finding in caught.value.findings if finding.level == "stop"]
    assert "B1 - B2 = 2d" in stop.says


@pytest.mark.parametrize(
    ("changes", "rule", "level"),
    [
        ({"at": (20.0, 10.0)}, "off-board", "stop"),
        ({"at": (250.0, 33.0)}, "short-grain", "caution"),
        ({"count": 2, "spacing": 30.0}, "keys-close", "stop"),
        ({"count": 2, "spacing": 40.0}, "keys-close", "caution"),
        ({"depth": 20.0}, "too-deep", "stop"),
        ({"depth": 12.0}, "deep", "caution"),
        ({"waist": 28.0}, "weak-key", "caution"),
        ({"angle": 0.0}, "key-along-grain", "caution"),
        ({}, "key-grain", "note"),
    ],
)
def test_rules_of_keys(changes: dict[str, Any], rule: str, level: str) -> None:
    assert (rule, level) in {(finding.rule, finding.level) for finding in keys(**changes).findings}


def test_keys_go_along_the_crack() -> None:
    made = keys(count=3, spacing=50.0)
    assert made.centres == (pytest.approx((250.0, 150.0)), pytest.approx((300.0, 150.0)), pytest.approx((350.0, 150.0)))
    slanting = keys(count=2, spacing=50.0, angle=pi / 4.0)
    (x0, y0), (x1, y1) = slanting.centres
    assert (x1 - x0, y1 - y0) == pytest.approx((50.0 / 2**0.5, -50.0 / 2**0.5))
    assert made.outline(made.centres[0]).bounds == pytest.approx((234.0, 120.0, 266.0, 180.0))
