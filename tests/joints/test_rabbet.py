"""Rabbets: where they lie, what the rules say of them, and that each is cut as it is drawn, judged from outside."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from support.jobs import Table, kit_table, write_job
from support.kinds.rabbet import jobs, rabbet_job, wanted
from support.output_folder import GOUGE, LEFT
from support.outside_cut import SWEEP_ERROR, Verdict, chains, direct
from support.shop import Run, jigcam

from jigcam.job import kit_for
from jigcam.joints import design, load_job
from jigcam.joints.rabbet import RULES, Rabbet
from jigcam.making.by_hand import OFFER
from jigcam.workshop.build import plan_job
from jigcam.workshop.rulebook import all_rules

BIT = 10.0
"""mm: the widest straight bit that the metric shop's machine takes."""


def designed(folder: Path, **keys: Any) -> Rabbet:
    job = load_job(write_job(folder, rabbet_job(**keys)))
    made = design(job.joints[0], job)
    assert isinstance(made, Rabbet)
    return made


def made(folder: Path, table: Table, kit: Table | None = None) -> tuple[Table, str]:
    """The entry of the G-code file in the manifest, and its text."""
    run = jigcam("make", write_job(folder, table, kit), "-o", folder / "out", "--json")
    assert run.status == 0, run.out
    (entry,) = (each for each in run.json["files"] if each["kind"] == "gcode")
    return entry, (folder / "out" / entry["file"]).read_text("ascii")


def stopped(run: Run) -> list[str]:
    """The rules that stop a job."""
    assert run.status == 1
    return [each["rule"] for each in run.json["findings"] if each["level"] == "stop"]


# ---- where it lies


@pytest.mark.parametrize(
    ("face", "along", "box"),
    [
        ("outside", "left", (-2, -2, 8, 92)),
        ("outside", "right", (152, -2, 162, 92)),
        ("inside", "left", (152, -2, 162, 92)),
        ("inside", "right", (-2, -2, 8, 92)),
        ("inside", "lower", (-2, -2, 162, 8)),
        ("outside", "upper", (-2, 82, 162, 92)),
    ],
)
def test_it_follows_the_side_that_the_board_names_and_runs_off_at_its_ends(
    face: str, along: str, box: tuple[float, ...], tmp_path: Path
) -> None:
    solid = designed(tmp_path, face=face, along=along).solid
    assert solid.section(-1.0).bounds == pytest.approx(box)
    assert solid.levels() == (0.0, -7.0)


@pytest.mark.parametrize(
    ("along", "box"),
    [("upper", (20, 82, 70, 92)), ("left", (152, 20, 162, 70))],
)
def test_from_and_length_count_from_the_left_or_the_lower_corner_as_seen(
    along: str, box: tuple[float, ...], tmp_path: Path
) -> None:
    it = designed(tmp_path, along=along, from_=20, length=50)
    assert it.solid.section(-1.0).bounds == pytest.approx(box)
    assert it.open_ends == (False, False)


def test_an_end_at_the_corner_is_open_and_one_within_the_board_is_stopped(tmp_path: Path) -> None:
    assert designed(tmp_path / "1").open_ends == (True, True)
    assert designed(tmp_path / "2", from_=0, length=160).open_ends == (True, True)
    assert designed(tmp_path / "3", from_=10).open_ends == (False, True)
    assert designed(tmp_path / "4", length=100).open_ends == (True, False)


# ---- what the entry takes


@pytest.mark.parametrize(("key", "value"), [("way", "template"), ("bushing", "bushing 17")])
def test_a_template_is_refused_with_the_way_that_works(key: str, value: str, tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, rabbet_job(**{key: value})))
    assert run.status == 2
    assert f"joints[1].{key}" in run.err
    assert 'way = "direct" works' in re.sub(r"\s+", " ", run.err)


def test_it_is_as_wide_as_the_board_that_it_receives_is_thick_and_the_clearance_more(tmp_path: Path) -> None:
    assert designed(tmp_path / "1", mate=6.0).width == 6.0
    assert designed(tmp_path / "2", mate=6.0, clearance=0.5).width == 6.5
    assert designed(tmp_path / "3", mate=6.0, width=9.0).width == 9.0


