"""A socket by template: which bits ride it in which bushings, by plain geometry of circles and frustums."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from support.jobs import Table, kit_table, write_job
from support.kinds.sliding_dovetail import outlines, sliding_job
from support.output_folder import GOUGE, LEFT
from support.outside_cut import SWEEP_ERROR, against, back, grown, moved, part_at, swept
from support.shop import jigcam

from jigcam.findings import stops
from jigcam.geometry import translation
from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.joints.sliding_dovetail.by_template import TemplateSliding
from jigcam.joints.sliding_dovetail.guided_socket import (
    clearing_pair,
    fitted_from_below,
    goes_in,
    socket_pairs,
)
from jigcam.joints.sliding_dovetail.shape import Shape
from jigcam.kit import Bit, Bushing, load_kit
from jigcam.making.block_text import text_lines
from jigcam.making.built import Built
from jigcam.making.made_joint import JointProof, MadeJoint
from jigcam.making.setup_sheet import setup_sheet
from jigcam.workshop.build import plan_job


def shape(base: float, depth: float = 8.0, degrees: float = 8.0) -> Shape:
    return Shape(120.0, base, depth, math.radians(degrees), 0.0, False, False, 0.05)


@given(base=st.floats(12.8, 24.0), depth=st.floats(6.0, 10.0), kit=st.sampled_from(["inch-shop", "metric-shop"]))
def test_what_rides_an_opening_cuts_the_bottom_and_clears_within_the_mouth(base: float, depth: float, kit: str) -> None:
    shop, drawn = load_kit(kit), shape(base, depth)
    pairs = socket_pairs(drawn, shop, tuple(bit for bit in shop.bits if abs(math.degrees(bit.angle) - 8.0) < 1.1))
    assert pairs
    for pair in pairs:
        # The bushing's axis swings by what the opening leaves; the bit's tip cuts that and its own width.
        swing = pair.opening - pair.bushing.outside
        assert swing + pair.bit.diameter == pytest.approx(base, abs=1e-9)
        mouth = swing + pair.bit.diameter - 2.0 * depth * math.tan(pair.bit.angle)
        first = clearing_pair(drawn.sloped(pair.bit.angle), shop, pair.opening)
        if first is not None:
            cut = pair.opening - first.bushing.outside + first.bit.diameter
            assert first.bushing.outside < pair.opening
            assert cut == pytest.approx(first.cut, abs=1e-9)
            assert first.bit.diameter <= cut <= mouth - 2.0 * 0.8 + 1e-6
        other = clearing_pair(drawn.sloped(pair.bit.angle), shop)
        assert other is not None
        assert other.opening - other.bushing.outside + other.bit.diameter == pytest.approx(mouth - 1.6, abs=1e-9)


def test_a_straight_pair_of_the_same_difference_would_cut_away_the_mouth() -> None:
    """B₁ − d₁ = B₂ − d₂ gives both bits one width: the straight one then cuts the mouth as wide as the bottom."""
    drawn, opening = shape(12.8), 12.8 + 17.0 - 12.7
    same = opening - (11.0 - 6.7)  # a bit of 6.7 in a bushing of 11: the difference of 12.7 in 17
    assert same == pytest.approx(drawn.base)
    assert same > min(drawn.necks)
    kit = load_kit("metric-shop")
    found = clearing_pair(drawn, kit, opening)
    assert found is not None
    assert found.bushing.outside - found.bit.diameter > 17.0 - 12.7
    assert found.cut < min(drawn.necks)


def bit(diameter: float, degrees: float, height: float, shank: float) -> Bit:
    return Bit(
        name="dovetail",
        kind="dovetail",
        diameter=diameter,
        angle=math.radians(degrees),
        cutting_length=height,
        overall_length=70.0,
        shank=shank,
    )


def test_a_tip_that_does_not_pass_is_put_in_from_below_where_its_neck_turns_free() -> None:
    router = load_kit("metric-shop").the_router
    collar = Bushing(name="bushing", outside=13.0, inside=11.0, collar=8.0)
    # At 8 + 12 − 8 = 12 mm above its tip the collar begins: 12.7 − 2 · 12 · tan 8° = 9.33 wide there.
    tall, low = bit(12.7, 8.0, 20.0, 6.0), bit(12.7, 8.0, 9.0, 6.0)
    for each in (tall, low):
        assert fitted_from_below(each, collar)
        assert goes_in(each, collar, sheet=12.0, depth=8.0, router=router)
    narrow = Bushing(name="bushing", outside=11.0, inside=9.5, collar=8.0)
    assert not goes_in(tall, narrow, sheet=12.0, depth=8.0, router=router)  # its flanks reach up into it
    assert goes_in(low, narrow, sheet=12.0, depth=8.0, router=router)  # its shank alone does
    assert not goes_in(bit(12.7, 8.0, 9.0, 10.0), narrow, sheet=12.0, depth=8.0, router=router)
    assert not goes_in(tall, collar, sheet=8.5, depth=8.0, router=router)  # its collar rubs on the board
    assert not goes_in(low, collar, sheet=12.0, depth=9.5, router=router)  # its edges are too low
    assert not fitted_from_below(tall, Bushing(name="bushing", outside=17.0, inside=14.4, collar=8.0))


# ---- the whole joint, from the text of its files

CABINET = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet"
STOPPED: Table = {"from_": [100.0, 15.0], "length": 105.0, "start": "stopped"}
CASES: dict[str, Table] = {
    "stopped, one bit wide": {"base": 12.8, **STOPPED},
    "open at both ends, wide": {"base": 16.0},
    "down a board, askew": {"base": 13.0, "angle": -100, "from_": [150.0, 120.0], "face": "outside"},
    "tapered": {"base": 13.4, "taper": 0.5, "tail_end": "right", **STOPPED},
    "along the grain": {"base": 12.9, "angle": 0, "from_": [180.0, 60.0], "start": "stopped"},
    "two openings": {"base": 15.0, "angle_of_flank": 14, "depth": 10.5, **STOPPED},
}


@dataclass(frozen=True)
class Kept:
    """A job as made: its tables, the joint in memory, its proof, and its setup sheet."""

    table: Table
    joint: MadeJoint
    proof: JointProof
    sheet: str

    @property
    def plan(self) -> TemplateSliding:
        assert isinstance(self.joint.plan, TemplateSliding)
        return self.joint.plan

    def section(self, heading: str) -> list[str]:
        """The points under the heading that begins with those words, each in one line."""
        found = re.search(rf"\n\d+\. {re.escape(heading)}[^\n]*\n(.*?)(?=\n\n|\Z)", self.sheet, re.DOTALL)
        assert found, heading
        return [" ".join(point.split()) for point in re.split(r"\n  - ", "\n" + found[1]) if point.strip()]

    def milled(self) -> tuple[Table, str]:
        """The file that mills the sheet, with what the manifest says of it."""
        (file,) = (each for each in self.joint.files if each.takes("opening"))
        return {"file": file.file, **file.setup.facts}, file.text


def kit_of(name: str) -> Table | None:
    """The metric shop; for two openings without the bit that is thin enough to share one."""
    if name != "two openings":
        return None
    kit = kit_table("mm")
    return {**kit, "bits": [bit for bit in kit["bits"] if bit["name"] != "straight 3"]}


def kept_of(table: Table, kit_file: Table | None = None) -> Kept:
    with TemporaryDirectory() as folder:
        job = load_job(write_job(Path(folder), table, kit_file))
        kit = kit_for(job)
    (joint,) = plan_job(job, kit)
    proof = joint.proved(joint.texts)
    return Kept(table, joint, proof, "\n".join(setup_sheet(joint, proof, Built(job, kit, (joint,), (proof,)))))


@cache
def kept(name: str) -> Kept:
    return kept_of(sliding_job(way="template", **CASES[name]), kit_of(name))


def guides(it: Kept) -> tuple[Table, Table, tuple[float, float]]:
    """How the straight and the dovetail bit are led, and by how much the sheet is moved between them."""
    entry, _ = it.milled()
    if "guide" in entry:
        return entry["guide"]["first"], entry["guide"], (0.0, 0.0)
    straight, dovetail = entry["guides"].values()
    (_, step) = dovetail["moved_by"]
    return straight, dovetail, tuple(step)


def led(it: Kept, guide: Table, step: tuple[float, float]) -> shapely.Geometry:
    """Where the axis of a bit can go, in the frame of the face: the opening milled by a bit of 6 mm, less B/2."""
    _, text = it.milled()
    (keys,) = it.table["joints"]
    angle, half = math.radians(keys["angle"]), keys["length"] / 2.0
    middle = np.array(keys["from"]) + half * np.array([math.cos(angle), math.sin(angle)])
    placement = it.joint.plan.setups[0].placement
    x, y = middle - np.array(step)
    around = moved(
        shapely.LineString([(x, y), *(np.array([x, y]) + each * (middle - keys["from"]) for each in (-1, 1))]),
        placement,
    )
    x0, y0, x1, y1 = around.buffer(50.0).bounds
    milled = swept(text, 3.0, -6.0, (x0, y0, x1, y1))
    opening = part_at(back(milled, placement), np.array([x, y]))
    return grown(moved(opening, ((1.0, 0.0, step[0]), (0.0, 1.0, step[1]))), -guide["bushing"]["outside"] / 2.0)


@pytest.mark.parametrize("name", ["stopped, one bit wide", "down a board, askew", "tapered", "two openings"])
def test_an_outside_judge_sees_the_socket_cut_by_both_bits_and_the_mouth_whole(name: str) -> None:
    """By shapely, the trigonometry of the bit, and the text of the sheet: nothing of the proof."""
    it = kept(name)
    (keys,), top = it.table["joints"], it.table["boards"]["top"]
    board, depth, lean = (top["length"], top["width"]), keys["depth"], math.tan(math.radians(keys["angle_of_flank"]))
    straight, dovetail, step = guides(it)
    assert (step != (0.0, 0.0)) == (name == "two openings")
    ways = led(it, dovetail, step)
    for rise in (0.01, depth - 0.01):
        may, must = outlines(it.table, rise - depth)
        cut = grown(ways, dovetail["bit"]["diameter"] / 2.0 - rise * lean)
        verdict = against(cut, may, must, board)
        assert verdict.gouge <= GOUGE + SWEEP_ERROR
        assert verdict.left <= LEFT + SWEEP_ERROR
    mouth, _ = outlines(it.table, 0.0)
    cleared = grown(led(it, straight, (0.0, 0.0)), straight["bit"]["diameter"] / 2.0)
    on_board = cleared.intersection(shapely.box(0.0, 0.0, *board))
    assert on_board.distance(mouth.boundary) >= 0.79  # 0.8 mm at each edge (common practice)
    assert on_board.within(mouth)
    # Both ends up off the board where it is open, the rim of the bit and a slip of 6 mm clear of the edge.
    off = [shapely.Point(point).distance(shapely.box(0.0, 0.0, *board)) for point in shapely.get_coordinates(ways)]
    assert max(off) >= dovetail["bit"]["diameter"] / 2.0 + 5.99


@pytest.mark.parametrize("name", CASES)
def test_the_proof_puts_the_tail_into_the_ridden_socket(name: str) -> None:
    it = kept(name)
    assert not stops([*it.joint.findings, *it.proof.findings])
    fit = it.proof.outcome.fit_dict()
    assert fit["with_tail"]
    assert abs(fit["least_mm"] - 0.05) <= 0.002
    assert abs(fit["most_mm"] - 0.05) <= 0.002
    assert it.proof.outcome.ridden


def test_a_wall_of_the_opening_that_was_moved_in_the_text_is_seen_in_ride_and_fit() -> None:
    it = kept("stopped, one bit wide")
    entry, text = it.milled()
    wall = it.plan.sheet.dovetail.in_file_frame().opening.bounds[2] - 3.0  # of the axis of the milling bit
    written = {each for each in re.findall(r"X([\d.]+)", text) if abs(float(each) - wall) < 1e-3}
    assert len(written) == 1
    (x,) = written
    texts = {**it.joint.texts, entry["file"]: text.replace(f"X{x}", f"X{float(x) + 0.1:.4f}")}
    outcome = it.joint.judged(texts)
    assert "ride-gouge" in [finding.rule for finding in outcome.findings]
    assert outcome.gouge == pytest.approx(0.1, abs=0.01)
    assert outcome.fit_dict()["most_mm"] == pytest.approx(0.05 + 0.1 * math.cos(math.radians(8.0)), abs=0.005)


def test_a_straight_bit_that_cuts_the_mouth_away_is_refused_by_the_proof() -> None:
    it = kept("stopped, one bit wide")
    sheet, twelve = it.plan.sheet, it.plan.kit.bit("straight 12")
    assert sheet.clearing is not None
    plan = replace(it.plan, sheet=replace(sheet, clearing=replace(sheet.clearing, bit=twelve)))
    found = replace(it.joint, plan=plan).judged(it.joint.texts).findings
    assert [(each.level, each.rule) for each in found if "straight bit" in each.where] == [("stop", "ride-gouge")]


# ---- the sheet, done as it says


@pytest.mark.parametrize("name", CASES)
def test_the_sheet_sets_both_bits_below_the_base_and_names_bit_and_bushing_in_order(name: str) -> None:
    it = kept(name)
    (keys,) = it.table["joints"]
    sheet, depth = it.plan.kit.the_sheet.thickness, keys["depth"]
    first, then = it.section("Clear the socket"), it.section("Cut the socket")
    assert it.sheet.index("Clear the socket") < it.sheet.index("Cut the socket with the dovetail bit")
    straight, dovetail, _ = guides(it)
    assert f"Fit {straight['bushing']['name']} and {straight['bit']['name']}, unplugged." in first
    below = [float(found[1]) for line in first if (found := re.search(r"set the bit ([\d.]+) mm below", line))]
    assert below[-1] == pytest.approx(sheet + depth - 0.8, abs=0.006)
    assert all(line.startswith("Caution: ") for line in then[:2])
    assert "Never lift the router" in then[0]
    (tip,) = (float(found[1]) for line in then if (found := re.search(r"Set its tip ([\d.]+) mm below", line)))
    assert tip == pytest.approx(sheet + depth, abs=0.006)
    (fitted,) = (line for line in then if line.startswith("Unplug."))
    assert dovetail["bit"]["name"] in fitted
    assert dovetail["bushing"]["name"] in fitted
    assert "passes the bushing" in fitted


@pytest.mark.parametrize("name", CASES)
def test_the_sheet_lets_the_bit_down_where_it_hangs_free_of_board_and_strip(name: str) -> None:
    """Each open end is named once; the place told lies in the ride, and the hole leaves wood against the edge."""
    it = kept(name)
    (keys,) = it.table["joints"]
    lines, radius = it.section("Make way"), it.plan.sheet.dovetail.bit.diameter / 2.0
    opened = [end for end in ("start", "finish") if keys.get(end) != "stopped"]
    assert len(lines) == len(opened)
    for line, end in zip(lines, opened, strict=True):
        assert f"at the {end} of the socket" in line.replace("At the", "at the")
        told = re.search(r"([\d.]+) mm from (?:the edge that bears|that edge)", line)
        assert told
        assert float(told[1]) - radius >= 5.99
        if hole := re.search(r"at least (\d+) mm across", line):
            assert float(told[1]) - float(hole[1]) / 2.0 > 3.0
            assert float(hole[1]) > 2.0 * radius
    (caution,) = (line for line in it.section("Cut the socket") if "comes out only over" in line)
    edges = {"lower edge", "upper edge", "left end", "right end"}
    assert sum(edge in caution for edge in edges) == len(opened)


def test_the_sheet_that_is_moved_as_told_brings_the_other_opening_over_the_socket() -> None:
    it = kept("two openings")
    plan, sheet = it.plan.sheet.dovetail, it.plan.sheet
    (told,) = (line for line in it.section("Cut the socket") if line.startswith("Move the sheet"))
    found = re.search(r"Move the sheet ([\d.]+) mm toward the (\w+ \w+) .*drawn ([\d.]+) mm from the (\w+ \w+)", told)
    assert found
    way = {"left end": 1.0, "right end": -1.0}[found[2]]  # on the inside face the left end is on the right
    assert sheet.step == (pytest.approx(way * float(found[1])), 0.0)
    (index,) = plan.indexes
    assert found[4] == "right end"
    assert float(found[3]) == pytest.approx(index.at + sheet.step[0])
    (drawn,) = (line for line in it.section("Make the sheet ready") if line.startswith("Draw a line"))
    assert f"{index.at:g} mm from its right end" in drawn
    moved_on = plan.opening.transformed(translation(*sheet.step))
    assert moved_on.contains([it.plan.joint.band.at(50.0)]).all()


def test_the_divider_of_the_cabinet_is_made_by_a_template_in_inches(tmp_path: Path) -> None:
    """Its base a 64th wider than the bit, so that the bushing has play; sizes on the sheet are fractions of a rule."""
    text = (CABINET / "cabinet.toml").read_text("utf-8")
    first, name, rest = text.partition('name      = "divider"')
    rest = rest.replace('base      = "1/2"', 'base      = "33/64"\nway       = "template"', 1)
    (tmp_path / "cabinet.toml").write_text(first + name + rest, "utf-8")
    job = load_job(tmp_path / "cabinet.toml")
    kit = load_kit("inch-shop")
    (joint,) = plan_job(job, kit, "divider")
    proof = joint.proved(joint.texts)
    assert not stops([*joint.findings, *proof.findings])
    fit = proof.outcome.fit_dict()
    assert fit["least_mm"] == pytest.approx(0.002 * 25.4, abs=0.002)
    assert fit["most_mm"] == pytest.approx(0.002 * 25.4, abs=0.002)
    words = " ".join("\n".join(text_lines(joint.plan.bench_words(3))).split())
    assert "Set its tip 13/16 in below the base, 1/2 in of sheet and 5/16 in of socket" in words


def test_a_tip_that_does_not_pass_is_told_to_go_up_from_below() -> None:
    kit = {**kit_table("mm"), "bushings": [{"name": "bushing 16", "outside": 16, "inside": 11.5, "collar": 8}]}
    it = kept_of(sliding_job(way="template", base=12.9, tail_way="hand", **STOPPED), kit)
    (fitted,) = (line for line in it.section("Cut the socket") if line.startswith("Unplug."))
    assert "up through the bushing from below, shank first" in fitted
    assert "take the bit out first" in fitted


def test_without_a_machine_sheet_and_tail_are_made_by_hand_and_an_upright_tail_is_refused(tmp_path: Path) -> None:
    kit = {key: value for key, value in kit_table("mm").items() if key != "machine"}
    table = sliding_job(way="template", base=12.9, tail_way="router-table", **STOPPED)
    run = jigcam("check", write_job(tmp_path, table, kit))
    assert run.status == 0, run.err
    table["joints"][0]["tail_way"] = "upright"
    run = jigcam("check", write_job(tmp_path, table, kit), "--json")
    assert [each["rule"] for each in run.json["findings"] if each["level"] == "stop"] == ["sliding-tail"]


@pytest.mark.parametrize(
    ("keys", "says", "mend"),
    [
        ({"base": 12.7}, "the bushing wants play", "make the base at least 12.75 mm, for dovetail 12.7 x 8"),
        ({"base": 12.7}, "the bushing wants play", 'write way = "direct"'),
        ({"base": 12.9, "bushing": "bushing 11"}, "it turns free in no bushing", "leave bushing out"),
        ({"base": 12.9, "bit": "straight 8"}, "it is a straight bit", "leave bit out: dovetail 12.7 x 8 does"),
        ({"base": 12.9, "angle_of_flank": 11}, "its flank is 8° and 11° is drawn", "leave angle_of_flank out"),
    ],
)
def test_what_rides_no_template_is_refused_with_the_reason_and_the_ways_that_work(
    keys: Table, says: str, mend: str, tmp_path: Path
) -> None:
    run = jigcam("check", write_job(tmp_path, sliding_job(way="template", **keys)))
    words = " ".join((run.out + run.err).split())
    assert run.status == 1
    assert "[sliding-template]" in words
    assert says in words
    assert mend in words
    assert 'way = "hand"' in words


def test_the_caution_of_no_straight_bit_is_not_read_as_the_bit_of_the_file() -> None:
    """Wrapped in a comment of the file, "bit: that one takes ..." began a line, and the proof took it for a bit."""
    kit = kit_table("mm")
    kit = {**kit, "bits": [bit for bit in kit["bits"] if bit["kind"] != "straight"]}
    it = kept_of(sliding_job(tail_way="hand", base=15.123), kit)
    assert "sliding-preclear" in [each.rule for each in it.joint.findings if each.level == "caution"]
    assert not [each for each in it.proof.findings if each.rule == "comment"]
