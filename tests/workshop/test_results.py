"""What `--json` prints has its documented shape: no key more, none less. Manifests of every kind: `test_golden`."""

from __future__ import annotations

import shlex
from pathlib import Path

import jsonschema
import pytest
from support.every_kind import small
from support.jobs import write_job
from support.results import shape_faults
from support.shop import jigcam

from jigcam.cli import COMMANDS
from jigcam.cli.bushing import COMMANDS as BENCH
from jigcam.joints import kind
from jigcam.kit import profiles_folder
from jigcam.workshop.results import RESULTS, results_schema

ASKED = {
    "check": "check job.toml",
    "view": "view job.toml",
    "piece": "piece groove.toml",
    "kits": "kit",
    "kit": "kit inch-shop",
    "kit-check": "kit hand.toml --check",
    "starters": "start",
    "start": "start rabbet",
    "movement": "movement --wood 'black cherry' --width 10in",
    "bushing-offset": "bushing offset --bit 1/2in --bushing 3/4in --cut 4in",
    "bushing-pairs": "bushing pairs --kit inch-shop --cut 1/2in --depth 1/4in",
    "bushing-tolerance": "bushing tolerance groove.toml",
    "bushing-test": "bushing test groove.toml -o coupon",
    "bushing-adjust": "bushing adjust kit.toml --pair 'straight 1/2,bushing 3/4' --opening 0.760in --measured 0.512in",
}
"""A command line for each result that needs no more than the folder of the fixture."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("shop")
    write_job(folder, small("rabbet"))
    (folder / "groove.toml").write_text(kind("groove").starter("in"))
    (folder / "hand.toml").write_text('kit = "Hand tools"\nunits = "in"\n')
    (folder / "kit.toml").write_bytes((profiles_folder() / "inch-shop.toml").read_bytes())
    return folder


def test_every_command_has_its_shape() -> None:
    told = {name for name in COMMANDS if name not in ("bushing", "schema")} | {f"bushing-{name}" for name in BENCH}
    assert told | {"kits", "kit-check", "starters", "refused", "faults"} == set(RESULTS)


def test_the_schema_is_one_of_its_dialect() -> None:
    schema = jigcam("schema", "results").json
    assert schema == results_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    assert not jsonschema.Draft202012Validator(schema).is_valid({"gouge": 0.0})


@pytest.mark.parametrize("name", ASKED)
def test_a_result_has_its_shape(name: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(folder)
    run = jigcam(*shlex.split(ASKED[name]), "--json")
    assert run.status == 0, run.err
    assert shape_faults(name, run.json) == []


def test_a_file_proved_has_its_shape(folder: Path) -> None:
    made = jigcam("make", folder / "job.toml", "-o", folder / "out", "--json")
    assert shape_faults("make", made.json) == []
    file = next(each["file"] for each in made.json["files"] if each["kind"] == "gcode")
    assert (
        shape_faults("prove", jigcam("prove", folder / "out" / file, "--job", folder / "job.toml", "--json").json) == []
    )


@pytest.mark.parametrize("tail_way", ["upright", "router-table"])
def test_settings_of_the_next_test_piece_have_their_shape(tail_way: str, tmp_path: Path) -> None:
    job = tmp_path / "sliding.toml"
    job.write_text(kind("sliding-dovetail").starter("in") + f'\ntail_way = "{tail_way}"\n')
    assert shape_faults("next", jigcam("next", job, "--gap", "0.2mm", "--json").json) == []


def test_what_is_refused_has_its_shape(tmp_path: Path) -> None:
    table = small("rabbet")
    table = {**table, "joints": [{**table["joints"][0], "depth": 500.0}]}
    run = jigcam("check", write_job(tmp_path, table), "--json")
    assert run.status == 1
    assert shape_faults("refused", run.json) == []


def test_faults_have_their_shape(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("job = 3\n[[joints]]\nkind = 'grove'\n")
    run = jigcam("check", tmp_path / "job.toml", "--json")
    assert run.status == 2
    assert len(run.json["errors"]) > 1
    assert shape_faults("faults", run.json) == []