@pytest.mark.parametrize(
    ("keys", "says"),
    [({"width": None}, "the rabbet has no width"), ({"enters": "left"}, "names no board")],
)
def test_without_a_board_it_says_its_width_and_no_end_that_enters(keys: Table, says: str, tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, rabbet_job(**keys)))
    assert run.status == 2
    assert says in re.sub(r"\s+", " ", run.err)


# ---- rules: each speaks, and keeps silent

SPEAKS: dict[str, tuple[tuple[Table, str], ...]] = {
    "off-board": (
        ({"from_": 100, "length": 61}, "stop"),
        ({"from_": 161}, "stop"),
        ({"width": 90}, "stop"),
    ),
    "too-deep": (({"depth": 13.4}, "stop"),),
    "deep": (({"depth": 10.1}, "caution"),),
    "thin-left": (({"board": (160, 90, 8), "depth": 5.2}, "stop"),),
    "too-wide": (({"width": 45.1}, "caution"),),
    "short-grain": (({"from_": 5.9}, "caution"), ({"length": 155}, "caution"), ({"width": 84.5}, "caution")),
    "corners-left": (({"from_": 20}, "note"),),
    "stands-proud": (({"mate": 8.1, "width": 8}, "caution"),),
}
SILENT: dict[str, tuple[Table, ...]] = {
    "off-board": ({"from_": 100, "length": 60}, {"width": 89.9}),
    "too-deep": ({"depth": 13.3},),
    "deep": ({"depth": 10},),
    "thin-left": ({"board": (160, 90, 8), "depth": 5},),
    "too-wide": ({"width": 45},),
    "short-grain": ({"from_": 6}, {"length": 154}, {"width": 84}),
    "corners-left": ({"from_": 0},),
    "stands-proud": ({"mate": 8, "width": 8}, {"mate": 6}),
}


def said(folder: Path, keys: Table) -> list[Table]:
    findings: list[Table] = jigcam("check", write_job(folder, rabbet_job(**keys)), "--json").json["findings"]
    return findings


def test_every_rule_has_its_cases() -> None:
    assert set(RULES) <= set(SPEAKS) == set(SILENT)
    for rule, cases in SPEAKS.items():
        levels = {level for _, level in cases}
        assert levels == set(RULES[rule].levels) if rule in RULES else levels <= set(all_rules()[rule].levels)


@pytest.mark.parametrize(("rule", "keys", "level"), [(r, *case) for r, cases in SPEAKS.items() for case in cases])
def test_a_rule_speaks(rule: str, keys: Table, level: str, tmp_path: Path) -> None:
    assert [each["level"] for each in said(tmp_path, keys) if each["rule"] == rule] == [level]


@pytest.mark.parametrize(("rule", "keys"), [(rule, case) for rule, cases in SILENT.items() for case in cases])
def test_a_rule_keeps_silent(rule: str, keys: Table, tmp_path: Path) -> None:
    assert rule not in [each["rule"] for each in said(tmp_path, keys)]


def test_findings_speak_the_units_of_the_job(tmp_path: Path) -> None:
    table = rabbet_job(board=("160 mm", "90 mm", "20 mm"), width="8 mm", depth="10.1 mm")  # type: ignore[arg-type]
    job = load_job(write_job(tmp_path, {**table, "units": "in", "kit": "inch-shop"}))
    (finding,) = design(job.joints[0], job).findings
    assert finding.says.startswith("the rabbet is 0.398 in deep in a board of 0.787 in")


# ---- bits


def test_a_through_rabbet_takes_a_bit_wider_than_itself(tmp_path: Path) -> None:
    entry, _ = made(tmp_path, rabbet_job(width=1.0))
    assert entry["bit"]["diameter"] == BIT


