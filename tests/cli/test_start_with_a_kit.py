"""A job that is begun with one's own kit names it, from where the job lies."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from support.shop import jigcam

from jigcam.kit.starter import starter_kit


@pytest.mark.parametrize("kind", ["groove", "case"])
def test_the_job_names_the_kit_from_its_own_folder(kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "jobs").mkdir()
    Path("my kit.toml").write_text(starter_kit("mm"), "utf-8")
    assert jigcam("start", kind, "--kit", "my kit.toml", "-o", "jobs/mine.toml").status == 0
    job = tomllib.loads(Path("jobs/mine.toml").read_text("utf-8"))
    assert job["kit"] == "../my kit.toml"
    assert job["units"] == "mm", "as the kit's, where nothing else is asked for"
    assert kind == "case" or "checked with the My shop" in jigcam("check", "jobs/mine.toml").out


def test_a_shipped_kit_is_named_as_it_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    text = jigcam("start", "mortise", "--kit", "metric-shop", "--units", "in").out
    assert tomllib.loads(text)["kit"] == "metric-shop"
    assert tomllib.loads(text)["units"] == "in"


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("groove", "--kit", "none.toml"), "No such file"),
        (("kit", "--kit", "inch-shop"), "--kit goes with a job"),
        (("--kit", "inch-shop"), "--kit goes with a job"),
    ],
)
def test_a_kit_that_cannot_be_named_writes_nothing(
    arguments: tuple[str, ...], says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    run = jigcam("start", *arguments, *([] if arguments[0].startswith("-") else ["-o", "mine.toml"]))
    assert run.status == 2
    assert says in " ".join(run.err.split())
    assert not Path("mine.toml").exists()
