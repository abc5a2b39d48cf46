"""Half-blind dovetails: tails and sockets as long as the front less its lap, and boards as their files cut them."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from shapely import LineString, Polygon, union_all
from support.jobs import write_job
from support.kinds.half_blind_dovetail import drawer_job
from support.shop import jigcam
from support.straight_cuts import gone, straight_moves

from jigcam.dovetails import Dovetail
from jigcam.job import kit_for
from jigcam.joints import design, load_job
from jigcam.making.block_text import text_lines
from jigcam.workshop.build import build_job


def designed(folder: Path, **keys: Any) -> Dovetail:
    job = load_job(write_job(folder, drawer_job(**keys)))
    made = design(job.joints[0], job)
    assert isinstance(made, Dovetail)
    return made


def test_the_tails_are_as_long_as_the_front_less_its_lap(tmp_path: Path) -> None:
    """A front of 3/4 in gauged at 9/16 leaves 3/16 in (a furniture magazine's book on joinery, 2007)."""
    it = designed(tmp_path, front=0.75 * 25.4, lap=3 / 16 * 25.4)
    assert it.layout.length == pytest.approx(9 / 16 * 25.4)
    assert not [each for each in it.findings if each.rule == "dovetail-lap"]


def test_the_sockets_leave_the_lap_at_the_outside_face(tmp_path: Path) -> None:
    it = designed(tmp_path, lap=4.0)
    (sockets,) = (each for each in it.taken() if each.board.name == "front")
    assert sockets.section(3.9).is_empty
    assert not sockets.section(4.1).is_empty
    assert not sockets.section(18.9).is_empty
    assert sockets.section(4.1).area > sockets.section(18.9).area, "tails are widest at their ends"


@pytest.mark.parametrize(
    ("keys", "levels"),
    [
        ({"lap": 3.0}, []),
        ({"lap": 2.3}, ["caution"]),
        ({"lap": 4.8}, ["caution"]),
        ({"lap": 1.4}, ["stop"]),
        ({"lap": 19.0}, ["stop"]),
    ],
)
def test_a_lap_is_judged(keys: dict[str, float], levels: list[str], tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, drawer_job(**keys)), "--json")
    assert [each["level"] for each in run.json["findings"] if each["rule"] == "dovetail-lap"] == levels


def test_no_template_and_no_lap_are_refused(tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, drawer_job(way="template")))
    assert run.status == 2
    assert "a half-blind dovetail is not cut by a template" in re.sub(r"\s+", " ", run.err)
    table = drawer_job()
    del table["joints"][0]["lap"]
    run = jigcam("check", write_job(tmp_path / "2", table))
    assert run.status == 2
    assert "lap" in run.err


def test_pins_flat_are_refused_with_the_way_that_works(tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, drawer_job(pins_setup="flat")), "--json")
    stops = " ".join(each["says"] for each in run.json["findings"] if each["level"] == "stop")
    assert run.status == 1
    assert "its sockets stop at the lap" in stops
    assert '"upright" would' in stops


@pytest.mark.parametrize(("tails_end", "pins_end"), [("right", "left"), ("left", "right")])
@pytest.mark.parametrize("corners", ["chisel", "relieved"])
def test_the_sockets_are_where_the_tails_are(tails_end: str, pins_end: str, corners: str, tmp_path: Path) -> None:
    """By the contract's frames: upright, x = y with the left end up and width − y with the right, y from the outside
    face inward. Places in the middle of each tail are gone from the front, places in pins and lap stand."""
    keys = {"tails_end": tails_end, "pins_end": pins_end, "corners": corners, "count": 2, "clearance": 0.1}
    table = drawer_job(width=90.0, tails_setup="flat", **keys)
    run = jigcam("make", write_job(tmp_path, table), "-o", tmp_path / "out", "--json")
    assert run.status == 0, run.err
    (entry,) = (each for each in run.json["files"] if each["kind"] == "gcode" and each["board"] == "front")
    moves = straight_moves((tmp_path / "out" / entry["file"]).read_text("ascii"))
    radius = entry["bit"]["diameter"] / 2
    long, tail = 15.0, (90.0 - 9.0 - 28.0) / 2  # the front of 19 less its lap of 4; what pins leave of the width

    def wood(s: float, deep: float, down: float) -> bool:
        x = s if pins_end == "left" else 90.0 - s
        return not gone(moves, radius, np.array([x, deep, -down]))

    for start in (14.0, 14.0 + tail + 9.0):
        for u in (0.02, 5.0, long - 0.02):  # from the end of the tail inward; the depth is u + lap
            narrowed = u * math.tan(math.atan(1 / 8))
            low, high = start + narrowed, start + tail - narrowed
            near_corner = u < 1.6 * radius
            for down in (0.3, 6.0, 11.9):
                assert not wood((low + high) / 2, 4.0 + u, down)
                assert wood(low - 0.15, 4.0 + u, down) or (near_corner and corners == "relieved")
                assert wood(high + 0.15, 4.0 + u, down) or (near_corner and corners == "relieved")
                if not near_corner:
                    assert not wood(low - 0.05, 4.0 + u, down), "clearance is taken from the pins"
            assert wood((low + high) / 2, 4.0 + u, 12.02), "no deeper than the side is thick"
        if corners == "chisel":
            assert all(wood(s, 3.98, 1.0) for s in np.linspace(start - 3, start + tail + 3, 40)), "the lap is whole"
    said = [each["says"] for each in run.json["findings"] if each["rule"] == "corners-left"]
    assert any("front, " in each and "4 corners of radius 5" in each for each in said) == (corners == "chisel")


