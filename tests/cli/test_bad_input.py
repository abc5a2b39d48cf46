"""Bad input: one clear message for each fault, the right exit status, no traceback, and nothing left behind."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest
from support.jobs import Table, job_table, kit_table, toml, write_job
from support.shop import Run, content, jigcam

HOSTILE = "x) G0 Z-50 ("


def refused(folder: Path, job: Path | str, *extra: str | Path) -> Run:
    """`make` and `check`, with and without --json, all refuse alike; nothing is left. Returns make's plain run."""
    before = content(folder)
    runs = {}
    for command in (["make", job, "-o", folder / "out", *extra], ["check", job, *extra]):
        for flags in ([], ["--json"]):
            run = jigcam(*command, *flags)
            assert run.status in (1, 2), run
            assert "Traceback" not in run.err + run.out
            assert run.err.strip(), "a message"
            assert bool(run.out) == bool(flags), "results only, on stdout"
            if flags:
                told = json.loads(run.out)
                assert set(told) == ({"refused", "findings"} if run.status == 1 else {"errors"})
            runs[command[0], bool(flags)] = run
    assert len({run.status for run in runs.values()}) == 1
    assert content(folder) == before
    assert not (folder / "out").exists()
    return runs["make", False]


def faults(run: Run) -> list[str]:
    """The error messages of a run, each with its lines."""
    assert run.status == 2, run
    return [part.strip() for part in ("\n" + run.err).split("\nerror: ")[1:]]


def stops(run: Run) -> list[str]:
    """The findings that refused a job."""
    assert run.status == 1, run
    return [line for line in run.err.splitlines() if line.startswith("stop")]


def the_fault(folder: Path, job: Table, kit: Table | None = None) -> str:
    """The one fault of a job that has one."""
    (fault,) = faults(refused(folder, write_job(folder, job, kit)))
    return fault


def the_stops(folder: Path, job: Table, kit: Table | None = None) -> str:
    """The findings that refuse a job, in one text."""
    run = refused(folder, write_job(folder, job, kit))
    assert stops(run)
    return " ".join(run.err.split())


# ---- files that cannot be read


def test_text_that_is_not_toml_is_shown_with_line_and_column(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(toml(job_table()).replace('units = "in"', 'units = in"', 1), "utf-8")
    (fault,) = faults(refused(tmp_path, job))
    assert f"{job}:2:9" in fault
    assert "not TOML" in fault


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (b"", "missing"),
        (b"\xff\xfe\x00j", "UTF-8"),
        (b'job = "Schrank"\n# Nussb\xe4ume\n', "UTF-8"),
        (b"\x00" * 1000, "not TOML"),
        (b"[[[[[", "not TOML"),
        (b"a = " + b"[" * 5000 + b"]" * 5000, "nests too deeply"),
        (b"a = " + b"9" * 5000, "too long"),
    ],
)
def test_what_is_no_job_at_all(tmp_path: Path, raw: bytes, says: str) -> None:
    job = tmp_path / "job.toml"
    job.write_bytes(raw)
    run = refused(tmp_path, job)
    assert run.status == 2
    assert says in run.err


