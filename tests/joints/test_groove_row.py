"""Grooves again and again in one board, and in both of its faces: where they lie, and where the files cut them."""

from __future__ import annotations

from dataclasses import replace
from math import pi
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from support.grooves import groove_job, made
from support.jobs import job_table, write_job
from support.regions import assert_regions_equal
from support.shop import jigcam

from jigcam.errors import Refused
from jigcam.findings import Finding
from jigcam.gcode import read
from jigcam.geometry import Region, mirror_x, offset, translation
from jigcam.job.repeat import Repeat
from jigcam.joints.groove.by_hand import HandGroove
from jigcam.joints.groove.by_template import TemplateGroove
from jigcam.joints.groove.fit import GrooveFit
from jigcam.kit import load_kit
from jigcam.making.block_text import text_lines
from jigcam.making.setup_sheet import setup_sheet
from jigcam.making.template import milled_opening, ridden, ridden_again
from jigcam.proof import milled_region
from jigcam.wood import Prism
from jigcam.workshop.build import Built, build_job, plan_joint

KIT = load_kit("metric-shop")
ROW: dict[str, Any] = {
    "start_point": (60.0, 0.0),
    "angle": pi / 2.0,
    "length": 100.0,
    "start": "open",
    "depth": 6.0,
    "repeat": Repeat(count=4, pitch=(70.0, 0.0)),
}
"""Four housings a side, at 60, 130, 200 and 270 mm."""
HEIGHTS = (60.0, 130.0, 200.0, 270.0)
MICRON = 1e-3


def built(**keys: Any) -> Built:
    return build_job(groove_job(**{**ROW, **keys}), KIT)


def middle(cut: Region, near: float) -> float:
    """Where the middle between the walls of a cut lies along x, 40 mm up, from the text of a file alone."""
    xs = np.linspace(near - 12.0, near + 12.0, 2401)
    inside = cut.contains(np.column_stack([xs, np.full_like(xs, 40.0)]))
    walls = []
    for at in np.flatnonzero(np.diff(inside.astype(int))):
        low, high = xs[at], xs[at + 1]
        for _ in range(30):
            half = 0.5 * (low + high)
            same = bool(cut.contains(np.array([[half, 40.0]]))[0]) == bool(inside[at])
            low, high = (half, high) if same else (low, half)
        walls.append(low)
    assert len(walls) == 2, walls
    return 0.5 * (walls[0] + walls[1])


def heights_by_file(made_: Built) -> dict[tuple[str, str], list[float]]:
    """For each hand and face, how far every housing as its file cuts it lies from the board's reference end, mm.

    The reference end is at x = 0 of the board as drawn: the left one seen from outside, and in the mirrored board
    the other one.
    """
    (joint,) = made_.joints
    found = {}
    for file in joint.files:
        setup, length = file.setup, 560.0
        cut = milled_region(read(file.text), KIT.the_machine, file.tools, -3.0)
        shift = setup.placement[0][2]
        mirrored = (setup.hand == "opposite") != (setup.face == "inside")
        places = [length - x if mirrored else x for x in HEIGHTS]
        at = [middle(cut, x + shift) - shift for x in places]
        found[setup.hand, setup.face] = [length - x if mirrored else x for x in at]
    return found


def test_a_row_lies_at_an_even_step_from_the_first() -> None:
    groove = made(groove_job(**ROW))
    assert [cut.centreline.start for cut in groove.cuts()] == [(x, 0.0) for x in HEIGHTS]
    assert groove.steps == ((0.0, 0.0), (70.0, 0.0), (140.0, 0.0), (210.0, 0.0))


def test_all_of_a_row_have_one_shape_where_a_slanting_open_end_leaves_the_board_at_another_place() -> None:
    keys = {"angle": pi / 3.0, "repeat": Repeat(count=3, pitch=(40.0, 20.0)), "finish": "open", "start": "stopped"}
    first, *others = made(groove_job(**{**ROW, **keys, "start_point": (100.0, 60.0)})).row
    for each in others:
        assert each.stretch == first.stretch
        dx, dy = each.band.x - first.band.x, each.band.y - first.band.y
        assert each.region.bounds == pytest.approx(np.add(first.region.bounds, (dx, dy, dx, dy)))
        assert each.stretch[1] >= each.band.span()[1] + each.width / 2.0  # the open end still is off the board


