"""The coupon's files, proved like any other, and those of bow-tie keys."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from support.grooves import groove_job

from jigcam.bench.coupon import build_coupon
from jigcam.bench.cut import bench_cuts, the_cut
from jigcam.errors import Faults, InputError, Refused
from jigcam.job import kit_for
from jigcam.joints import kind as kind_named
from jigcam.joints import load_job
from jigcam.kit import load_kit
from jigcam.making.block_text import text_lines
from jigcam.workshop.build import build_job
from jigcam.workshop.contents import folder_content


def test_a_coupon_is_proved_like_any_file() -> None:
    job, kit = groove_job(shelf=12.2, clearance=0.35), load_kit("metric-shop")
    built = build_coupon(the_cut(job), job, kit, steps=1)
    (proof,) = built.proofs
    assert set(proof.files) == {file.file for file in built.gcode_files}
    assert proof.gouge <= 0.005
    assert proof.left <= 0.010
    assert [step["groove_mm"] for step in proof.outcome.fit_dict()["steps"]] == [12.45, 12.55, 12.65]
    assert [step["opening_mm"] - step["groove_mm"] for step in proof.outcome.fit_dict()["steps"]] == pytest.approx(
        [5.0] * 3
    )
    files, manifest = folder_content(built)
    assert json.loads(files["manifest.json"])["proof"][0]["fit"]["wanted"] == 2
    assert {entry["kind"] for entry in manifest["files"]} == {"gcode", "dry-run", "preview", "sheet", "drawing"}
    sheet = files["tilted-shelf-test/setup-sheet.txt"].decode()
    assert "jigcam bushing adjust" in sheet
    assert "MY-COPY-OF-THE-KIT.toml" in sheet


@pytest.mark.parametrize("e", [None, 0.05])
def test_a_coupon_tells_what_axes_apart_do_to_its_grooves(e: float | None) -> None:
    """Held one way the wanted groove of 12.35 mm shifts by e; turned, it is within ± 2e of it (derived)."""
    kit = load_kit("metric-shop")
    kit = kit.model_copy(update={"router": kit.router.model_copy(update={"eccentricity": e})})
    job = groove_job()
    built = build_coupon(the_cut(job), job, kit, steps=1)
    fit = built.proofs[0].outcome.fit_dict()
    assert any("out of line, as measured" in line for line in text_lines(built.joints[0].plan.bench_words(2))) is (
        e is not None
    )
    if e is None:
        assert "axes_apart" not in fit
        return
    apart = fit["axes_apart"]
    assert apart["eccentricity_mm"] == apart["held"]["shifted_mm"] == e
    assert apart["turned"]["narrowest_mm"] == pytest.approx(12.35 - 2.0 * e, abs=2e-3)
    assert apart["turned"]["widest_mm"] == pytest.approx(12.35 + 2.0 * e, abs=2e-3)


@pytest.mark.parametrize(("steps", "step", "where"), [(0, 0.1, "--steps"), (99, 0.1, "--steps"), (2, 3.0, "--step")])
def test_steps_that_cannot_be(steps: int, step: float, where: str) -> None:
    job, kit = groove_job(), load_kit("metric-shop")
    with pytest.raises(InputError) as caught:
        build_coupon(the_cut(job), job, kit, steps=steps, step=step)
    assert caught.value.where == where


def test_which_cut() -> None:
    job = groove_job()
    two = job.model_copy(update={"joints": (*job.joints, job.joints[0].model_copy(update={"name": "other"}))})
    with pytest.raises(InputError, match="several"):
        the_cut(two)
    assert the_cut(two, "other").entry.name == "other"
    with pytest.raises(InputError, match="no joint"):
        the_cut(two, "othr")
    deep = job.model_copy(update={"joints": (job.joints[0].model_copy(update={"depth": 23.0}),)})
    with pytest.raises(Refused):
        list(bench_cuts(deep))


def test_the_bench_wants_a_groove(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    path.write_text(kind_named("key").starter("mm"), "utf-8")
    with pytest.raises(InputError, match="wants a groove"):
        list(bench_cuts(load_job(path)))


@pytest.mark.parametrize("units", ["in", "mm"])
def test_bow_tie_keys_from_the_starter(tmp_path: Path, units: str) -> None:
    path = tmp_path / "keys.toml"
    path.write_text(kind_named("key").starter(units), "utf-8")
    job = load_job(path)
    built = build_job(job, load_kit(job.kit or ""))
    (proof,) = built.proofs
    assert proof.gouge <= 0.005
    assert proof.left <= 0.010
    assert proof.outcome.fit_dict()["gap_mm"] == pytest.approx(0.0, abs=1e-6)
    assert abs(proof.outcome.fit_dict()["gap_least_mm"]) < 0.01
    assert abs(proof.outcome.fit_dict()["gap_most_mm"]) < 0.01
    sheet = folder_content(built)[0]["bow-ties/setup-sheet.txt"].decode()
    assert "Cut the keys" in sheet
    assert "grain" in sheet


def test_a_plug_that_the_kit_lacks_is_named_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    path.write_text(kind_named("key").starter("mm") + 'plug = "bushing 25"\n', "utf-8")
    with pytest.raises(Faults) as caught:
        kit_for(load_job(path))
    assert "joints[1].plug" in str(caught.value)
    assert "bushing 24" in str(caught.value)
