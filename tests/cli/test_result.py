"""The result comes first, notes only when asked for and each once; `jigcam` alone says where to begin."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.jobs import Table, job_table, kit_table, toml, write_job
from support.shop import jigcam

from jigcam.cli import COMMANDS
from jigcam.cli.remarks import said_once, whole
from jigcam.cli.words import say_checked
from jigcam.findings import Finding
from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.workshop.build import Built, build_job

RULE = re.compile(r"\[([a-z-]+)\]")


def five_grooves(**keys: Any) -> Table:
    """Five grooves of one kind by template, at five places."""
    job = job_table("in", way="template", opposite_hand=True, **keys)
    (groove,) = job["joints"]
    job["joints"] = [{**groove, "name": f"shelf {n}", "from": [3 + 3 * n, "1-1/2"]} for n in range(1, 6)]
    return job


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """Five grooves, planned and proved once."""
    job = load_job(write_job(tmp_path_factory.mktemp("five"), five_grooves()))
    return build_job(job, kit_for(job, None))


def test_five_grooves_are_checked_in_a_screenful(built: Built, capsys: pytest.CaptureFixture[str]) -> None:
    """It was ten lines of result over two hundred of notes."""
    assert sum(finding.level == "note" for finding in built.findings) >= 40
    say_checked(built, Path("five.toml"), why=False)
    text = capsys.readouterr().out
    lines = text.splitlines()
    assert len(lines) <= 24
    assert "note " not in text
    assert "nothing was written" in lines[0]
    for n in range(1, 6):
        (line,) = [line for line in lines if line.startswith(f"  shelf {n} ")]
        assert "0.006 in of room" in line
    assert "--why" in text
    assert lines[-1] == "next: jigcam make five.toml"


def test_with_why_each_note_is_said_once_with_the_joints_that_it_holds_for(
    built: Built, capsys: pytest.CaptureFixture[str]
) -> None:
    say_checked(built, Path("five.toml"), why=True)
    said = " ".join(capsys.readouterr().out.split())
    rules = RULE.findall(said)
    assert sorted(set(rules)) == sorted({finding.rule for finding in built.findings})
    # A sheet with a fence alone and one with fence and stop block are held by other screws.
    assert {rule for rule in rules if rules.count(rule) > 1} <= {"screws"}, "each once"
    assert "against the ... end (at your ...) of the board" in said
    for finding in built.findings:
        if sum(each.says == finding.says for each in built.findings) == 5:
            assert said.count(finding.says) == 1
            assert f"all joints: {finding.says}" in said
    # What differs from groove to groove is told for each.
    fences = [each for each in built.findings if each.rule == "fence"]
    lengths = {each.where: each.says.split(" allows, ")[1].split(", screwed")[0] for each in fences}
    assert len(set(lengths.values())) == 5
    for where, length in lengths.items():
        assert f"{where}: {length}" in said


def test_what_check_names_as_next_can_be_done(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the kit and the joint that were asked for, and a name with blanks."""
    table = job_table("mm", length=60, width=12.5, receives=None)
    table["joints"].append({**table["joints"][0], "name": "another", "from": [300, 67]})
    job = write_job(tmp_path / "my jobs", table)
    kit = tmp_path / "a kit.toml"
    kit.write_text(toml(kit_table("mm") | {"kit": "Another shop"}), "utf-8")
    last = jigcam("check", job, "--kit", kit, "--joint", "tilted shelf").out.splitlines()[-1]
    program, *words = shlex.split(last.removeprefix("next: "))
    assert program == "jigcam"
    monkeypatch.chdir(tmp_path)
    made = jigcam(*words)
    assert made.status == 0, made.err
    assert "made with the Another shop" in made.out
    assert [path.name for path in (tmp_path / "out").iterdir() if path.is_dir()] == ["tilted-shelf"]


def test_json_is_the_same_with_and_without_why(tmp_path: Path) -> None:
    job = write_job(tmp_path, job_table("mm", length=60))
    plain, asked = (jigcam("check", job, "--json", *words).json for words in ([], ["--why"]))
    assert plain == asked
    assert any(finding["level"] == "note" for finding in plain["findings"])


def test_make_says_first_what_was_made_and_where(tmp_path: Path) -> None:
    job = write_job(tmp_path, job_table("mm", way="direct", length=60))
    run = jigcam("make", job, "-o", tmp_path / "out")
    manifest = jigcam("make", job, "-o", tmp_path / "out", "--replace", "--json").json
    text = run.out
    places = [text.index(each) for each in (f"in {tmp_path / 'out'}:", "setup-sheet.txt", "groove.nc", "proved")]
    assert places == sorted(places)
    assert text.splitlines()[0] == "Sheet-music cabinet, made with the Metric shop"
    for entry in manifest["files"]:
        if entry["kind"] in ("gcode", "sheet"):
            assert entry["file"] in text
        if entry["kind"] == "gcode":
            minutes, seconds = divmod(entry["seconds"], 60)
            assert f"{minutes} min {seconds:02d} s" in text
    counts = {kind: sum(entry["kind"] == kind for entry in manifest["files"]) for kind in ("dry-run", "drawing")}
    assert f"{counts['dry-run']} dry run" in text
    assert f"{counts['drawing']} drawing" in text
    assert not re.search(r"^note", text, re.M)
    if any(finding["level"] == "caution" for finding in manifest["findings"]):
        assert text.index("caution") > text.index("proved")


