"""The schemas, held to their dialect by a general-purpose validator: they take every sound file and refuse slips."""

from __future__ import annotations

import copy
import json
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from support.every_kind import small
from support.shop import jigcam

from jigcam.joints import kind, kind_names
from jigcam.kit import kit_names, profiles_folder
from jigcam.workshop.schema import job_schema, kit_schema

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").rglob("*.toml"))


def plain(value: Any) -> Any:
    """TOML as JSON has it: dates are text."""
    return json.loads(json.dumps(value, default=str))


def faults(schema: dict[str, Any], value: Any) -> list[str]:
    return [each.message for each in jsonschema.Draft202012Validator(schema).iter_errors(plain(value))]


@pytest.mark.parametrize("schema", [job_schema(), kit_schema()], ids=["job", "kit"])
def test_a_schema_is_one_of_its_dialect(schema: dict[str, Any]) -> None:
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert "x-unit" not in json.dumps(schema)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_examples_pass(path: Path) -> None:
    assert faults(job_schema(), tomllib.loads(path.read_text("utf-8"))) == []


@pytest.mark.parametrize("name", kind_names())
@pytest.mark.parametrize("units", ["in", "mm"])
def test_starters_pass(name: str, units: str) -> None:
    assert faults(job_schema(), tomllib.loads(kind(name).starter(units))) == []


def test_boards_may_be_like_others_and_sizes_to_fit() -> None:
    job = plain(small("rabbet"))
    name = next(iter(job["boards"]))
    job["boards"]["other"] = {"like": name}
    job["boards"]["third"] = {"length": "to fit", "width": 80, "thickness": 12, "count": 2}
    assert faults(job_schema(), job) == []
    job["boards"]["fourth"] = {"length": 20, "width": 80}
    assert len(faults(job_schema(), job)) == 1


@pytest.mark.parametrize("name", kit_names())
def test_shipped_kits_pass(name: str) -> None:
    assert faults(kit_schema(), tomllib.loads((profiles_folder() / f"{name}.toml").read_text("utf-8"))) == []


@pytest.mark.parametrize("name", kind_names())
def test_a_slip_in_a_joint_is_refused(name: str) -> None:
    job = plain(small(name))
    assert faults(job_schema(), job) == []
    for key, value in (("lenght", 3), ("way", "by magic"), ("clearance", [1])):
        changed = copy.deepcopy(job)
        changed["joints"][0][key] = value
        assert faults(job_schema(), changed), key


def test_what_is_missing_or_no_kind_is_refused() -> None:
    job = plain(small("groove"))
    for change in (
        lambda each: each.pop("units"),
        lambda each: each["joints"][0].pop("kind"),
        lambda each: each["joints"][0].update(kind="groov"),
        lambda each: each.update(joints=[]),
        lambda each: next(iter(each["boards"].values())).pop("length"),
        lambda each: next(iter(each["boards"].values())).update(name="side"),
    ):
        changed = copy.deepcopy(job)
        change(changed)
        assert faults(job_schema(), changed)


def test_defaults_are_said_with_their_unit() -> None:
    keys = job_schema()["$defs"]["ThroughDovetailEntry"]["properties"]
    assert keys["clearance"]["default"] == "0.05 mm"
    assert "default" not in keys["slope"]
    assert keys["slope"]["type"] == ["number", "string"]


@pytest.mark.parametrize(("file", "schema"), [("job", job_schema), ("kit", kit_schema)])
def test_the_command_prints_it(file: str, schema: Any) -> None:
    run = jigcam("schema", file)
    assert (run.status, json.loads(run.out)) == (0, schema())
    assert jigcam("schema", file, "--json").out == run.out
    assert jigcam("schema", "bench").status == 2


@pytest.mark.parametrize("what", [*kind_names(), "kit"])
def test_a_starter_names_its_schema_before_its_first_key(what: str) -> None:
    """Editors look for the line among the comments that open the file; the one above it says what writes the schema."""
    lines = jigcam("start", what).out.splitlines()
    head = lines[: next(number for number, line in enumerate(lines) if line and not line.startswith("#"))]
    named = [line.removeprefix("#:schema ./") for line in head if line.startswith("#:schema ")]
    file = "kit" if what == "kit" else "job"
    assert named == [f"{file}.schema.json"]
    assert f"jigcam schema {file} > {named[0]}" in "\n".join(head)
    assert max(map(len, lines)) <= 120
