"""Sliding dovetails: where they lie, what the rules say, how they are cut as an outside judge sees it, and their fit.

Trigonometry of dovetail bits is that of any handbook: a bit of diameter D and flank α is D − 2h·tan α wide at height h.
"""

from __future__ import annotations

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
from support.kinds.sliding_dovetail import jobs, outlines, sliding_job, tail_outline
from support.output_folder import GOUGE, LEFT
from support.outside_cut import SWEEP_ERROR, against, back, chains, dovetailed, lifted_within, swept, worst
from support.shop import Run, jigcam

from jigcam.job import kit_for
from jigcam.joints import design, load_job
from jigcam.joints.sliding_dovetail import RULES, SlidingDovetail
from jigcam.kit import profiles_folder
from jigcam.workshop.build import plan_job
from jigcam.workshop.rulebook import all_rules

STOPPED: Table = {"from_": [100.0, 15.0], "length": 105.0, "start": "stopped"}
TAN8 = 0.140541
"""tan 8°, from a table of tangents."""


def designed(folder: Path, **keys: Any) -> SlidingDovetail:
    job = load_job(write_job(folder, sliding_job(**keys)))
    made = design(job.joints[0], job)
    assert isinstance(made, SlidingDovetail)
    return made


def made(folder: Path, table: Table, kit: Table | None = None) -> tuple[Table, list[tuple[Table, str]]]:
    """What the manifest says, and each G-code file's entry with its text, in order."""
    run = jigcam("make", write_job(folder, table, kit), "-o", folder / "out", "--json")
    assert run.status == 0, (table, run.out, run.err)
    entries = [each for each in run.json["files"] if each["kind"] == "gcode"]
    return run.json, [(each, (folder / "out" / each["file"]).read_text("ascii")) for each in entries]


def stopped(run: Run) -> list[str]:
    """The rules that stop a job."""
    assert run.status == 1
    return [each["rule"] for each in run.json["findings"] if each["level"] == "stop"]


# ---- where it lies


def test_the_socket_is_as_wide_as_drawn_at_its_bottom_and_narrows_by_the_tangent(tmp_path: Path) -> None:
    it = designed(tmp_path, depth=9.5)
    assert it.socket.levels() == (0.0, -9.5)
    for z, width in ((-9.5, 12.7), (-4.75, 12.7 - 2 * 4.75 * TAN8), (0.0, 12.7 - 2 * 9.5 * TAN8)):
        x0, _, x1, _ = it.socket.section(z).bounds
        assert x1 - x0 == pytest.approx(width, abs=1e-4)
        assert (x0 + x1) / 2 == pytest.approx(100.0)
    assert it.socket.section(0.1).is_empty
    assert it.socket.section(-9.6).is_empty


def test_a_stopped_end_lies_where_it_is_drawn_at_the_bottom_and_an_open_one_runs_off(tmp_path: Path) -> None:
    it = designed(tmp_path, **STOPPED)
    assert it.socket.section(-8.0).bounds[1] == pytest.approx(15.0)
    assert it.socket.section(0.0).bounds[1] == pytest.approx(15.0 + 8.0 * TAN8, abs=1e-4)
    assert it.socket.section(0.0).bounds[3] >= 120.0 + 2.0 - 1e-9


@pytest.mark.parametrize(("keys", "wide_at"), [({}, 0.0), (STOPPED, 120.0)])
def test_a_tapered_socket_is_widest_where_the_tail_comes_in_and_narrows_on_its_left_alone(
    keys: Table, wide_at: float, tmp_path: Path
) -> None:
    it = designed(tmp_path, base=16.0, taper=1.0, **keys)
    region = it.socket.section(-8.0)
    length = it.shape.length
    for y in (20.0, 110.0):
        narrowed = abs(y - wide_at) / length
        edges = [x for x in np.arange(85.0, 115.0, 0.001) if region.signed_distance(np.array([[x, y]]))[0] >= 0.0]
        # Going up the board, its left is toward x 0.
        assert edges[-1] == pytest.approx(108.0, abs=0.002)
        assert edges[0] == pytest.approx(92.0 + narrowed, abs=0.002)


