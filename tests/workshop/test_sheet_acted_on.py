"""The setup sheet read by a test that does what it says: where a cut lands then is where the job drew it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from math import pi
from typing import Any

import numpy as np
import pytest
from support.grooves import SIDE, groove_job

from jigcam.geometry import Region, mirror_x, offset
from jigcam.job.repeat import Repeat
from jigcam.joints.groove.by_template import TemplateGroove
from jigcam.kit import load_kit
from jigcam.making.setup_sheet import setup_sheet
from jigcam.making.shared_sheet import SharedPlan
from jigcam.template import TemplatePlan, template_opening
from jigcam.units import parse_length
from jigcam.workshop.build import build_job

KIT = load_kit("metric-shop")
PLACED = 0.01
"""How near a sheet laid by its words comes to its place, mm: lengths are told to a hundredth."""

JOBS: dict[str, dict[str, Any]] = {
    "near the reference corner": {},
    "on the outside face": {"face": "outside"},
    "near the far end": {"start_point": (430.0, 45.0)},
    "in the middle of a wide panel": {
        "start_point": (800.0, 500.0),
        "board": {"length": 1600.0, "width": 1100.0, "thickness": 24.0},
    },
    "along the grain": {"angle": 0.0, "start_point": (80.0, 60.0), "length": 180.0},
    "open at the lower edge": {"angle": pi / 2.0, "start_point": (150.0, 0.0), "start": "open", "length": 150.0},
}


@dataclass(frozen=True)
class Read:
    """A sheet as a person reads it: lines joined, in sections by the first word of their heading's number."""

    text: str

    def section(self, heading: str) -> str:
        """The points under the heading that begins with those words."""
        found = re.search(rf"\d+\. {re.escape(heading)}(.*?)(?=\n\n|\Z)", self.text, re.DOTALL)
        assert found, heading
        return " ".join(found[1].split())


def made(name: str) -> tuple[TemplateGroove, Read]:
    keys = dict(JOBS[name])
    built = build_job(groove_job(opposite_hand=True, **keys), KIT)
    (joint,), (proof,) = built.joints, built.proofs
    assert isinstance(joint.plan, TemplateGroove)
    return joint.plan, Read("\n".join(setup_sheet(joint, proof, built)))


def side_at(name: str, face: str) -> tuple[int, int]:
    """Axis, and 0 at the low or 1 at the high end of it, of a side of the board seen square at a face."""
    if "edge" in name:
        return 1, int("upper" in name)
    left = "left" in name
    return 0, int(left != (face == "outside"))


def without_hand(side: str, face: str) -> str:
    """The side that is named; where its hand is told too, that is where it is: seen square, the lower edge nearest."""
    found = re.fullmatch(r"([a-z ]+?)(?: \(at your (left|right)\))?", side)
    assert found, side
    ends = "end" in found[1]
    assert ends == bool(found[2]), f"{side}: an end is told with its hand, and nothing else"
    if ends:
        _, high = side_at(found[1], face)
        assert found[2] == ("right" if high else "left")
    return found[1]


