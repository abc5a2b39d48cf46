"""What a person at the bench reads, held as strictly as the G-code: sheets of every kind, in both systems of units."""

from __future__ import annotations

import re
from functools import cache
from math import hypot
from pathlib import Path

import pytest
from support.grooves import groove_job

from jigcam.joints.groove.by_template import TemplateGroove
from jigcam.kit import load_kit
from jigcam.making.cautions import cautions
from jigcam.making.setup_sheet import setup_sheet
from jigcam.proof.wording import Wording
from jigcam.toolpath.feeds import highest_rpm
from jigcam.units import INCH, Voice, parse_length
from jigcam.wood.band import at_hand
from jigcam.workshop.build import build_job

METRIC, INCHES = load_kit("metric-shop"), load_kit("inch-shop")


@cache
def groove(way: str = "template", units: str = "mm", engraves: bool = True) -> tuple[object, str]:
    """Plan and sheet of a sloping groove for both hands."""
    kit = METRIC if units == "mm" else INCHES
    if not engraves:
        kit = kit.model_copy(update={"bits": tuple(bit for bit in kit.bits if bit.diameter > 4.0 and not bit.pointed)})
    job = groove_job(opposite_hand=True, way=way)
    job = job.model_copy(update={"units": units})
    built = build_job(job, kit)
    (joint,), (proof,) = built.joints, built.proofs
    return joint.plan, "\n".join(setup_sheet(joint, proof, built))


def flat(text: str) -> str:
    return " ".join(text.split())


def test_a_trial_in_scrap_comes_before_the_good_board_and_after_the_sheet_is_ready() -> None:
    plan, sheet = groove()
    assert isinstance(plan, TemplateGroove)
    ready, trial, cut = (sheet.index(each) for each in ("Make the sheet ready", "a trial in scrap", "Cut the groove"))
    assert ready < trial < cut
    told = flat(sheet[trial:cut])
    assert "jigcam bushing test JOB" in told
    assert f'--pair "{plan.template.bit.name},{plan.template.bushing.name}"' in told
    wide, deep = re.search(r"([\d.]+ mm) wide and ([\d.]+ mm) deep", told).groups()  # type: ignore[union-attr]
    assert parse_length(wide, "mm") == pytest.approx(plan.template.cut.width, abs=0.01)
    assert parse_length(deep, "mm") == pytest.approx(plan.template.cut.solid.depth, abs=0.01)


def test_on_the_machine_the_trial_comes_before_the_first_clamping_and_by_hand_before_the_first_step() -> None:
    for way, first in (("direct", "\n1. "), ("hand", "\n1. ")):
        _, sheet = groove(way)
        assert sheet.index("a trial in scrap") < sheet.index(first)


def test_screws_and_marks_of_a_sheet_that_nobody_engraves_are_given_in_place_and_in_order() -> None:
    """The hand that writes them was told so after the line that was to be laid by them; screws had no places."""
    plan, sheet = groove(engraves=False)
    assert isinstance(plan, TemplateGroove)
    template = plan.template
    assert template.marker is None
    ready = flat(sheet[sheet.index("Make the sheet ready") : sheet.index("a trial in scrap")])
    draw, screws, sights = (ready.index(each) for each in ("draw them now by hand", "Screw hole", "Sights on the"))
    assert draw < screws < sights
    x0, y0, _, _ = template.sheet.bounds

    def near(places: list[tuple[str, str]], wanted: list[tuple[float, float]]) -> None:
        found = [(parse_length(x, "mm") + x0, parse_length(y, "mm") + y0) for x, y in places]
        assert len(found) == len(wanted)
        for place in wanted:  # told to the nearest half millimetre
            assert min(hypot(place[0] - x, place[1] - y) for x, y in found) < 0.36

    told = re.findall(r"([\d.]+ mm) across and ([\d.]+ mm) up", ready[screws:sights])
    near(told, [(hole.x, hole.y) for hole in template.holes if hole.head])
    told = re.findall(r"([\d.]+ mm) across and ([\d.]+ mm) up", ready[sights:])
    near(told, [(hole.x, hole.y) for hole in template.holes if hole.says.startswith("sight")])
    for mark in template.marks:
        assert not hasattr(mark, "string") or mark.string in ready


def test_strips_have_their_section_and_are_looked_over_before_use() -> None:
    plan, sheet = groove()
    assert isinstance(plan, TemplateGroove)
    for what, strip in (("fence", plan.template.fence), ("stop block", plan.template.stop)):
        assert strip is not None
        wide = min(strip.box.size) if what == "fence" else strip.box.size[0]
        assert f"The {what} is a strip of sheet {wide:g} mm wide and {METRIC.the_sheet.thickness:g} mm thick" in flat(
            sheet
        )
        assert f"Check the {what}: from the sheet's edge to the side that bears it is {wide:g} mm at both ends" in flat(
            sheet
        )
    assert "with a try square" in flat(sheet)
    assert "hold the strips" not in flat(sheet)
    assert "hold the fence and the stop block" in flat(sheet)


def test_spoilboard_tabs_stick_out_and_the_routers_speed_are_on_the_sheet() -> None:
    plan, sheet = groove()
    assert isinstance(plan, TemplateGroove)
    text = flat(sheet)
    assert f"free at its {len(plan.template.tabs)} tabs, each about 3 mm thick" in text
    (setup,) = plan.setups
    lowest = min(move.z for step in setup.steps for each in step.operations for move in each.moves)
    (below,) = re.findall(r"spoilboard the last passes go ([\d.]+ mm) into it", text)
    assert parse_length(below, "mm") == pytest.approx(-lowest - METRIC.the_sheet.thickness, abs=0.01)
    outs = [parse_length(each, "mm") for each in re.findall(r"stick-out at least ([\d.]+ mm)", text)]
    assert max(outs) >= METRIC.the_sheet.thickness + 0.25 + setup.clear_height - 1e-6
    (rpm,) = re.findall(r"speed at most (\d+) rpm", text)
    assert float(rpm) <= min(METRIC.the_router.speeds[1], highest_rpm(plan.template.bit)[0])


