"""What a job that does not come together lacks: a joint for both hands of a pair, a board that is like another."""

from __future__ import annotations

from pathlib import Path

import pytest

from jigcam.errors import Faults, InputError, Refused
from jigcam.kit import load_kit
from jigcam.piece import piece_of
from jigcam.piece.starter import starter_case
from jigcam.piece.together import together_findings
from jigcam.workshop.build import planned_job
from jigcam.workshop.loading import parsed_job

CASE = starter_case("in")
ONE_HAND = "".join(line for line in CASE.splitlines(True) if not line.startswith("opposite_hand"))
SAID = 'length    = "to fit"'
BOTTOM = 'like      = "bottom"'


def faults_of(text: str) -> list[InputError]:
    with pytest.raises(Faults) as caught:
        parsed_job(text, Path("case.toml"))
    return [fault for fault in caught.value.faults if isinstance(fault, InputError)]


def test_a_shelf_that_follows_only_in_a_pair_of_sides_is_answered_with_opposite_hand() -> None:
    """It said "the joint that is missing", and the joint was there, in one side of the two."""
    (fault,) = faults_of(ONE_HAND)
    assert fault.where.endswith("boards.shelf.length")
    assert fault.mend == "write opposite_hand = true in shelf: left and right are mirror images"


def test_a_groove_in_one_side_of_a_pair_is_answered_with_opposite_hand_by_check_too() -> None:
    job = parsed_job(ONE_HAND.replace(SAID, "length = 17"), Path("case.toml"))
    with pytest.raises(Refused) as caught:
        planned_job(job, load_kit("inch-shop"))
    (empty,) = [each for each in caught.value.findings if each.rule == "nothing-comes"]
    assert empty.says.endswith("write opposite_hand = true in shelf: left and right are mirror images")


def test_opposite_hand_is_not_proposed_where_it_mends_nothing() -> None:
    """A shelf that is too short stays too short in a pair of sides."""
    faults = faults_of(ONE_HAND.replace('tails_end = "both"', 'tails_end = "left"').replace('"both"', '"right"'))
    assert faults
    assert not [fault for fault in faults if "opposite_hand" in fault.mend]


def test_a_bottom_without_like_is_answered_with_it() -> None:
    """Three boards were made for two places, and nothing was said."""
    job = parsed_job(CASE.replace(BOTTOM, 'length = 18\nwidth = 9\nthickness = "3/4"'), Path("case.toml"))
    (finding,) = together_findings(job, piece_of(job))
    assert (finding.level, finding.rule, finding.where) == ("caution", "not-joined", "top")
    assert 'write like = "bottom" in its table' in finding.says
    (fault,) = faults_of(CASE.replace(BOTTOM, 'length = 18\nwidth = "to fit"\nthickness = "3/4"'))
    assert fault.where.endswith("boards.top.width")
    assert 'write like = "bottom"' in fault.mend


def test_a_board_of_another_size_is_left_alone() -> None:
    job = parsed_job(CASE.replace(BOTTOM, 'length = 17\nwidth = 9\nthickness = "3/4"'), Path("case.toml"))
    assert together_findings(job, piece_of(job)) == ()
