"""Templates milled from a sheet: order, holes, tabs, tool changes, dry runs."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from support.cutting import Stock, feeds_over, gouge, left_over, low_rapids
from support.grooves import groove_job, made
from support.setups import Planned, template_programs

from jigcam.geometry import disc
from jigcam.kit import Bit, Kit, load_kit
from jigcam.making.sheet_milling import THROUGH
from jigcam.template import TemplatePlan, plan_template
from jigcam.toolpath import Move, Program, dry_run, seconds
from jigcam.toolpath.changing import change_place
from jigcam.toolpath.engrave import LIFT

KIT = load_kit("metric-shop")


def planned(kit: Kit = KIT) -> tuple[TemplatePlan, Planned]:
    cut = made(groove_job()).cuts()[0]
    plan = plan_template(cut, kit)
    return plan, template_programs(plan, kit)


def made_plan(kit: Kit) -> TemplatePlan:
    """The groove of the shipped job, planned with a kit."""
    return plan_template(made(groove_job(shelf=12.7, clearance=0.15)).cuts()[0], kit)


def with_machine(**changes: object) -> Kit:
    return KIT.model_copy(update={"machine": KIT.machine.model_copy(update=changes)})


def blunt(kit: Kit) -> Kit:
    """The shop with bits that do not cut at their centres."""
    return kit.model_copy(update={"bits": tuple(bit.model_copy(update={"plunges": False}) for bit in kit.bits)})


def moves_of(programs: tuple[Program, ...], *names: str) -> list[Move]:
    return [m for p in programs for o in p.operations for m in o.moves if not names or o.name in names]


def test_inside_before_outside_and_roughing_before_finishing() -> None:
    _, made_ = planned()
    names = [operation.name for program in made_.programs for operation in program.operations]
    assert names == [
        "engrave the marks",
        "clear the opening",
        "finish the opening",
        "drill the holes",
        "cut the outline",
        "finish the outline",
    ]


def test_the_opening_is_cut_as_drawn() -> None:
    plan, made_ = planned()
    opening, radius = plan.in_file_frame().opening, plan.cutter.radius
    moves = moves_of(made_.programs, "clear the opening", "finish the opening")
    assert gouge(moves, opening, radius) <= 0.005
    assert left_over(moves, opening, radius, -plan.blank[2]) <= 0.01


def test_the_whole_file_is_safe() -> None:
    plan, made_ = planned()
    stock = Stock((0.0, 0.0, *plan.blank[:2]), plan.cutter.radius, spacing=1.0)
    operations = [o for p in made_.programs if p.bits[0] == plan.cutter for o in p.operations]
    drilling = [o.name == "drill the holes" for o in operations for _ in o.moves]
    stock.cut([m for o in operations for m in o.moves], steepest=math.tan(math.radians(46)))
    assert not stock.rapids
    assert stock.plunges
    assert all(drilling[number] for number in stock.plunges)
    for program in made_.programs:
        moves = [m for o in program.operations for m in o.moves]
        assert not feeds_over(moves, KIT.machine)
        # Between pecks the bit comes back at rapid rate into the hole that it has made, as in G83.
        assert not low_rapids([m for o in program.operations if o.name != "drill the holes" for m in o.moves])
        assert min(m.z for m in moves) >= -plan.blank[2] - 0.3


def test_holes_go_through_at_their_places() -> None:
    plan, made_ = planned(blunt(KIT))
    moves = moves_of(made_.programs, "bore the holes")
    holes = [hole for hole in plan.in_file_frame().holes if not hole.by_hand]
    assert holes
    for hole in holes:
        near = [m for m in moves if math.dist((m.x, m.y), (hole.x, hole.y)) < hole.diameter]
        assert left_over(near, disc(hole.x, hole.y, hole.diameter / 2), plan.cutter.radius, -plan.blank[2]) <= 0.01


@pytest.mark.parametrize("cycles", [True, False])
def test_holes_are_drilled_where_the_bit_can(cycles: bool) -> None:
    """Whether the machine knows cycles or not: straight down takes no longer than the depth."""
    plan, made_ = planned(with_machine(drilling_cycles=cycles))
    holes = [hole for hole in plan.in_file_frame().holes if not hole.by_hand]
    assert {hole.diameter for hole in holes} == {plan.cutter.diameter}
    moves = moves_of(made_.programs, "drill the holes")
    assert {(m.x, m.y) for m in moves} == {(hole.x, hole.y) for hole in holes}
    assert min(m.z for m in moves) == -plan.blank[2] - THROUGH
    assert {m.z for a, m in pairwise(moves) if a.point[:2] != m.point[:2]} == {5.0}  # over at the clear height only
    assert not moves_of(made_.programs, "bore the holes")


def test_a_bit_that_does_not_plunge_bores_whatever_the_machine_knows() -> None:
    _, made_ = planned(blunt(with_machine(drilling_cycles=True)))
    assert moves_of(made_.programs, "bore the holes")
    assert not moves_of(made_.programs, "drill the holes")


@pytest.mark.parametrize(("change", "files"), [("file-per-bit", 2), ("pause", 1), ("automatic", 1)])
def test_tool_changes(change: str, files: int) -> None:
    _, made_ = planned(with_machine(tool_change=change))
    assert len(made_.programs) == files
    assert len({p.name for p in made_.programs}) == files
    for program in made_.programs:
        changes = [a.bit != b.bit for a, b in pairwise(program.operations)]
        assert sum(changes) == (0 if files == 2 else 1)


def test_a_slender_bit_on_the_machine_is_a_caution() -> None:
    """The router had one, the machine none. More than four diameters out of the collet: common practice, no source."""
    kit = load_kit("inch-shop")

    def said(cutter: Bit) -> list[str]:
        plan = replace(made_plan(kit), cutter=cutter)
        found = template_programs(plan, kit, units="in").findings
        return [finding.says for finding in found if finding.rule == "slender-bit"]

    thin = kit.bit("straight 1/8").model_copy(update={"cutting_length": 14.0})
    (says,) = said(thin)
    # By hand: 1/2 in of sheet, 0.01 in below it, and 5 mm of clear height: 0.707 in; over 1/8 in, 5.7.
    assert "0.707 in or more out of the collet, 5.7 times its 1/8 in" in says
    assert not said(kit.bit("straight 1/4"))


@pytest.mark.parametrize(("units", "says"), [("in", "0.25 mm, 0.01 in"), ("mm", "0.25 mm")])
def test_a_file_says_how_far_it_cuts_through_in_its_units_and_the_jobs_and_only_if_it_does(
    units: str, says: str
) -> None:
    kit = load_kit("inch-shop")
    marks, mill = template_programs(made_plan(kit), kit, units=units).programs
    assert [comment for comment in mill.comments if f"the last passes go {says} into it" in comment]
    assert not [comment for comment in marks.comments if "last passes" in comment]


@pytest.mark.parametrize(("change", "words"), [("automatic", "T1 vee 90, T2 straight 6"), ("pause", "Take out vee 90")])
def test_the_sheet_says_how_bits_are_changed(change: str, words: str) -> None:
    _, made_ = planned(with_machine(tool_change=change))
    text = " ".join(" ".join(made_.sheet_lines).split())
    assert words in text
    if change == "pause":
        # By hand: 12 mm of sheet, 0.25 mm below it, and the 5 mm of the clear height.
        assert "at least 17.25 mm below the nut" in text
        assert "in front of the stock" in text
        assert "ring its tip down onto the top of the stock" in text
    else:
        assert "G43" in text
    quiet = planned(with_machine(tool_change=change, measures_bits=True))[1].sheet_lines
    assert ("measures each bit itself" in " ".join(" ".join(quiet).split())) is (change == "automatic")


@pytest.mark.parametrize(("place", "said"), [((-40.0, -10.0, 60.0), False), ((-400.0, -10.0, 60.0), True)])
def test_a_changing_place_out_of_reach_is_told_and_passed_over(place: tuple[float, float, float], said: bool) -> None:
    kit = with_machine(tool_change="pause", change_at=place)
    _, made_ = planned(kit)
    assert bool([each for each in made_.findings if each.rule == "change-place"]) is said
    (program,) = made_.programs
    assert (change_place(program, kit.machine).x == place[0]) is not said


def test_the_rest_of_the_marks_stays_shallow() -> None:
    _, made_ = planned()
    moves = moves_of(made_.programs, "engrave the marks")
    assert min(m.z for m in moves) == pytest.approx(-0.4)
    # How low the bit goes over the sheet is said where the file is, as the sheet has to lie as flat as that.
    lowest = min(b.z for a, b in pairwise(moves) if a.z == b.z > 0.0)
    (note,) = [o.note for program in made_.programs for o in program.operations if o.name == "engrave the marks"]
    assert lowest == LIFT
    assert note == "Between letters only 0.5 mm above the sheet: hold it flat."


def test_a_dry_run_makes_the_same_moves_above_the_stock() -> None:
    _, made_ = planned()
    for program in made_.programs:
        dry = dry_run(program)
        assert {o.rpm for o in dry.operations} == {0.0}
        for wet, air in zip(program.operations, dry.operations, strict=True):
            assert [(m.kind, m.x, m.y, m.feed) for m in wet.moves] == [(m.kind, m.x, m.y, m.feed) for m in air.moves]
        lowest = min(m.z for o in dry.operations for m in o.moves)
        assert lowest == pytest.approx(program.clear_height)
        assert dry.clear_height == max(m.z for o in dry.operations for m in o.moves)
        assert seconds(dry, KIT.machine) == pytest.approx(seconds(program, KIT.machine), rel=0.05)


def test_the_same_plan_makes_the_same_moves() -> None:
    first, second = (planned()[1] for _ in range(2))
    assert first.programs == second.programs
    assert first.sheet_lines == second.sheet_lines