def test_a_stopped_rabbet_takes_a_bit_that_stands_on_the_board_with_half_its_width(tmp_path: Path) -> None:
    entry, _ = made(tmp_path, rabbet_job(width=3.5, from_=20))
    assert entry["bit"]["diameter"] == 6.0
    run = jigcam("check", write_job(tmp_path, rabbet_job(width=3.5, from_=20, bit="straight 8")), "--json")
    assert stopped(run) == ["bit-too-wide"]
    (says,) = (each["says"] for each in run.json["findings"] if each["level"] == "stop")
    assert "8 mm wide and the room at a stopped end only 7 mm" in says


def test_no_bit_that_reaches_is_said_with_what_is_wanted(tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, rabbet_job(board=(160.0, 90.0, 60.0), depth=32.5)), "--json")
    assert stopped(run) == ["no-bit"]
    (says,) = (each["says"] for each in run.json["findings"] if each["level"] == "stop")
    assert says == "No bit of the kit can cut it; it wants a straight bit, with edges 32.5 mm long; " + OFFER


# ---- as cut


def verdict(entry: Table, text: str, table: Table) -> Verdict:
    """The file against the contract's drawing, from outside."""
    return direct(entry, text, wanted(table))


@given(table=jobs())
@settings(max_examples=12)
def test_any_rabbet_is_cut_as_drawn(table: Table) -> None:
    with TemporaryDirectory() as folder:
        entry, text = made(Path(folder), table)
    seen = verdict(entry, text, table)
    assert seen.gouge <= GOUGE + SWEEP_ERROR
    assert seen.left <= LEFT + SWEEP_ERROR


@pytest.mark.parametrize(
    "keys",
    [
        {"from_": 20, "length": BIT},  # no longer than the bit is wide
        {"from_": 20, "width": BIT / 2},  # half of the bit stands on the board
        {"width": 0.2},  # nothing to clear before the finishing pass
        {"board": (160.0, 90.0, 48.0), "depth": 30.0, "width": 60.0},
        {"along": "right", "from_": 0.01, "length": 89.98},
    ],
)
def test_rabbets_at_the_limits_are_cut_as_drawn(keys: Table, tmp_path: Path) -> None:
    table = rabbet_job(**keys)
    entry, text = made(tmp_path, table)
    assert entry["bit"]["diameter"] == BIT
    seen = verdict(entry, text, table)
    assert seen.gouge <= GOUGE + SWEEP_ERROR
    assert seen.left <= LEFT + SWEEP_ERROR


def test_the_outside_judge_sees_a_rabbet_that_is_a_little_too_wide(tmp_path: Path) -> None:
    entry, text = made(tmp_path, rabbet_job())
    seen = verdict(entry, text, rabbet_job(width=7.95))
    assert seen.gouge == pytest.approx(0.05, abs=0.002)
    assert verdict(entry, text, rabbet_job(width=8.05)).left == pytest.approx(0.05, abs=0.002)


def test_width_and_depth_come_back_from_the_text(tmp_path: Path) -> None:
    job = write_job(tmp_path, rabbet_job(from_=20, length=80))
    run = jigcam("make", job, "-o", tmp_path / "out", "--json")
    fit = run.json["proof"][0]["fit"]
    drawn = {"width_drawn_mm": 8.0, "width_mm": [8.0, 8.0], "depth_drawn_mm": 7.0, "depth_mm": [7.0, 7.0]}
    assert fit == drawn
    sheet = (tmp_path / "out" / "back" / "setup-sheet.txt").read_text("utf-8")
    assert "the width to the shoulder of the rabbet measures 8.000 mm as cut, 8 mm drawn" in " ".join(sheet.split())


@pytest.mark.parametrize(
    ("old", "new", "key", "measured"),
    [
        ("Y87.0000", "Y86.9600", "width_mm", [8.04, 8.04]),  # the bit's middle, 5 mm beside the shoulder at y 82
        ("Z-7.0000", "Z-6.9600", "depth_mm", [6.96, 6.96]),
    ],
)
def test_a_file_edited_by_hand_is_measured_as_it_cuts(
    old: str, new: str, key: str, measured: list[float], tmp_path: Path
) -> None:
    job = load_job(write_job(tmp_path, rabbet_job()))
    (joint,) = plan_job(job, kit_for(job))
    ((name, text),) = joint.texts.items()
    assert old in text
    fit = joint.judged({name: text.replace(old, new)}).fit_dict()
    assert fit[key] == pytest.approx(measured, abs=0.002)
    other = {"width_mm": "depth", "depth_mm": "width"}[key]
    assert fit[f"{other}_mm"] == [fit[f"{other}_drawn_mm"]] * 2