def test_ten_megabytes_of_junk(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_bytes(b"# music \n" * 1_200_000 + b"job = \n")
    (fault,) = faults(jigcam("check", job))
    assert len(fault) < 500


@pytest.mark.parametrize("name", ["nowhere.toml", ".", "a folder"])
def test_a_job_that_is_no_file(tmp_path: Path, name: str) -> None:
    (tmp_path / "a folder").mkdir()
    (fault,) = faults(refused(tmp_path, tmp_path / name))
    assert "cannot be read" in fault


def test_kits_that_cannot_be_read(tmp_path: Path) -> None:
    for kit, says in (("inch-shp", "inch-shop"), ("missing.toml", "No such file"), (".", "kit")):
        fault = the_fault(tmp_path, {**job_table(), "kit": kit})
        assert says in fault, kit
    (tmp_path / "broken.toml").write_text("kit = \n", "utf-8")
    assert "broken.toml:1:7" in the_fault(tmp_path, {**job_table(), "kit": "broken.toml"})


def test_a_kit_on_the_command_line_that_is_not_there(tmp_path: Path) -> None:
    job = write_job(tmp_path, job_table())
    (fault,) = faults(refused(tmp_path, job, "--kit", "metrc-shop"))
    assert "metric-shop" in fault


# ---- keys and values


def test_unknown_keys_name_the_nearest(tmp_path: Path) -> None:
    fault = the_fault(tmp_path, job_table(lenght=8, length=8))
    assert "joints[1].lenght" in fault
    assert "did you mean length?" in fault
    assert "did you mean boards?" in the_fault(tmp_path, {**job_table(), "bords": {}})


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"kind": "grove"}, "'groove'"),
        ({"board": "sid"}, "'side'"),
        ({"receives": "shelv"}, "'shelf'"),
        ({"bit": "straight 1/3"}, "'straight 1/8'|'straight 1/4'|'straight 3/8'|'straight 1/2'"),
        ({"bushing": "bushing 3/5", "way": "template"}, "'bushing 3/4'|'bushing 5/8'"),
        ({"face": "insied"}, '"inside"'),
        ({"start": "opne"}, '"open"'),
        ({"way": "templat"}, '"template"'),
    ],
)
def test_names_that_are_not_there(tmp_path: Path, changes: Table, says: str) -> None:
    fault = the_fault(tmp_path, job_table(**changes))
    assert any(f"did you mean {each}?" in fault for each in says.split("|")), fault


@pytest.mark.parametrize("value", [0, -3, math.nan, math.inf, -math.inf, 1e9, 1e-9, "8 furlongs", "", True, [8], "1/0"])
@pytest.mark.parametrize("key", ["length", "depth", "width"])
def test_sizes_that_nobody_means(tmp_path: Path, key: str, value: Any) -> None:
    fault = the_fault(tmp_path, job_table(**{key: value}))
    assert f"joints[1].{key}" in fault
    assert "found:" in fault
    assert "wanted:" in fault


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"from_": [4]}, "from"),
        ({"from_": [4, math.nan]}, "from"),
        ({"from_": "4, 1"}, "from"),
        ({"angle": 1e6}, "angle"),
        ({"angle": math.inf}, "angle"),
        ({"clearance": -0.1}, "clearance"),
        ({"clearance": 3}, "clearance"),
        ({"opposite_hand": "yes"}, "opposite_hand"),
        ({"name": ""}, "name"),
        ({"name": "x" * 5000}, "name"),
        ({"depth": None}, "depth"),
    ],
)
def test_values_of_the_wrong_sort(tmp_path: Path, changes: Table, key: str) -> None:
    fault = the_fault(tmp_path, job_table(**changes))
    assert f"joints[1].{key}" in fault


def test_every_fault_is_told_in_one_go(tmp_path: Path) -> None:
    job = job_table(depth=-1, colour="red", board="sied")
    job["boards"]["side"]["thickness"] = math.nan
    found = faults(refused(tmp_path, write_job(tmp_path, job)))
    assert len(found) == 4
    lines = [int(fault.split("job.toml:")[1].split(":")[0]) for fault in found]
    assert lines == sorted(lines)


# ---- jobs that are refused by a finding


@pytest.mark.parametrize(
    ("changes", "rule"),
    [
        ({"from_": [40, 1.5]}, "misses-board"),
        ({"from_": [4, 8]}, "off-board"),
        ({"length": 30}, "off-board"),
        ({"depth": 2}, "too-deep"),
        ({"depth": "15/16"}, "too-deep"),
        ({"depth": "27/32"}, "too-deep"),
        ({"length": "1/4"}, "too-short"),
        ({"width": "0.49", "clearance": 0}, "interference"),
    ],
)
@pytest.mark.parametrize("way", ["template", "direct"])
def test_grooves_that_cannot_be(tmp_path: Path, way: str, changes: Table, rule: str) -> None:
    assert f"[{rule}]" in the_stops(tmp_path, job_table(way=way, **changes))


def test_a_groove_deeper_than_a_third_is_a_caution(tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, job_table(depth="3/8")), "--json")
    assert run.status == 0
    assert ("caution", "deep") in [(each["level"], each["rule"]) for each in run.json["findings"]]