def test_housings_in_both_faces_lie_back_to_back() -> None:
    outside, inside = made(groove_job(**{**ROW, "face": "both", "repeat": None})).taken()
    assert (outside.face, inside.face) == ("outside", "inside")
    for depth in (0.5, 5.5):
        a, b = outside.section(depth).bounds, inside.section(24.0 - depth).bounds
        assert a == pytest.approx(b, abs=1e-9)


@pytest.mark.parametrize("face", ["outside", "both"])
def test_heights_of_housings_agree_to_the_micron_in_both_sides_and_on_both_faces_as_the_files_cut_them(
    face: str,
) -> None:
    found = heights_by_file(built(way="direct", face=face, opposite_hand=True))
    assert len(found) == (4 if face == "both" else 2)
    for heights in found.values():
        assert heights == pytest.approx(HEIGHTS, abs=MICRON)


def test_heights_of_housings_agree_as_the_bushing_rides_in_the_one_sheet() -> None:
    made_ = built(way="template", face="both", opposite_hand=True)
    (joint,) = made_.joints
    ridden = joint.judged(joint.texts).ridden
    assert len(ridden) == 16
    for number, cut in enumerate(ridden):
        mirrored = (cut.hand == "opposite") != (cut.face == "inside")
        height = HEIGHTS[number % 4]
        at = middle(cut.region, 560.0 - height if mirrored else height)
        assert (560.0 - at if mirrored else at) == pytest.approx(height, abs=MICRON)


def test_the_ride_for_the_mirrored_board_is_the_one_before_in_a_mirror_and_none_where_the_cut_is_another() -> None:
    job = groove_job(way="template", length=60.0, opposite_hand=True)
    joint = plan_joint(job.joints[0], job, KIT)
    plan, mirror = joint.plan, mirror_x(560.0)
    assert isinstance(plan, TemplateGroove)
    drawn, other = plan.cuts
    milled = milled_opening(plan.template, joint.files, joint.texts, KIT)
    before = ridden(plan.template, milled, drawn, KIT, "as drawn", "mm")
    again = ridden_again(before, drawn, other)
    anew = ridden(plan.template, milled.transformed(mirror), other, KIT, "opposite", "mm")
    assert again is not None
    for name in ("gouge_mm", "left_mm", "play_mm"):
        assert getattr(again, name) == pytest.approx(getattr(anew, name), abs=1e-7)
    assert (again.findings, anew.findings) == ((), ())
    for name in ("opening", "centres", "cut", "envelope", "sure"):
        assert_regions_equal(getattr(again, name), getattr(anew, name), 1e-7)
    region = other.solid.section(0.0).transformed(translation(0.002, 0.0))
    assert ridden_again(before, drawn, replace(other, solid=Prism(region, other.solid.depth))) is None
    assert ridden_again(before, drawn, drawn) is None
    speaking = ridden(plan.template, offset(milled, -2.0), drawn, KIT, "as drawn", "mm")
    assert speaking.findings
    assert ridden_again(speaking, drawn, other) is None


@pytest.mark.parametrize("way", ["template", "direct"])
def test_every_housing_of_a_row_is_judged_for_its_fit(way: str) -> None:
    made_ = built(way=way, opposite_hand=True)
    (proof,) = made_.proofs
    fit = proof.outcome.fit
    assert isinstance(fit, GrooveFit)
    assert [where for where, _ in fit.places] == [
        "2 of 4",
        "3 of 4",
        "4 of 4",
        *(f"opposite, {number} of 4" for number in (1, 2, 3, 4)),
    ]
    for each in fit.everywhere:
        assert each.seat.total == pytest.approx(0.15, abs=0.02)
    assert fit.as_dict()["places"][2]["place"] == "4 of 4"
    assert "in each of its 8 places" in fit.lines(made_.job.voice)[0]


def test_a_housing_that_a_text_cuts_elsewhere_is_found_though_the_others_are_right() -> None:
    (joint,) = built(way="direct").joints
    (file,) = joint.files
    head, mark, tail = file.text.partition("(groove 3 of 4, finish the walls")
    assert mark
    lines = [
        f"X{float(line[1:].split(' ')[0]) + 0.2:.4f}{line[len(line.split(' ')[0]) :]}" if line.startswith("X") else line
        for line in tail.splitlines()
    ]
    moved = head + mark + "\n".join(lines) + "\n"
    proof = joint.proved({file.file: moved})
    assert any(each.level == "stop" for each in proof.findings)


