"""What strangers could not read on sheets of routed work: each remark with the line that answers it now."""

from __future__ import annotations

import re
from fractions import Fraction
from math import hypot, pi
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.grooves import groove_job, made
from support.jobs import job_table, write_job
from support.kinds.rabbet import rabbet_job
from support.shop import jigcam

from jigcam.bench.coupon import build_coupon
from jigcam.bench.cut import the_cut
from jigcam.job import Board
from jigcam.joints import design, load_job
from jigcam.joints.groove.by_hand import groove_by_hand
from jigcam.joints.groove.groove import Groove
from jigcam.joints.groove.straight_edge import StraightEdge
from jigcam.joints.groove.template_words import template_words
from jigcam.kit import Kit, load_kit, profiles_folder
from jigcam.making.block_text import text_lines
from jigcam.making.blocks import Rows
from jigcam.making.setup_sheet import setup_sheet
from jigcam.making.sheet_html import _points
from jigcam.making.template_words import sheet_table
from jigcam.making.upright import hanging_words, vise_faults
from jigcam.template import plan_template
from jigcam.template.hand import hand_lines
from jigcam.template.marks import Text
from jigcam.template.pair_words import Sums
from jigcam.units import Unit, Voice
from jigcam.workshop.build import build_job

MM = Voice("mm")
EXAMPLES = Path(__file__).parents[2] / "examples" / "music-cabinet"


@pytest.fixture(scope="module")
def shop() -> Kit:
    """The metric shop."""
    return load_kit("metric-shop")


def housing(**keys: Any) -> Any:
    """A housing stopped 20 mm behind the lower edge, open at the upper one, in the outside face."""
    drawn = {"face": "outside", "start_point": (200.0, 20.0), "angle": pi / 2.0, "length": 265.0, "finish": "open"}
    return made(groove_job(**(drawn | keys)))


def told(groove: Any, kit: Kit) -> str:
    """The words at the bench on one line."""
    return " ".join(" ".join(text_lines(groove_by_hand(groove, kit, MM, 1))).split())


def test_each_wall_along_a_straight_edge_has_its_way_and_where_it_begins_and_ends(shop: Kit) -> None:
    """The bit turns clockwise and pulls to the left of its way: there is the straight-edge (common practice)."""
    groove = housing()
    routed = StraightEdge.of(groove, shop)
    assert routed is not None
    assert routed.bit.plunges
    left, right = routed.rides()
    assert (left.side, left.toward, left.first, left.last, left.ends) == (
        "left end",
        "upper edge",
        "start",
        "finish",
        None,
    )
    assert (right.side, right.toward, right.first, right.last, right.begins) == (
        "right end",
        "lower edge",
        "finish",
        "start",
        None,
    )
    text = told(groove, shop)
    assert "begin at the start, the base against the block there" in text
    assert "begin off the board, at the open finish; move toward the lower edge; stop where the base meets" in text
    assert "lower the running bit there: that takes a router whose base plunges" in text


@pytest.mark.parametrize("ends", ["round", "square"])
def test_a_bit_that_rests_at_its_stop_block_stays_within_the_groove_as_drawn(ends: str, shop: Kit) -> None:
    """A bit narrower than a groove with round ends stops short of the extreme end, or it cuts the round ones away."""
    groove = housing(ends=ends)
    routed = StraightEdge.of(groove, shop)
    assert routed is not None
    low = groove.band.y
    for centre in (routed.rides()[0].begins, routed.rides()[1].ends):
        assert centre is not None
        aside = abs(centre[0] - 200.0)
        assert aside + routed.bit.radius == pytest.approx(groove.width / 2.0)
        if ends == "round":
            assert hypot(aside, low + groove.width / 2.0 - centre[1]) + routed.bit.radius <= groove.width / 2.0 + 1e-9
        else:
            assert centre[1] - routed.bit.radius == pytest.approx(low)
        # the base, which is round, touches the block there
        assert groove.band.y + routed.block_station("start") == pytest.approx(centre[1] - routed.radius)
    assert "beyond the board's edge, so lay an offcut as thick as the board" in told(groove, shop)


