"""Mortises: where they lie, what the rules say of them, the tenon, and that each is cut as it is drawn."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from support.jobs import Table, kit_table, write_job
from support.kinds.mortise import IN_RAIL, POST, SMALL, jobs, mortise_job, wanted
from support.output_folder import GOUGE, LEFT
from support.outside_cut import RIDE_ERROR, SWEEP_ERROR, Verdict, back, compare, lowest, ridden, swept, worst
from support.shop import Run, jigcam

from jigcam.job import kit_for
from jigcam.joints import design, load_job
from jigcam.joints.mortise.by_template import TemplateMortise
from jigcam.joints.mortise.laying import lead, turned_over
from jigcam.joints.mortise.mortise import Mortise
from jigcam.proof import milled_region
from jigcam.template.marks import Text
from jigcam.workshop.build import plan_job

IN_FACE: Table = {"board": "rail", "face": "outside", "at": [60, 40]}
TEMPLATE: Table = {"way": "template", "width": 16, "depth": 12}


def designed(folder: Path, **keys: Any) -> Mortise:
    job = load_job(write_job(folder, mortise_job(**keys)))
    made = design(job.joints[0], job)
    assert isinstance(made, Mortise)
    return made


def made(folder: Path, table: Table, kit: Table | None = None) -> tuple[Run, list[tuple[Table, str]]]:
    """The run, and each G-code file that cuts wood or the sheet's opening: its entry in the manifest, its text."""
    run = jigcam("make", write_job(folder, table, kit), "-o", folder / "out", "--json")
    assert run.status == 0, run.out
    entries = [each for each in run.json["files"] if each["kind"] == "gcode" and "marks" not in each["file"]]
    return run, [(entry, (folder / "out" / entry["file"]).read_text("ascii")) for entry in entries]


def stops(folder: Path, table: Table, kit: Table | None = None) -> list[Table]:
    """The findings that stop a job."""
    run = jigcam("check", write_job(folder, table, kit), "--json")
    assert run.status == 1, run.out
    return [each for each in run.json["findings"] if each["level"] == "stop"]


def sheet_of(folder: Path) -> str:
    return " ".join((folder / "out" / "rail-to-post" / "setup-sheet.txt").read_text("utf-8").split())


# ---- where it lies


def test_its_centre_is_where_the_job_says_and_its_length_is_overall(tmp_path: Path) -> None:
    row = designed(tmp_path, angle=90).first
    assert row.region().bounds == pytest.approx((95, 20, 105, 60))
    assert row.solid.levels() == (0.0, -18.0)


@pytest.mark.parametrize(
    ("pitch", "centres"),
    [(30, [(100, 40), (130, 40), (160, 40)]), ([0, 12.5], [(100, 40), (100, 52.5), (100, 65)])],
)
def test_a_row_goes_along_x_or_by_both(pitch: Any, centres: list[tuple[float, float]], tmp_path: Path) -> None:
    row = designed(tmp_path, repeat={"count": 3, "pitch": pitch}).first
    assert np.array(row.centres) == pytest.approx(np.array(centres))


@pytest.mark.parametrize(
    ("end", "x"),
    [("left", (0.0, 18.0)), ("right", (342.0, 360.0))],
)
def test_in_an_end_x_is_from_the_lower_edge_and_y_from_the_outside_face(
    end: str, x: tuple[float, float], tmp_path: Path
) -> None:
    (taken,) = designed(tmp_path, end=end, at=[30, 13]).taken()
    low, high = taken.solid.levels()[0], taken.solid.levels()[-1]
    assert (low, high) == pytest.approx((-8.0, -18.0))  # 5 mm to either side of 13 mm below the outside face
    assert taken.section(13.0).bounds == pytest.approx((x[0], 10.0, x[1], 50.0))
    assert taken.section(7.9).is_empty
    assert taken.section(18.1).is_empty


@pytest.mark.parametrize("angle", [0, 7, 90])
def test_the_wood_taken_from_an_end_is_that_of_its_stadium(angle: float, tmp_path: Path) -> None:
    it = designed(tmp_path, end="left", angle=angle, length=14, width=8)
    (taken,) = it.taken()
    depths = np.linspace(0.0, 32.0, 4001)
    areas = [taken.section(float(depth)).area for depth in depths]
    # A bar of 6 by 8 mm and a disc of 8 mm, 18 mm deep.
    assert np.trapezoid(areas, depths) == pytest.approx((6 * 8 + math.pi * 16) * 18, rel=1e-3)


