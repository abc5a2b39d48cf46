"""What a stranger with an inch shop and a CNC missed at the machine: each remark with the words that answer it."""

from __future__ import annotations

import io
import re
from functools import cache, partial
from itertools import count
from pathlib import Path
from typing import Any

import pypdf
import pytest
from support.every_kind import small
from support.grooves import groove_job
from support.grooves import made as made_groove
from support.jobs import job_table, kit_table, write_job
from support.kinds.through_dovetail import PINS_FLAT, corner_job
from support.shop import jigcam

from jigcam.bench.offset import offset_lines, offset_sums
from jigcam.drawing.flow import Flow
from jigcam.drawing.leaf import bound
from jigcam.drawing.paper import Paper
from jigcam.drawing.scenes.slice import look, slice_view
from jigcam.gcode import read
from jigcam.job import Job
from jigcam.joints import load_job
from jigcam.kit import Kit, load_kit
from jigcam.kit.machine import Nut
from jigcam.making.block_text import text_lines
from jigcam.making.cautions import cautions
from jigcam.making.clamp_room import clamp_lines
from jigcam.making.made_joint import MadeJoint
from jigcam.making.setup import moves_of
from jigcam.making.setup_sheet import Part
from jigcam.making.sheet_html import _part
from jigcam.making.sheet_pages import _fill
from jigcam.making.words import setup_words
from jigcam.proof.prove import works_of
from jigcam.proof.travel import travel_of
from jigcam.template import Need, hand_lines, plan_template, rank_pairs
from jigcam.units import INCH, Voice, parse_length
from jigcam.workshop.build import plan_joint

INCHES, METRIC = load_kit("inch-shop"), load_kit("metric-shop")


def with_machine(kit: Kit, **keys: Any) -> Kit:
    """A kit whose machine is another in some keys."""
    return kit.model_copy(update={"machine": kit.the_machine.model_copy(update=keys)})


@cache
def sloping_groove() -> MadeJoint:
    """A sloping groove for both hands by a template, in inches, on a machine that takes a file for each bit."""
    job = groove_job(opposite_hand=True, way="template", units="in")
    return plan_joint(job.joints[0], job, INCHES)


@pytest.fixture(scope="module")
def corner(tmp_path_factory: pytest.TempPathFactory) -> Job:
    """A corner with one tail, in mm; its pins lie flat, and want two bits."""
    return load_job(write_job(tmp_path_factory.mktemp("corner"), PINS_FLAT))


def clamping(made: MadeJoint, number: int = 0) -> str:
    """The words of a clamping with its files, as they are laid out in text."""
    setup, kit = made.plan.setups[number], made.plan.kit
    files = [each for each in made.files if each.setup is setup]
    return "\n".join(text_lines(setup_words(number + 1, setup, files, kit, made.plan.voice)))


def flat(text: str) -> str:
    return " ".join(text.split())


def test_turning_the_other_way_than_the_bit_is_never_how_a_feed_is_told() -> None:
    """A bit turns clockwise too, so "clockwise, against the rotation" contradicted itself."""
    said = [*cautions(machine=True, hand=True, units="in"), *(each.says for each in sloping_groove().findings)]
    said += offset_lines(offset_sums(6.0, 12.0), Voice("mm"))
    assert not [each for each in said if "rotation" in each]
    assert sum("pulls the bushing against the wall" in each for each in said) == 3


def test_the_line_in_a_sight_is_said_to_run_on_in_line_with_the_marks() -> None:
    (says,) = [each.says for each in sloping_groove().findings if each.rule == "sights"]
    assert "draw it on the board; through each hole the line must run on in line with the marks engraved" in says


def test_a_change_of_bit_within_a_clamping_says_where_z_zero_is_set_again() -> None:
    """The second file went to its full depth at once, with the length of the first file's bit."""
    made = sloping_groove()
    marks, opening = made.files
    told = flat(clamping(made))
    again = "Leave x and y; set Z zero again: bring the tip of straight 1/4 down onto the top of the stock"
    assert told.index(marks.file) < told.index(again) < told.index(opening.file)
    assert told.count("set Z zero again") == 1, "for the first file the clamping's own zero stands"
    head = opening.text[: opening.text.index("G17")]
    assert "set Z zero anew with straight 1/4 in the spindle" in flat(head.replace(")\n(", " "))
    assert "anew" not in marks.text


