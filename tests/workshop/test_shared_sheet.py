"""Several joints by one sheet, from outside: files, proof, words and the pieces of paper."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from support.jobs import job_table, kit_table, write_job
from support.outside_cut import RIDE_ERROR, judge
from support.shop import content, jigcam

from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.making.shared_sheet import SharedPlan
from jigcam.toolpath.time import operation_seconds
from jigcam.workshop.build import build_job, planned_job

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet" / "shelf-and-strip.toml"
JOINTS = ["tilted shelf", "back strip"]
SHARED = {"way": "template", "template": "both"}


def two(strip: dict[str, Any] | None = None, **shelf: Any) -> dict[str, Any]:
    """The metric side with two grooves on one sheet."""
    table = job_table("mm", **{**SHARED, "length": 120, "from_": [100, 38], "angle": 90, **shelf})
    first = table["joints"][0]
    table["joints"].append({**first, "name": "back strip", "from": [160, 38], **(strip or {})})
    return table


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("shared") / "out"
    run = jigcam("make", EXAMPLE, "-o", out)
    assert run.status == 0, run.err
    return out


@pytest.mark.parametrize("kit", ["inch-shop", "metric-shop"])
def test_a_bushing_rides_in_each_opening_of_the_file_and_cuts_its_joint_for_both_hands(
    kit: str, tmp_path: Path
) -> None:
    run = jigcam("make", EXAMPLE, "-o", tmp_path / "out", "--kit", kit)
    assert run.status == 0, run.err
    verdicts = judge(tmp_path / "out", EXAMPLE)
    assert len(verdicts) == 4
    for name, verdict in verdicts.items():
        assert verdict.gouge < 0.005 + RIDE_ERROR, name
        assert verdict.left < 0.01 + RIDE_ERROR, name


def test_the_manifest_names_the_joints_of_the_sheet_and_proves_each(made: Path) -> None:
    manifest = json.loads((made / "manifest.json").read_text())
    assert [proof["joint"] for proof in manifest["proof"]] == JOINTS
    for proof, mate in zip(manifest["proof"], ("shelf", "strip"), strict=True):
        assert proof["gouge_mm"] <= 0.005
        assert proof["left_mm"] <= 0.01
        assert proof["fit"]["mate"] == mate
        assert {each["file"] for each in proof["files"]} >= {"shelf-and-strip/template.nc"}
    for entry in manifest["files"]:
        assert entry["file"].startswith("shelf-and-strip/")
        assert entry["joint"] == "shelf and strip"
        assert entry["joints"] == JOINTS
    (milled,) = [each for each in manifest["files"] if each["file"].endswith("template.nc") and each["kind"] == "gcode"]
    assert list(milled["guides"]) == JOINTS
    depths = [guide["depth"] for guide in milled["guides"].values()]
    assert depths == pytest.approx([7.9375, 6.35])


def test_there_is_one_milling_and_one_sheet_of_words_for_both(made: Path) -> None:
    files = content(made)
    assert sum(name.endswith("setup-sheet.txt") for name in files) == 1
    assert sum(name.endswith("template.nc") for name in files) == 1
    words = " ".join(files["shelf-and-strip/setup-sheet.txt"].decode().split())
    assert words.count("Make the sheet ready") == 1
    assert words.count("Lay the sheet, engraved face up") == 1


def test_the_words_say_which_opening_with_what_in_which_order(made: Path) -> None:
    words = (made / "shelf-and-strip" / "setup-sheet.txt").read_text()
    titles = re.findall(r"^\d+\. (.*)$", words, re.MULTILINE)
    assert titles == [
        "Mill the template on the machine",
        "Make the sheet ready",
        "Lay the sheet once for all its openings",
        "Opening 1 of 2: tilted shelf, with the hand-held router",
        "Opening 2 of 2: back strip, with the hand-held router",
        "The same for the opposite hand, in the mirrored board: all its openings",
        "Make shelf ready to go in for tilted shelf",
        "Make strip ready to go in for back strip",
    ]
    for name, projection in (("tilted shelf", "13/16 in"), ("back strip", "3/4 in")):
        (block,) = re.findall(rf"Opening \d of 2: {name}\n(.*?)\n\n", words, re.DOTALL)
        told = [re.split(r"  +", line.strip(), maxsplit=1) for line in block.splitlines()]
        rows = {row[0]: row[1] for row in told if len(row) == 2}
        assert rows["bit"] == "straight 1/2, 1/2 in"
        assert rows["bushing"].startswith("bushing 3/4")
        assert rows["bit below the base"].startswith(projection)


def test_the_gap_between_the_joints_is_said_and_drawn(made: Path) -> None:
    words = " ".join((made / "shelf-and-strip" / "setup-sheet.txt").read_text().split())
    assert "0.497 in of sheet, and 0.747 in of wood between the cuts" in words
    drawn = (made / "shelf-and-strip" / "template.svg").read_text()
    assert "sheet 0.497 in" in drawn
    assert "wood 0.747 in" in drawn
    for name in JOINTS:
        assert f">{name}<" in drawn


def test_the_time_that_one_sheet_saves_is_that_of_its_files_and_what_sheets_alone_would_spend_too(
    made: Path, tmp_path: Path
) -> None:
    words = " ".join((made / "shelf-and-strip" / "setup-sheet.txt").read_text().split())
    said = re.search(
        r"runs (\d+) min (\d+) s for one sheet with 2 openings, (\d+) min (\d+) s of it for marks, holes and outline, "
        "of which each of 2 sheets would want its own, though less",
        words,
    )
    assert said is not None
    together, besides = (60 * int(said[number]) + int(said[number + 1]) for number in (1, 3))
    entries = json.loads((made / "manifest.json").read_text())["files"]
    assert together == pytest.approx(sum(each["seconds"] for each in entries if each["kind"] == "gcode"), abs=2)
    path = tmp_path / "job.toml"
    path.write_text(EXAMPLE.read_text().replace('template  = "shelf and strip"', ""))
    job = load_job(path)
    opening, rest = 0.0, []
    for each in planned_job(job, kit_for(job)).joints:
        spent = [
            (operation.name, spent)
            for file in each.files
            for operation, spent in zip(
                file.program.operations, operation_seconds(file.program, each.plan.kit.the_machine), strict=True
            )
        ]
        opening += sum(seconds for name, seconds in spent if "opening" in name)
        rest.append(sum(seconds for name, seconds in spent if "opening" not in name))
    assert together - besides == pytest.approx(opening, rel=0.05), "openings take as long in sheets of their own"
    assert besides / 2 < min(rest) <= max(rest) < besides, "and each of those wants marks, holes and outline too"


@pytest.mark.parametrize("joint", JOINTS)
def test_one_joint_asked_for_makes_the_whole_sheet_and_says_so(joint: str, made: Path, tmp_path: Path) -> None:
    run = jigcam("make", EXAMPLE, "-o", tmp_path / "out", "--joint", joint, "--json")
    assert run.status == 0, run.err
    assert (tmp_path / "out/shelf-and-strip/template.nc").read_bytes() == (
        made / "shelf-and-strip/template.nc"
    ).read_bytes()
    (said,) = [each for each in run.json["findings"] if each["rule"] == "whole-sheet"]
    assert joint in said["says"]
    assert next(each for each in JOINTS if each != joint) in said["says"]


def test_a_file_of_the_sheet_is_proved_for_every_joint_in_it(made: Path) -> None:
    run = jigcam("prove", made / "shelf-and-strip" / "template.nc", "--job", EXAMPLE, "--json")
    assert run.status == 0, run.err
    assert run.json["joints"] == JOINTS
    assert list(run.json["fit"]) == JOINTS


@pytest.mark.parametrize("joint", JOINTS)
def test_an_opening_that_was_edited_is_refused_for_its_own_joint(joint: str, made: Path, tmp_path: Path) -> None:
    """The last pass of one opening alone, 0.2 mm too far along x: the other opening is as it was."""
    text = (made / "shelf-and-strip" / "template.nc").read_text()
    head, begin, rest = text.partition(f"(finish the opening of {joint}")
    assert begin
    lines = rest.splitlines(keepends=True)
    end = next(
        n for n, line in enumerate(lines[1:], 1) if line.startswith("(") and ("opening" in line or "holes" in line)
    )
    moved = [
        re.sub(r"X(-?[\d.]+)", lambda found: f"X{float(found[1]) + 0.2:.4f}", line)
        if not line.startswith("(")
        else line
        for line in lines[:end]
    ]
    path = tmp_path / "template.nc"
    path.write_text(head + begin + "".join(moved + lines[end:]))
    run = jigcam("prove", path, "--job", EXAMPLE, "--json")
    assert run.status == 1
    stopped = [each["where"] for each in run.json["findings"] if each["level"] == "stop"]
    other = next(each for each in JOINTS if each != joint)
    assert not any(other in where for where in stopped)
    assert run.json["gouge_mm"] > 0.1


def test_joints_that_name_two_tools_are_routed_by_pairs(tmp_path: Path) -> None:
    thin = {"thickness": 6.2, "length": 700, "width": 118}
    table = two({"receives": None, "width": 6.4, "clearance": 0.2, "from": [200, 38]}, bit="straight 12")
    table["joints"].append({**table["joints"][0], "name": "third", "from": [260, 38]})
    table["joints"][1].pop("bit")
    table["boards"]["thin"] = thin
    run = jigcam("make", write_job(tmp_path, table), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    words = (tmp_path / "out" / "both" / "setup-sheet.txt").read_text()
    titles = re.findall(r"^\d+\. Opening \d of 3: (.*), with", words, re.MULTILINE)
    assert titles == ["tilted shelf", "third", "back strip"]
    assert "instead of straight 12" in " ".join(words.split())


def test_an_opening_for_one_hand_is_left_alone_on_the_other(tmp_path: Path) -> None:
    table = two(opposite_hand=True)
    # What goes into it is not said: a shelf between both sides would want a groove in either.
    table["joints"][1] |= {"opposite_hand": False, "receives": None, "width": 12.3}
    out = tmp_path / "out"
    run = jigcam("make", write_job(tmp_path, table), "-o", out)
    assert run.status == 0, run.err
    words = " ".join((out / "both" / "setup-sheet.txt").read_text().split())
    assert "in the mirrored board: only tilted shelf" in words
    assert "Leave the opening of back strip alone" in words
    guides = next(e for e in json.loads((out / "manifest.json").read_text())["files"] if "guides" in e)["guides"]
    assert "turned_over_for_opposite_hand" in guides["tilted shelf"]
    assert "turned_over_for_opposite_hand" not in guides["back strip"]


def test_a_kit_without_a_machine_makes_the_sheet_by_hand_with_all_its_openings(tmp_path: Path) -> None:
    kit = kit_table("mm")
    del kit["machine"]
    run = jigcam("make", write_job(tmp_path, two(), kit), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    words = " ".join((tmp_path / "out" / "both" / "setup-sheet.txt").read_text().split())
    assert "mark the openings on it with a knife" in words
    for name in JOINTS:
        assert f"for {name}:" in words


def test_two_sheets_for_one_board_are_made_by_hand_without_a_machine(tmp_path: Path) -> None:
    """What a board's joints come to together was asked of a machine that was not there."""
    kit = kit_table("mm")
    del kit["machine"]
    run = jigcam("make", write_job(tmp_path, two(template=None), kit), "-o", tmp_path / "out")
    assert run.status == 0, run.err