@pytest.mark.parametrize("end", ["left", "right"])
@pytest.mark.parametrize("keys", [{}, STOPPED, {"angle": -90, "from_": [100.0, 120.0]}])
def test_lower_edges_are_flush_and_the_board_is_not_turned_inside_out(keys: Table, end: str, tmp_path: Path) -> None:
    """s × t = z out of the face; x × y = out of the outside face: the frame of the tail board is right-handed."""
    it = designed(tmp_path, tail_end=end, **keys)
    place = it.place
    lower_station = place.station(0.0)
    assert it.band.at(lower_station)[1] == pytest.approx(0.0, abs=1e-9)
    along = np.array([*it.band.along, 0.0])
    across = np.array([-along[1], along[0], 0.0])
    y = along * (place.station(1.0) - place.station(0.0))
    outside = across * (place.across(0.0) - place.across(1.0))
    x = np.array([0.0, 0.0, 1.0 if end == "left" else -1.0])  # from the left end inward; to the right end
    assert np.cross(x, y) == pytest.approx(outside)


@pytest.mark.parametrize("keys", [{}, STOPPED, {"base": 16.0, "taper": 1.0}, {"finish": "stopped", "length": 105.0}])
@pytest.mark.parametrize("end", ["left", "right"])
def test_what_goes_from_around_the_tail_is_the_same_standing_and_lying(keys: Table, end: str, tmp_path: Path) -> None:
    """Points of the board's end: gone in one frame and in the other."""
    it = designed(tmp_path, tail_end=end, **keys)
    (_, lying) = it.taken()
    dice = np.random.default_rng(13)
    points = dice.uniform([0.05, 0.05, 0.05], [11.0, 119.95, 17.95], (400, 3))  # from the end, y, depth from outside
    gone = 0
    for e, y, v in points:
        standing = it.around_tail.section(-e)
        distances = []
        if not standing.is_empty:
            distances.append(float(standing.signed_distance(np.array([[y, v]]))[0]))
        flat = lying.section(v)
        x = e if end == "left" else 200.0 - e
        if not flat.is_empty:
            distances.append(float(flat.signed_distance(np.array([[x, y]]))[0]))
        here = [d > 0.0 for d in distances]
        if any(abs(d) < 1e-3 for d in distances):
            continue
        assert any(here) == (len(here) == 2 and all(here)), (e, y, v, distances)
        gone += any(here)
    assert 50 < gone < 390


def test_tail_and_socket_leave_the_clearance_square_to_the_flank(tmp_path: Path) -> None:
    shape = designed(tmp_path, clearance=0.1).shape
    sideways = shape.width(0.0, 4.0) - shape.width(0.0, 4.0, tail=True)
    assert sideways / 2 * math.cos(math.radians(8.0)) == pytest.approx(0.1)


# ---- keys and rules


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ({"start": "stopped", "finish": "stopped"}, 'write start = "open"'),
        ({"way": "hand", "tail_way": "router-table"}, "leave tail_way out"),
        ({"bushing": "bushing 24"}, "only by a template"),
        ({"slope": "1:7"}, "given twice"),
        ({"tail": "top"}, "does not slide into itself"),
    ],
)
def test_what_cannot_be_is_an_input_error_with_the_way_that_works(keys: Table, says: str, tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, sliding_job_of(keys)))
    assert run.status == 2
    assert says in " ".join(run.err.split())


def sliding_job_of(keys: Table) -> Table:
    """A job with keys of which one may be `tail`."""
    table = sliding_job(**{key: value for key, value in keys.items() if key != "tail"})
    table["joints"][0].update({key: value for key, value in keys.items() if key == "tail"})
    return table