def test_of_z_zero_is_said_what_each_way_of_changing_bits_wants(corner: Job) -> None:
    for keys, word in (
        ({}, "onto the top of the stock, outside the cut"),
        ({"tool_change": "automatic", "measures_bits": True}, ""),
        ({"tool_change": "automatic"}, "measure their lengths into the rows"),
        ({"tool_change": "pause"}, "Set Z zero again: bring its tip down onto the top of the stock, outside the cut"),
        ({"measures_bits": True}, ""),
    ):
        made = plan_joint(corner.joints[0], corner, with_machine(METRIC, **keys))
        *tails, pins = [flat(clamping(made, number)) for number in range(len(made.plan.setups))]
        by_hand = keys in ({}, {"tool_change": "pause"})
        assert "Z zero again" not in " ".join(tails), "one bit in a clamping"
        assert ("Z zero again" in pins) == by_hand
        assert word in pins
        assert [("Z zero anew" in each.text) for each in made.files if each.setup is made.plan.setups[-1]][1:] == (
            [keys == {}] if "tool_change" not in keys else []
        )


@pytest.mark.parametrize("kind", ["through-dovetail", "finger-joint", "sliding-dovetail", "mortise", "groove"])
def test_the_feeds_of_a_sheet_are_those_of_its_files(kind: str, tmp_path: Path) -> None:
    """The sheet of a pin board had "119.7 in a minute, 39.9 straight down": no F of its file was either."""
    job = load_job(write_job(tmp_path, small(kind)))
    made = plan_joint(job.joints[0], job, METRIC)
    for number, setup in enumerate(made.plan.setups):
        told = clamping(made, number)
        for file in (each for each in made.files if each.setup is setup):
            rows = flat(told[told.index(f"  {file.file}") :])
            (speed,) = re.findall(r" speed (.*?) stick-out ", rows[: rows.index(" time ")])
            feeds = re.findall(r"([\d.]+)(?: to ([\d.]+))?(?: mm a minute)? (?:along|into|through|straight)", speed)
            spans = [(float(low), float(high or low)) for low, high in feeds]
            written = {float(each) for each in re.findall(r"F([\d.]+)", file.text)}
            assert written
            for feed in written:
                assert any(low - 0.5 <= feed <= high + 0.5 for low, high in spans), (file.file, feed, speed)
            for end in {end for span in spans for end in span}:
                assert min(abs(end - feed) for feed in written) <= 0.5, (file.file, end, speed)


def test_a_dry_run_has_a_box_of_its_own_before_its_file() -> None:
    """The run stood large in a box, and its dry run in small print below it."""
    made = sloping_groove()
    (setup,) = made.plan.setups
    words = tuple(setup_words(1, setup, made.files, INCHES, made.plan.voice))
    part = Part("clamping", words, setup, made.files)
    page = "".join(_part(part, {}, made.plan.voice, count(1)))
    boxes = re.findall(r'<li><label><input type="checkbox"><span>(Fit|Dry run first|Run|Raise the spindle)', page)
    printed = Flow(Paper("A", 216.0, 279.0), "")
    _fill(printed, part, None, 0.0)
    pdf = "".join(each.extract_text() for each in pypdf.PdfReader(io.BytesIO(bound(printed.leaves, ""))).pages)
    assert re.findall(r"Fit(?= \S+ \S+, the spindle)|Dry run first|Run(?= tilted)|Raise the spindle", pdf) == boxes
    assert boxes == ["Fit", "Dry run first", "Run", "Raise the spindle", "Dry run first", "Run"]
    for file in made.files:
        told = clamping(made)
        assert told.index(f"Dry run first: {file.file[:-3]}-dry-run.nc") < told.index(f"\n  {file.file}\n")