def test_a_joint_alone_on_a_sheet_is_made_as_if_it_named_none(tmp_path: Path) -> None:
    table = job_table("mm", **SHARED)
    alone = planned_job(load_job(write_job(tmp_path, table)), kit_for(load_job(write_job(tmp_path, table)))).joints
    none = job_table("mm", way="template")
    path = write_job(tmp_path / "none", none)
    plain = planned_job(load_job(path), kit_for(load_job(path))).joints
    assert [each.texts for each in alone] == [each.texts for each in plain]
    assert "alone-on-sheet" in {finding.rule for finding in alone[0].findings}


def test_cuts_that_are_near_are_told_of_joints_and_not_of_the_sheet(tmp_path: Path) -> None:
    """5 mm of wood between them: what holds on the board is said of both, once."""
    path = write_job(tmp_path, two({"from": [117.35 + 12.0, 38]}))
    job = load_job(path)
    built = build_job(job, kit_for(job))
    (made,) = built.joints
    assert isinstance(made.plan, SharedPlan)
    assert [each.joints for each in built.together] == []
    near = load_job(write_job(tmp_path / "near", two({"from": [117.35, 38]}, template=None)))
    assert {each.finding.rule for each in planned_job(near, kit_for(near)).piece.as_drawn} == {"web"}


def test_the_screen_has_a_line_of_proof_for_each_joint() -> None:
    run = jigcam("check", EXAMPLE)
    assert run.status == 0
    for name in JOINTS:
        assert re.search(rf"^  {name} +within", run.out, re.MULTILINE)


def test_a_picture_of_the_sheet_is_seen_by_view() -> None:
    run = jigcam("view", EXAMPLE, "--joint", "back strip")
    assert run.status == 0
    assert "shelf and strip: template" in run.out
    assert "tilted shelf" in run.out
