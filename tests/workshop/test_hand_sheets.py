"""Sheets of hand work as a person reads them who knows nothing else: figures of a rule, steps in the order of work."""

from __future__ import annotations

import re
from fractions import Fraction
from math import atan, pi
from pathlib import Path
from typing import Any

import pytest
from support.boards import DIVIDER, along, board_job, lapped, tails
from support.grooves import SIDE, groove_job
from support.jobs import write_job
from support.kinds.mortise import mortise_job
from support.kinds.rabbet import rabbet_job
from support.pieces import box
from support.shop import jigcam

import jigcam as calls
from jigcam.dovetails import even_layout, hand_layout
from jigcam.dovetails.judging import JointSizes
from jigcam.findings import Finding
from jigcam.job import Entry, kit_for
from jigcam.joints import design, kind, load_job
from jigcam.joints.rabbet.entry import RabbetEntry
from jigcam.kit import load_kit
from jigcam.making.block_text import text_lines
from jigcam.piece import Piece, PieceJoint
from jigcam.units import Voice
from jigcam.units.ruled import ruled_for

INCH = 25.4
METRIC = load_kit("metric-shop")


def bench(entry: Entry, job: Any, kit: Any = METRIC) -> str:
    """The words for the bench of a joint by hand, on one line."""
    plan = kind(entry.kind).plan(design(entry, job), entry, job, kit)
    return " ".join(" ".join(text_lines(plan.bench_words(1))).split())


def housing(**keys: Any) -> str:
    """A groove across or along its board, by hand."""
    job = groove_job(**{"way": "hand", "start_point": (100.0, 40.0), "angle": pi / 2.0, "length": 120.0, **keys})
    return bench(job.joints[0], job)


# ---- figures


@pytest.mark.parametrize(("units", "step"), [("mm", Fraction(1, 2)), ("in", Fraction(1, 32))])
def test_figures_of_a_layout_are_those_of_a_rule_and_run_from_the_edge(units: Any, step: Fraction) -> None:
    """Divisions of a rule: half millimetres and 32nds (common practice). Rounded one by one, none is off by more than
    half a division; chained from the rounded width of a tail the last would be off by a multiple."""
    layout = even_layout(285.3, 20.0, 6, 8.0, 7.0, atan(1 / 8))
    hand = hand_layout(layout, JointSizes(24.0, 20.0, clearance=0.05), units)
    one = float(step) * (INCH if units == "in" else 1.0)
    for line in (*hand.tail_lines, *hand.pin_lines):
        for each in (line.end, line.base):
            assert each.read / one == pytest.approx(round(each.read / one), abs=1e-6)
            assert abs(each.error) <= one / 2.0 + 1e-9
    says = " ".join(" ".join(text_lines(hand.blocks(Voice(units)))).split())
    assert f"rounded by itself to {'1/32 in' if units == 'in' else '0.5 mm'}: errors do not add up" in says
    most = max(abs(e.error) for line in (*hand.tail_lines, *hand.pin_lines) for e in (line.end, line.base))
    assert f"none is more than {Voice(units).length(most)}" in says
    assert "pins are marked from the tails as they are cut" in says


def test_a_64th_of_the_drawing_stays_one_on_the_rule() -> None:
    layout = even_layout(4 * INCH, INCH / 2, 2, INCH / 2, 21 / 64 * INCH, atan(1 / 8))
    hand = hand_layout(layout, JointSizes(INCH / 2, INCH / 2), "in")
    assert Voice("in").rule(hand.tail_lines[0].end.read) == "21/64 in"
    assert Voice("in").rule(hand.tail_lines[0].base.read) == "25/64 in"  # 21/64 and a sixteenth: exact
    assert "are exact" in hand.rounding()


def test_a_narrow_half_pin_is_not_rounded_away() -> None:
    """0.7 mm of half pin would be read as 0.5: so narrow, tenths are said."""
    layout = even_layout(60.0, 8.0, 3, 0.7, 0.7, atan(1 / 8))
    hand = hand_layout(layout, JointSizes(8.0, 8.0), "mm")
    assert hand.ruled.division == "0.1 mm"
    assert hand.tail_lines[0].end.read == pytest.approx(0.7)
    # Two lines that a rule would put in one place keep apart.
    assert ruled_for([(10.1, 10.2)], "mm", (0.0, 60.0)).division == "0.1 mm"
    assert ruled_for([(10.11, 10.13)], "mm", (0.0, 60.0)).finer == 0