@pytest.mark.parametrize(
    ("mate", "way"),
    [
        ({**IN_RAIL, "angle": 0}, (1.0, 0.0)),
        ({**IN_RAIL, "angle": 180}, (-1.0, 0.0)),
        ({**IN_RAIL, "end": "right", "angle": 0}, (1.0, 0.0)),
    ],
)
def test_the_row_of_the_mate_follows_its_direction(mate: Table, way: tuple[float, float], tmp_path: Path) -> None:
    """Mortises across the post, one beside the other along their length, and so they are in the rail's end."""
    keys: Table = {"angle": 90, "at": [100, 20], "length": 14, "repeat": {"count": 2, "pitch": [0, 30]}}
    mate = {**mate, "at": [40, 14]}
    pitch = designed(tmp_path, **keys, mate=mate).rows[1].pitch
    assert pitch == pytest.approx((30.0 * way[0], 30.0 * way[1]), abs=1e-9)


def test_a_row_aslant_is_mirrored_in_the_mate(tmp_path: Path) -> None:
    """Face to face: what turns to the left of the length in one board turns to the right of it in the other."""
    keys: Table = {"repeat": {"count": 2, "pitch": [30, 20]}, "length": 20}
    assert designed(tmp_path / "1", **keys, mate=IN_FACE).rows[1].pitch == pytest.approx((30, -20))
    # The frame of a right end is seen from behind, and so mirrors it back.
    mate = {**IN_RAIL, "end": "right", "at": [30, 9]}
    assert designed(tmp_path / "2", **keys, mate=mate).rows[1].pitch == pytest.approx((30, 20))


# ---- what the entry takes


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({"face": "inside", "end": "left"}, "one face or in one end"),
        ({"length": 10, "width": 10}, "longer than wide"),
        ({"clearance": 5}, "leaves little of the tenon"),
        ({"repeat": {"count": 1, "pitch": 10}}, "a count"),
        ({"repeat": {"count": 2, "pitch": 0}}, "the pitch of a row is nothing"),
        ({"repeat": {"count": 2, "pitch": [1, 2, 3]}}, "not such a list"),
        ({"mate": {"board": "rail", "at": [1, 2]}}, "one face or in one end"),
        ({"mate": {"board": "rial", "face": "inside", "at": [1, 2]}}, "rail"),
    ],
)
def test_entries_that_say_nothing_that_can_be_cut(keys: Table, says: str, tmp_path: Path) -> None:
    table = mortise_job(**{"face": "inside", **keys})
    if "end" in keys:
        table["joints"][0] |= keys
    run = jigcam("check", write_job(tmp_path, table))
    assert run.status == 2
    assert says in re.sub(r"\s+", " ", run.err)


# ---- rules

SPEAKS: dict[str, tuple[tuple[Table, str], ...]] = {
    "off-board": (({"at": [19.9, 40]}, "stop"), ({"repeat": {"count": 4, "pitch": 81}}, "stop")),
    "too-deep": (({"depth": 32}, "stop"), ({"depth": 29.1}, "stop")),
    "deep": (({"depth": 21.4}, "caution"),),
    "short-grain": (({"at": [25.9, 40]}, "caution"), ({"end": "left", "at": [25.9, 16]}, "caution")),
    "thin-cheek": (({"end": "left", "at": [45, 25.1]}, "stop"), ({"end": "left", "at": [45, 23.1]}, "caution")),
}
SILENT: dict[str, tuple[Table, ...]] = {
    "off-board": ({"at": [20.1, 40]}, {"repeat": {"count": 4, "pitch": 79}}),
    "too-deep": ({"depth": 29},),
    "deep": ({"depth": 21.3}, {"end": "left", "depth": 40}),
    "short-grain": ({"at": [26, 40]}, {"end": "left", "at": [26, 16]}),
    "thin-cheek": ({"end": "left", "at": [45, 23]},),
}


