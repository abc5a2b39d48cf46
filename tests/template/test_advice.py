"""What is said about a template: screws, fence, and each kind of cut by its own name."""

from __future__ import annotations

import datetime
from typing import Any

import pytest
from support.grooves import groove_job, made
from support.keys import keys

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.joints.key.template import KeyTemplate, key_template
from jigcam.kit import Kit, Measured, load_kit
from jigcam.template import hand_lines, plan_template
from jigcam.units import Voice


def kit(**machine: Any) -> Kit:
    shop = load_kit("metric-shop")
    return shop.model_copy(update={"machine": shop.machine.model_copy(update=machine)})


def said(shop: Kit, **keys: Any) -> tuple[Finding, ...]:
    return plan_template(made(groove_job(**keys)).cuts()[0], shop, voice=Voice("mm")).findings


@pytest.mark.parametrize(("travel", "few"), [((200.0, 130.0, 80.0), True), ((600.0, 400.0, 100.0), False)])
def test_a_strip_with_room_for_one_screw_is_to_be_glued(travel: tuple[float, float, float], few: bool) -> None:
    """The groove runs out through the stop block close to the fence: a small sheet leaves one short piece of it."""
    findings = said(kit(travel=travel), start_point=(0.0, 12.0), angle=0.0, length=100.0, start="open")
    found = [finding for finding in findings if finding.rule == "few-screws"]
    assert [finding.level for finding in found] == ["caution"] * few
    assert all("room for 1 screw in the stop block strip: glue it" in finding.says for finding in found)
    assert {"fence", "stop-block"} <= {finding.rule for finding in findings}


def test_what_a_sight_is_for_and_how_it_is_looked_through_is_told() -> None:
    found = {finding.rule: finding.says for finding in said(kit())}
    assert "two sights show the centreline of the groove" in found["sights"]
    assert "through each hole the line must run on in line with the marks engraved" in found["sights"]
    narrow = {finding.rule: finding.says for finding in said(kit(travel=(400.0, 300.0, 80.0)), **MIDDLE)}
    assert "ends at both rims of each sight" in narrow["index-line"]


MIDDLE = {
    "start_point": (500.0, 300.0),
    "angle": 0.0,
    "length": 150.0,
    "board": {"length": 1200.0, "width": 600.0, "thickness": 24.0},
}


def test_no_fence_where_no_side_of_the_board_is_in_reach() -> None:
    """Middle of a large board: the nearest side is 300 mm away, and the blank at most as large as the travel."""
    found = {finding.rule: finding for finding in said(kit(travel=(400.0, 300.0, 80.0)), **MIDDLE)}
    assert found["no-fence"].level == "caution"
    assert "index lines" in found["no-fence"].says
    assert "fence" not in found
    assert "index-line" in found
    in_reach = {finding.rule for finding in said(kit(travel=(900.0, 800.0, 80.0)), **MIDDLE)}
    assert "no-fence" not in in_reach
    assert "fence" in in_reach


def texts(plan: KeyTemplate) -> list[str]:
    return [finding.says for finding in plan.findings] + hand_lines(plan.template, Voice("mm"), 80.0)


def test_a_key_has_a_recess_and_no_groove() -> None:
    plan = key_template(keys(), kit(), voice=Voice("mm"))
    assert not [text for text in texts(plan) if "groove" in text]
    found = {finding.rule: finding.says for finding in plan.findings}
    assert "wider and longer than the recess" in found["pair"]
    assert "the recess of 16 mm shifts" in found["concentricity"]
    lines = "\n".join(hand_lines(plan.template, Voice("mm")))
    assert "leaves the recess 8 mm deep" in lines
    assert "stop at both ends of the recess" in lines


def test_a_groove_stays_a_groove() -> None:
    plan = plan_template(made(groove_job()).cuts()[0], kit(), voice=Voice("mm"))
    found = {finding.rule: finding.says for finding in plan.findings}
    assert "wider and longer than the groove" in found["pair"]
    assert "the groove of 12.35 mm shifts" in found["concentricity"]
    assert "leaves the groove 8 mm deep" in "\n".join(hand_lines(plan, Voice("mm")))


def test_a_measured_pair_of_keys_is_told_by_its_test_cut() -> None:
    cut = Measured(bit="straight 3", bushing="bushing 17", opening=30.06, width=16.0, date=datetime.date(2026, 3, 1))
    shop = kit().model_copy(update={"measured": (cut,)})
    plan = key_template(keys(), shop, bushing=shop.bushing("bushing 17"), voice=Voice("mm"))
    found = {finding.rule: finding.says for finding in plan.findings}
    assert "whose opening of 30.06 mm gave a cut of 16 mm" in found["measured-pair"]


def test_what_stops_keys_speaks_of_their_recess() -> None:
    with pytest.raises(Refused) as refused:
        key_template(keys(depth=17.0), kit(), voice=Voice("mm"))
    says = [finding.says for finding in refused.value.findings if finding.rule == "no-inlay"]
    assert any("the recess is 17 mm deep" in text for text in says), says
