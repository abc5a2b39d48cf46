"""The starter of a whole case: it closes, its sizes follow from its joints, and both shipped kits make it."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.shop import jigcam

from jigcam.kit import load_kit
from jigcam.piece import piece_of
from jigcam.piece.starter import starter_case
from jigcam.piece.together import together_findings
from jigcam.units import INCH, Unit
from jigcam.workshop.build import build_job
from jigcam.workshop.loading import parsed_job


@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_case_closes_with_sizes_that_follow_from_its_joints(units: Unit) -> None:
    job = parsed_job(starter_case(units), Path("case.toml"))
    piece = piece_of(job)
    assert [copy.copy.name for copy in piece.placed] == ["side", "side, opposite hand", "bottom", "top", "shelf"]
    assert piece.closing
    assert all(each.agrees for each in piece.closing)
    assert together_findings(job, piece) == ()
    side, top, shelf = (job.boards[name] for name in ("side", "bottom", "shelf"))
    groove = job.joint("shelf")
    # By hand: the sides' inside faces are two thicknesses nearer than the top is long, and the shelf enters both.
    assert shelf.length == pytest.approx(top.length - 2 * side.thickness + 2 * groove.depth)  # type: ignore[attr-defined]
    assert shelf.width < groove.length  # type: ignore[attr-defined]
    assert top.width == side.width
    assert shelf.length == pytest.approx(17.0 * INCH if units == "in" else 434.0)


# In inches with its own kit it is made from the README (tests/test_readme.py).
@pytest.mark.parametrize(("units", "shop"), [("mm", "metric-shop"), ("mm", "inch-shop"), ("in", "metric-shop")])
def test_both_shipped_kits_prove_the_case(units: Unit, shop: str) -> None:
    job = parsed_job(starter_case(units), Path("case.toml"))
    built = build_job(job, load_kit(shop))
    assert built.proofs
    assert not [finding for finding in built.findings if finding.level == "stop"]


def test_jigcam_start_case_says_to_look_at_the_piece_next(tmp_path: Path) -> None:
    file = tmp_path / "case.toml"
    run = jigcam("start", "case", "-o", file)
    assert run.err == f"wrote {file}; next: jigcam piece {file}\n"
    assert file.read_text("utf-8") == starter_case("in")