@pytest.mark.parametrize("rule", SPEAKS)
def test_each_rule_speaks_and_keeps_silent(rule: str, tmp_path: Path) -> None:
    for number, (keys, level) in enumerate(SPEAKS[rule]):
        found = {each.rule: each.level for each in designed(tmp_path / f"{number}", **keys).findings}
        assert found.get(rule) == level, keys
    for number, keys in enumerate(SILENT[rule]):
        found = {each.rule: each.level for each in designed(tmp_path / f"silent-{number}", **keys).findings}
        assert rule not in found, keys


@pytest.mark.parametrize(
    ("angle", "mate", "askew"),
    [
        (0, {**IN_RAIL}, False),
        (90, {**IN_RAIL}, False),
        (10, {**IN_FACE, "angle": -10}, False),
        (10, {**IN_FACE, "angle": 10}, True),
        (5, {**IN_RAIL, "angle": -5}, False),
        (5, {**IN_RAIL, "end": "right", "angle": 5}, False),
        (5, {**IN_RAIL, "end": "right", "angle": -5}, True),
    ],
)
def test_mates_meet_square_where_their_angles_are_opposite(
    angle: float, mate: Table, askew: bool, tmp_path: Path
) -> None:
    found = [each.rule for each in designed(tmp_path, angle=angle, length=20, mate=mate).findings]
    assert ("mates-askew" in found) == askew


# ---- the tenon


def test_the_tenon_comes_back(tmp_path: Path) -> None:
    """1.5 mm shorter than both mortises together, half rounds for edges (common practice, no source)."""
    tenon = designed(tmp_path / "1", mate={**IN_RAIL, "depth": 25}).tenon
    sizes = (tenon.thickness, tenon.width, tenon.length, tenon.edge_radius)
    assert sizes == pytest.approx((9.9, 39.9, 18 + 25 - 1.5, 4.95))
    assert designed(tmp_path / "2").tenon.length == pytest.approx(2 * 18 - 1.5)


def test_sheet_and_manifest_say_the_tenon(tmp_path: Path) -> None:
    run, _ = made(tmp_path, SMALL)
    fit = run.json["proof"][0]["fit"]
    assert fit["tenon"] == {"thickness_mm": 9.9, "width_mm": 39.9, "length_mm": 38.5, "edge_radius_mm": 4.95}
    assert fit["over_length_mm"] == pytest.approx(1.5, abs=0.002)
    says = sheet_of(tmp_path)
    assert "rounded to a radius of 4.95 mm, half the thickness" in says
    assert "Cut the strip into a tenon of 38.5 mm" in says


# ---- as cut


def of_rows(table: Table, entry: Table, text: str) -> Verdict:
    """A file that cuts the mortises of the first board, each in its own part of the board, judged from outside."""
    count = table["joints"][0].get("repeat", {}).get("count", 1)
    radius = entry["bit"]["diameter"] / 2
    verdicts = []
    for number in range(count):
        mine = wanted(table, number)
        near = shapely.Point(*mine.middle).buffer(mine.high / 2 + 3.0)
        for z in (-0.01, -mine.depth / 2, -mine.depth + 1e-3):
            cut = back(swept(text, radius, z), entry["placement"])
            others = cut if count == 1 else cut.intersection(near)
            verdicts.append(compare(others, mine, radius))
    depth = table["joints"][0]["depth"]
    assert lowest(text) == pytest.approx(-depth, abs=1e-4)
    return worst(verdicts)


@given(table=jobs())
@settings(max_examples=6, deadline=None)
def test_any_mortise_is_cut_as_drawn(table: Table) -> None:
    with TemporaryDirectory() as folder:
        run, files = made(Path(folder), table)
    entry, text = files[0]
    if entry["setup"] == "template":
        seen, error = ridden(entry, text, wanted(table), entry["placement"]), RIDE_ERROR
    else:
        seen, error = of_rows(table, entry, text), SWEEP_ERROR
    assert seen.gouge <= GOUGE + error
    assert seen.left <= LEFT + error
    clearance = table["joints"][0]["clearance"]
    for row in run.json["proof"][0]["fit"]["mortises"]:
        for seat in row["seats"]:
            assert seat["seats"]
            assert seat["total_mm"] == pytest.approx(clearance, abs=0.02)


def test_the_outside_judge_sees_a_mortise_in_an_end_that_is_off(tmp_path: Path) -> None:
    table = mortise_job(end="right")
    _, ((entry, text),) = made(tmp_path, table)
    off = mortise_job(end="right", at=[45.05, 16])
    assert of_rows(off, entry, text).gouge == pytest.approx(0.05, abs=0.002)


