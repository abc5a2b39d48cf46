"""What is said about layouts, measurements, pairings and sizes."""

from __future__ import annotations

from math import atan
from typing import Any

import pytest
from support.dovetails import SIDE, TOP, dovetail_job, made

from jigcam.dovetails import measured_layout
from jigcam.dovetails.judging import JointSizes, layout_findings
from jigcam.errors import Refused
from jigcam.findings import Finding, stops

TAILS = ((7.0, 37.5, 9.0, 35.5), (46.0, 82.0, 48.0, 80.0))


def said(**keys: Any) -> dict[str, Finding]:
    """Findings by rule."""
    return {finding.rule: finding for finding in made(dovetail_job(**keys)).findings}


def test_a_sound_joint_has_nothing_said_against_it() -> None:
    assert made(dovetail_job()).findings == ()


@pytest.mark.parametrize(
    ("keys", "rule", "level", "number"),
    [
        ({"slope": atan(1 / 3)}, "dovetail-slope", "caution", "1:3"),
        ({"slope": atan(1 / 11)}, "dovetail-slope", "caution", "1:11"),
        ({"slope": atan(1 / 1.5)}, "dovetail-slope", "stop", "1:1.50"),
        ({"pin": 2.5}, "dovetail-pin-narrow", "caution", "2.4 mm"),
        ({"pin": 1.2}, "dovetail-pin-narrow", "stop", "1.1 mm"),
        ({"half_pin": 3.5}, "dovetail-half-pin-splits", "caution", "3.45 mm"),
        ({"half_pin": 4.3, "pin": 12}, "dovetail-half-pin-splits", "caution", "11.9 mm"),
        ({"half_pin": 1.2}, "dovetail-pin-narrow", "stop", "1.15 mm"),
        ({"count": 4, "pin": 14}, "dovetail-tail-under-pin", "caution", "14 mm"),
        ({"count": 5, "pin": 9}, "dovetail-tail-narrow", "caution", "4 mm"),
        ({"count": 5, "pin": 10.5}, "dovetail-tail-narrow", "stop", "2.8 mm"),
        ({"rabbet": 8.0}, "dovetail-rabbet", "caution", "8 mm"),
        ({"rabbet": 18.0}, "dovetail-rabbet", "stop", "2 mm"),
        ({"clearance": 0.0}, "dovetail-clearance", "caution", "0.05 mm"),
        ({"clearance": 0.13}, "dovetail-clearance", "caution", "0.26 mm"),
        ({"pare": 5.0}, "dovetail-pare", "stop", "5 mm"),
        ({"top": TOP | {"width": 92.0}}, "dovetail-widths", "stop", "92 mm"),
    ],
)
def test_what_is_said_with_its_number(keys: dict[str, Any], rule: str, level: str, number: str) -> None:
    finding = said(**keys)[rule]
    assert finding.level == level
    assert number in finding.says


def test_numbers_are_told_in_the_units_of_the_job() -> None:
    assert "0.118 in" not in said(pin=2.5)["dovetail-pin-narrow"].says
    assert "0.094 in" in said(pin=2.5, units="in")["dovetail-pin-narrow"].says


@pytest.mark.parametrize(
    ("keys", "rule"),
    [
        ({"count": 6, "pin": 16}, "dovetail-no-room"),
        ({"count": 6, "pin": 11, "slope": atan(1 / 4)}, "dovetail-tail-vanishes"),
        ({"rabbet": 20.0}, "dovetail-rabbet"),
    ],
)
def test_what_cannot_be_laid_out_is_refused(keys: dict[str, Any], rule: str) -> None:
    with pytest.raises(Refused) as refused:
        made(dovetail_job(**keys))
    assert rule in {finding.rule for finding in stops(refused.value.findings)}


@pytest.mark.parametrize(
    ("tails_end", "pins_end", "cure"),
    [("left", "left", "right"), ("right", "right", "left"), ("both", "left", "both"), ("left", "both", "right")],
)
def test_a_pairing_that_turns_a_face_inside_out_is_refused_with_the_cure(
    tails_end: str, pins_end: str, cure: str
) -> None:
    (finding,) = stops(made(dovetail_job(tails_end=tails_end, pins_end=pins_end)).findings)
    assert finding.rule == "dovetail-ends"
    assert f'pins_end = "{cure}"' in finding.says


