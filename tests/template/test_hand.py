"""Routing by hand: the way along each wall, the settings, the ends, the base."""

from __future__ import annotations

from math import pi

import pytest
from support.grooves import groove_job, made

from jigcam.kit import load_kit
from jigcam.template import TemplatePlan, plan_template
from jigcam.template.hand import hand_lines, passes, shortfalls, walls
from jigcam.units import Voice


def plan_of(**keys: object) -> TemplatePlan:
    kit = load_kit("metric-shop")
    return plan_template(made(groove_job(**keys)).cuts()[0], kit, voice=Voice("mm"))


def test_clockwise_with_the_wall_on_the_left() -> None:
    # Along x on the outside face: up on the left is clockwise, so along the upper wall the router goes to the right.
    plan = plan_of(face="outside", angle=0.0, start_point=(150.0, 100.0), length=200.0)
    assert {(wall.side, wall.toward) for wall in walls(plan)} == {
        ("upper edge", "right end"),
        ("lower edge", "left end"),
    }
    # From the inside the same x runs to the board's left end.
    inside = plan_of(face="inside", angle=0.0, start_point=(150.0, 100.0), length=200.0)
    assert {(wall.side, wall.toward) for wall in walls(inside)} == {
        ("upper edge", "left end"),
        ("lower edge", "right end"),
    }
    slanting = plan_of(face="outside", angle=pi / 4.0, start_point=(150.0, 60.0), length=150.0)
    assert ("upper edge and the left end", "upper edge and the right end") in {
        (wall.side, wall.toward) for wall in walls(slanting)
    }


def test_settings_add_up_to_sheet_and_depth() -> None:
    plan = plan_of(depth=11.0)
    settings = passes(plan)
    assert len(settings) == 3
    assert settings[-1].below == pytest.approx(12.0 + 11.0)
    assert sum(each.takes for each in settings) == pytest.approx(11.0)
    assert all(each.below == pytest.approx(12.0 + each.depth) for each in settings)


def test_ends_and_entry() -> None:
    stopped = "\n".join(hand_lines(plan_of(), Voice("mm")))
    assert "stop at the groove's start and finish" in stopped
    through = "\n".join(hand_lines(plan_of(start="open", finish="open"), Voice("mm")))
    assert "beyond the open end of the cut" in through
    assert "do not start it at depth" in through
    assert "is the stop" not in through


def test_a_base_that_hangs_over_gets_strips() -> None:
    plan = plan_of()
    assert shortfalls(plan, 1.0) == ()
    short = shortfalls(plan, 1000.0)
    assert [each.side for each in short] == ["right end", "left end", "lower edge", "upper edge"]
    lines = hand_lines(plan, Voice("mm"), 1000.0)
    assert sum("lay a strip" in line for line in lines) == 4