@pytest.mark.parametrize("units", ["in", "mm"])
def test_what_is_said_of_a_proof_is_never_less_than_was_found(units: str, tmp_path: Path) -> None:
    job = write_job(tmp_path, job_table(units, ends="square"))
    (proof,) = jigcam("check", job, "--json").json["proof"]
    text = jigcam("check", job).out
    scale = 25.4 if units == "in" else 1.0
    said = float(re.search(rf"within ([\d.]+) {units}", text)[1]) * scale  # type: ignore[index]
    found = max(proof["gouge_mm"], proof["left_mm"])
    assert found <= said + 1e-4 <= found + 1e-4 + (0.0026 if units == "in" else 0.0011)
    corners = proof["left_for_chisel"]
    assert corners
    assert f"{len(corners)} corner" in text


def test_a_caution_is_told_without_being_asked_for(tmp_path: Path) -> None:
    keys = {"bit": "straight 1/8", "bushing": "bushing 5/8", "length": 2, "way": "template"}
    job = write_job(tmp_path, job_table("in", **keys))
    cautions = [each for each in jigcam("check", job, "--json").json["findings"] if each["level"] == "caution"]
    assert cautions
    said = " ".join(jigcam("check", job).out.split())
    for caution in cautions:
        assert caution["says"] in said
        assert f"[{caution['rule']}]" in said


def test_a_refusal_tells_its_stops_once_and_notes_only_with_why(tmp_path: Path) -> None:
    job = job_table("mm", length=60)
    (groove,) = job["joints"]
    alone = {"receives": None, "width": 12.3}  # two shelves in one place would be refused before anything is planned
    job["joints"] = [groove, *({**groove, **alone, "name": name, "depth": 24} for name in ("deep", "deeper"))]
    path = write_job(tmp_path, job)
    found = jigcam("check", path, "--json").json["findings"]
    assert {each["level"] for each in found} >= {"stop", "note"}
    run, asked = jigcam("check", path), jigcam("check", path, "--why")
    assert run.status == asked.status == 1
    assert not re.search(r"^note", run.err, re.M)
    assert re.search(r"^note", asked.err, re.M)
    for each in found:
        if each["level"] == "stop":
            assert " ".join(run.err.split()).count(each["says"]) == 1


# ---- findings said once

names = st.sampled_from([f"shelf {n}" for n in range(6)])
sentences = st.lists(
    st.sampled_from(["the", "fence", "is", "3", "in", "long", "5", "mm", "wide"]), min_size=1, max_size=24
)
findings = st.builds(
    Finding,
    st.sampled_from(["stop", "caution", "note"]),
    st.sampled_from(["fence", "pair"]),
    names,
    sentences.map(" ".join),
)


@given(st.lists(findings, max_size=12))
def test_nothing_is_lost_where_findings_are_said_once(some: list[Finding]) -> None:
    """Every finding can be put together again from the remark and what it tells of the joint."""
    remarks = said_once(some)
    again = set()
    for remark in remarks:
        assert len(set(remark.wheres)) == len(remark.wheres)
        for place, (where, says) in enumerate(zip(remark.wheres, remark.says, strict=True)):
            again.add(Finding(remark.level, remark.rule, where, says))
            if remark.open:
                words, mine = remark.sentence.split(" "), says.split(" ")
                assert [w for n, w in enumerate(words) if n not in remark.open] == [
                    w for n, w in enumerate(mine) if n not in remark.open
                ]
                told = remark.values[place].replace(",", "").split()
                assert [word for word in told if word in mine] == told
                assert all(mine[n] in told for n in remark.open)
                assert remark.level == "note"
    assert again == set(some)
    levels = [("stop", "caution", "note").index(remark.level) for remark in remarks]
    assert levels == sorted(levels)


def test_joints_are_named_only_where_they_have_to_be() -> None:
    alike = [Finding("note", "pair", name, "the same for all of them") for name in ("a", "b", "c")]
    (remark,) = said_once(alike)
    assert whole(remark, ("a", "b", "c")) == ["all joints: the same for all of them [pair]"]
    assert whole(remark, ("a", "b", "c", "d")) == ["a, b, c: the same for all of them [pair]"]
    (one,) = said_once(alike[:1])
    assert whole(one, ("a",)) == ["the same for all of them [pair]"]
    differing = [
        Finding("note", "fence", name, f"the fence is {size} in long, and screwed under the sheet, flush with its edge")
        for name, size in (("a", 3), ("b", 4), ("c", 3))
    ]
    (remark,) = said_once(differing)
    assert whole(remark, ("a", "b", "c")) == [
        "the fence is ... in long, and screwed under the sheet, flush with its edge [fence]",
        "a, c: 3 in; b: 4 in",
    ]
    grave = [Finding("caution", "fence", each.where, each.says) for each in differing]
    assert len(said_once(grave)) == 2, "cautions keep their figures"


# ---- no command


def test_no_command_says_what_to_do_next() -> None:
    run = jigcam()
    assert (run.status, run.err) == (0, "")
    assert len(run.out.splitlines()) < 16
    assert all(len(line) <= 80 for line in run.out.splitlines())
    asked = re.findall(r"jigcam (\w+)", run.out)
    assert {"start", "check", "make", "view", "kit"} <= set(asked) <= set(COMMANDS)


def test_doing_what_it_says_makes_a_job(tmp_path: Path) -> None:
    """Its lines are typed as they stand, one after the other."""
    program = f'jigcam() {{ "{sys.executable}" -m jigcam "$@"; }}\n'
    lines = [
        re.split(r" {2,}", line.strip().lstrip("123 "))[0]
        for line in jigcam().out.splitlines()
        if re.match(r"  [ 123] +jigcam ", line)
    ]
    assert len(lines) == 5
    run = subprocess.run(
        ["sh", "-e", "-c", program + "\n".join(lines)], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr
    assert list(tmp_path.glob("out/*/setup-sheet.txt"))