SPEAKS: dict[str, tuple[tuple[Table, str], ...]] = {
    "off-board": (
        ({"from_": [100.0, -5.0], "start": "stopped"}, "stop"),
        ({"from_": [302.0, 0.0]}, "stop"),
        ({"from_": [0.0, 5.0], "length": 300.0, "angle": 0}, "stop"),
    ),
    "sliding-extended": (({"from_": [100.0, 0.6], "length": 119.4}, "caution"), ({"length": 119.4}, "caution")),
    "short-grain": (({"from_": [12.0, 0.0]}, "caution"), ({**STOPPED, "from_": [100.0, 4.0]}, "caution")),
    "too-deep": (({"depth": 18.0}, "stop"),),
    "deep": (({"depth": 10.1}, "caution"),),
    "sliding-shallow": (({"depth": 6.6}, "note"),),
    "sliding-neck": (
        ({"base": 4.0, "depth": 8.0}, "stop"),
        ({"base": 8.0, "depth": 8.0}, "caution"),
    ),
    "sliding-shoulder": (({"base": 18.1}, "stop"), ({"base": 17.5, "depth": 8.0}, "caution")),
    "sliding-notch": ((STOPPED, "note"),),
    "sliding-edges": (({"socket": (300.0, 121.0, 20.0)}, "note"),),
    "sliding-taper": (({"base": 17.0, "taper": 1.4}, "caution"),),
    "sliding-clearance": (({"clearance": 0}, "caution"), ({"clearance": 0.13}, "caution")),
}
SILENT: dict[str, Table] = {
    "off-board": STOPPED,
    "sliding-extended": {"from_": [100.0, 0.4], "length": 119.2},
    "short-grain": {"from_": [12.4, 0.0]},
    "too-deep": {"depth": 10.0},
    "deep": {"depth": 10.0},
    "sliding-shallow": {"depth": 6.7},
    "sliding-neck": {"base": 8.3, "depth": 8.0},
    "sliding-shoulder": {"base": 18.0},
    "sliding-notch": {},
    "sliding-edges": {},
    "sliding-taper": {"base": 17.0, "taper": 1.3},
    "sliding-clearance": {"clearance": 0.12},
}
PLANNED = {"sliding-slope", "sliding-preclear", "sliding-tail", "sliding-template", "sliding-fit-off"}
"""Rules of plans, which have tests of their own below."""


def said(folder: Path, keys: Table) -> list[tuple[str, str]]:
    keys = dict(keys)
    boards = {"socket": keys.pop("socket")} if "socket" in keys else {}
    return [(each.rule, each.level) for each in designed(folder, **boards, **keys).findings]


def test_every_rule_has_its_cases() -> None:
    assert set(RULES) - PLANNED <= set(SPEAKS) == set(SILENT)
    for rule, cases in SPEAKS.items():
        levels = {level for _, level in cases}
        assert levels == set(RULES[rule].levels) if rule in RULES else levels <= set(all_rules()[rule].levels)


@pytest.mark.parametrize(("rule", "keys", "level"), [(r, *case) for r, cases in SPEAKS.items() for case in cases])
def test_a_rule_speaks(rule: str, keys: Table, level: str, tmp_path: Path) -> None:
    assert [each for name, each in said(tmp_path, keys) if name == rule] == [level]


@pytest.mark.parametrize(("rule", "keys"), SILENT.items())
def test_a_rule_keeps_silent(rule: str, keys: Table, tmp_path: Path) -> None:
    assert rule not in [name for name, _ in said(tmp_path, keys)]


def findings(folder: Path, keys: Table, kit: Table | None = None) -> list[Table]:
    found: list[Table] = jigcam("check", write_job(folder, sliding_job(**keys), kit), "--json").json["findings"]
    return found


def test_flanks_follow_the_bit_and_that_is_said(tmp_path: Path) -> None:
    (near,) = (each for each in findings(tmp_path, {"angle_of_flank": 8.13}) if each["rule"] == "sliding-slope")
    assert near["level"] == "note"
    (far,) = (each for each in findings(tmp_path, {"angle_of_flank": 9.5}) if each["rule"] == "sliding-slope")
    assert far["level"] == "caution"
    assert "the neck comes out 10.45 mm wide" in far["says"]  # 12.7 − 2 · 8 · tan 8°
    assert not [each for each in findings(tmp_path, {}) if each["rule"] == "sliding-slope"]


def test_no_angle_at_all_takes_that_of_the_bit(tmp_path: Path) -> None:
    table = sliding_job(angle_of_flank=None, bit="dovetail 12.7 x 14")
    manifest, files = made(tmp_path, table)
    assert files[1][0]["bit"]["angle_deg"] == 14
    assert manifest["proof"][0]["fit"]["least_mm"] == pytest.approx(0.05, abs=0.002)