@pytest.mark.parametrize(
    ("tails_end", "pins_end", "ends"),
    [
        ("left", "right", (("left", "right"),)),
        ("right", "left", (("right", "left"),)),
        ("both", "both", (("left", "right"), ("right", "left"))),
    ],
)
def test_the_corners_that_a_joint_serves(tails_end: str, pins_end: str, ends: tuple[tuple[str, str], ...]) -> None:
    joint = made(dovetail_job(tails_end=tails_end, pins_end=pins_end))
    assert joint.ends == ends
    assert not stops(joint.findings)


def measured(*tails: tuple[float, float, float, float], **keys: Any) -> Any:
    return made(dovetail_job(measured=tails, count=None, pin=None, half_pin=None, slope=None, **keys))


def test_measured_tails_are_taken_as_they_are() -> None:
    joint = measured(*TAILS)
    assert joint.measured
    assert [(t.lower.end, t.upper.end, t.lower.base, t.upper.base) for t in joint.layout.tails] == list(TAILS)
    assert joint.findings == ()


@pytest.mark.parametrize(
    ("tails", "number", "fault"),
    [
        ((TAILS[0], (36.0, 82.0, 48.0, 80.0)), 2, "overlaps the tail before it"),
        ((TAILS[0], (46.0, 82.0, 35.0, 80.0)), 2, "at the baseline it starts at 35 mm and overlaps"),
        ((TAILS[1], TAILS[0]), 2, "lies before the tail listed ahead of it"),
        (((37.5, 7.0, 35.5, 9.0), TAILS[1]), 1, "is not nearer to the lower edge"),
        ((TAILS[0], (46.0, 91.0, 48.0, 80.0)), 2, "off a board 90 mm wide"),
        (((-1.0, 37.5, 9.0, 35.5), TAILS[1]), 1, "off a board"),
        ((TAILS[0], (46.0, 90.0, 48.0, 80.0)), 2, "leaves no half pin"),
        (((0.0, 37.5, 9.0, 35.5), TAILS[1]), 1, "leaves no half pin"),
        (((9.0, 35.5, 7.0, 37.5), TAILS[1]), 1, "its slopes are reversed"),
        ((TAILS[0], (46.0, 82.0, 48.0, 83.0)), 2, "its slopes are reversed"),
    ],
)
def test_impossible_measurements_are_refused_with_the_number_of_the_tail(
    tails: tuple[tuple[float, float, float, float], ...], number: int, fault: str
) -> None:
    with pytest.raises(Refused) as refused:
        measured(*tails)
    (finding,) = stops(refused.value.findings)
    assert finding.says.startswith(f"tail {number} cannot be as measured")
    assert fault in finding.says


def test_all_impossible_tails_are_told_at_once() -> None:
    with pytest.raises(Refused) as refused:
        measured((9.0, 35.5, 7.0, 37.5), (46.0, 91.0, 48.0, 80.0))
    assert len(stops(refused.value.findings)) == 2


def test_a_count_that_does_not_agree_with_the_measurements() -> None:
    with pytest.raises(Refused) as refused:
        made(dovetail_job(measured=TAILS, count=3))
    assert "2 tails were measured, but the joint has 3" in stops(refused.value.findings)[0].says


def test_boards_of_nearly_the_same_width_pass() -> None:
    assert not stops(made(dovetail_job(side=SIDE | {"width": 90.03})).findings)


def test_a_shaving_that_closes_a_socket_is_refused() -> None:
    layout = measured_layout(16.0, 14.36, ((4.0, 12.0, 7.59, 8.41),))
    found = layout_findings("corner", layout, JointSizes(24.0, 14.36, pare=0.4), "mm")
    assert any(each.rule == "dovetail-pare" and "closes a socket" in each.says for each in found)
    assert not any(
        each.rule == "dovetail-pare"
        for each in layout_findings("corner", layout, JointSizes(24.0, 14.36, pare=0.2), "mm")
    )
