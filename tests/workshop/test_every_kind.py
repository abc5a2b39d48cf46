"""What every kind of joint that the folder holds has to pass: a kind without its tests fails here.

Drawn jobs are made from their text to the output folder, and both readers read what was written; starters are proved in
both units with both shipped kits. `test_golden.py` keeps a small job of each kind byte for byte.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from support.every_kind import jobs
from support.jobs import KITS, Table, kit_table, write_job
from support.output_folder import GOUGE, LEFT, assert_text_is_right
from support.shop import content, jigcam

from jigcam.joints import kind, kind_names

ROOT = Path(__file__).resolve().parents[2]
KINDS = kind_names()


def assert_is_made(folder: Path, table: Table) -> None:
    """A job is made; its proof keeps the bars, and both readers read its G-code alike."""
    job = write_job(folder, table)
    run = jigcam("make", job, "-o", folder / "out", "--json")
    assert run.status == 0, (table, run.out, run.err)
    manifest, files = run.json, content(folder / "out")
    assert manifest["proof"]
    for proof in manifest["proof"]:
        assert proof["gouge_mm"] <= GOUGE
        assert proof["left_mm"] <= LEFT
    for entry in manifest["files"]:
        if entry["kind"] == "gcode":
            assert_text_is_right(files[entry["file"]], entry, kit_table("mm"))


@pytest.mark.parametrize("name", KINDS)
@given(data=st.data())
@settings(max_examples=3, suppress_health_check=list(HealthCheck))
def test_drawn_jobs_are_made_and_proved(name: str, data: st.DataObject) -> None:
    table = data.draw(jobs(name))
    assert [joint["kind"] for joint in table["joints"]] == [name]
    with TemporaryDirectory() as folder:
        assert_is_made(Path(folder), table)


@pytest.mark.parametrize("shop", KITS.values())
@pytest.mark.parametrize("units", KITS)
@pytest.mark.parametrize("name", KINDS)
def test_starters_are_proved_with_both_shipped_kits(name: str, units: str, shop: str, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    assert jigcam("start", name, "--units", units, "-o", job).status == 0
    table = tomllib.loads(job.read_text("utf-8"))
    assert (table["units"], table["kit"], table["joints"][0]["kind"]) == (units, KITS[units], name)
    run = jigcam("check", job, "--kit", shop, "--json")
    assert run.status == 0, run.out


def test_the_readme_has_a_row_for_each_kind() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    _, _, rows = text.partition("| kind | what it is |")
    table = rows.partition("\n\n")[0]
    assert tuple(sorted(re.findall(r"^\| `([a-z-]+)` \|", table, re.MULTILINE))) == KINDS


@pytest.mark.parametrize("name", KINDS)
def test_rules_are_told_in_full(name: str) -> None:
    for rule, declared in kind(name).rules.items():
        assert re.fullmatch(r"[a-z]+(-[a-z]+)*", rule)
        assert declared.levels
        assert declared.means
        assert declared.cure