def test_an_angle_that_no_bit_comes_near_is_refused_with_what_is_wanted(tmp_path: Path) -> None:
    run = jigcam("check", write_job(tmp_path, sliding_job(angle_of_flank=11)), "--json")
    assert stopped(run) == ["no-bit"]
    (says,) = (each["says"] for each in run.json["findings"] if each["level"] == "stop")
    assert "a dovetail bit of 11°, at most 12.7 mm at its tip, with edges of at least 8 mm" in says
    assert "straight" not in says.partition("(")[2]


def test_a_mouth_too_narrow_for_a_straight_bit_is_said(tmp_path: Path) -> None:
    keys = {"base": 6.35, "depth": 6.0, "angle_of_flank": 7, "preclear": True}
    kit = kit_table("mm")
    kit["bits"] = [bit for bit in kit["bits"] if bit["name"] != "straight 3"]
    levels = [each["level"] for each in findings(tmp_path, keys, kit) if each["rule"] == "sliding-preclear"]
    assert levels == ["caution"]


def test_a_board_that_the_machine_does_not_hold_upright_is_refused_with_the_hand(tmp_path: Path) -> None:
    kit = kit_table("mm", upright={"width": 100, "thickness": 40})
    run = jigcam("check", write_job(tmp_path, sliding_job(), kit), "--json")
    assert stopped(run) == ["sliding-tail"]
    hand = jigcam("check", write_job(tmp_path, sliding_job(tail_way="hand"), kit), "--json")
    assert hand.status == 0
    assert hand.json["proof"][0]["fit"]["with_tail"] is False


def test_cross_grain_movement_comes_with_the_advice_where_to_glue(tmp_path: Path) -> None:
    table = sliding_job()
    table["boards"]["divider"] |= {"sawn": "flat"}
    table["joints"][0] |= {"angle": 0, "from": [0.0, 60.0], "length": 300.0}
    run = jigcam("check", write_job(tmp_path, table), "--json")
    (says,) = (each["says"] for each in run.json["findings"] if each["rule"] == "season-edges")
    assert "from its end at the lower edge on, which so stays flush" in says


# ---- as cut


def judged(table: Table, files: list[tuple[Table, str]]) -> tuple[float, float]:
    """Gouge and left of the socket at five heights, from outside."""
    (entry,) = table["joints"]
    cut = next((each, text) for each, text in files if each["setup"] == "flat" and each["bit"]["kind"] == "dovetail")
    board, depth, verdicts = table["boards"]["top"], entry["depth"], []
    for z in np.linspace(-depth + 0.001, -0.001, 5):
        may, must = outlines(table, float(z))
        region = back(dovetailed(cut[1], cut[0]["bit"], depth, float(z)), cut[0]["placement"])
        verdicts.append(against(region, may, must, (board["length"], board["width"])))
    verdict = worst(verdicts)
    return verdict.gouge, verdict.left


@given(table=jobs())
@settings(max_examples=8, deadline=None)
def test_any_socket_is_cut_as_drawn_at_every_height(table: Table) -> None:
    with TemporaryDirectory() as folder:
        manifest, files = made(Path(folder), table)
    gouge, left = judged(table, files)
    assert gouge <= GOUGE + SWEEP_ERROR
    assert left <= LEFT + SWEEP_ERROR
    fit = manifest["proof"][0]["fit"]
    drawn = table["joints"][0]["clearance"]
    assert abs(fit["least_mm"] - drawn) <= 0.02
    assert abs(fit["most_mm"] - drawn) <= 0.02


def test_the_outside_judge_sees_a_socket_that_is_drawn_otherwise(tmp_path: Path) -> None:
    table = sliding_job()
    _, files = made(tmp_path, table)
    table["joints"][0]["angle_of_flank"] = 7.5
    assert judged(table, files)[1] == pytest.approx(8.0 * (TAN8 - 0.131652), abs=0.003)  # tan 7.5°
    table["joints"][0] |= {"angle_of_flank": 8, "base": 12.6}
    assert judged(table, files)[0] == pytest.approx(0.05, abs=0.002)