def test_a_row_is_cut_in_one_file_one_after_the_other() -> None:
    (joint,) = built(way="direct").joints
    (file,) = joint.files
    said = [each.name.partition(",")[0] for each in file.program.operations]
    assert list(dict.fromkeys(said)) == [f"groove {number} of 4" for number in (1, 2, 3, 4)]
    firsts = [min(move.x for move in each.moves) for each in file.program.operations if "clear" in each.name]
    assert firsts == sorted(firsts)  # away from the zero, never back


def test_one_sheet_serves_a_row_and_says_the_time_that_it_saves() -> None:
    made_ = built(way="template", opposite_hand=True)
    (joint,), (proof,) = made_.joints, made_.proofs
    assert isinstance(joint.plan, TemplateGroove)
    assert len(joint.plan.setups) == 1
    text = " ".join("\n".join(setup_sheet(joint, proof, made_)).split())
    assert "serves 8 grooves" in text
    assert "of milling: one sheet of" in text


def test_by_hand_every_wall_of_a_row_is_laid_out_from_the_same_end() -> None:
    made_ = built(way="hand", face="both")
    (joint,) = made_.joints
    assert isinstance(joint.plan, HandGroove)
    text = " ".join("\n".join(text_lines(joint.plan.bench_words(1))).split())
    for number, height in enumerate(HEIGHTS, start=1):
        assert f"{number} of 4, first wall, to the left end from {made_.job.voice.mark(height - 6.175)} along" in text
    assert "all from the same end" in text
    assert "both faces are marked from the same lines" in text


def of_rule(name: str, **keys: Any) -> list[Finding]:
    try:
        return [each for each in built(**keys).findings if each.rule == name]
    except Refused as refused:
        return [each for each in refused.findings if each.rule == name]


@pytest.mark.parametrize(
    ("depth", "level"), [(6.0, None), (9.0, "caution"), (11.0, "stop"), (12.0, None)], ids=["6", "9", "11", "12"]
)
def test_the_wood_between_housings_back_to_back_is_looked_at(depth: float, level: str | None) -> None:
    found = of_rule("core", way="hand", face="both", depth=depth)
    assert {each.level for each in found} == ({level} if level else set())
    if depth == 12.0:
        (first, *_) = of_rule("broken-through", way="hand", face="both", depth=depth)
        assert first.level == "stop"
        assert "in one face only" in first.says


@pytest.mark.parametrize(("pitch", "level"), [(30.0, None), (16.0, "caution"), (13.0, "stop")])
def test_the_wood_between_housings_of_a_row_is_looked_at(pitch: float, level: str | None) -> None:
    found = of_rule("web", way="hand", repeat=Repeat(count=3, pitch=(pitch, 0.0)))
    assert {each.level for each in found} == ({level} if level else set())
    assert all("make the pitch of repeat longer" in each.says for each in found)


def test_a_housing_of_a_row_that_runs_off_the_board_is_named() -> None:
    (found,) = of_rule("misses-board", way="hand", repeat=Repeat(count=3, pitch=(260.0, 0.0)))
    assert found.says.startswith("groove 3 of 3: ")


def test_a_row_longer_than_the_machine_is_refused_with_the_ways_that_make_it() -> None:
    long = {"board": {"length": 1300.0, "width": 285.0, "thickness": 24.0}, "repeat": Repeat(count=4, pitch=(300.0, 0))}
    (found,) = of_rule("path-too-large", way="direct", **long)
    assert 'way = "template"' in found.says
    assert "two joints" in found.says
    assert built(way="template", **long).proofs


@pytest.mark.parametrize("way", ["template", "direct", "hand"])
def test_a_row_in_a_file_is_made_from_the_command(way: str, tmp_path: Path) -> None:
    keys = {"from": [3, 0], "angle": 90, "length": 4, "start": "open", "way": way}
    table = job_table("in", **keys, repeat={"count": 2, "pitch": "2-1/2 in"}, face="both", depth="1/4")
    run = jigcam("make", write_job(tmp_path, table), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    if way == "direct":
        assert (tmp_path / "out" / "tilted-shelf" / "groove-inside.nc").is_file()


@pytest.mark.parametrize(
    ("repeat", "wanted"),
    [
        ({"count": 1, "pitch": 50}, "count"),
        ({"count": 3, "pitch": 0}, "pitch"),
        ({"count": 3, "pitch": [1, 2, 3]}, "pitch"),
        ({"count": 3}, "pitch"),
    ],
)
def test_a_fault_of_a_repeat_has_its_place(repeat: dict[str, Any], wanted: str, tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, job_table("mm", repeat=repeat)))
    assert run.status == 2
    assert f"repeat.{wanted}" in run.err or wanted in run.err
    assert "job.toml" in run.err