def test_a_64th_is_said_as_one_however_small() -> None:
    """It was 0.0313 in: a 32nd is 0.79 mm, which was held for a clearance."""
    assert [Voice("in").length(n * INCH / 64.0) for n in (1, 2, 3)] == ["1/64 in", "1/32 in", "3/64 in"]
    assert Voice("in").length(0.05) == "0.002 in"


# ---- the order of the work


@pytest.mark.parametrize("job", [groove_job(way="hand", angle=pi / 2.0), None])
def test_another_way_is_told_before_the_step_that_it_replaces(job: Any, tmp_path: Path) -> None:
    """It was "3. Or rout it", after the walls had been sawn."""
    if job is None:
        starter = kind("finger-joint").starter("mm")
        (tmp_path / "job.toml").write_text(starter.replace("# way ", "way "), "utf-8")
        job = load_job(tmp_path / "job.toml")
    says = bench(job.joints[0], job)
    told, replaced = says.index("There are two ways to"), re.search(r"In place of steps? (\d)", says)
    assert replaced is not None
    assert told < replaced.start()
    # Told within the step that is replaced, before its first act.
    assert f"{replaced[1]}. Cut the" in says[:told]
    assert not re.search(r"\bOr (rout|with)\b", says)
    assert "Saw" not in says[:told]
    assert "chop along" not in says[:told]


def test_a_housing_stopped_at_both_ends_is_cleared_from_its_middle_and_needs_no_gauge() -> None:
    says = housing(clearance=0.0)
    assert "from both sides" not in says
    assert "from the middle toward each stopped end" in says
    assert "gauge's depth" not in says
    assert "and 0 mm more" not in says
    assert "0 mm more" not in says
    assert "stand shelf on the first line, and knife along its other side" in says
    # Round ends are bored before the walls are chopped.
    assert says.index("Bore both ends first") < says.index("chop along each wall")


def test_a_bevel_is_turned_over_only_where_one_is_set() -> None:
    assert "bevel over" not in housing(opposite_hand=True)
    assert "bevel over" not in housing(face="both", depth=5.0)
    assert "Turn the bevel over" in housing(opposite_hand=True, angle=1.3)


@pytest.mark.parametrize(
    ("keys", "where"),
    [
        (
            {"start_point": (0.0, 40.0), "angle": 0.0, "start": "open"},
            ("on the right end, where the groove runs out", "at the stopped finish first"),
        ),
        (
            {"start_point": (100.0, 0.0), "start": "open"},
            ("on the lower edge, where the groove runs out", "from the open end toward the stopped finish"),
        ),
    ],
)
def test_the_edge_where_a_groove_runs_out_is_named(keys: dict[str, Any], where: tuple[str, str]) -> None:
    says = housing(**keys)
    for each in where:
        assert each in says


def test_a_rabbet_names_the_edges_or_ends_where_it_runs_out(tmp_path: Path) -> None:
    """It was "on both sides"."""
    for along_, where in (("upper", "on the right end and on the left end"), ("left", "lower edge and on the upper")):
        job = load_job(write_job(tmp_path, rabbet_job(along=along_, way="hand")))
        says = bench(job.joints[0], job)
        assert where in says
        assert "both sides" not in says


def test_how_both_boards_are_held_for_marking_is_said_in_full_and_in_order() -> None:
    """The left end of the pin board seen from its inside face: turned up, the lower edge is at the right."""
    entry = lapped(way="hand")
    says = bench(entry, board_job(entry))
    order = [
        "scribe a line on the end grain of top",
        "Stand top upright in the vise, its left end up, its inside face toward you; its lower edge is then at your "
        "right hand. Set a block before it",
        "Lay divider flat on that end and on the block, its inside face down and its outside face up",
        "the rest of the board toward you, its lower edge at the same hand as that of top",
        "until the lower edges are flush",
        "the ends of the tails are on the lap's line",
        "scribe along both sides of every tail",
    ]
    places = [says.index(each) for each in order]
    assert places == sorted(places)
    through = tails(way="hand")
    says = bench(through, board_job(through))
    assert "its outside face toward you; its lower edge is then at your left hand. Set a block behind it" in says
    assert "the rest of the board away from you" in says


def test_all_corners_are_cut_before_any_is_glued(tmp_path: Path) -> None:
    job = load_job(write_job(tmp_path, box()))
    entry = next(each for each in job.joints if each.kind == "through-dovetail")
    says = bench(entry, job)
    assert says.index("The other corners") < says.index("Fit and glue")


