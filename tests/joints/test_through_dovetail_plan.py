"""Ways to cut: which bits and setups are chosen or refused, what that does to the layout, and what is then cut."""

from __future__ import annotations

from math import atan, degrees, radians, tan
from pathlib import Path
from typing import Any

import pytest
from support.dovetails import SIDE, TOP, dovetail_job, made
from support.jobs import write_job
from support.kinds.through_dovetail import corner_job

from jigcam.dovetails.choice import DovetailChoice, choose_ways
from jigcam.dovetails.ways import Way
from jigcam.findings import Finding, stops
from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.kit import Kit, Upright, load_kit
from jigcam.workshop.build import plan_job

INCH = 25.4
WIDE = {"pin": 10.0}
"""Pins wide enough for the metric shop's dovetail bit of 12.7 mm at 8 degrees."""


def plan(kit: Kit | None = None, **keys: Any) -> DovetailChoice:
    return choose_ways(made(dovetail_job(**keys)), kit or load_kit("metric-shop"))


def way(planned: DovetailChoice, part: str, setup: str) -> Way:
    return next(each for each in planned.ways if (each.part, each.setup) == (part, setup))


def rule(planned: DovetailChoice, name: str) -> list[Finding]:
    return [finding for finding in planned.findings if finding.rule == name]


def kit_with(machine: dict[str, Any] | None = None, bits: tuple[str, ...] | None = None) -> Kit:
    """The metric shop with another machine, or with some of its bits only."""
    kit = load_kit("metric-shop")
    return kit.model_copy(
        update={
            "machine": kit.machine.model_copy(update=machine or {}),
            "bits": tuple(bit for bit in kit.bits if bits is None or bit.name in bits),
        }
    )


def test_upright_where_the_machine_and_a_bit_allow_it() -> None:
    planned = plan(**WIDE)
    assert planned.tails is not None
    assert planned.pins is not None
    assert (planned.tails.setup, planned.pins.setup) == ("upright", "upright")
    assert planned.tails.bit is not None
    assert planned.tails.bit.name == "dovetail 12.7 x 8"
    assert planned.tails.clearing is not None
    assert planned.tails.clearing.name == "straight 8"


def test_the_bit_decides_the_slope_of_both_boards_and_the_widths_at_the_end_stay() -> None:
    planned = plan(**WIDE)
    drawn = planned.joint.layout
    assert all(degrees(slope) == pytest.approx(8.0) for slope in planned.layout.slopes)
    assert planned.pins is not None
    assert planned.pins.layout == planned.layout
    assert [t.end_width for t in planned.layout.tails] == pytest.approx([t.end_width for t in drawn.tails])
    (finding,) = rule(planned, "dovetail-slope-changed")
    assert finding.level == "caution"
    for number in ("1:7.12 (8.00 deg)", "1:8 (7.13 deg)", "28.5 mm", "29 mm", "both boards"):
        assert number in finding.says
    tail = (90.0 - 10.0 - 2 * 7.0) / 2
    assert planned.layout.tails[0].base_width == pytest.approx(tail - 2 * TOP["thickness"] * tan(radians(8)))


@pytest.mark.parametrize("slope", ["8 deg", "1:7.12"])
def test_a_slope_that_is_the_bits_is_not_told_as_changed(slope: str, tmp_path: Path) -> None:
    """Written as a maker writes it, in degrees or as 1:n, rounded."""
    job = load_job(write_job(tmp_path, corner_job(width=90.0, pin=10.0, slope=slope, tails_setup="upright")))
    (joint,) = plan_job(job, kit_for(job))
    assert any("dovetail 12.7 x 8 cuts the tails exact" in finding.says for finding in joint.findings)
    assert "dovetail-slope-changed" not in {finding.rule for finding in joint.findings}


def test_flat_keeps_the_drawn_slope() -> None:
    planned = plan(tails_setup="flat", **WIDE)
    assert planned.layout == planned.joint.layout
    assert not rule(planned, "dovetail-slope-changed")
    assert "left for the chisel" in rule(planned, "dovetail-way")[0].says