def test_a_bit_that_does_not_cut_at_its_centre_is_not_lowered_into_the_wood(shop: Kit) -> None:
    kit = shop.model_copy(update={"bits": tuple(b.model_copy(update={"plunges": False}) for b in shop.bits)})
    text = told(housing(), kit)
    assert "does not cut at its centre, so it cannot be lowered into the wood where a wall begins at a stop" in text
    assert "in which the bit turns free" in text
    both_open = housing(start_point=(200.0, 0.0), length=285.0, start="open")
    assert "cut at its centre" not in told(both_open, kit)


def test_before_the_first_cut_of_the_router_its_way_is_told_and_the_strip_is_held(shop: Kit) -> None:
    """The gauge was routed two lines before the rule, with nothing under the strip, and one half of it loose."""
    text = told(housing(), shop)
    assert text.index("at the left of the way, where the cut pulls") < text.index("Make a gauge: on a waste board")
    assert "both sides of the strip beyond where the base comes, for the cut parts it in two" in text
    assert "so that the straight-edge is at the left of the way, the bit through the strip into the waste" in text


def test_the_block_at_an_open_end_carries_the_base_where_the_bit_begins_off_the_board(shop: Kit) -> None:
    """A flush block was in the way of a bit that begins off the board at its depth."""
    text = told(housing(), shop)
    routed = StraightEdge.of(housing(), shop)
    assert routed is not None
    block = re.search(r"with a block as thick as the board, .*? reaches (\S+) mm or more beyond", text)
    guides = re.search(r"let the straight-edges reach (\S+) mm or more beyond the edge", text)
    assert block is not None
    assert guides is not None
    # With the bit lowered beside the board, in the block, all of the base lies on block or board.
    assert float(block[1]) >= routed.bit.radius + routed.radius
    # Begun beyond the block, the base, which is round, touches the straight-edge abreast of the bit.
    assert float(guides[1]) >= float(block[1]) + routed.bit.radius
    assert "The bit begins beyond the block, or is lowered running into it where it plunges" in text
    closed = told(housing(start_point=(200.0, 40.0), length=150.0, start="stopped", finish="stopped"), shop)
    assert "Back up each" not in closed


WAY = re.compile(r"straight-edge outside it, toward the (.*?); (.*?); move toward the (.*?);")


def _vector(name: str, face: str) -> tuple[int, int]:
    """A direction by the board's ends and edges, as one has it who looks square at the face; hands as they are told."""
    x = y = 0
    for part in name.split(" and the "):
        end, _, hand = part.partition(" (at your ")
        left = {"outside": "left end", "inside": "right end"}[face]
        if end.endswith("end"):
            x += -1 if end == left else 1
            assert hand == ("left)" if x < 0 else "right)")
        else:
            y += 1 if end == "upper edge" else -1
    return x, y


