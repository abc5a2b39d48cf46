"""From a job to pictures and cut list: every board stands where its joints put it, and comes off the way they leave."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import numpy as np
import pytest
from support.jobs import write_job
from support.pieces import CORNERS, SHELF, box
from support.shop import content, jigcam

from jigcam.job import Job
from jigcam.joints import load_job
from jigcam.piece.assembly import PartAssembly, assembly_of
from jigcam.piece.copies import piece_of
from jigcam.piece.scene import bodies_of, piece_drawings, taken_as_drawn
from jigcam.workshop.piece_account import PieceAccount
from jigcam.workshop.piece_shown import PieceShown

NAMES = ["side 1", "side 2", "end 1", "end 2", "shelf"]


@pytest.fixture(scope="module")
def score_box(tmp_path_factory: pytest.TempPathFactory) -> tuple[Job, tuple[PartAssembly, ...]]:
    job = load_job(write_job(tmp_path_factory.mktemp("box"), box()))
    return job, assembly_of(piece_of(job))


def test_every_board_is_seen_and_named_in_both_pictures(score_box: tuple[Job, tuple[PartAssembly, ...]]) -> None:
    job, parts = score_box
    drawings = piece_drawings(job, bodies_of(taken_as_drawn(job)), parts)
    assert list(drawings) == ["together", "apart"]
    for drawing in drawings.values():
        (view,) = drawing.views
        assert sorted(label.text for label in view.labels) == sorted(NAMES)
    # A shelf lies level, so the sides stand on end and their lower edges are in front.
    assert ("wide, deep, high", "220 mm x 90 mm x 300 mm") in drawings["together"].facts
    # Isometric: a box w by d by h is (w + d) cos 30° wide and (w + d) sin 30° + h high.
    x0, y0, x1, y1 = drawings["together"].views[0].bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((310 * np.cos(np.pi / 6), 310 * 0.5 + 300), abs=0.2)
    ways = [item for item in drawings["apart"].views[0].items if item.role == "parting"]
    assert len(ways) >= 4
    assert not any(item.role == "parting" for item in drawings["together"].views[0].items)


def test_boards_of_a_piece_are_counted_with_those_that_are_like_them(tmp_path: Path) -> None:
    table = box()
    table["boards"]["other side"] = {"like": "side"}
    job = load_job(write_job(tmp_path, table))
    cuts = PieceShown(PieceAccount.of(job)).cuts
    assert {line.board.name: line.count for line in cuts.lines} == {"side": 1, "end": 2, "shelf": 1, "other side": 1}
    lines = {line.board.name: [each.words for each in line.work.clampings] for line in cuts.lines}
    assert lines["side"] == lines["other side"]
    assert lines["side"][0] == "shelf (groove), inside face"
    assert lines["shelf"] == []
    drawings = piece_drawings(job, bodies_of(taken_as_drawn(job)), assembly_of(piece_of(job)))
    assert "other side" in [label.text for label in drawings["together"].views[0].labels]


def test_boards_for_the_opposite_hand_are_told_as_such(tmp_path: Path) -> None:
    job = load_job(write_job(tmp_path, box(joints=[{**SHELF, "opposite_hand": True}])))
    side, *_ = PieceShown(PieceAccount.of(job)).cuts.lines
    assert (side.count, side.opposite) == (2, 1)
    drawing = piece_drawings(job, bodies_of(taken_as_drawn(job)), assembly_of(piece_of(job)))["together"]
    # Drawn as its mirror image, the other side has its groove level with the first one's, so that the shelf lies level.
    assert [label.text for label in drawing.views[0].labels] == ["side", "side, opposite hand", "shelf"]


def test_pieces_that_do_not_meet_stand_beside_each_other(tmp_path: Path) -> None:
    table = box()
    table["boards"] |= {"foot": dict(table["boards"]["side"]), "rail": dict(table["boards"]["end"])}
    table["joints"] = [SHELF, CORNERS, {**CORNERS, "name": "foot", "tails": "foot", "pins": "rail"}]
    job = load_job(write_job(tmp_path, table))
    drawings = piece_drawings(job, bodies_of(taken_as_drawn(job)), assembly_of(piece_of(job)))
    assert [len(drawing.views) for drawing in drawings.values()] == [2, 2]


def test_make_writes_the_piece_beside_its_joints(tmp_path: Path) -> None:
    run = jigcam("make", write_job(tmp_path, box()), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    files = content(tmp_path / "out")
    own = {name.removeprefix("piece/") for name in files if name.startswith("piece/")}
    pictures = {f"{stem}.{kind}" for stem in ("together", "apart") for kind in ("svg", "dxf")}
    assert own == {"assembly.txt", "cut-list.txt", "cut-list.csv", "preview.txt", *pictures}
    entries = {each["file"]: each for each in json.loads(files["manifest.json"])["files"]}
    assert entries["piece/cut-list.csv"]["kind"] == "sheet"
    assert (entries["piece/together.svg"]["joint"], entries["piece/together.svg"]["joints"]) == (
        "",
        ["shelf", "corners"],
    )
    rows = list(csv.DictReader(files["piece/cut-list.csv"].decode().splitlines()))
    assert {row["board"]: int(row["count"]) for row in rows} == {"side": 2, "end": 2, "shelf": 1}
    assert "what to buy" in run.out
    assert run.out.index("piece/cut-list.txt") < run.out.index("shelf/setup-sheet.txt")


def test_small_jobs_are_not_cluttered(tmp_path: Path) -> None:
    job = write_job(tmp_path, box())
    assert jigcam("make", job, "-o", tmp_path / "one", "--joint", "shelf").status == 0
    assert not any(name.startswith("piece/") for name in content(tmp_path / "one"))
    corner = {**CORNERS, "tails_end": "right", "pins_end": "left"}
    two = write_job(tmp_path / "job", box(joints=[{**SHELF, "receives": None, "width": 9.1}, corner]))
    assert jigcam("make", two, "-o", tmp_path / "two").status == 0
    assert not any(name.startswith("piece/") for name in content(tmp_path / "two"))


def test_a_joint_called_piece_keeps_its_folder(tmp_path: Path) -> None:
    job = write_job(tmp_path, box(joints=[{**SHELF, "name": "Piece"}, CORNERS]))
    assert jigcam("make", job, "-o", tmp_path / "out").status == 0
    files = content(tmp_path / "out")
    assert "piece/setup-sheet.txt" in files
    assert "piece-whole/cut-list.txt" in files


def test_jigcam_piece_shows_the_pictures_and_the_list_and_writes_it(tmp_path: Path) -> None:
    job, table = write_job(tmp_path, box()), tmp_path / "list.csv"
    run = jigcam("piece", job, "--csv", table)
    assert run.status == 0, run.err
    places = [run.out.index(each) for each in ("put together", "pulled apart", "Cut list, in mm", "corners (through")]
    assert places == sorted(places)
    assert max(map(len, run.out.splitlines())) <= 80
    assert [row["board"] for row in csv.DictReader(table.read_text("utf-8").splitlines())] == ["side", "end", "shelf"]
    assert f"wrote {table}" in run.err
    again = jigcam("piece", job, "--csv", table)
    assert again.status == 2
    assert "the cut list could not be written" in again.err
    told = jigcam("piece", job, "--json").json
    assert [(each["name"], each["count"], each["rough_thickness_mm"]) for each in told["cut_list"]] == [
        ("side", 2, 20.0),
        ("end", 2, 20.0),
        ("shelf", 1, 20.0),
    ]


def test_no_list_is_written_of_boards_that_do_not_go_together(tmp_path: Path) -> None:
    table = box()
    table["boards"]["shelf"]["length"] = 207  # 3 mm too long between the bottoms of its grooves
    run = jigcam("piece", write_job(tmp_path, table), "--csv", tmp_path / "list.csv")
    assert run.status == 1
    assert "was not written" in run.err
    assert not (tmp_path / "list.csv").exists()
