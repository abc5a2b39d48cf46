"""Through dovetails from job to proved files: both boards cut virtually, put together, and measured."""

from __future__ import annotations

from functools import cache
from math import atan, cos, radians
from pathlib import Path
from typing import Any

import pytest
from support.dovetails import dovetail_job

from jigcam.errors import Refused
from jigcam.findings import stops
from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.kit import load_kit
from jigcam.making.built import Built
from jigcam.making.made_joint import MadeJoint
from jigcam.making.setup_sheet import setup_sheet
from jigcam.workshop.build import build_job, plan_job

EXAMPLES = Path(__file__).parents[2] / "examples" / "music-cabinet"
MEASURED = ((7.0, 37.5, 9.4, 35.9), (46.0, 82.4, 48.1, 79.5))
FLAT = {"tails_setup": "flat", "pins_setup": "flat"}
AS_DRAWN = 0.02
"""How near the fit comes to the drawing where nothing is pared, mm."""


def sheet_of(done: Built) -> list[str]:
    return setup_sheet(done.joints[0], done.proofs[0], done)


@cache
def work_of(kind: str) -> MadeJoint:
    return plan_job(dovetail_job(**JOBS[kind]), load_kit("metric-shop"))[0]


@cache
def built(kind: str) -> Built:
    return build_job(dovetail_job(**JOBS[kind]), load_kit("metric-shop"))


JOBS: dict[str, dict[str, Any]] = {
    "upright": {"pin": 10.0, "tails_end": "both", "pins_end": "both"},
    "upright, rabbet": {"pin": 10.0, "rabbet": 1.5, "tails_end": "left", "pins_end": "right"},
    "flat": {**FLAT, "rabbet": 1.0, "count": 1, "half_pin": 24.0},
    "flat tails": {"tails_setup": "flat", "clearance": 0.1},
    "flat, relieved": {"tails_setup": "flat", "corners": "relieved"},
    "measured": {"measured": MEASURED, "count": None, "pin": None, "half_pin": None, "slope": None},
    "no clearance": {"pin": 10.0, "clearance": 0.0},
}


@pytest.mark.parametrize("kind", JOBS)
def test_files_are_proved_and_the_drawn_clearance_comes_back(kind: str) -> None:
    proof = built(kind).proofs[0]
    assert proof.gouge <= 0.005
    assert proof.left <= 0.010
    fit = proof.outcome.fit_dict()
    drawn = JOBS[kind].get("clearance", 0.05)
    for corner in fit["corners"]:
        for contact in corner["contacts"]:
            wanted = drawn if contact["kind"] == "flank" else 0.0
            assert contact["drawn_mm"] == pytest.approx(wanted)
            for value in (contact["least_mm"], contact["median_mm"], contact["most_mm"]):
                assert abs(value - wanted) <= AS_DRAWN, contact
    assert not stops(proof.findings)


@pytest.mark.parametrize("kind", ["upright", "flat tails", "measured"])
def test_every_flank_baseline_and_shoulder_is_named(kind: str) -> None:
    for corner in built(kind).proofs[0].outcome.fit_dict()["corners"]:
        names = [contact["contact"] for contact in corner["contacts"]]
        assert names == [
            "tail 1, lower flank",
            "tail 1, upper flank",
            "tail 2, lower flank",
            "tail 2, upper flank",
            "baseline, the lower half pin",
            "baseline, pin 1",
            "baseline, the upper half pin",
            "shoulder, tail 1",
            "shoulder, tail 2",
        ]


def test_what_is_left_to_pare_stands_between_the_boards() -> None:
    """Both boards keep a shaving of 0.3 mm on each flank: 0.05 − 2 · 0.3."""
    done = build_job(dovetail_job(pin=11.0, pare=0.3), load_kit("metric-shop"))
    corner = done.proofs[0].outcome.fit_dict()["corners"][0]
    flanks = [contact for contact in corner["contacts"] if contact["kind"] == "flank"]
    floors = [contact for contact in corner["contacts"] if contact["kind"] != "flank"]
    assert all(contact["median_mm"] == pytest.approx(-0.55, abs=0.002) for contact in flanks)
    assert all(contact["median_mm"] == pytest.approx(-0.3, abs=0.002) for contact in floors)
    assert any("0.3 mm is left on every wall" in line for line in sheet_of(done))


def moved(text: str, axis: str, by: float) -> str:
    """The text with all words of one axis moved; those at the clear and approach heights stay."""
    lines = []
    for line in text.splitlines():
        words = (
            [
                f"{axis}{float(word[1:]) + by:.4f}"
                if word.startswith(axis) and (axis != "Z" or float(word[1:]) < 0)
                else word
                for word in line.split(" ")
            ]
            if not line.startswith("(")
            else [line]
        )
        lines.append(" ".join(words))
    return "\n".join(lines) + "\n"


def contacts_with(kind: str, number: int, axis: str, by: float) -> tuple[dict[str, Any], list[str]]:
    """The contacts of the first corner, and the rules that stop it, with the words of one file moved."""
    work = work_of(kind)
    texts = {file.file: file.text for file in work.files}
    name = work.files[number].file
    texts[name] = moved(texts[name], axis, by)
    outcome = work.judged(texts)
    found = {contact["contact"]: contact for contact in outcome.fit_dict()["corners"][0]["contacts"]}
    return found, [finding.rule for finding in stops(outcome.findings)]


