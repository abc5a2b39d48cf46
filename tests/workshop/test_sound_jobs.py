"""Sound jobs that the program fell over, or refused by its own proof: each is made, or refused before any proof."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from attacks.jobs import Drawn, outcome
from support.jobs import Table, job_table, kit_table, write_job
from support.kinds.half_blind_dovetail import drawer_job
from support.kinds.key import key_job
from support.kinds.mortise import mortise_job
from support.kinds.through_dovetail import corner_job

from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.workshop.build import plan_job

BOARD: Table = {"side": {"length": 160.0, "width": 160.0, "thickness": 20.0}}


def made(job: Table, **kit: Any) -> tuple[str, tuple[str, ...], str]:
    """What becomes of a job with the metric shop, changed as said."""
    return outcome(Drawn(job, kit_table("mm", **kit)))


def groove(**keys: Any) -> Table:
    """A job with one groove cut directly, 8 mm deep, mm."""
    return job_table("mm", boards=BOARD, **{"from_": [80.0, 80.0], "depth": 8.0, **keys})


def of_width(width: float, **keys: Any) -> Table:
    """The same with a width of its own and no board that enters."""
    return groove(receives=None, clearance=0, width=width, **keys)


MADE = ("made", (), "")


# ---- exceptions


def test_half_blind_corners_at_both_ends_of_a_flank_leave_some_of_it() -> None:
    """The bits at the lap and at the baseline took a flank between them; see `joints/test_half_blind_dovetail`."""
    job = drawer_job(90.0, 10.0, 19.7, count=2, pin=11.4, half_pin=8.0, lap=2.7, tails_setup="flat", corners="relieved")
    assert made(job) == MADE


@pytest.mark.parametrize("width", [6.002, 6.003, 6.004])
def test_a_groove_a_hair_wider_than_the_bit_takes_a_mate_without_clearance(width: float) -> None:
    """Passes along the centreline alone left two microns at each wall, and the mate did not go in."""
    assert made(of_width(width, length=60.0, angle=45, ends="square", depth=2.0)) == MADE


def test_flat_pins_with_relieved_corners_in_a_thin_drawer_side_keep_a_flank() -> None:
    """The widest bit's relief took all of the flanks, and no place was left at which to measure the fit."""
    job = corner_job(30.0, 8.0, 8.0, pin=3.5, half_pin=3.5, slope="1:7", corners="relieved", tails_setup="flat")
    job["joints"][0] |= {"pins_setup": "flat", "clearance": 0.05}
    assert made(job) == MADE


@pytest.mark.parametrize("apart", [1.5, 2.0])
def test_axes_far_apart_can_be_said_of_a_key(apart: float) -> None:
    """No wood goes for sure where the axes are apart by the bit's radius or more: the room was infinite."""
    assert made(key_job(), router={"eccentricity": apart}) == MADE


# ---- refused by the proof


def test_an_outline_whose_last_ramp_ends_behind_a_tab_is_cut_all_round() -> None:
    """The ramp down to the last pass ended on the way down from a tab: there the finishing pass went into full wood."""
    job = mortise_job(way="template", angle=8, length=30.0, width=13.0, depth=6.0)
    kit = kit_table("mm", roughing="conventional", light=False, max_feed=[5000, 5000, 300])
    kit["bits"] = [{key: value for key, value in bit.items() if key != "plunges"} for bit in kit["bits"]]
    assert outcome(Drawn(job, kit)) == MADE


@pytest.mark.parametrize("way", ["direct", "template"])
@pytest.mark.parametrize("length", [6.0, 7.0, 14.0])
def test_a_square_groove_shorter_than_wide_is_cut_across(length: float, way: str) -> None:
    """The bit was chosen by the width alone, and the passes ran along a centreline of no length."""
    job = of_width(22.0, length=length, ends="square", way=way)
    what, rules, wrong = made(job)
    assert (what, wrong) in {("made", ""), ("refused by a rule", "")}
    assert way == "template" or what == "made", rules


@pytest.mark.parametrize(("width", "length"), [(22.0, 7.0), (10.0, 10.0), (11.1, 11.1), (3.4, 3.5)])
def test_a_square_groove_hardly_longer_than_wide_has_few_lines(width: float, length: float, tmp_path: Path) -> None:
    """A bit as wide as the groove had no way to ramp down: 58,000 lines to and fro over a micrometre."""
    job = load_job(write_job(tmp_path, of_width(width, length=length, ends="square"), kit_table("mm")))
    (joint,) = plan_job(job, kit_for(job, None))
    (file,) = joint.files
    assert file.text.count("\n") < 900


@pytest.mark.parametrize("ends", ["round", "square"])
@pytest.mark.parametrize("length", [6.5, 13.0, 17.0])
def test_an_open_groove_shorter_than_wide(length: float, ends: str) -> None:
    """From the edge inward; where a round end has no room for its full width, a rule says so."""
    job = of_width(20.0, from_=[80.0, 0.0], angle=90, length=length, ends=ends, start="open")
    too_short = ends == "round" and length <= 10.0
    assert made(job) == (("refused by a rule", ("too-short",), "") if too_short else MADE)


def test_an_open_end_drawn_inside_the_board_is_measured_to_the_edge() -> None:
    """The mate was laid in where the groove was drawn, and met its round end."""
    job = groove(angle=180, length=12.0, start="open", receives="shelf", clearance=0)
    assert made(job) == MADE


def test_no_arcs_and_no_clearance() -> None:
    """Chords within 0.002 mm left the rounded edge of the mate 0.001 mm too little room."""
    assert made(groove(angle=40, length=60.0, clearance=0), arcs=False) == MADE


@pytest.mark.parametrize("arcs", [True, False])
def test_inch_output_keeps_the_limit_of_z_on_ramps(arcs: bool) -> None:
    """Rounding makes short ramps steeper: the feed is held to what stands in the text."""
    job = of_width(22.0, angle=33, length=60.0)
    assert made(job, arcs=arcs, output_units="in", max_feed=[5000, 5000, 300], light=False) == MADE


@pytest.mark.parametrize("corners", ["chisel", "relieved"])
@pytest.mark.parametrize("half_pin", [2.5, 3.3])
def test_a_narrow_half_pin_is_cut_from_outside_the_board(corners: str, half_pin: float) -> None:
    """The middle of a bit that is wide beside the half pin stays outside, and once came in on the wrong side."""
    job = corner_job(54.0, 13.4, 13.4, half_pin=half_pin, pin=8.3, corners=corners, tails_setup="flat")
    assert made(job) == MADE


def test_terraces_without_clearance_are_refused_before_they_are_cut() -> None:
    """What they leave on the pins had no room; the reasons say what would do."""
    job = corner_job(45.0, 10.0, 15.0, half_pin=6.0, clearance=0, pins_setup="flat")
    what, rules, wrong = made(job)
    assert (what, wrong) == ("refused by a rule", "")
    assert set(rules) <= {"dovetail-way-refused", "dovetail-setup"}


def test_steep_tails_upright_are_measured_clear_of_their_flanks() -> None:
    """At 1:4 a tail leans over the baseline beside it, and was taken for wood that was left."""
    job = corner_job(
        115.0, 14.0, 12.0, count=2, half_pin=24.0, slope="1:4", tails_setup="upright", pins_setup="upright"
    )
    assert made(job) == MADE