@pytest.mark.parametrize(("end", "matrix"), [("left", [[1, 0, 0], [0, 1, 0]]), ("right", [[-1, 0, 90], [0, 1, 0]])])
def test_an_end_is_cut_upright_in_the_contract_frame(end: str, matrix: list[list[float]], tmp_path: Path) -> None:
    _, ((entry, text),) = made(tmp_path, mortise_job(end=end, at=[30, 16]))
    assert (entry["setup"], entry["placement"], entry["stock"]) == ("upright", matrix, [90, 32, 360])
    x = 30 if end == "left" else 60
    reached = {float(value) for value in re.findall(r"X(-?[0-9.]+)", text)}
    assert (min(reached), max(reached)) == pytest.approx((x - 15, x + 15), abs=0.002)


def test_a_machine_without_a_vise_or_with_a_small_one_refuses_an_end(tmp_path: Path) -> None:
    kit = kit_table("mm", upright={"width": 80, "thickness": 31})
    (stop,) = stops(tmp_path, mortise_job(end="left"), kit)
    assert stop["rule"] == "end-not-held"
    assert "90 mm wide, and the machine holds 80 mm" in stop["says"]
    assert "32 mm thick, and the machine holds 31 mm" in stop["says"]
    assert 'way = "hand"' in stop["says"]


@pytest.mark.parametrize(("old", "new", "wide"), [("Y16.0000", "Y15.9500", 0.0), ("X60.0000", "X60.0300", -0.03)])
def test_a_file_edited_by_hand_is_measured_as_it_cuts(old: str, new: str, wide: float, tmp_path: Path) -> None:
    job = load_job(write_job(tmp_path, mortise_job(end="left")))
    (joint,) = plan_job(job, kit_for(job))
    ((name, text),) = joint.texts.items()
    assert old in text
    (row,) = joint.judged({name: text.replace(old, new)}).fit_dict()["mortises"]
    (seat,) = row["seats"]
    assert seat["total_mm"] == pytest.approx(0.1, abs=0.002)
    # A bit off to one side moves the seat; one that goes too far leaves the ends their room.
    assert seat["shift_mm"] == pytest.approx(-0.05 if wide == 0.0 else 0.0, abs=0.002)


def test_a_shallow_file_is_measured(tmp_path: Path) -> None:
    job = load_job(write_job(tmp_path, mortise_job()))
    (joint,) = plan_job(job, kit_for(job))
    ((name, text),) = joint.texts.items()
    fit = joint.judged({name: text.replace("Z-18.0000", "Z-17.6000")}).fit_dict()
    assert fit["mortises"][0]["depth_mm"] == pytest.approx(17.6, abs=0.002)
    assert fit["over_length_mm"] == pytest.approx(2 * 17.6 - 34.5, abs=0.004)


def test_a_ramp_along_chords_is_not_cut_at_each_of_its_heights(tmp_path: Path, monkeypatch: Any) -> None:
    """A short mortise on a machine without arcs took a minute: its ramp has a thousand heights, all measured."""
    table = mortise_job(length=14.95, width=12)
    job = load_job(write_job(tmp_path, table, kit_table("mm", arcs=False)))
    (joint,) = plan_job(job, kit_for(job))
    heights: list[float] = []

    def counted(*arguments: Any) -> Any:
        heights.append(arguments[3])
        return milled_region(*arguments)

    monkeypatch.setattr("jigcam.making.measured_cut.milled_region", counted)
    (row,) = joint.judged(joint.texts).fit_dict()["mortises"]
    assert row["depth_mm"] == pytest.approx(18.0, abs=0.001)
    ((_, text),) = joint.texts.items()
    assert len(set(re.findall(r"Z-[\d.]+", text))) > 200
    assert len(heights) < 20


# ---- by template