@pytest.mark.parametrize("angle", [pi / 2.0, 0.0, 0.8, -0.8])
@pytest.mark.parametrize("face", ["outside", "inside", "both"])
def test_in_the_mirrored_board_and_behind_the_straight_edge_is_at_the_left_of_each_way(
    face: str, angle: float, shop: Kit
) -> None:
    """It was "each wall is begun where it ended before, and moved along the other way", of walls named by ends."""
    groove = housing(face=face, angle=angle, start_point=(200.0, 140.0), length=120.0, depth=5.0, opposite_hand=True)
    blocks = groove_by_hand(groove, shop, MM, 1)
    rows = [row for block in blocks if isinstance(block, Rows) for row in block.rows if "wall to the" in row[0]]
    seen = ["outside", "inside", "outside", "inside"] if face == "both" else [face, face]
    assert len(rows) == 2 * len(seen)
    for number, (name, says) in enumerate(rows):
        found = WAY.match(says)
        assert found is not None
        here = seen[number // 2]
        (sx, sy), (mx, my) = _vector(found[1], here), _vector(found[3], here)
        assert mx * sy - my * sx > 0, (name, says)
        # The wall lies where its straight-edge does.
        assert name.endswith(f"wall to the {re.sub(r' .at your .*', '', found[1])}")
    # Both faces of a board have their walls at the same ends of it.
    names = [name.rpartition("wall to the ")[2] for name, _ in rows]
    assert all(names[at] == names[at + 2] for at in ((0, 1, 4, 5) if face == "both" else ()))
    # Mirrored, the marked wall is begun at the other end, and so is the other one.
    assert ("off the board" in rows[0][1]) != ("off the board" in rows[-2 if face != "both" else 4][1])
    assert "begun where it ended before" not in told(groove, shop)


@pytest.mark.parametrize("face", ["outside", "inside", "both"])
def test_the_ways_in_the_mirrored_board_go_along_the_walls_of_its_own_cut(face: str, shop: Kit) -> None:
    groove = housing(face=face, angle=0.8, start_point=(200.0, 140.0), length=120.0, depth=5.0, opposite_hand=True)
    routed = StraightEdge.of(groove, shop)
    assert routed is not None
    for cut in (each.cut for each in groove.places()):
        mirrored = (cut.hand == "opposite") != (cut.face != groove.face)
        lying = routed.mirrored(cut.face) if mirrored else routed.behind(cut.face)
        line = lying.groove.centreline
        assert (*line.start, *line.end) == pytest.approx((*cut.centreline.start, *cut.centreline.end))


def adjusted_shop(folder: Path, units: str) -> tuple[Path, Path]:
    """A kit of one's own after a test cut of a 1/2 in (12 mm) bit that measured larger, and a job that goes by it."""
    inch = units == "in"
    kit = folder / "kit.toml"
    kit.write_bytes((profiles_folder() / f"{'inch' if inch else 'metric'}-shop.toml").read_bytes())
    table = job_table(units, way="template", top={"kit": "kit.toml"})
    return kit, write_job(folder, table)


@pytest.mark.parametrize(
    ("units", "pair", "bit", "old", "marks"),
    [
        ("in", "straight 1/2,bushing 3/4", "0.504in", "0.756in,0.508in", ("BIT 1/2 IN, MEASURED 0.504 IN", "3/4 IN")),
        ("mm", "straight 12,bushing 24", "12.07mm", "24.2mm,12.2mm", ("BIT 12 MM, MEASURED 12.07 MM", "24 MM")),
    ],
)
def test_after_an_adjustment_marks_and_sheet_name_the_tool_as_sold_and_as_measured(
    units: Unit, pair: str, bit: str, old: str, marks: tuple[str, str], tmp_path: Path
) -> None:
    kit, job = adjusted_shop(tmp_path, units)
    opening, width = old.split(",")
    adjust = ("bushing", "adjust", kit, "--pair", pair, "--opening", opening, "--measured", width)
    run = jigcam(*adjust, "--bit-diameter", bit)
    assert run.status == 0, run.err
    if units == "in":  # the kit was off
        assert "templates made before" in " ".join(run.out.split())
        assert "no longer fit" in " ".join(run.out.split())
    names = pair.split(",")
    loaded = load_job(job)
    tools = load_kit("kit.toml", tmp_path)
    groove = design(loaded.joints[0], loaded)
    assert isinstance(groove, Groove)
    (cut,) = groove.cuts()
    plan = plan_template(cut, tools, bit=tools.bit(names[0]), bushing=tools.bushing(names[1]), voice=Voice(units))
    texts = [mark.string for mark in plan.marks if isinstance(mark, Text)]
    assert marks[0] in texts
    assert any(text.startswith(f"BUSHING {marks[1]}") for text in texts)
    sheet = " ".join(" ".join(text_lines(sheet_table(plan, tools, Voice(units)))).split())
    sold, measured = marks[0].lower().removeprefix("bit ").split(", ")
    assert f"{names[0]}, {sold}, {measured}" in sheet


@settings(max_examples=200, deadline=None)
@given(
    width=st.floats(3.0, 40.0),
    difference=st.floats(1.0, 20.0),
    units=st.sampled_from(["in", "mm"]),
)
def test_offset_and_opening_agree_to_their_last_digit(width: float, difference: float, units: Unit) -> None:
    """Two offsets as said make the difference as said, and the opening is no more exact than they are."""
    voice = Voice(units)
    told = Sums.of(width, difference, voice)

    def number(text: str) -> Fraction:
        plain = text.split(" (")[0].removesuffix(f" {units}")
        whole, _, rest = plain.rpartition("-")
        return Fraction(rest) + (Fraction(whole) if whole else 0)

    # A fraction of an inch stands for a length that is a micron off at the most, so twice for two.
    usual, slack = (Fraction(1, 1000), Fraction(2, 25400)) if units == "in" else (Fraction(1, 100), Fraction(0))
    fractions = any("/" in text.split(" (")[0] for text in (told.offset, told.difference))
    gap = abs(2 * number(told.offset) - number(told.difference))
    assert gap <= (usual / 2 + slack if fractions else 0)
    wide = Fraction(voice.length(width, 3 if units == "in" else 2).split()[0])
    assert abs(wide + number(told.difference) - number(told.opening)) <= usual / 2 + slack


def test_the_step_that_sets_the_clamps_says_how_far_they_stay_off(shop: Kit) -> None:
    """The base comes as far beyond the rim as it is larger than the bushing, which touches the rim."""
    groove = made(groove_job())
    (cut,) = groove.cuts()
    plan = plan_template(cut, shop, voice=MM)
    off = plan.support.base_radius - plan.bushing.outside / 2.0
    assert plan.support.base_radius == shop.the_router.base_radius
    text = " ".join(text_lines(template_words(groove, plan, shop, MM, 1)))
    assert f"stay {MM.at_least(off)} or more off the rim of the opening" in " ".join(text.split())


def test_a_bit_partly_over_wood_at_the_open_end_is_not_started_at_depth(coupon_sheet: str) -> None:
    assert "Start the bit outside the board" not in coupon_sheet
    if "beyond the open end of the cut" in coupon_sheet:
        assert "partly over wood, do not start it at depth" in coupon_sheet


def test_a_shelf_wider_than_its_groove_is_a_caution_and_not_only_for_those_who_ask_why(tmp_path: Path) -> None:
    table = job_table("mm", boards={"shelf": {"length": 700, "width": 250, "thickness": 12.2}}, length=150, way="hand")
    run = jigcam("check", write_job(tmp_path, table))
    assert "the groove only 150 mm long, so it does not go in as it is: notch" in " ".join(run.out.split())


def test_a_board_on_end_that_is_longer_than_the_machine_is_high_is_said_to_hang_below_the_bed(
    shop: Kit, tmp_path: Path
) -> None:
    """A pin board of 420 mm on end under 90 mm of Z: it cannot stand on the bed."""
    job = load_job(EXAMPLES / "carcase-metric.toml")
    built = build_job(job.model_copy(update={"joints": job.joints[:1]}), shop)
    sheet = " ".join(" ".join(setup_sheet(built.joints[0], built.proofs[0], built)).split())
    z, clear = shop.the_machine.travel[2], shop.the_machine.clear_height
    hangs = f"hangs down past it, in a vise at the bed's edge or over an opening in it, about {420 + clear - z:g} mm"
    assert f"top is 420 mm long, and the machine moves {z:g} mm in z" in sheet
    assert hangs in sheet
    assert not hanging_words("peg", z - clear, shop.the_machine, MM), "one that stands on the bed"


def test_a_board_on_end_for_which_the_kit_has_no_room_below_the_bed_is_refused(shop: Kit) -> None:
    machine = shop.the_machine
    assert machine.upright is not None
    low = machine.model_copy(update={"upright": machine.upright.model_copy(update={"length": 400.0})})
    board = Board(name="top", length=420.0, width=150.0, thickness=16.0)
    assert not vise_faults(machine, board, MM.length)
    assert vise_faults(low, board, MM.length) == ["top is 420 mm long, and the machine has room for 400 mm on end"]


@pytest.mark.parametrize(("width", "beside"), [(5.5, ""), (16.0, "lanes side by side")])
def test_a_rabbet_that_one_lane_clears_is_not_told_in_lanes(width: float, beside: str, tmp_path: Path) -> None:
    job = load_job(write_job(tmp_path, rabbet_job(width=width, depth=8)))
    built = build_job(job, load_kit("metric-shop"))
    sheet = " ".join(" ".join(setup_sheet(built.joints[0], built.proofs[0], built)).split())
    assert not re.search(r"\b1 (lanes|passes|corners|tabs)\b", sheet)
    assert ("lanes side by side" in sheet) == bool(beside)


def test_only_what_is_to_be_done_has_a_box_to_tick(shop: Kit) -> None:
    groove = made(groove_job())
    (cut,) = groove.cuts()
    plan = plan_template(cut, shop, voice=MM)
    page = "".join(_points(tuple(hand_lines(plan, MM)), boxes=True))
    told = next(each for each in page.split("<li") if "The opening itself is the stop" in each)
    assert "checkbox" not in told
    assert "checkbox" in next(each for each in page.split("<li") if "Lower the running bit" in each)


def test_the_bushings_play_is_said_to_be_in_its_opening_and_little_of_it_is_a_caution(shop: Kit) -> None:
    """A bushing "with 0.002 in of play" was read as one that is loose in its plate."""

    def lines(clearance: float) -> str:
        (cut,) = made(groove_job(shelf=12.0, clearance=clearance)).cuts()
        plan = plan_template(cut, shop, bit=shop.bit("straight 12"), bushing=shop.bushing("bushing 24"), voice=MM)
        return " ".join(hand_lines(plan, MM))

    assert "0.15 mm of play in the opening, which is so much wider than it" in lines(0.15)
    assert "Caution: that is little play" not in lines(0.15)
    assert "Caution: that is little play" in lines(0.06)


@pytest.fixture(scope="module")
def coupon_sheet(shop: Kit) -> str:
    """The sheet of a test coupon on one line, of a groove by template."""
    job = load_job(EXAMPLES / "shelf-and-strip-metric.toml")
    built = build_coupon(the_cut(job, "tilted shelf"), job, shop)
    return " ".join(" ".join(setup_sheet(built.joints[0], built.proofs[0], built)).split())


def test_the_coupon_is_sawn_free_and_clamped_out_of_the_bases_way(coupon_sheet: str) -> None:
    assert "Saw the sheet free at its 8 tabs" in coupon_sheet
    assert "or more off the rim of the opening" in coupon_sheet
    assert coupon_sheet.index("Saw the sheet free") < coupon_sheet.index("Clamp an offcut")


def test_the_sheet_has_the_templates_finished_size_and_the_names_of_the_files(tmp_path: Path) -> None:
    kit, job = adjusted_shop(tmp_path, "mm")
    loaded, tools = load_job(job), load_kit("kit.toml", tmp_path)
    built = build_job(loaded, tools)
    sheet = " ".join(" ".join(setup_sheet(built.joints[0], built.proofs[0], built)).split())
    (plan,) = built.joints[0].plan.templates
    x0, y0, x1, y1 = plan.sheet.bounds
    assert f"finished {MM.size(x1 - x0, y1 - y0)}" in sheet
    assert f"jigcam bushing test {job.name} --joint 'tilted shelf' -o coupon" in sheet
    assert f"jigcam bushing adjust {kit.name} --pair" in sheet
    assert not re.search(r"\b(JOB|KIT)\b", sheet)