@pytest.mark.parametrize("face", ["outside", "inside", "left end", "right end"])
def test_the_hand_of_a_side_is_that_of_the_drawing_of_its_face(face: str) -> None:
    """Lying with the face up and the lower edge nearest; seen from the inside the left end is at the right."""
    first = {"outside": "left end", "inside": "right end", "left end": "lower edge", "right end": "upper edge"}[face]
    assert at_hand(first, face) == f"{first} (at your left)"
    other = {"left end": "right end", "right end": "left end", "lower edge": "upper edge", "upper edge": "lower edge"}
    assert at_hand(other[first], face) == f"{other[first]} (at your right)"


SI = re.compile(r"(?<![\w.])[\d./-]+ ?(?:mm|cm|m³|W|kW|m/s|°C)(?![\w/])")


@pytest.mark.parametrize("way", ["template", "direct", "hand"])
def test_a_sheet_of_an_inch_shop_has_no_millimetre_but_what_the_file_has(way: str) -> None:
    _, sheet = groove(way, "in")
    found = [each for each in SI.findall(re.sub(r"[\d.]+ mm in the file", "", sheet)) if each]
    assert found == []
    # A division of the rule is a fraction, for whoever sets it by a rule.
    for figure in re.findall(r"(?<![\w.])(\d*\.\d+) in(?! a )(?:\b)", sheet):
        sixtyfourths = float(figure) * 64.0
        exact = abs(sixtyfourths - round(sixtyfourths)) < 1e-9 and float(figure) > 0.04
        assert not exact, figure


def test_numbers_of_an_inch_shop_are_said_its_own_way() -> None:
    voice = Voice("in")
    assert voice.length(0.875 * INCH) == "7/8 in"
    assert voice.length(0.506 * INCH) == "0.506 in"
    assert voice.power(932.0) == "932 W (1.25 hp)"
    assert voice.up_to(6.0) == "7/32 in"  # 0.219, and 1/4 would be more than 6 mm
    assert "1/16 in" in " ".join(cautions(machine=True, hand=True, units="in"))
    assert "2 mm" not in " ".join(cautions(machine=True, hand=True, units="in"))
    assert Wording("in").speed(50.8) == "10000 ft/min"


def test_what_is_done_to_the_shelf_comes_after_the_groove_is_cut() -> None:
    """Rounding over stood among the joint's figures at the top, before the groove that it is tried in."""
    for way in ("template", "direct", "hand"):
        _, sheet = groove(way)
        steps = re.findall(r"\n(\d+)\. (.*)", sheet)
        assert [int(number) for number, _ in steps] == list(range(1, len(steps) + 1))
        if "Round over:" in sheet:
            assert steps[-1][1].startswith("Make shelf ready to go in")
            assert sheet.index("Round over:") > sheet.index(steps[-1][1])


GOLDEN = Path(__file__).parents[1] / "golden"
SHEETS = sorted(GOLDEN.rglob("setup-sheet.txt"))
"""The sheets as they are written, byte for byte (`test_golden.py`): each kind, both systems of units."""


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: path.parent.relative_to(GOLDEN).as_posix())
def test_every_sheet_asks_for_a_trial_before_a_good_board_and_names_hands(path: Path) -> None:
    sheet = path.read_text("utf-8")
    text = flat(sheet)
    trial = sheet.index("a trial in scrap")
    # The router, and each clamping but that of the blank of a template, come after it.
    for heading in re.finditer(r"\n\d+\. (.*)", sheet):
        if not re.match(r"Mill the template|Make the (sheet|template)|Lay out|Mark", heading[1]):
            last = sheet.rfind("a trial in scrap", 0, heading.start())
            assert last >= 0 or trial < heading.start(), heading[1]
            break
    if "Lay the sheet, " in text:
        assert "jigcam bushing test" in text
        assert "jigcam bushing adjust" in text
        assert re.search(r"jigcam next \S+ --gap", text) or "dovetail bit" not in text
        for end in re.findall(r"against the (?:left|right) end(?! \(at your (?:left|right)\))[^;.]{0,20}", text):
            raise AssertionError(end)
        assert re.search(r"(?:lies|stands) with its .*? (?:lower edge|outside face) toward you", text)
    for figure in re.findall(r"the last passes go (.*?) into it", text):
        assert figure
    if ".nc" in text:
        assert text.count("stick-out at least") >= text.count("Dry run first: ") > 0


def test_corners_that_a_bit_leaves_round_are_squared_before_the_joint_is_tried() -> None:
    """They stood under "Why so" alone, and the trial had the joint driven home with wood in its corners."""
    words = " ".join((GOLDEN / "kinds/half-blind-dovetail/drawer/setup-sheet.txt").read_text("utf-8").split())
    trial, rest = words.split("Before the good board")[1].split("1. side", 1)
    assert trial.index("Do to the corners first") < trial.index("Put the two parts of the joint together")
    step = rest.split("4. Left for the chisel")[1].split("Only if you cut by hand")[0]
    assert "2 inside corners have the bit's radius of 5 mm" in step
    assert "In the sockets of front" in step
    assert "to the lap" in step
    assert "on the inside face alone: no line comes onto the outside" in words
    assert "at the lap inside face" in words