@pytest.mark.parametrize("end", ["left", "right"])
def test_an_end_is_cut_by_a_template_that_bears_on_face_and_edge(end: str, tmp_path: Path) -> None:
    table = mortise_job(**TEMPLATE, end=end, at=[30, 15], angle=3)
    run, ((entry, text),) = made(tmp_path, table)
    assert entry["end"] == end
    # The contract's frame of an end is (board y, depth from the outside face), wherever the sheet is seen from.
    seen = ridden(entry, text, wanted(table), entry["placement"])
    assert seen.gouge <= GOUGE + RIDE_ERROR
    assert seen.left <= LEFT + RIDE_ERROR
    off = ridden(entry, text, wanted(mortise_job(**TEMPLATE, end=end, at=[30.05, 15], angle=3)), entry["placement"])
    assert off.gouge == pytest.approx(0.05, abs=0.003)
    says = sheet_of(tmp_path)
    assert "with the fence against the outside face, the stop block against the lower edge" in says
    assert "The block at the outside face is lower than the end by a strip's thickness, 12 mm." in says
    assert "The block at the inside face is flush with the end." in says
    assert "far-side" not in {each["rule"] for each in run.json["findings"]}


def test_a_sheet_on_an_end_that_bears_on_the_upper_edge_warns(tmp_path: Path) -> None:
    for end in ("left", "right"):
        table = mortise_job(**TEMPLATE, end=end, at=[60, 15])
        run = jigcam("check", write_job(tmp_path / end, table), "--json")
        (says,) = (each["says"] for each in run.json["findings"] if each["rule"] == "far-side")
        assert "the upper edge of post" in says
        assert "any error in the board's width moves the joint" in says


@pytest.mark.parametrize("end", ["left", "right"])
def test_a_mate_in_an_end_is_cut_from_the_same_sheet(end: str, tmp_path: Path) -> None:
    """What the sheet leads the router to cut lies in the rail's end as drawn: through the board, not beside it."""
    mate = {**IN_RAIL, "end": end, "at": [30, 13], "angle": 0}
    table = mortise_job(**TEMPLATE, angle=90, mate=mate)
    run, _ = made(tmp_path, table)
    assert not {"stray-cut", "thinner-as-cut"} & {each["rule"] for each in run.json["findings"]}
    job = load_job(write_job(tmp_path, table))
    (joint,) = plan_job(job, kit_for(job))
    way = joint.judged(joint.texts).ridden[1]
    x0, _, x1, _ = way.region.bounds
    low = 30 - 20 if end == "left" else 80 - 30 - 20  # seen square at the right end, the lower edge is at the right
    assert (x0, x1) == pytest.approx((low, low + 40), abs=0.002)
    assert way.face == f"{end} end"


def test_the_opening_is_the_mortise_and_two_offsets(tmp_path: Path) -> None:
    """Bushing inside an opening: B − d more (several magazines; trade facts 5)."""
    _, ((entry, _),) = made(tmp_path, mortise_job(**TEMPLATE))
    guide = entry["guide"]
    more = guide["bushing"]["outside"] - guide["bit"]["diameter"]
    assert guide["offset"] == pytest.approx(more / 2)
    assert f"opening {16 + more:g} mm wide" in sheet_of(tmp_path)
    assert guide["projection"] == pytest.approx(12 + 12)  # the sheet and the depth


@pytest.mark.parametrize(
    ("angle", "turned"),
    [(20, False), (-20, True), (160, True), (200, False)],
)
def test_a_sheet_is_turned_over_for_a_mate_at_the_opposite_angle(angle: float, turned: bool, tmp_path: Path) -> None:
    table = mortise_job(**TEMPLATE, angle=20, mate={**IN_FACE, "angle": angle})
    job = load_job(write_job(tmp_path, table))
    it = design(job.joints[0], job)
    assert isinstance(it, Mortise)
    assert turned_over(it) == turned
    made(tmp_path, table)
    says = sheet_of(tmp_path)
    assert ("Turn the sheet over like the page of a book" in says) == turned
    assert ("face is up, as for post" in says) == (not turned)
    (joint,) = plan_job(job, kit_for(job))
    assert isinstance(joint.plan, TemplateMortise)
    marks = {mark.string for mark in joint.plan.template.marks if isinstance(mark, Text)}
    assert ({"THIS FACE UP: POST", "TURN OVER: RAIL"} <= marks) == turned
    assert ("THIS FACE UP: POST, RAIL" in marks) == (not turned)


