"""What the seasons do to dovetailed corners and to bow-tie keys, against Table 13-5 of the Wood Handbook, by hand."""

from __future__ import annotations

from dataclasses import replace
from math import pi
from pathlib import Path

import pytest
from support.dovetails import SIDE, TOP, dovetail_job
from support.dovetails import made as corner
from support.keys import keys

from jigcam.dovetails.joint import Dovetail
from jigcam.dovetails.season import season_findings as corner_season
from jigcam.findings import Finding
from jigcam.job import Board, Job, kit_for
from jigcam.joints import design, kind, load_job
from jigcam.joints.key.season import season_findings as key_season
from jigcam.kit import Climate, load_kit
from jigcam.kit.climate import Air

EXAMPLES = Path(__file__).parents[2] / "examples" / "music-cabinet"
KIT = load_kit("metric-shop")
YEAR = Climate(dry=Air(moisture=6.0), shop=Air(moisture=8.0), damp=Air(moisture=11.0))


def at_corner(tails: str | None, pins: str | None, wood: str = "black cherry") -> list[Finding]:
    """A corner 300 mm wide. tails, pins: how the boards are sawn."""
    side = {**SIDE, "width": 300.0, "wood": wood, "sawn": tails}
    top = {**TOP, "width": 300.0, "wood": "black cherry", "sawn": pins}
    job = dovetail_job(side=side, top=top, count=6).model_copy(update={"climate": YEAR})
    return corner_season(corner(job), job, KIT)


def test_a_corner_of_boards_sawn_unlike_is_told_how_far_their_edges_stand_off() -> None:
    (finding,) = at_corner("quarter", "flat")
    assert (finding.level, finding.rule, finding.where) == ("caution", "season-edges", "corner")
    # 300·(0.00248 − 0.00126) = 0.366 mm a point
    assert "when dry (6.0 % moisture) the edges of side would stand 0.73 mm in all beyond those of top" in finding.says
    assert "when damp (11.0 % moisture) the edges of side would stand 1.1 mm in all within those of top" in finding.says


def test_boards_of_a_corner_that_move_alike_need_no_word() -> None:
    assert not at_corner("flat", "flat")
    assert not at_corner(None, "flat"), "as nothing says otherwise, a board is flat-sawn"
    assert at_corner("flat", "flat", "American beech"), "another wood moves otherwise"


@pytest.mark.parametrize("name", ["carcase", "carcase-metric", "carcase-measured", "in", "mm"])
def test_the_corners_that_are_shipped_stay_flush(name: str, tmp_path: Path) -> None:
    path = EXAMPLES / f"{name}.toml"
    if name in ("in", "mm"):
        path = tmp_path / "job.toml"
        path.write_text(kind("through-dovetail").starter(name), "utf-8")
    job = load_job(path)
    joint = design(job.joints[0], job)
    assert isinstance(joint, Dovetail)
    assert not corner_season(joint, job, kit_for(job))


def with_key(angle: float, wood: str | None = "black cherry") -> list[Finding]:
    """A key 60 mm long in a flat-sawn board."""
    board = Board(name="top", length=710.0, width=300.0, thickness=22.0, wood=wood, sawn="flat")
    job = Job(title="Top", units="mm", boards={"top": board}, joints=(), climate=YEAR)
    return key_season(replace(keys(), board=board, angle=angle), job, KIT)


def test_a_key_is_told_what_it_holds() -> None:
    (finding,) = with_key(pi / 2)
    assert (finding.level, finding.rule) == ("note", "season-key")
    # 60·0.00248 = 0.149 mm a point
    assert "shrinks 0.3 mm over the length of a key when dry" in finding.says
    assert "grows 0.45 mm when damp" in finding.says


def test_a_key_along_the_grain_or_in_an_unknown_wood_says_nothing() -> None:
    assert not with_key(0.0)
    assert not with_key(pi / 2, None)