@pytest.mark.parametrize("end", ["left", "right"])
@pytest.mark.parametrize("keys", [{}, STOPPED, {"finish": "stopped", "length": 100.0, "base": 16.0}])
def test_the_tail_stands_as_drawn_at_every_height(keys: Table, end: str, tmp_path: Path) -> None:
    table = sliding_job(tail_end=end, **keys)
    _, files = made(tmp_path, table)
    entry, text = files[-1]
    assert (entry["setup"], entry["end"]) == ("upright", end)
    board, depth = table["boards"]["divider"], 7.8  # 0.2 mm shorter than the socket is deep
    for z in (-0.001, -2.0, -5.0, -depth + 0.001):
        y0, y1, v0, v1 = tail_outline(table, 0.2 - z)
        gone = shapely.box(-30.0, -30.0, 150.0, 48.0).difference(shapely.box(y0, v0, y1, v1))
        region = back(dovetailed(text, entry["bit"], depth, z), entry["placement"])
        verdict = against(region, gone, gone, (board["width"], board["thickness"]))
        assert verdict.gouge <= GOUGE + SWEEP_ERROR
        assert verdict.left <= LEFT + SWEEP_ERROR


@pytest.mark.parametrize("keys", [{}, STOPPED, {"base": 17.0}, {"base": 17.0, "taper": 1.0, **STOPPED}])
def test_the_dovetail_bit_is_never_lifted_within_the_board(keys: Table, tmp_path: Path) -> None:
    table = sliding_job(**keys)
    _, files = made(tmp_path, table)
    entry, text = next((each, text) for each, text in files if each["file"].endswith("02-socket.nc"))
    (a, b), (x, y) = (300.0, 120.0), np.asarray(entry["placement"])[:, 2]
    assert not lifted_within(text, 12.7 / 2, (x, y, x + a, y + b))
    assert {float(c.points[-1, 2]) for c in chains(text) if c.points[-1, 2] < 0.0} == {-8.0}  # the full depth at once


@pytest.mark.parametrize("base", [12.1, 15.4])
def test_a_socket_about_twice_as_wide_as_its_bit_or_wider_is_cut_whole(base: float, tmp_path: Path) -> None:
    """The inner pass once ended within the board, where the bit cannot come up; and the necks of two passes once left a
    ridge between them on the face."""
    table = sliding_job(base=base, depth=5.0, angle_of_flank=7, bit="dovetail 6.35 x 7")
    _, files = made(tmp_path, table)
    gouge, left = judged(table, files)
    assert gouge <= GOUGE + SWEEP_ERROR
    assert left <= LEFT + SWEEP_ERROR


def test_the_judge_of_lifting_sees_a_bit_that_is_lifted_in_its_slot() -> None:
    text = "G21 G90\nG0 X0 Y0 Z5\nG1 Y-9 F100\nZ-8\nY40\nG0 Z5\nM30\n"
    assert lifted_within(text, 6.35, (-50.0, 0.0, 50.0, 120.0)) == [6]


def test_the_straight_bit_leaves_four_fifths_of_a_millimetre_on_both_sides_and_below(tmp_path: Path) -> None:
    """1.6 mm narrower than the neck and 0.8 mm shallower (common practice, no source)."""
    table = sliding_job(base=16.0)
    _, files = made(tmp_path, table)
    entry, text = files[0]
    assert entry["bit"]["kind"] == "straight"
    assert min(float(c.points[-1, 2]) for c in chains(text)) == pytest.approx(-7.2)
    region = back(swept(text, entry["bit"]["diameter"] / 2, -3.0), entry["placement"])
    x0, _, x1, _ = region.intersection(shapely.box(0.0, 50.0, 300.0, 70.0)).bounds
    assert x1 - x0 == pytest.approx(16.0 - 2 * 8.0 * TAN8 - 1.6, abs=0.003)


def test_without_preclear_there_is_no_straight_file(tmp_path: Path) -> None:
    _, files = made(tmp_path, sliding_job(preclear=False))
    assert [entry["bit"]["kind"] for entry, _ in files] == ["dovetail", "dovetail"]


# ---- fit


