"""The entry of a through dovetail in a job file: its keys, its units, and what is wrong with one, fault by fault."""

from __future__ import annotations

from math import atan
from pathlib import Path

import pytest

from jigcam.dovetails.entry import DrawnTails
from jigcam.errors import Faults
from jigcam.joints import load_job
from jigcam.joints.through_dovetail import ThroughDovetailEntry

BOARDS = """\
job   = "Sheet-music cabinet"
units = "in"
kit   = "inch-shop"

[boards.side]
length = 22
width = "11-1/4"
thickness = "15/16"

[boards.top]
length = 28
width = "11-1/4"
thickness = "13/16"

[[joints]]
name = "corner"
kind = "through-dovetail"
tails = "side"
tails_end = "right"
pins = "top"
pins_end = "left"
"""
DRAWN = """\
count = 6
pin = "5/16"
half_pin = "1/4"
slope = "1:8"
"""
TAIL = "measured = [[0.254, 1.775, 0.35, '42.77 mm']]\n"


def entry(tmp_path: Path, keys: str, boards: str = BOARDS) -> ThroughDovetailEntry:
    path = tmp_path / "job.toml"
    path.write_text(boards + keys, "utf-8")
    found = load_job(path).joints[0]
    assert isinstance(found, ThroughDovetailEntry)
    return found


def faults(tmp_path: Path, keys: str, boards: str = BOARDS) -> list[str]:
    with pytest.raises(Faults) as raised:
        entry(tmp_path, keys, boards)
    return [str(fault) for fault in raised.value.faults]


def test_as_the_contract_has_it(tmp_path: Path) -> None:
    made = entry(tmp_path, DRAWN + 'rabbet = "1/16"\npare = 0.01\ntails_setup = "upright"\npins_setup = "flat"\n')
    assert made.drawing == DrawnTails(6, made.pin, made.half_pin, made.slope)
    assert (made.pin, made.half_pin, made.slope) == pytest.approx((25.4 * 5 / 16, 6.35, atan(1 / 8)))
    assert (made.rabbet, made.pare) == pytest.approx((25.4 / 16, 0.254))
    assert (made.tails_setup, made.pins_setup) == ("upright", "flat")
    assert (made.way, made.corners, made.measured) == ("direct", "chisel", None)


def test_the_clearance_is_a_twentieth_of_a_millimetre_on_each_flank_unless_it_is_said(tmp_path: Path) -> None:
    assert entry(tmp_path, DRAWN).clearance == 0.05
    assert entry(tmp_path, DRAWN + 'clearance = "0.1 mm"\n').clearance == pytest.approx(0.1)


def test_measured_tails_stand_for_the_drawing(tmp_path: Path) -> None:
    made = entry(tmp_path, TAIL)
    assert made.drawing is None
    assert made.measured == (pytest.approx((0.254 * 25.4, 1.775 * 25.4, 0.35 * 25.4, 42.77)),)


def test_both_may_be_given(tmp_path: Path) -> None:
    made = entry(tmp_path, DRAWN + TAIL)
    assert made.drawing is not None
    assert made.measured is not None


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        (DRAWN.replace('slope = "1:8"\n', ""), "slope is missing"),
        (DRAWN.replace("count = 6\n", ""), "count is missing"),
        (DRAWN + 'way = "template"\n', "a through dovetail is not cut by a template"),
        (DRAWN + 'bushing = "bushing 5/8"\n', "cut without a guide bushing"),
        (DRAWN + 'tails_setup = "standing"\n', "tails_setup"),
        (DRAWN + "rabet = 1\n", "rabet"),
        (DRAWN + "pare = -0.1\n", "cannot be negative"),
        (DRAWN.replace('"1:8"', "8"), "not a slope"),
        (DRAWN.replace("count = 6", "count = 2.5"), "not a whole number"),
        (DRAWN.replace("count = 6", "count = 0"), "cannot be zero"),
        ("measured = [[1, 2, 3]]\n", "four distances"),
        ("measured = []\n", "no tail was measured"),
        (TAIL.replace("measured", "tails_end2 = 1\nmeasured"), "tails_end2"),
    ],
)
def test_each_fault_is_told_with_its_place(tmp_path: Path, keys: str, said: str) -> None:
    told = faults(tmp_path, keys)
    assert any(said in fault for fault in told), told
    assert all("job.toml:" in fault for fault in told)


def test_one_list_of_tails_cannot_serve_two_ends(tmp_path: Path) -> None:
    both = BOARDS.replace('"right"', '"both"').replace('"left"', '"both"')
    (fault,) = faults(tmp_path, TAIL, both)
    assert "write the joint once for each end" in fault


def test_several_faults_are_told_at_once(tmp_path: Path) -> None:
    assert len(faults(tmp_path, 'count = 6\nway = "template"\n')) == 4


def test_boards_are_found_by_name(tmp_path: Path) -> None:
    (fault,) = faults(tmp_path, DRAWN, BOARDS.replace('pins = "top"', 'pins = "tpo"'))
    assert "there is no board called 'tpo'" in fault
    assert "did you mean 'top'?" in fault


def test_one_board_may_bear_tails_and_pins(tmp_path: Path) -> None:
    """Four alike boards, each with tails at one end and pins at the other, close a ring."""
    assert entry(tmp_path, DRAWN, BOARDS.replace('pins = "top"', 'pins = "side"')).pins == "side"