def swept(made: MadeJoint, wider: float = 0.0) -> float:
    """How near to an edge of the blank what turns comes, mm, by the X and Y words of the files (chords of arcs)."""
    wide, high, _ = made.plan.setups[0].stock
    found = []
    for file in made.files:
        radius = max(wider, file.program.bits[0].diameter / 2.0)
        scale = 25.4 if "G20" in file.text else 1.0
        for word, value in re.findall(r"([XY])(-?[\d.]+)", re.sub(r"\(.*?\)", "", file.text)):
            at, side = float(value) * scale, wide if word == "X" else high
            found.append(min(at, side - at) - radius)
    return min(found)


def test_the_free_rim_for_clamps_and_the_height_of_rapids_are_told_in_figures() -> None:
    """ "Clamps stay outside the outline" left out the bit's own way round it, the nut, and rapids over the rim."""
    made = sloping_groove()
    (setup,) = made.plan.setups
    told = flat(clamping(made))
    by_bit = re.search(r"The bit comes within (\S+ in)(?: \(.*?\))? of the blank's edges", told)
    by_nut = re.search(r"the nut above it within (\S+ in)(?: \(.*?\))?: no room for clamps", told)
    assert by_bit
    assert by_nut
    assert INCHES.the_machine.nut
    for told_so, radius in ((by_bit[1], 0.0), (by_nut[1], INCHES.the_machine.nut.diameter / 2.0)):
        free = swept(made, radius)
        assert free - INCH / 32.0 - 0.02 <= parse_length(told_so, "in") <= free + 0.02
    assert f"the tool travels {made.plan.voice.length(setup.clear_height)} above the face" in told
    for file in made.files:  # it is up before it goes anywhere, and stays so on its way to the first cut
        heights = re.findall(r"\nG0 Z([\d.]+)\n[^XYZ]*\nX\S+ Y\S+\n", file.text)
        assert heights
        assert all(float(each) == pytest.approx(setup.clear_height) for each in heights)
    lines = partial(clamp_lines, moves_of(setup.steps), setup.stock, setup.clear_height, voice=made.plan.voice)
    narrow = re.search(r"clamps lie no further in than (\S+ in)", lines(nut=Nut(diameter=16.0, length=20.0))[0])
    assert narrow
    assert parse_length(narrow[1], "in") <= swept(made, 8.0) + 0.02
    unknown = lines(nut=None)
    assert "clamps lie no further in" in unknown[0]
    assert "by half of what the nut is wider" in unknown[1]
    assert "the nut above it beyond them" in lines(nut=Nut(diameter=40.0, length=20.0))[0]


def test_routing_by_hand_is_told_in_the_order_in_which_it_is_done() -> None:
    """Both settings came first, then the way round, and last that the bushing be tried before the router runs."""
    (plan,) = sloping_groove().plan.templates
    lines = hand_lines(plan, Voice("in"), 1000.0)
    wanted = (
        "router unplugged and its bit drawn up",
        "Keep one side",
        "Beyond the sheet's edge",
        "Pass 1 of 2: set the bit",
        "Lower the ",
    )
    wanted += ("Go clockwise", "  along the wall", "Switch off in the opening", "Unplug", "Pass 2 of 2: set the bit")
    places = [next(place for place, line in enumerate(lines) if each in line) for each in wanted]
    assert places == sorted(places)
    (lowered,) = [each for each in lines if "Lower the running bit" in each]
    assert "a router whose base plunges: with a fixed base bore or chop room there first" in lowered


def test_boards_that_are_counted_from_opposite_edges_are_measured_for_width_first(corner: Job, tmp_path: Path) -> None:
    """Each half of a corner had its zero at another edge, and nobody said that their widths then count."""
    standing = load_job(write_job(tmp_path, corner_job(tails_setup="upright", pins_setup="upright", clearance=0.08)))
    words = flat("\n".join(text_lines(plan_joint(standing.joints[0], standing, METRIC).plan.joint_words())))
    assert "measure side and top across before they are clamped: they have to be alike within 0.08 mm" in words
    assert "count from the upper edge of side (right end) and from the lower edge of top (left end)" in words
    lying = plan_joint(corner.joints[0], corner, METRIC)
    assert "across before they are clamped" not in flat("\n".join(text_lines(lying.plan.joint_words())))