def test_a_bit_wider_than_the_groove(tmp_path: Path) -> None:
    heavy = kit_table(collets=None)
    narrow = {"width": "3/8", "receives": None, "bit": "straight 1/2", "clearance": 0}
    for way in ("direct", "template"):
        assert "straight 1/2" in the_stops(tmp_path, job_table(way=way, **narrow), heavy)


def test_bits_and_bushings_that_do_not_go_together(tmp_path: Path) -> None:
    passes = {"bit": "straight 1/2", "bushing": "bushing 1/2", "way": "template"}
    assert "bushing 1/2" in the_stops(tmp_path, job_table(**passes))
    long_collar = kit_table(sheet={"thickness": "1/4"})
    assert "collar" in the_stops(tmp_path, job_table(way="template"), long_collar)


def test_a_bushing_that_binds_is_a_caution(tmp_path: Path) -> None:
    tight = {"width": "0.501", "receives": None, "clearance": 0, "way": "template", "bit": "straight 1/2"}
    run = jigcam("check", write_job(tmp_path, job_table(**tight, bushing="bushing 3/4")), "--json")
    assert run.status == 0
    assert "bushing-binds" in [each["rule"] for each in run.json["findings"] if each["level"] == "caution"]


def test_a_bit_too_short_for_sheet_and_depth(tmp_path: Path) -> None:
    thick = kit_table(sheet={"thickness": 3})
    assert the_stops(tmp_path, job_table(way="template", bit="straight 1/2", bushing="bushing 3/4"), thick)
    shallow = kit_table()
    for bit in shallow["bits"]:
        bit["cutting_length"] = min(bit["cutting_length"], 0.2, key=str) if bit["kind"] == "straight" else "1/4"
    assert the_stops(tmp_path, job_table(), shallow)


@pytest.mark.parametrize("way", ["template", "direct"])
@pytest.mark.parametrize("travel", [[120, 100, 60], [600, 400, 10], [0.02, 0.02, 0.02]])
def test_larger_than_the_machine(tmp_path: Path, way: str, travel: list[float]) -> None:
    assert "travel" in the_stops(tmp_path, job_table("mm", way=way), kit_table("mm", travel=travel))


# ---- names


NAMES = [HOSTILE, "a\nG0 Z-50\n", "Schrank (groß) Türe", "棚板", "%", "; G0 Z-50", "a\x00b\x1b[2J", "'\"\\"]


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An output folder of a job with plain names."""
    folder = tmp_path_factory.mktemp("plain")
    assert jigcam("make", write_job(folder, job_table()), "-o", folder / "out").status == 0
    return folder / "out"


@pytest.mark.parametrize("name", NAMES)
def test_a_name_never_becomes_a_command(tmp_path: Path, plain: Path, name: str) -> None:
    kit = kit_table()
    kit["kit"] = name
    for bit in kit["bits"]:
        bit["name"] = f"{name} {bit['name']}"
    table = job_table(name=name, board=name, boards={"side": job_table()["boards"]["side"]})
    table["boards"][name] = table["boards"].pop("side")
    table["job"] = name
    run = jigcam("make", write_job(tmp_path / "hostile", table, kit), "-o", tmp_path / "hostile" / "out")
    assert run.status == 0, run.err
    assert commands(tmp_path / "hostile" / "out") == commands(plain)
    assert not {"\x00", "\x1b"} & set(run.out)


def commands(folder: Path) -> list[list[str]]:
    """Of every G-code file, its lines without comments."""
    manifest = json.loads((folder / "manifest.json").read_text("utf-8"))
    texts = [
        (folder / each["file"]).read_bytes().decode("ascii")
        for each in manifest["files"]
        if each["kind"] in ("gcode", "dry-run")
    ]
    out = []
    for text in texts:
        bare = []
        for line in text.splitlines():
            assert line.count("(") == line.count(")") <= 1
            assert "%" not in line.split("(")[0]
            bare.append(line.split("(")[0].strip())
        out.append([line for line in bare if line])
    return out