def test_every_bit_that_is_refused_says_why() -> None:
    planned = plan(pin=6.5)
    assert not way(planned, "tails", "upright").possible
    (finding,) = rule(planned, "dovetail-way-refused")
    assert finding.level == "note"
    text = finding.says
    assert "dovetail 6.35 x 7: it cuts 6.4 mm high, and the tails are 16 mm long" in text
    assert "dovetail 12.7 x 8: it is 12.7 mm at its tip, and the tails are 11 mm apart at the baseline" in text


def test_a_bit_as_long_as_the_tails_will_do() -> None:
    """Inches: the tail of 13/16 and the bit that cuts 13/16."""
    side = {"length": 22 * INCH, "width": 11.25 * INCH, "thickness": 15 / 16 * INCH}
    top = {"length": 28 * INCH, "width": 11.25 * INCH, "thickness": 13 / 16 * INCH}
    planned = plan(load_kit("inch-shop"), side=side, top=top, count=6, pin=5 / 16 * INCH, half_pin=INCH / 4)
    assert planned.tails is not None
    assert planned.tails.bit is not None
    assert planned.tails.bit.name == "dovetail 1/2 x 8"


@pytest.mark.parametrize(
    ("machine", "reason"),
    [
        ({"upright": None}, "cannot hold a board upright"),
        ({"upright": Upright(width=80.0, thickness=40.0)}, "holds 80 mm upright"),
        ({"travel": (85.0, 400.0, 100.0)}, "needs 94 mm of travel in x"),
        ({"travel": (600.0, 400.0, 15.0)}, "of travel in z"),
    ],
)
def test_boards_that_do_not_fit_upright_are_cut_flat_or_refused(machine: dict[str, Any], reason: str) -> None:
    planned = plan(kit_with(machine), **WIDE)
    assert reason in "; ".join(way(planned, "tails", "upright").reasons)
    if planned.tails:
        assert planned.tails.setup == "flat"
    else:
        assert stops(planned.findings)


def test_a_setup_that_was_asked_for_and_does_not_work_names_the_one_that_would() -> None:
    planned = plan(kit_with({"upright": None}), tails_setup="upright", pins_setup="upright", **WIDE)
    assert planned.cuts == ()
    says = [finding.says for finding in stops(planned.findings)]
    assert any('tails_setup = "upright" does not work with this kit, but "flat" would' in each for each in says)
    assert any('pins_setup = "upright" does not work with this kit, but "flat" would' in each for each in says)


def test_a_board_wider_than_the_machine_is_refused_both_ways() -> None:
    wide = {"width": 450.0}
    planned = plan(side=SIDE | wide, top=TOP | wide, count=6)
    reasons = "; ".join(r for each in planned.ways for r in each.reasons)
    assert "is 450 mm wide, and the machine holds 320 mm upright" in reasons
    assert "needs 454 mm of travel in y" in reasons
    assert {finding.rule for finding in stops(planned.findings)} == {"dovetail-way-refused"}


def test_a_long_board_may_overhang_the_machine() -> None:
    planned = plan(kit_with({"upright": None}), top=TOP | {"length": 2400.0}, **WIDE)
    assert planned.pins is not None
    assert planned.pins.setup == "flat"


def test_pins_that_no_bit_can_pass_between() -> None:
    planned = plan(pin=2.6)
    assert planned.tails is None
    assert any("2.58 mm is all there is between the tails" in finding.says for finding in stops(planned.findings))


def test_a_bit_between_leaning_walls_needs_more_than_its_width() -> None:
    """It touches both corners of the mouth before it is within: width · cos(slope) (derived)."""
    pinned = plan(pin=8.0, tails_setup="flat")
    assert pinned.tails is not None
    assert pinned.tails.bit is not None
    assert pinned.tails.bit.name == "straight 6"


@pytest.mark.parametrize(
    ("bit", "part", "taken"),
    [("straight 6", "pins", "straight 6"), ("dovetail 12.7 x 8", "pins", "straight 10")],
)
def test_a_named_bit_is_taken_for_what_its_kind_cuts(bit: str, part: str, taken: str) -> None:
    planned = plan(bit=bit, **WIDE)
    assert planned.pins is not None
    assert planned.pins.bit is not None
    assert planned.pins.bit.name == taken