def sides_cut(text: str, where: Callable[[np.ndarray], np.ndarray]) -> np.ndarray:
    """The way of the cuts at the full depth along the edge, mm: from where to where, for those that are long."""
    ways = [where(c.points)[-1] - where(c.points)[0] for c in chains(text) if (c.points[:, 2] < -6.99).all()]
    return np.array([way for way in ways if abs(way) > 60.0])


@pytest.mark.parametrize("finishing", ["climb", "conventional"])
@pytest.mark.parametrize("roughing", ["climb", "conventional"])
def test_lanes_go_the_way_that_the_machine_wants(roughing: str, finishing: str, tmp_path: Path) -> None:
    kit = kit_table("mm", roughing=roughing, finishing=finishing)
    _, text = made(tmp_path, rabbet_job(from_=15, length=130), kit)
    ways = sides_cut(text, lambda points: points[:, 0])
    assert len(ways) >= 2
    # A clockwise cutter climbs with the wood on the right of its way: along the upper edge, with the wood below, to +x.
    assert {way > 0 for way in ways[:-1]} == {roughing == "climb"}
    assert (ways[-1] > 0) == (finishing == "climb")


@pytest.mark.parametrize("along", ["left", "right", "lower", "upper"])
def test_no_pass_leaves_the_board_through_uncut_wood(along: str, tmp_path: Path) -> None:
    """A place near an open end is first passed by a bit on its way inward there, in every lane and at every level."""
    table = rabbet_job(along=along)
    entry, text = made(tmp_path, table)
    axis, last = (0, 160.0) if along in ("lower", "upper") else (1, 90.0)
    shift = -np.asarray(entry["placement"])[:, 2]
    opened: dict[tuple[float, float], set[str]] = {}
    for chain in chains(text):
        a, b = chain.points[0], chain.points[-1]
        if not (a[2] == b[2] < -0.1) or abs(b[axis] - a[axis]) < 1.0:
            continue
        a, b = (np.array([*(p[:2] + shift), p[2]]) for p in (a, b))
        lane = (round(float(a[1 - axis]), 3), round(float(a[2]), 3))
        for end, place, inward in (("low", 1.0, 1.0), ("high", last - 1.0, -1.0)):
            if min(a[axis], b[axis]) < place < max(a[axis], b[axis]) and end not in opened.get(lane, set()):
                assert (b[axis] - a[axis]) * inward > 0.0, (lane, end)
                opened.setdefault(lane, set()).add(end)
    assert len(opened) >= 3
    assert all(ends == {"low", "high"} for ends in opened.values())


def test_corners_at_stopped_ends_are_left_for_the_chisel_and_reported(tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, rabbet_job(from_=20, length=80)), "--json")
    (proof,) = run.json["proof"]
    places = sorted((corner["x"], corner["y"]) for corner in proof["left_for_chisel"])
    assert places == [pytest.approx((20.0, 82.0), abs=0.01), pytest.approx((100.0, 82.0), abs=0.01)]
    sizes = [corner["size_mm"] for corner in proof["left_for_chisel"]]
    assert sizes == pytest.approx([BIT / 2 * (2**0.5 - 1)] * 2, abs=0.01)


def test_the_picture_shows_the_step_and_its_section(tmp_path: Path) -> None:
    run = jigcam("view", write_job(tmp_path, rabbet_job(from_=25)), "--width", "100")
    assert run.status == 0
    for words in ("inside face of side, lower edge down", "across the back", "8 mm", "7 mm", "25 mm", "135 mm"):
        assert words in run.out