@pytest.mark.parametrize("flank", ["low", "high"])
def test_a_tail_file_edited_by_hand_is_measured_as_it_cuts(flank: str, tmp_path: Path) -> None:
    """One cheek cut 0.05 mm deeper into the tail takes 0.05 · cos 8° of its flank, square to it; the other stays."""
    job = load_job(write_job(tmp_path, sliding_job()))
    (joint,) = plan_job(job, kit_for(job))
    texts = dict(joint.texts)
    name = next(each for each in texts if each.endswith("tail.nc"))
    ys = [float(line.split("Y")[1]) for line in texts[name].splitlines() if "Y" in line and line[0] != "("]
    # The divider's outside face, at y 0, looks to high t: the cheek there is that of the high flank.
    old, new = (min(ys), min(ys) + 0.05) if flank == "high" else (max(ys), max(ys) - 0.05)
    texts[name] = texts[name].replace(f"Y{old:.4f}", f"Y{new:.4f}")
    seen = {each["flank"]: each for each in joint.judged(texts).fit_dict()["flanks"]}
    moved, other = seen.pop(flank), *seen.values()
    assert moved["least_mm"] == pytest.approx(0.05 + 0.0495, abs=0.002)
    assert moved["most_mm"] == pytest.approx(0.05 + 0.0495, abs=0.002)
    assert other["least_mm"] == other["most_mm"] == pytest.approx(0.05, abs=0.002)


def test_a_tail_that_is_too_thick_is_refused_and_a_loose_one_said(tmp_path: Path) -> None:
    job = load_job(write_job(tmp_path, sliding_job(clearance=0.01)))
    (joint,) = plan_job(job, kit_for(job))
    texts = dict(joint.texts)
    name = next(each for each in texts if each.endswith("02-socket.nc"))
    narrow = texts[name].replace("X100.0000", "X100.0300")
    assert narrow != texts[name]
    outcome = joint.judged({**texts, name: narrow})
    levels = {(each.rule, each.level) for each in outcome.findings}
    assert ("does-not-fit", "stop") in levels
    assert ("sliding-fit-off", "caution") in levels


# ---- by hand


def test_by_hand_every_line_of_the_socket_has_its_place(tmp_path: Path) -> None:
    path = write_job(tmp_path, sliding_job(way="hand", **STOPPED))
    run = jigcam("make", path, "-o", tmp_path / "out")
    assert run.status == 0, run.err
    text = " ".join((tmp_path / "out" / "divider" / "setup-sheet.txt").read_text("utf-8").split())
    # The mouth: 12.7 − 2 · 8 · tan 8° = 10.45 mm about x 100, from 15 + 8 · tan 8° = 16.12 mm up.
    assert "right of its way from 105 mm along, 16 mm up; to 105 mm along, 120 mm up" in text
    assert "left of its way 10.45 mm from it, and as long" in text
    assert "Saw off 22.97 mm of the tail at the lower edge" in text
    assert "made by hand, without a file" in text


def test_the_picture_shows_socket_and_tail(tmp_path: Path) -> None:
    run = jigcam("view", write_job(tmp_path, sliding_job(**STOPPED)), "--width", "100")
    assert run.status == 0
    for words in (
        "inside face of top, lower edge down",
        "across the divider",
        "left end of divider",
        "12.7 mm",
        "8 mm",
    ):
        assert words in run.out


def test_a_notch_has_one_size_on_sheet_and_in_the_note(tmp_path: Path) -> None:
    """Where the bit decides the slope, the note was that of flanks of 8°, the sheet's row that of the bit."""
    kit = tmp_path / "kit.toml"
    text = (profiles_folder() / "metric-shop.toml").read_text("utf-8")
    kit.write_text(re.sub(r"(?m)^angle( *)= [78]$", r"angle\1= 14", text))
    job = tmp_path / "job.toml"
    starter = jigcam("start", "sliding-dovetail", "--kit", kit).out
    job.write_text(re.sub(r"(?m)^(slope|angle_of_flank) .*\n", "", starter))
    made = jigcam("make", job, "--kit", kit, "-o", tmp_path / "out", "--json")
    assert made.status == 0, made.err
    (note,) = (each["says"] for each in made.json["findings"] if each["rule"] == "sliding-notch")
    (sheet,) = (tmp_path / "out").rglob("setup-sheet.txt")
    row = re.search(r"notch +([\d.]+ mm) of the tail", sheet.read_text("utf-8"))
    assert row
    assert f"is notched {row[1]} from the" in note