@pytest.mark.parametrize(
    ("angle", "says"),
    [
        (
            0,
            "Set a mortise gauge to 35 mm and 45 mm, its pins 10 mm apart, and scribe both walls with its stock "
            "against the lower edge.",
        ),
        (90, "walls at 95 mm and 105 mm along"),
    ],
)
def test_the_walls_of_a_mortise_in_a_face_are_gauged_from_an_edge(angle: int, says: str, tmp_path: Path) -> None:
    """Post of 80 mm, mortise at (100, 40), 10 mm wide: the walls are 5 mm to each side."""
    job = load_job(write_job(tmp_path, mortise_job(way="hand", angle=angle)))
    assert says in bench(job.joints[0], job)


# ---- several joints


def drawn(*entries: Entry) -> list[Finding]:
    job = board_job(*entries)
    piece = Piece(tuple(PieceJoint(each.name, design(each, job).taken()) for each in entries), job.voice)
    return [told.finding for told in piece.as_drawn]


def a_rabbet(**keys: Any) -> RabbetEntry:
    shape = {"name": "back", "board": "divider", "face": "inside", "along": "lower", "width": 6.0, "depth": 6.0}
    return RabbetEntry(**{**shape, **keys})


def test_what_is_so_at_both_ends_is_said_once() -> None:
    """The same groove through the tails of both ends of a board."""
    both = tails(tails_end="both", pins_end="both")
    (found,) = drawn(both, along("bottom", 60.0))
    assert "runs into both ends of divider" in found.says
    assert "before each end" in found.says
    (one,) = drawn(tails(), along("bottom", 60.0))
    assert "runs into the right end of divider" in one.says


def test_a_rabbet_that_shows_is_not_sent_to_another_place() -> None:
    """It lies along its edge: half pins of a tail board as wide hide it (7 mm hide 6), and nothing on a pin board."""
    (hidden,) = drawn(tails(), a_rabbet())
    assert hidden.level == "note"
    (wide,) = drawn(tails(), a_rabbet(width=10.0))
    assert "let corner take at least 10 mm at the lower edge, which hides it" in wide.says
    (pins,) = drawn(tails(), a_rabbet(board="top"))
    assert "which hides it" not in pins.says
    for each in (wide, pins):
        assert "shows as a notch" in each.says
        assert "move it" not in each.says
        assert "fill the notch" in each.says


def test_a_solid_back_across_the_grain_has_its_movement_and_the_cure(tmp_path: Path) -> None:
    """Eq. 13-2 with Table 13-5 of the Wood Handbook: 400·0.00248·2.8 points up from 9.2 %, all by `wood.seasons`."""
    table = rabbet_job(mate=6.0, board=(600.0, 300.0, 20.0), way="hand", enters="lower")
    table["boards"]["panel"] |= {"width": 400.0, "wood": "black cherry", "sawn": "flat"}
    table["climate"] = {"shop": {"moisture": 8}, "damp": {"moisture": 11}, "dry": {"moisture": 6}}

    def found() -> list[str]:
        job = load_job(write_job(tmp_path, table))
        plan = kind("rabbet").plan(design(job.joints[0], job), job.joints[0], job, kit_for(job))
        return [each.says for each in plan.findings if each.rule == "season-binds" and each.level == "caution"]

    (says,) = found()
    assert "grows 2.98 mm when damp" in says  # 400·0.00248·3
    assert "shrinks 1.98 mm when dry" in says  # 400·0.00248·2
    assert "cut it 3 mm narrower" in says
    del table["boards"]["panel"]["wood"], table["boards"]["panel"]["sawn"]
    assert not found(), "plywood does not move"
    table["boards"]["panel"]["wood"] = "black cherry"
    table["joints"][0]["enters"] = "left"
    assert not found(), "nor does wood along its grain"


def test_the_season_is_told_of_a_groove_by_hand_too() -> None:
    """By hand it was not; and a panel whose two edges lie in grooves was none without floats."""
    cherry = {"wood": "black cherry", "sawn": "flat"}
    panel = {"enters": {**cherry, "length": 300.0, "width": 250.0, "thickness": 8.0}}
    lying = {"start_point": (50.0, 40.0), "angle": 0.0, "length": 300.0, "opposite_hand": True}
    job = groove_job(way="hand", board={**SIDE, "wood": "black cherry", "sawn": "quarter"}, **panel, **lying)
    plan = kind("groove").plan(design(job.joints[0], job), job.joints[0], job, METRIC)
    says = [each.says for each in plan.findings if each.rule == "season-binds"]
    assert any("250 mm across its grain" in each and "floats = true" in each for each in says)