def test_a_row_is_laid_by_spacers_from_the_one_furthest_in(tmp_path: Path) -> None:
    """A strip bears from outside: a spacer lets the sheet lie nearer to its side, and nothing lets it lie further."""
    table = mortise_job(**TEMPLATE, at=[60, 40], repeat={"count": 3, "pitch": 60})
    job = load_job(write_job(tmp_path, table))
    it = design(job.joints[0], job)
    assert isinstance(it, Mortise)
    assert lead(it.first) == 2
    made(tmp_path, table)
    says = sheet_of(tmp_path)
    assert "Cut mortise 3 in post" in says
    spacers = re.findall(r"Mortise (\d), its middle (\d+) mm .*?spacer of (\d+) mm", says)
    assert spacers == [("1", "60", "120"), ("2", "120", "60")]


def test_every_mortise_of_row_and_mate_is_laid_where_it_is_drawn(tmp_path: Path) -> None:
    table = mortise_job(
        **TEMPLATE, angle=20, repeat={"count": 2, "pitch": [70, 5]}, mate={**IN_FACE, "angle": -20, "depth": 10}
    )
    job = load_job(write_job(tmp_path, table))
    (joint,) = plan_job(job, kit_for(job))
    it = design(job.joints[0], job)
    assert isinstance(it, Mortise)
    ways = joint.judged(joint.texts).ridden
    drawn = [(row, number) for row in it.rows for number in range(row.count)]
    assert [way.board.name for way in ways] == ["post", "post", "rail", "rail"]
    for way, (row, number) in zip(ways, drawn, strict=True):
        assert way.region.bounds == pytest.approx(row.region(number).bounds, abs=0.002)
        assert way.depth == row.depth


def test_what_is_too_deep_is_told_in_numbers(tmp_path: Path) -> None:
    """Reach: 64 mm of bit, less 20 of grip, 6 of plate and 2 of flange are 36 mm; the sheet takes 12 of them."""
    table = mortise_job(way="template", width=16, depth=24.5, bit="straight 6")
    run = jigcam("check", write_job(tmp_path, table), "--json")
    assert run.status == 1
    (reach,) = [each["says"] for each in run.json["findings"] if each["rule"] == "mortise-reach"]
    assert "straight 6 24 mm deep (24.5 mm under a sheet of at most 11.5 mm, and a collar of 10.5 mm)" in reach
    assert "straight 12 32 mm deep" in reach  # by its edges


def test_a_mate_deeper_than_the_pair_reaches_is_refused(tmp_path: Path) -> None:
    mate = {**IN_FACE, "board": "post", "at": [250, 40], "depth": 24.5}
    found = stops(tmp_path, mortise_job(**TEMPLATE, bit="straight 6", mate=mate))
    assert [each["rule"] for each in found] == ["bit-too-short"]


# ---- by hand


def test_by_hand_every_line_is_told(tmp_path: Path) -> None:
    run = jigcam("make", write_job(tmp_path, mortise_job(way="hand", mate=IN_RAIL)), "-o", tmp_path / "out", "--json")
    assert run.status == 0
    assert not [each for each in run.json["files"] if each["kind"] == "gcode"]
    says = sheet_of(tmp_path)
    assert "centre 100 mm along, 40 mm up" in says
    assert "round ends about 85 mm along, 40 mm up and 115 mm along, 40 mm up, 5 mm in radius" in says
    assert "Set a mortise gauge to 9 mm and 19 mm" in says  # 14 mm less and more half of the width
    assert "Make the loose tenon" in says


def test_the_manifest_of_a_row_has_a_seat_for_each(tmp_path: Path) -> None:
    made(tmp_path, mortise_job(repeat={"count": 3, "pitch": 70}))
    manifest = json.loads((tmp_path / "out" / "manifest.json").read_text("utf-8"))
    (row,) = manifest["proof"][0]["fit"]["mortises"]
    assert [round(seat["where"][0] // 70) for seat in row["seats"]] == [1, 2, 3]
    assert POST["length"] == 360.0


def test_the_schema_takes_a_pitch_of_one_length_or_of_two() -> None:
    run = jigcam("schema", "job")
    pitch = json.loads(run.out)["$defs"]["Repeat"]["properties"]["pitch"]
    length, pair = pitch["anyOf"]
    assert length == {"type": ["number", "string"]}
    assert (pair["type"], pair["minItems"], pair["maxItems"]) == ("array", 2, 2)