def test_the_fit_is_as_drawn_at_flanks_shoulders_and_lap(tmp_path: Path) -> None:
    job = load_job(write_job(tmp_path, drawer_job(clearance=0.1, tails_setup="flat")))
    (joint,) = build_job(job, kit_for(job)).joints
    fit = joint.plan.judged(joint.files, {file.file: file.text for file in joint.files}).fit_dict()
    kinds = {each["kind"] for corner in fit["corners"] for each in corner["contacts"]}
    assert kinds == {"flank", "baseline", "shoulder", "lap"}
    for corner in fit["corners"]:
        for each in corner["contacts"]:
            assert each["least_mm"] == pytest.approx(each["drawn_mm"], abs=0.02), each["contact"]
            assert each["most_mm"] == pytest.approx(each["drawn_mm"], abs=0.02), each["contact"]


def test_by_hand_the_lap_line_and_the_gauge_say_the_same(tmp_path: Path) -> None:
    run = jigcam("make", write_job(tmp_path, drawer_job(way="hand")), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    sheet = re.sub(r"\s+", " ", (tmp_path / "out" / "drawer" / "setup-sheet.txt").read_text())
    assert "With a gauge set to 15 mm, the thickness of front less the lap" in sheet
    assert "from its inside face: 4 mm of lap stay beyond it" in sheet
    assert "Saw aslant" in sheet


def test_tails_may_be_rounded_to_match_the_sockets(tmp_path: Path) -> None:
    """Done as the sheet says, the tail goes into the socket that the file cuts: its rounded end is within it."""
    run = jigcam(
        "make", write_job(tmp_path, drawer_job(corners="rounded", clearance=0.0)), "-o", tmp_path / "out", "--json"
    )
    assert run.status == 0, run.err
    sheet = re.sub(r"\s+", " ", (tmp_path / "out" / "drawer" / "setup-sheet.txt").read_text())
    said = re.search(r"corners of the sockets at the lap have a radius of ([\d.]+) mm", sheet)
    assert said, sheet
    (entry,) = (each for each in run.json["files"] if each["kind"] == "gcode" and each["board"] == "front")
    radius = entry["bit"]["diameter"] / 2
    assert float(said[1]) == radius
    moves = straight_moves((tmp_path / "out" / entry["file"]).read_text("ascii"))
    deep = [LineString([a[:2], b[:2]]) for a, b in moves if min(a[2], b[2]) < -11.9 and np.hypot(*(b - a)[:2]) > 0]
    socket = union_all([line.buffer(radius, quad_segs=256) for line in deep])
    low, high = 14.0, 46.0
    bit = next(each for each in run.json["files"] if each["bit"]["kind"] == "dovetail")["bit"]["angle_deg"]
    narrowed = 15.0 * math.tan(math.radians(bit))
    tail = Polygon([(low, 4.0), (high, 4.0), (high - narrowed, 19.0), (low + narrowed, 19.0)])
    assert tail.difference(socket).area > 0.5, "sharp corners do not go in"
    rounded = tail.buffer(-radius, quad_segs=256, join_style="mitre").buffer(radius, quad_segs=256)
    ends = rounded.intersection(Polygon([(0, 3), (60, 3), (60, 4 + 1.5 * radius), (0, 4 + 1.5 * radius)]))
    assert ends.difference(socket.buffer(0.01)).area < 1e-3


def test_sockets_are_cut_to_tails_as_they_were_measured(tmp_path: Path) -> None:
    """A tail sawn by hand, not where it was drawn: at its end 18 to 47 mm up, at the baseline 20.5 to 45 mm."""
    keys = dict.fromkeys(("count", "pin", "half_pin", "slope"))
    table = drawer_job(measured=[[18.0, 47.0, 20.5, 45.0]], clearance=0.0)
    table["joints"][0] = {key: each for key, each in table["joints"][0].items() if key not in keys}
    job = load_job(write_job(tmp_path, table))
    built = build_job(job, kit_for(job))
    (joint,), (proof,) = built.joints, built.proofs
    assert [file.setup.board for file in joint.files] == ["front"], "the tails are there already"
    assert not [each for each in (*joint.findings, *proof.findings) if each.level == "stop"]
    (sockets,) = (each for each in joint.taken if each.board.name == "front")
    # Just under the inside face the socket is as the tail at its baseline, just above the lap as at its end.
    for depth, (low, high) in ((18.999, (20.5, 45.0)), (4.001, (18.0, 47.0))):
        _, y0, _, y1 = sockets.section(depth).bounds
        assert (y0, y1) == pytest.approx((low, high), abs=0.01)
    assert proof.outcome.fit is not None


def test_the_sheet_of_a_half_blind_corner_keeps_to_its_width(tmp_path: Path) -> None:
    """The line of the tail gauge, which tells of the lap too, ran far beyond it."""
    job = load_job(write_job(tmp_path, drawer_job()))
    (joint,) = build_job(job, kit_for(job)).joints
    words = text_lines([*joint.plan.joint_words(), *joint.plan.bench_words(3)])
    assert any("Gauge for the tail board" in line for line in words)
    assert max(map(len, words)) <= 92


def test_the_corner_put_together_shows_the_lap_before_the_ends_of_the_tails(tmp_path: Path) -> None:
    job = load_job(write_job(tmp_path, drawer_job(lap=4.0)))
    (joint,) = build_job(job, kit_for(job)).joints
    (drawing,) = joint.plan.drawings().values()
    (view,) = (each for each in drawing.views if each.caption.startswith("put together"))
    (wood,) = (item.shape for item in view.items if item.role == "grain")
    x0, _, x1, _ = wood.bounds
    assert x1 - x0 == pytest.approx(19.0), "pins and lap are one piece, as thick as the front"
    assert x1 == pytest.approx(204.0), "the tails end at 200 mm, and 4 mm of the front are before them"


def test_relieved_corners_are_cut_pass_by_pass(tmp_path: Path) -> None:
    """They were cut by the finishing pass alone: a bit of 3 mm went 12 mm deep into full wood in each of them."""
    table = drawer_job(tails_setup="flat", corners="relieved")
    job = load_job(write_job(tmp_path, table))
    (joint,) = build_job(job, kit_for(job)).joints
    file = joint.files[-1]
    depths: dict[float, float] = {}
    for start, end in straight_moves(file.text):
        if start[2] == end[2] < 0.0:
            depths[round(end[2], 3)] = min(depths.get(round(end[2], 3), 99.0), end[1])
    assert len(depths) >= 6
    lap, radius = 4.0, file.tools[1].radius
    # From where the bit touches wall and lap on, by its radius and the slope of 1:8, less the allowance.
    assert max(depths.values()) < lap + radius, "on each pass it goes on beyond where it touches the lap"


def test_corners_at_both_ends_of_a_flank_leave_some_of_it(tmp_path: Path) -> None:
    """A bit that was small enough at the lap and one that was at the baseline left no flank, and no fit to judge."""
    table = drawer_job(90.0, 10.0, 17.0, count=2, pin=10.0, half_pin=10.0, lap=2.7, tails_setup="flat")
    table["joints"][0]["corners"] = "relieved"
    run = jigcam("check", write_job(tmp_path, table), "--json")
    assert run.status == 0, run.err
    said = " ".join(each["says"] for each in run.json["findings"])
    assert "tails flat: straight 8 keeps the drawn slope" in said
    assert "pins upright: straight 6 cuts the pins exact" in said
    (proof,) = run.json["proof"]
    flanks = [each for each in proof["fit"]["corners"][0]["contacts"] if each["kind"] == "flank"]
    assert [each["drawn_mm"] for each in flanks] == [0.05] * 4
    assert all(each["least_mm"] == pytest.approx(0.05, abs=0.02) for each in flanks)