def test_ways_that_there_are_not_are_answered_with_those_of_the_kind(tmp_path: Path) -> None:
    for name, table, wanted, mend in (
        ("groove", groove_table(), '"template", "direct", "hand"', 'works in a template: way = "template"'),
        ("rabbet", rabbet_job(way="router"), '"direct", "hand"', "no template serves it"),
    ):
        run = jigcam("check", write_job(tmp_path / name, table))
        assert run.status == 2
        said = " ".join(run.err.split())
        assert f"wanted: one of {wanted}" in said
        assert mend in said


def groove_table() -> dict[str, Any]:
    from support.jobs import job_table

    return job_table("mm", way="router")


def test_a_case_is_measured_across_its_diagonals_and_faces_name_what_they_meet(tmp_path: Path) -> None:
    table = box()
    run = jigcam("piece", write_job(tmp_path, table))
    assert run.status == 0, run.out + run.err
    says = " ".join(run.out.split())
    assert "measure both diagonals of the case" in says
    assert "face first" not in says
    assert re.search(r"its inside face onto the (left|right) end of", says)
    assert DIVIDER.name not in says


def test_a_plan_by_hand_has_its_layout_on_paper_and_speaks_of_no_machine(tmp_path: Path) -> None:
    """It said "machine runs", and had no pattern to lay on the wood."""
    import io

    import pypdf

    table = kind("half-blind-dovetail").starter("mm").replace("# way ", "way ")
    (tmp_path / "job.toml").write_text(table.replace('"metric-shop"', '"kit.toml"'), "utf-8")
    (tmp_path / "kit.toml").write_text('kit = "Hand tools"\nunits = "mm"\n', "utf-8")
    made = calls.make(tmp_path / "job.toml", plan=True, paper="a4")
    pages = [
        " ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(made.files["plan.pdf"])).pages
    ]
    assert "layouts in true size" in pages[0]
    assert any("layout in true size" in page and "end grain of drawer front" in page for page in pages[1:])
    assert not [page for page in pages if re.search(r"machine (runs|has milled)|to the machine|on the machine", page)]


@pytest.mark.parametrize(
    ("name", "caption", "checked"),
    [
        ("through-dovetail", "end grain of", "mark the pins from the tails"),
        ("finger-joint", "outside face of", "mark the fingers from those of"),
    ],
)
def test_each_layout_on_paper_says_of_which_board_and_end_it_is_and_how_it_serves(
    name: str, caption: str, checked: str, tmp_path: Path
) -> None:
    """Both sheets were "Sheet A1", what they are of was cut off, and nothing was told of the other end."""
    import io

    import pypdf

    table = re.sub("(?m)^# *way .*$", "", kind(name).starter("mm")).replace('"metric-shop"', '"kit.toml"')
    table = re.sub("(?m)^kind .*$", r'\g<0>\nway = "hand"', table)
    table = re.sub('(?m)^(tails|pins|a|b)_end( *)= "[a-z]+"', r'\1_end\2= "both"', table)
    (tmp_path / "job.toml").write_text(table, "utf-8")
    (tmp_path / "kit.toml").write_text('kit = "Hand tools"\nunits = "mm"\n', "utf-8")
    made = calls.make(tmp_path / "job.toml", plan=True, paper="a4")
    pages = [
        " ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(made.files["plan.pdf"])).pages
    ]
    assert "to read; mark by the figures of the sheets" in pages[0]
    assert "measure and mark by these" not in pages[0]
    first, second = (page for page in pages if re.search(r"Sheet A1 of \w", page))
    assert re.search(r"outside face of [\w ]+, (left|right) end", first)
    assert re.search(caption + r" [\w ]+, (left|right) end", second)
    assert "turn the paper over" in first
    assert "turn the paper over" in second
    assert "Only to check" not in first
    assert f"Only to check: {checked}" in second


def test_figures_of_housings_and_mortises_say_what_they_are_worth(tmp_path: Path) -> None:
    worth = "the nearest that a rule shows, to 0.5 mm, and at most 0.25 mm off its place"
    assert worth in housing()
    job = load_job(write_job(tmp_path, mortise_job(way="hand")))
    assert worth in bench(job.joints[0], job)
