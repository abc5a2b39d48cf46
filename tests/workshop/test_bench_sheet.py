"""The bench asked about joints that share a sheet: the pair of the sheet, and no longer that of each joint alone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from support.jobs import Table, job_table, write_job
from support.results import shape_faults
from support.shop import jigcam

from jigcam.bench.coupon import build_coupon
from jigcam.bench.cut import chosen_verdict, the_cut
from jigcam.bench.sheet import sheet_pairs
from jigcam.bench.tolerance import joint_spread
from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.making.setup_sheet import setup_sheet
from jigcam.workshop.build import plan_job


def two(template: str | None = "both", width: float = 8.2, **keys: Any) -> Table:
    """The metric side with a shelf's groove of 12.35 mm, and one of another width beside it."""
    table = job_table("mm", way="template", template=template, length=120, from_=[100, 38], angle=90, **keys)
    (first,) = table["joints"]
    strip = {**first, "name": "back strip", "from": [160, 38], "receives": None, "width": width, "clearance": 0.1}
    strip = {key: value for key, value in strip.items() if value is not None}
    return {**table, "joints": [first, strip]}


def loaded(folder: Path, table: Table) -> Any:
    job = load_job(write_job(folder, table))
    return job, kit_for(job)


def test_the_coupon_of_a_joint_is_cut_by_the_pair_of_its_sheet(tmp_path: Path) -> None:
    """Alone the shelf would take a bit of 12 mm, which does not go into the strip's opening on the same sheet."""
    job, kit = loaded(tmp_path, two())
    alone, _ = loaded(tmp_path / "alone", two(None))
    shelf = the_cut(job, "tilted shelf")
    by_itself = chosen_verdict(the_cut(alone, "tilted shelf"), kit, job.voice).pair
    (made,) = plan_job(job, kit)
    guides = made.files[-1].setup.facts["guides"]
    its = guides["tilted shelf"]
    assert by_itself.bit.name == "straight 12"
    assert (its["bit"]["name"], its["bushing"]["name"]) == ("straight 8", "bushing 17")
    assert str(chosen_verdict(shelf, kit, job.voice).pair) == "straight 8 in bushing 17"
    assert str(joint_spread(shelf, kit, cuts=100).pair) == "straight 8 in bushing 17"
    built = build_coupon(shelf, job, kit, steps=1)
    words = " ".join("\n".join(setup_sheet(built.joints[0], built.proofs[0], built)).split())
    assert "straight 8 in bushing 17 is the pair of the sheet both: what it shows holds for back strip too." in words


def test_a_joint_with_a_pair_of_its_own_on_the_sheet_is_told_so(tmp_path: Path) -> None:
    table = two()
    table["joints"][0]["bit"] = "straight 12"
    job, kit = loaded(tmp_path, table)
    built = build_coupon(the_cut(job, "tilted shelf"), job, kit, steps=1)
    words = " ".join("\n".join(setup_sheet(built.joints[0], built.proofs[0], built)).split())
    assert "On the sheet both it is the pair of tilted shelf alone: the others have theirs." in words


def test_pairs_are_ranked_for_all_openings_of_a_sheet(tmp_path: Path) -> None:
    job, kit = loaded(tmp_path, two())
    found = sheet_pairs(job, "both", kit)
    assert found.joints == ("tilted shelf", "back strip")
    good = [str(each.pair) for each in found.pairs if each.sheet is not None]
    assert good[0] == "straight 8 in bushing 17"
    assert not any("straight 12" in pair or "straight 10" in pair for pair in good)
    assert found.chosen is not None
    first = found.pairs[0]
    # 60 mm between the centrelines, less half of both openings: 60 - (12.35 + 8.2) / 2 - (17 - 8).
    assert first.wall == pytest.approx(60.0 - (12.35 + 8.2) / 2.0 - 9.0, abs=0.01)
    (wide,) = (each for each in found.pairs if str(each.pair) == "straight 12 in bushing 17")
    assert "8.2 mm" in wide.reasons[0]


def test_pairs_says_the_sheet_and_what_makes_it(tmp_path: Path) -> None:
    run = jigcam("bushing", "pairs", write_job(tmp_path, two()), "--json")
    assert run.status == 0, run.err
    assert shape_faults("bushing-pairs", run.json) == []
    (sheet,) = run.json["sheets"]
    assert sheet["chosen"]["back strip"] == {"bit": "straight 8", "bushing": "bushing 17"}
    assert sheet["chosen"]["tilted shelf"] == sheet["chosen"]["back strip"]
    said = " ".join(jigcam("bushing", "pairs", tmp_path / "job.toml", "--joint", "back strip").out.split())
    assert "back strip on the sheet both, 8.2 mm wide" in said
    assert "the sheet both, for tilted shelf, back strip: one pair for all of its openings" in said
    assert "made so: straight 8 in bushing 17 makes all its openings" in said
    assert jigcam("bushing", "pairs", write_job(tmp_path / "alone", two(None)), "--json").json["sheets"] == []


def test_a_sheet_of_several_pairs_and_one_that_cannot_be_are_told(tmp_path: Path) -> None:
    table = two()
    table["joints"][0]["bit"] = "straight 12"
    job, kit = loaded(tmp_path, table)
    found = sheet_pairs(job, "both", kit)
    assert all(each.sheet is None for each in found.pairs)
    says = " ".join(" ".join(found.lines(job.voice)).split())
    assert "no one pair of the kit makes all of them" in says
    assert "made so: no one pair of the kit is right for all its openings" in says
    near = two(width=12.35)
    near["joints"][1]["from"] = [115, 38]
    job, kit = loaded(tmp_path / "near", near)
    says = " ".join(" ".join(sheet_pairs(job, "both", kit).lines(job.voice)).split())
    assert "the sheet cannot be made: the openings of tilted shelf and back strip" in says
