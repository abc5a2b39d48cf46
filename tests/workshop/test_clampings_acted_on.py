"""Clampings as the setup sheet says them, against the placements of their files: which end, face and edge is where."""

from __future__ import annotations

import re
from typing import Any

import pytest
from support.dovetails import dovetail_job
from support.grooves import groove_job

from jigcam.job import Job
from jigcam.kit import load_kit
from jigcam.making.gcode_file import GcodeFile
from jigcam.making.setup_sheet import setup_sheet
from jigcam.workshop.build import build_job

KIT = load_kit("metric-shop")
FLAT: dict[str, Any] = {"tails_setup": "flat", "pins_setup": "flat", "count": 1, "half_pin": 24.0}
JOBS: dict[str, Job] = {
    "upright, both ends": dovetail_job(pin=10.0, tails_end="both", pins_end="both"),
    "upright, rabbeted": dovetail_job(pin=10.0, rabbet=1.5),
    "flat": dovetail_job(**FLAT, rabbet=1.0),
    "flat, other ends": dovetail_job(**FLAT, tails_end="left", pins_end="right"),
    "groove, both hands": groove_job(way="direct", opposite_hand=True),
    "groove outside, both hands": groove_job(way="direct", opposite_hand=True, face="outside"),
}


def clampings(job: Job) -> list[tuple[GcodeFile, str]]:
    """The first file of each clamping, with what the sheet says of that clamping and of no other."""
    built = build_job(job, KIT)
    (joint,), (proof,) = built.joints, built.proofs
    text = "\n".join(setup_sheet(joint, proof, built))
    parts = re.findall(r"\n\n\d+\. (.*?)(?=\n\n\d+\. |\n\nAll files|\n\nProof)", text, re.DOTALL)
    setups = joint.plan.setups
    assert len(parts) >= len(setups)
    pairs = []
    for setup, part in zip(setups, parts, strict=False):
        (file, *_) = own = [each for each in joint.files if each.setup is setup]
        assert all(each.file in part for each in own)
        assert not any(each.file in part for each in joint.files if each not in own)
        pairs.append((file, " ".join(part.split())))
    return pairs


@pytest.mark.parametrize("name", JOBS)
def test_edges_and_ends_lie_where_the_sheet_says(name: str) -> None:
    job = JOBS[name]
    for file, words in clampings(job):
        setup, board = file.setup, job.board(file.board)
        (a, _, c), (_, e, f) = setup.placement
        if setup.clamping == "upright":
            said = re.search(
                r"The (left|right) end up, the outside face toward you: .* (lower|upper) edge is then", words
            )
            assert said
            assert said[1] == setup.facts["end"]
            # x runs from the operator's left, y away from the operator; the frame is (board y, depth from outside).
            edge_on_the_left = "lower" if (a, c) == (1.0, 0.0) else "upper"
            assert (a, c) in ((1.0, 0.0), (-1.0, board.width))
            assert said[2] == edge_on_the_left
            assert (e, f) == (1.0, 0.0)
            continue
        said = re.search(
            r"The (inside|outside) face up, the lower edge toward you: the (?:board's )?(left|right) end"
            r".* on your (left|right)",
            words,
        )
        assert said
        face, end, hand = said.groups()
        # Seen square at the face that is up, lower edge toward the person: the left end is on the left from outside.
        assert (end == hand) == (face == "outside")
        assert (a, e, f) == (1.0, 1.0, 0.0)
        assert f"zero {setup.zero}" in words


@pytest.mark.parametrize("name", JOBS)
def test_zero_lies_at_the_end_from_which_the_cut_is_drawn(name: str) -> None:
    """So no error in the length of a board moves a joint."""
    job = JOBS[name]
    for file, _ in clampings(job):
        setup = file.setup
        if setup.clamping == "upright":
            continue
        at_right = setup.placement[0][2] != 0.0
        assert setup.zero == f"lower {'right' if at_right else 'left'} corner, face"
        if "end" in setup.facts:
            assert at_right == ((setup.facts["end"] == "right") == (setup.facts["face"] == "outside"))
        else:
            assert at_right == (file.hand == "opposite")


def test_a_longer_board_than_drawn_leaves_the_joint_where_it_is_from_its_own_end() -> None:
    texts = []
    for length in (300.0, 301.5):
        job = dovetail_job(
            **FLAT, tails_end="right", pins_end="left", side={"length": length, "width": 90.0, "thickness": 20.0}
        )
        built = build_job(job, KIT)
        texts.append(
            [
                [line for line in file.text.splitlines() if not line.startswith("(")]
                for file in built.gcode_files
                if file.board == "side"
            ]
        )
    assert texts[0]
    assert texts[0] == texts[1]