def test_a_bit_of_another_kind_is_refused() -> None:
    assert stops(plan(bit="ball 6", **WIDE).findings)[0].rule == "dovetail-bit"


def test_nothing_clears_the_way() -> None:
    planned = plan(kit_with(bits=("dovetail 12.7 x 8", "straight 12", "straight 10")), **WIDE)
    assert planned.tails is not None
    assert planned.tails.clearing is None
    assert "full width and depth at once" in "; ".join(planned.tails.reasons)


def test_a_steep_bit_is_only_taken_where_its_setup_was_asked_for() -> None:
    thin = {"top": TOP | {"thickness": 12.0}, "pin": 10.0}
    kit = kit_with(bits=("dovetail 12.7 x 14", "straight 6", "straight 10"))
    automatic, asked = plan(kit, **thin), plan(kit, tails_setup="upright", **thin)
    assert automatic.tails is not None
    assert automatic.tails.setup == "flat"
    assert asked.tails is not None
    assert degrees(asked.layout.slopes[0]) == pytest.approx(14.0)


def test_cuts_upright() -> None:
    cuts = plan(**WIDE).cuts
    assert [(c.board.name, c.end, c.purpose, c.setup) for c in cuts] == [
        ("side", "right", "tails", "upright"),
        ("top", "left", "pins", "upright"),
    ]
    assert cuts[0].placement == ((-1.0, 0.0, 90.0), (0.0, 1.0, 0.0))
    assert cuts[1].placement == ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


def test_cuts_flat_come_from_the_inside_first() -> None:
    cuts = plan(tails_setup="flat", pins_setup="flat", rabbet=1.0, **WIDE).cuts
    assert [(c.purpose, c.face) for c in cuts] == [
        ("inside of tails", "inside"),
        ("tails", "outside"),
        ("inside of pins", "inside"),
        ("pins", "outside"),
    ]
    assert cuts[0].solid.levels() == (0.0, -1.0, -4.0)
    assert cuts[1].depth == SIDE["thickness"]


def test_one_joint_at_both_ends_cuts_four() -> None:
    cuts = plan(tails_end="both", pins_end="both", **WIDE).cuts
    assert [(c.board.name, c.end) for c in cuts] == [
        ("side", "left"),
        ("top", "right"),
        ("side", "right"),
        ("top", "left"),
    ]


def test_a_rabbet_shortens_the_pins() -> None:
    planned = plan(rabbet=1.5, **WIDE)
    assert planned.cuts[0].purpose == "inside of tails"
    assert planned.cuts[0].rabbet == 1.5
    assert planned.cuts[-1].depth == SIDE["thickness"] - 1.5


def test_measured_tails_are_not_cut_again() -> None:
    tails = ((7.0, 37.5, 9.0, 35.5), (46.0, 82.0, 48.0, 80.0))
    planned = plan(measured=tails, count=None, pin=None, half_pin=None, slope=None)
    assert planned.tails is None
    assert [cut.purpose for cut in planned.cuts] == ["pins"]
    assert not stops(planned.findings)


def test_pare_tells_the_hand_work() -> None:
    assert plan(**WIDE).pare_lines() == ()
    lines = plan(pare=0.4, **WIDE).pare_lines()
    assert "0.4 mm is left on every wall" in lines[0]
    assert "4 flanks and 3 baselines" in lines[1]
    assert "2 sockets" in lines[2]


def test_the_scallop_is_as_fine_as_the_fit_asks_or_as_the_job_says() -> None:
    assert made(dovetail_job()).scallop < 0.02
    assert made(dovetail_job(pare=0.4)).scallop == pytest.approx(0.2)
    assert made(dovetail_job(scallop=0.1)).scallop == pytest.approx(0.1)
    assert atan(1 / 8) == pytest.approx(made(dovetail_job()).layout.slopes[0])