def test_a_pin_file_that_is_off_by_a_tenth_shows_flank_by_flank() -> None:
    """Upright, left end: x is the distance from the lower edge, so every pin moves up by 0.1 mm along the width."""
    found, rules = contacts_with("upright, rabbet", 3, "X", -0.1)
    shift = 0.1 * cos(radians(8))
    # The pin board's right end is up: x runs against the board's y, so the pins move away from the lower edge.
    assert found["tail 1, lower flank"]["median_mm"] == pytest.approx(0.05 - shift, abs=0.002)
    assert found["tail 1, upper flank"]["median_mm"] == pytest.approx(0.05 + shift, abs=0.002)
    assert rules
    assert set(rules) == {"does-not-fit"}


def test_a_dovetail_bit_set_too_deep_loosens_flanks_and_baselines() -> None:
    """Lowering a dovetail bit by e widens the fit by e · tan α on each flank, square to it e · sin α (derived)."""
    found, rules = contacts_with("upright", 1, "Z", -0.2)
    assert found["baseline, pin 1"]["median_mm"] == pytest.approx(0.2, abs=0.002)
    assert found["tail 1, upper flank"]["median_mm"] == pytest.approx(0.05 - 0.2 * 0.13917, abs=0.002)
    assert not [rule for rule in rules if rule != "does-not-fit"]


def test_sockets_too_shallow_keep_the_shoulder_off() -> None:
    found, rules = contacts_with("upright", 2, "Z", 0.3)
    assert found["shoulder, tail 1"]["median_mm"] == pytest.approx(-0.3, abs=0.002)
    assert "does-not-fit" in rules


def test_each_changed_file_is_also_refused_by_its_own_proof() -> None:
    work = work_of("upright")
    texts = {file.file: file.text for file in work.files}
    for number, (axis, by) in enumerate((("X", 0.1), ("Z", -0.1))):
        name = work.files[number].file
        proof = work.proved(texts | {name: moved(texts[name], axis, by)})
        assert {finding.rule for finding in stops(proof.files[name].findings)} & {"gouge", "left"}


def test_files_are_numbered_in_the_order_in_which_they_are_run() -> None:
    assert [file.file.removeprefix("corner/") for file in work_of("upright").files] == [
        "01-side-left-clear-between-tails.nc",
        "02-side-left-tails.nc",
        "03-top-right-pins.nc",
        "04-side-right-clear-between-tails.nc",
        "05-side-right-tails.nc",
        "06-top-left-pins.nc",
    ]
    assert [file.file.removeprefix("corner/") for file in work_of("flat").files] == [
        "01-side-right-inside-of-tails.nc",
        "02-side-right-tails.nc",
        "03-top-left-inside-of-pins.nc",
        "04-top-left-pins.nc",
    ]


def test_the_manifest_tells_end_face_and_placement() -> None:
    machine = load_kit("metric-shop").machine
    facts = [file.made(machine).facts for file in work_of("flat").files]
    assert [(each["board"], each["setup"], each["end"], each["face"]) for each in facts] == [
        ("side", "flat", "right", "inside"),
        ("side", "flat", "right", "outside"),
        ("top", "flat", "left", "inside"),
        ("top", "flat", "left", "outside"),
    ]
    upright = work_of("upright, rabbet").files[-1].made(machine).facts
    assert (upright["end"], upright["placement"]) == ("right", [[-1, 0, 90], [0, 1, 0]])


def test_the_sheet_tells_joint_files_backer_and_hand_layout() -> None:
    text = " ".join("\n".join(sheet_of(built("upright, rabbet"))).split())
    for part in (
        "side, left end, 20 mm thick",
        "1.5 mm deep on the inside of side",
        "Clamp a backer of waste wood at least",
        "fills the rabbet: shape its top to stand 1.5 mm proud over the uppermost",
        "Only if you cut by hand, or to check: the layout",
        "less the rabbet of 1.5 mm",
        "Gauge for the pin board: 18.5 mm",
    ):
        assert part in text


def test_a_setup_that_cannot_be_held_is_refused_before_anything_is_planned() -> None:
    with pytest.raises(Refused) as refused:
        plan_job(dovetail_job(slope=atan(1 / 8), pin=8.0, tails_setup="upright"), load_kit("metric-shop"))
    assert any('but "flat" would' in finding.says for finding in refused.value.findings)


@pytest.mark.parametrize(
    ("example", "kit"),
    [("carcase", None), ("carcase", "metric-shop"), ("carcase-metric", None), ("carcase-measured", None)],
)
def test_the_shipped_carcases(example: str, kit: str | None) -> None:
    job = load_job(EXAMPLES / f"{example}.toml")
    done = build_job(job, kit_for(job, kit))
    for proof in done.proofs:
        assert proof.gouge <= 0.005
        assert proof.left <= 0.010
        fit = proof.outcome.fit_dict()
        assert abs(fit["least_mm"] - fit["clearance_drawn_mm"]) <= AS_DRAWN
        assert abs(fit["most_mm"] - fit["clearance_drawn_mm"]) <= AS_DRAWN
    corners = {"carcase": 2, "carcase-metric": 4, "carcase-measured": 1}[example]
    assert sum(len(proof.outcome.fit_dict()["corners"]) for proof in done.proofs) == corners