def test_the_layout_of_a_job_that_files_cut_is_not_work_to_be_ticked_off(corner: Job) -> None:
    plan = plan_joint(corner.joints[0], corner, METRIC).plan
    blocks = plan.bench_words(4)
    page = "".join(_part(Part("bench", tuple(blocks)), {}, plan.voice, count(1)))
    layout = page[page.index("Only if you cut by hand, or to check: the layout") :]
    assert "Gauge for the tail board" in layout
    assert "checkbox" not in layout
    assert "checkbox" in page.replace(layout, ""), "what is left for the chisel is work"


def test_a_section_that_crosses_a_cut_aslant_says_so_with_the_width_square_across() -> None:
    """The opening of a sheet measured 0.994 in across its section, and was 0.989 in wide."""
    made = sloping_groove()
    opening = made.files[-1]
    reading = read(opening.text)
    travel = travel_of(reading.motions)
    cut = look(works_of(reading.motions, travel, opening.tools, INCHES.the_machine), opening.target, (), ())
    view = slice_view(cut, opening.target, "in", "sheet")
    (plan,) = made.plan.templates
    wide = plan.cut.width + 2.0 * plan.offset
    ((x0, _, x1, _),) = [max(cut.cut.parts, key=lambda part: part.area).bounds]
    assert x1 - x0 > wide + 0.1
    says = re.search(r"aslant to its walls, (\S+ in) square across", view.caption)
    assert says
    assert parse_length(says[1], "in") == pytest.approx(wide, abs=0.02)


def test_a_sheet_is_laid_by_the_far_side_for_the_reason_that_is_true() -> None:
    """ "The sheet does not reach the side from which the joint is drawn" was said where it only is farther."""
    (groove,) = made_groove(groove_job(start_point=(430.0, 45.0), units="in")).cuts()
    (says,) = [each.says for each in plan_template(groove, INCHES).findings if each.rule == "far-side"]
    assert "of side, which is nearer to the groove than the right end, from which the joint is drawn" in says
    assert "does not reach" not in says


def test_a_pair_that_may_bind_is_a_finding_and_comes_after_one_that_slides() -> None:
    """0.002 in of play was but a caution in the third step of the sheet, after the pair had been chosen."""
    need = Need(12.7 + 0.002 * INCH, 8.0, voice=Voice("in"))
    ranked = [each for each in rank_pairs(INCHES, need) if each.ok]
    binds = [[each.level for each in verdict.findings if each.rule == "bushing-binds"] for verdict in ranked]
    assert not binds[0]
    assert binds == sorted(binds), "what may bind comes last"
    assert ["caution"] in binds
    says = next(each.says for verdict in ranked for each in verdict.findings if "may bind" in each.says)
    assert "with only 0.002 in of play, which chips or a swollen sheet take up" in says
    assert "widen the groove (its clearance) by 0.002 in, or take a bit of at most 0.498 in" in says


@pytest.mark.parametrize("change", ["file-per-bit", "pause", "automatic"])
def test_the_first_bit_of_a_clamping_is_fitted_before_anything_runs(change: str, tmp_path: Path) -> None:
    """After the tails the dovetail bit is still in the spindle: the pins' bit was named behind their dry run."""
    kit = kit_table("mm", tool_change=change, **({"measures_bits": True} if change == "automatic" else {}))
    made = jigcam("make", write_job(tmp_path, job_table("mm", way="direct"), kit), "-o", tmp_path / "out")
    assert made.status == 0, made.err
    (path,) = (tmp_path / "out").rglob("setup-sheet.txt")
    sheet = " ".join(path.read_text("utf-8").split())
    fitted = re.search(r"Fit (straight [\d.]+), the spindle unplugged, ([\d.]+ mm) or more out of the collet", sheet)
    if change == "automatic":
        assert fitted is None
        return
    assert fitted
    assert sheet.index("Fit straight") < sheet.index("Dry run first")
    assert f"stick-out at least {fitted[2]} out of the collet" in sheet
    assert f"bit {fitted[1]}" in sheet