def laid(plan: TemplatePlan, constraints: list[tuple[float, str]], size: tuple[float, float], flip: bool) -> Region:
    """The opening where the sheet comes to lie: constraints are places on the sheet (along x or y of the drawing, mm)
    with the side of the board and the distance from it ("left end|0") that they are laid to."""
    turn = np.array([[-1.0 if flip else 1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
    shift: list[float | None] = [None, None]
    for at, to in constraints:
        name, distance = to.split("|")
        axis, high = side_at(name, plan.cut.face)
        where = size[axis] - float(distance) if high else float(distance)
        moved = turn[axis, axis] * at
        assert shift[axis] is None or shift[axis] == pytest.approx(where - moved, abs=PLACED), "two words, two places"
        shift[axis] = where - moved
    assert None not in shift, "the sheet is not held both ways"
    turn[:, 2] = shift  # type: ignore[assignment]
    return plan.opening.transformed(turn)


def marks_on(plan: TemplatePlan) -> dict[str, list[tuple[float, int]]]:
    """Where the bearing edges of the strips, and the engraved lines, are on the sheet as drawn; with their axis."""
    found: dict[str, list[tuple[float, int]]] = {}
    for what, strip in (("fence", plan.fence), ("stop block", plan.stop)):
        if strip is not None:
            box = strip.box
            inner = (box.x1, box.x0, box.y1, box.y0)[strip.side]
            found[what] = [(inner, 0 if strip.side < 2 else 1)]
    found["line"] = [(index.at, 0 if index.side < 2 else 1) for index in plan.indexes]
    return found


def distance_from(text: str, name: str) -> float:
    """The distance at which a line is to be drawn from a side, as the sheet says it."""
    found = re.search(rf"(?:line on the (?:mirrored )?board(?: is)?) ([\d./ -]+ mm)[^.;]*? from its {name}", text)
    assert found, (name, text)
    return parse_length(found[1], "mm")


def as_drawn(plan: TemplatePlan, read: Read, heading: str = "Cut the groove") -> Region:
    laying = re.search(r"Lay the sheet, engraved face up, with (.*?); clamp", read.section(heading))
    assert laying
    ready = read.section("Make the sheet ready")
    constraints = []
    marks = marks_on(plan)
    for part in laying[1].split(", "):
        if strip := re.match(r"the (fence|stop block) against the (.*)", part):
            constraints.append((marks[strip[1]][0][0], f"{without_hand(strip[2], plan.cut.face)}|0"))
        else:
            line = re.match(r"its line on the one drawn from the (.*)", part)
            assert line, part
            name = without_hand(line[1], plan.cut.face)
            axis, _ = side_at(name, plan.cut.face)
            at = next(at for at, along in marks["line"] if along == axis)
            constraints.append((at, f"{name}|{distance_from(ready, name)}"))
    return laid(plan, constraints, (plan.cut.board.length, plan.cut.board.width), flip=False)


def opposite(plan: TemplatePlan, read: Read) -> Region:
    words = read.section("The same for the opposite hand")
    assert "left for right" in words
    assert f"the edge toward the board's {'lower edge'} stays there" in words
    marks = marks_on(plan)
    constraints = []
    for what, name in re.findall(r"Move the (fence|stop block) .*? against the (.*?) of the mirrored board", words):
        constraints.append((marks[what][0][0], f"{without_hand(name, plan.cut.face)}|0"))
    for told in re.findall(r"The line on the mirrored board is [^.]*? from its ([a-z ()]+)\.", words):
        name = without_hand(told, plan.cut.face)
        axis, _ = side_at(name, plan.cut.face)
        at = next(at for at, along in marks["line"] if along == axis)
        constraints.append((at, f"{name}|{distance_from(words, name)}"))
    return laid(plan, constraints, (plan.cut.board.length, plan.cut.board.width), flip=True)


def assert_lies(opening: Region, wanted: Region) -> None:
    places = np.vstack([loop.points(0.01) for loop in opening.loops])
    assert np.abs(wanted.signed_distance(places)).max() < PLACED


@pytest.mark.parametrize("name", JOBS)
def test_a_sheet_laid_and_turned_by_its_words_lies_where_the_job_drew_the_groove(name: str) -> None:
    plan, read = made(name)
    sheet = plan.template
    region = sheet.cut.solid.section(0.0)
    wanted = template_opening(region, sheet.bit.diameter, sheet.bushing.outside)
    assert_lies(as_drawn(sheet, read), wanted)
    assert_lies(opposite(sheet, read), wanted.transformed(mirror_x(sheet.cut.board.length)))


@pytest.mark.parametrize("name", JOBS)
def test_nothing_is_said_of_strips_and_lines_that_are_not_there(name: str) -> None:
    plan, read = made(name)
    for what, there in (("fence", plan.template.fence), ("stop block", plan.template.stop)):
        said = re.search(rf"(?:Lay|Move).*\b{what}\b", " ".join(read.text.split("Why so")[0].split()))
        assert (said is not None) is (there is not None)
    assert ("its line on" in " ".join(read.text.split())) is bool(plan.template.indexes)


ROWS: dict[str, dict[str, Any]] = {
    "housings in a side": {"start": "open", "start_point": (60.0, 0.0), "angle": pi / 2.0, "length": 120.0},
    "sloping shelves on the outside": {"face": "outside", "start_point": (40.0, 38.0), "length": 150.0},
    "up the board": {"angle": 0.0, "start_point": (80.0, 40.0), "length": 180.0, "repeat": (3, (0.0, 40.0))},
    "along and up": {"start_point": (60.0, 30.0), "length": 100.0, "repeat": (3, (80.0, 25.0))},
    "a divider": {"face": "both", "start": "open", "start_point": (60.0, 0.0), "angle": pi / 2.0, "length": 120.0},
}


def in_order(plan: TemplateGroove, read: Read) -> list[Region]:
    """The opening wherever the sheet says to lay it, one place after the other, as a person goes through the sheet."""
    sheet, marks = plan.template, marks_on(plan.template)
    size = (sheet.cut.board.length, sheet.cut.board.width)
    found: list[Region] = []
    flip, face = False, sheet.cut.face
    constraints: list[tuple[float, str]] = []

    def at(name: str) -> float:
        axis = int("edge" in name)
        return next(place for place, along in marks["line"] if along == axis)

    def put(lines: list[tuple[float, str]]) -> Region:
        turn = np.array([[-1.0 if flip else 1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
        shift: dict[int, float] = {}
        for place, to in lines:
            name, distance = to.split("|")
            axis, high = side_at(name, face)
            shift[axis] = (size[axis] - float(distance) if high else float(distance)) - turn[axis, axis] * place
        turn[:, 2] = shift[0], shift[1]
        return sheet.opening.transformed(turn)

    sections = re.findall(r"\n\d+\. ((?:Cut the first|The other) .*?)(?=\n\n|\Z)", read.text, re.DOTALL)
    for section in (" ".join(each.split()) for each in sections):
        if section.startswith("Cut the first"):
            if "Turn the sheet over" in section:
                flip = not flip
            assert ("face is down" in section or "face down" in section) is flip
            heading = re.match(r"Cut the first groove in the (\w+) face", section)
            assert heading
            face = heading[1]  # type: ignore[assignment]
            if not found:
                laying = re.search(r"Lay the sheet, engraved face up, with (.*?); clamp", section)
                assert laying
                ready = read.section("Make the sheet ready")
                for part in laying[1].split(", "):
                    strip = re.match(r"the (fence|stop block) against the (.*)", part)
                    line = re.match(r"its line on the one drawn from the (.*)", part)
                    if strip:
                        constraints.append((marks[strip[1]][0][0], f"{without_hand(strip[2], face)}|0"))
                    elif line:
                        name = without_hand(line[1], face)
                        constraints.append((at(name), f"{name}|{distance_from(ready, name)}"))
            else:
                constraints = [
                    (marks[what][0][0], f"{without_hand(name, face)}|0")
                    for what, name in re.findall(r"The (fence|stop block) lies .*? against the (.*?) of this", section)
                ]
                for distance, name in re.findall(r"line for it on this board is (.*?) from its ([a-z ()]+)\.", section):
                    name = without_hand(name, face)
                    constraints.append((at(name), f"{name}|{parse_length(distance, 'mm')}"))
            found.append(put(constraints))
            continue
        for told in re.findall(r"Groove \d+ of \d+: (.*?)\.(?= |$)", section.partition("Or by")[0]):
            moved = {}
            for distance, name in re.findall(r"its line on one drawn (.*?) from the ([a-z ()]+?)(?= and|$)", told):
                name = without_hand(name, face)
                moved[int("edge" in name)] = (at(name), f"{name}|{parse_length(distance, 'mm')}")
            held = [each for each in constraints if int("edge" in each[1]) not in moved]
            found.append(put([*held, *moved.values()]))
    return found


@pytest.mark.parametrize("name", ROWS)
def test_a_sheet_moved_from_line_to_line_by_its_words_lies_where_each_groove_is_drawn(name: str) -> None:
    keys = {**ROWS[name], "depth": 6.0}
    count, pitch = keys.pop("repeat", (4, (70.0, 0.0)))
    built = build_job(groove_job(opposite_hand=True, repeat=Repeat(count=count, pitch=pitch), **keys), KIT)
    (joint,), (proof,) = built.joints, built.proofs
    assert isinstance(joint.plan, TemplateGroove)
    read = Read("\n".join(setup_sheet(joint, proof, built)))
    laid_at, sheet = in_order(joint.plan, read), joint.plan.template
    assert len(laid_at) == len(joint.plan.cuts) == 2 * count * (2 if keys.get("face") == "both" else 1)
    for opening, cut in zip(laid_at, joint.plan.cuts, strict=True):
        region = cut.solid.section(0.0)
        assert_lies(opening, template_opening(region, sheet.bit.diameter, sheet.bushing.outside))


@pytest.mark.parametrize("name", ["housings in a side", "a divider"])
def test_the_spacer_is_as_long_as_the_sheet_has_to_move(name: str) -> None:
    keys = {**ROWS[name], "depth": 6.0, "repeat": Repeat(count=4, pitch=(70.0, 0.0))}
    built = build_job(groove_job(opposite_hand=True, **keys), KIT)
    (joint,), (proof,) = built.joints, built.proofs
    text = " ".join("\n".join(setup_sheet(joint, proof, built)).split())
    assert re.findall(r"by a spacer of ([\d.]+) mm", text) == ["70"]
    # The block stands where the sheet comes from: from the end toward which the figures grow smaller.
    blocks = re.findall(r"(?:the block|a block to the board) against the sheet's edge toward the (\w+ end)", text)
    ends = re.findall(r"Groove 2 of 4: its line on one drawn [\d.]+ mm from the (\w+ end)", text)
    assert blocks == ends


SHARED: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
    "a shelf and its back strip": (
        {},
        {
            "start_point": (140.0, 262.0),
            "angle": pi - 0.2,
            "length": 70.0,
            "depth": 6.0,
            "receives": None,
            "width": 12.3,
        },
    ),
    "along the grain, two pairs": (
        {"start_point": (80.0, 60.0), "angle": 0.0, "length": 150.0, "bit": "straight 12"},
        {"start_point": (80.0, 110.0), "angle": 0.0, "length": 150.0, "receives": None, "width": 8.35},
    ),
    "in the middle of a wide panel": (
        {"start_point": (800.0, 500.0), "board": {"length": 1600.0, "width": 1100.0, "thickness": 24.0}},
        {"start_point": (860.0, 500.0), "length": 120.0},
    ),
}
"""What is changed in two grooves that share a sheet."""


@cache
def shared(name: str) -> tuple[SharedPlan, Read]:
    """The plan of a sheet with two openings, and its words."""
    first, second = (dict(keys) for keys in SHARED[name])
    together = {"template": "both", "opposite_hand": True}
    job = groove_job(name="shelf", **together, **first)
    other = groove_job(name="strip", **together, **{"board": first.get("board", SIDE), **second})
    built = build_job(job.model_copy(update={"joints": (*job.joints, *other.joints)}), KIT)
    (joint,), (proof,) = built.joints, built.proofs
    assert isinstance(joint.plan, SharedPlan)
    return joint.plan, Read("\n".join(setup_sheet(joint, proof, built)))


@pytest.mark.parametrize("name", SHARED)
def test_a_shared_sheet_laid_once_and_turned_by_its_words_brings_every_opening_to_its_joint(name: str) -> None:
    plan, read = shared(name)
    for member in plan.members:
        sheet = member.template
        wanted = template_opening(sheet.cut.solid.section(0.0), sheet.bit.diameter, sheet.bushing.outside)
        assert_lies(as_drawn(sheet, read, "Lay the sheet once for all its openings"), wanted)
        assert_lies(opposite(sheet, read), wanted.transformed(mirror_x(sheet.cut.board.length)))


@pytest.mark.parametrize("name", SHARED)
def test_the_router_set_up_opening_by_opening_cuts_each_joint_as_wide_and_deep_as_drawn(name: str) -> None:
    """A person with the sheet alone: what is in the router is what was fitted last, and the depth what was set last."""
    plan, read = shared(name)
    fitted: dict[str, str] = {}
    seen = []
    for place in (1, 2):
        (joint, words) = re.search(
            rf"\d+\. Opening {place} of 2: (\w+), with the hand-held router(.*?)\n\n", read.text, re.DOTALL
        ).groups()  # type: ignore[union-attr]
        words = " ".join(words.split())
        for tool in re.findall(r"straight [\d.]+|bushing [\d.]+", words.split(";")[0].split("Pass")[0]):
            if f"instead of {tool}" not in words:
                fitted[tool.split()[0]] = tool
        bit, bushing = KIT.bit(fitted["straight"]), KIT.bushing(fitted["bushing"])
        below = [parse_length(each, "mm") for each in re.findall(r"set the bit ([\d.]+ mm) below the base", words)]
        opening = next(each.template for each in plan.members if each.name == joint)
        cut = offset(opening.opening, -(bushing.outside - bit.diameter) / 2.0)
        places = np.vstack([loop.points(0.01) for loop in cut.loops])
        assert np.abs(opening.cut.solid.section(0.0).signed_distance(places)).max() < PLACED
        assert below == sorted(below)
        assert below[-1] - KIT.the_sheet.thickness == pytest.approx(opening.cut.solid.depth, abs=PLACED)
        seen.append(joint)
    assert sorted(seen) == ["shelf", "strip"]
