"""Whole plans of templates, over any groove that lies on its board."""

from __future__ import annotations

from math import hypot
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from support.grooves import groove_job, grooves, made

from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.geometry import Region, apply, offset, opening
from jigcam.joints.groove.groove import Groove
from jigcam.kit import Kit, load_kit
from jigcam.template import SheetHole, Stroke, TemplatePlan, Text, plan_template
from jigcam.template.cutters import rejected_cutters
from jigcam.template.screws import screws_for
from jigcam.units import INCH, Voice

IN = 25.4


@pytest.fixture(scope="module")
def kit() -> Kit:
    return load_kit("inch-shop")


def large(kit: Kit) -> Kit:
    """The same shop with a machine for whole sides."""
    return kit.model_copy(update={"machine": kit.machine.model_copy(update={"travel": (1300.0, 800.0, 80.0)})})


def planned(groove: Groove, kit: Kit, **keys: Any) -> TemplatePlan:
    return plan_template(groove.cuts()[0], kit, both_hands=groove.opposite_hand, **keys)


def shipped(kit: Kit, **keys: Any) -> TemplatePlan:
    """The shipped job's groove, 0.506 in wide."""
    return planned(made(groove_job(shelf=12.7, clearance=0.006 * IN)), kit, **keys)


def boundary(region: Region, step: float = 1.0) -> np.ndarray:
    return np.vstack([loop.at(np.arange(0.0, loop.length, step))[0] for loop in region.loops])


def furthest(a: Region, b: Region) -> float:
    """How far the boundaries of two regions part, mm."""
    return float(max(b.distance(boundary(a)).max(), a.distance(boundary(b)).max()))


def test_the_slot_of_the_shipped_job(kit: Kit) -> None:
    """0.506 in, a 1/2 bit and a 3/4 bushing: 0.756 in wide, ends of 0.378 in (derived)."""
    plan = shipped(kit)
    assert (plan.bit.name, plan.bushing.name) == ("straight 1/2", "bushing 3/4")
    arcs = plan.opening.as_segments()
    assert arcs.radius[arcs.bulge != 0.0] / IN == pytest.approx([0.378] * 2)
    assert len(plan.opening.loops[0].vertices) == 4
    length = 200.0 + 0.25 * IN
    assert plan.opening.area == pytest.approx((length - 0.756 * IN) * 0.756 * IN + np.pi * (0.378 * IN) ** 2)


@settings(max_examples=20)
@given(grooves(widths=(3.2, 25.0)))
def test_a_bushing_in_the_opening_cuts_the_groove(groove: Groove) -> None:
    """(opening ⊖ B/2) ⊕ d/2 is the groove, corners tighter than d/2 apart."""
    kit = large(load_kit("inch-shop"))
    try:
        plan = planned(groove, kit)
    except Refused:
        assume(False)
    ride = offset(plan.opening, -plan.bushing.outside / 2.0)
    if groove.width - plan.bit.diameter < 0.01:
        assert ride.is_empty or ride.area < 20.0
        return
    cut = offset(ride, plan.bit.radius)
    assert furthest(cut, groove.region if groove.ends == "round" else offset(plan.ride, plan.bit.radius)) < 1e-3
    corner = (2**0.5 - 1.0) * plan.bit.radius
    assert all(c.reach == pytest.approx(corner, abs=1e-4) for c in plan.corners)
    inside = [
        groove.band.at(s, t)
        for s, open_end in zip(groove.stretch, (groove.open_start, groove.open_finish), strict=True)
        for t in (-groove.width / 2.0, groove.width / 2.0)
        if not open_end
    ]
    assert len(plan.corners) == (len(inside) if groove.ends == "square" else 0)


@settings(max_examples=25)
@given(grooves(widths=(3.2, 25.0)))
def test_a_plan_holds_together(groove: Groove) -> None:
    kit = large(load_kit("inch-shop"))
    try:
        plan = planned(groove, kit)
    except Refused:
        assume(False)
    assert not stops(plan.findings)
    x0, y0, x1, y1 = plan.sheet.bounds
    wide, high, thick = plan.blank
    assert wide <= kit.machine.travel[0] + 1e-6
    assert high <= kit.machine.travel[1] + 1e-6
    assert thick == kit.sheet.thickness
    assert plan.sheet.signed_distance(boundary(plan.opening)).min() >= 25.0 - 1e-6
    _holes_are_clear(plan, groove)
    _marks_are_clear(plan)
    assert len(plan.tabs) >= 4
    for tab in plan.tabs:
        assert plan.sheet.distance([(tab.x, tab.y)])[0] < 1e-9
        corners = [hypot(tab.x - cx, tab.y - cy) for cx in (x0, x1) for cy in (y0, y1)]
        assert min(corners) > 2.0 * tab.width
        assert 0.0 < tab.height <= thick / 2.0
    assert not plan.support.tips
    assert plan.cutter.radius <= plan.bushing.outside / 2.0


def _holes_are_clear(plan: TemplatePlan, groove: Groove) -> None:
    points = np.array([(hole.x, hole.y) for hole in plan.holes])
    radii = np.array([hole.diameter / 2.0 for hole in plan.holes])
    assert (plan.sheet.signed_distance(points) - radii > 3.0 - 1e-6).all()
    assert (plan.opening.signed_distance(points) + radii < -6.0 + 1e-6).all()
    screws = [hole for hole in plan.holes if hole.head]
    for hole in screws:
        assert groove.region.signed_distance([(hole.x, hole.y)])[0] + hole.diameter / 2.0 <= -6.0 + 1e-6
        on_strip = [s for s in (plan.fence, plan.stop) if s and s.box.region.contains([(hole.x, hole.y)])[0]]
        assert len(on_strip) == 1
    if plan.fence:
        assert len(screws) >= 2
    for i, a in enumerate(plan.holes):
        for b in plan.holes[i + 1 :]:
            assert hypot(a.x - b.x, a.y - b.y) >= (a.diameter + b.diameter) / 2.0 + 3.0


def _marks_are_clear(plan: TemplatePlan) -> None:
    texts = [mark for mark in plan.marks if isinstance(mark, Text)]
    boxes = [(t.x, t.y, t.x + t.width, t.y + t.height) for t in texts]
    strokes = [mark for mark in plan.marks if isinstance(mark, Stroke)]
    lines = [np.linspace(s.points[0], s.points[-1], 200) for s in strokes]
    spots = [
        *lines,
        *(
            np.stack(np.meshgrid(np.linspace(a, c, 30), np.linspace(b, d, 8)), -1).reshape(-1, 2)
            for a, b, c, d in boxes
        ),
    ]
    for points in spots:
        assert (plan.sheet.signed_distance(points) >= 2.0).all()
        assert (plan.opening.signed_distance(points) <= -2.0).all()
    crossing = {"index line": "sight", "centreline": "sight", "a hole to drill": "screw"}
    for points, says in zip(spots, [stroke.says for stroke in strokes] + [""] * len(boxes), strict=True):
        for hole in plan.holes:
            if says not in crossing or crossing[says] not in hole.says:
                assert (np.hypot(points[:, 0] - hole.x, points[:, 1] - hole.y) >= hole.across / 2.0 + 2.0).all()
    for i, (a, b, c, d) in enumerate(boxes):
        for e, f, g, h in boxes[i + 1 :]:
            assert g <= a or c <= e or h <= b or d <= f, "texts overlap"
        for points in lines:
            near = (points > (a - 2.0, b - 2.0)) & (points < (c + 2.0, d + 2.0))
            assert not near.all(axis=1).any(), "a text on a line"


def test_the_bushing_needs_no_corner_that_the_cutter_cannot_reach(kit: Kit) -> None:
    plan = planned(made(groove_job(ends="square")), kit)
    needed = boundary(plan.guided, 0.2)
    assert plan.opening.signed_distance(needed).min() > -1e-6
    milled = opening(plan.opening, plan.cutter.radius)
    assert milled.signed_distance(needed).min() > -1e-4
    assert plan.opening.area - plan.guided.area > 0.1


def test_file_frame(kit: Kit) -> None:
    plan = shipped(kit)
    placed = plan.in_file_frame()
    margin = plan.cutter.diameter + 12.0
    wide, high, _ = plan.blank
    x0, y0, x1, y1 = placed.sheet.bounds
    assert (x0, y0) == pytest.approx((margin, margin))
    # The blank is a whole number of steps of a rule, rounded up: 1/16 in, or 1 mm.
    step = INCH / 16.0 if kit.units == "in" else 1.0
    assert (wide / step, high / step) == pytest.approx((round(wide / step), round(high / step)))
    assert 0.0 <= wide - margin - x1 < step
    assert 0.0 <= high - margin - y1 < step
    assert placed.placement == plan.placement
    assert placed.opening.bounds[:2] == pytest.approx(tuple(apply(plan.placement, np.array(plan.opening.bounds[:2]))))
    for before, after in zip(plan.holes, placed.holes, strict=True):
        assert (after.x, after.y) == pytest.approx(tuple(apply(plan.placement, np.array([before.x, before.y]))))
        assert placed.sheet.contains([(after.x, after.y)])[0]
    assert placed.fence
    assert placed.fence.box.region.contains([(placed.holes[0].x, placed.holes[0].y)])[0]
    assert placed.opening.area == pytest.approx(plan.opening.area)


def test_turned_over_the_sheet_serves_the_opposite_hand(kit: Kit) -> None:
    """x → length − x takes opening, strips, sights and board alike: the stop changes ends, the fence keeps its edge."""
    groove = made(groove_job(opposite_hand=True))
    plan = planned(groove, kit)
    mirror = np.array([[-1.0, 0.0, groove.board.length], [0.0, 1.0, 0.0]])
    opposite = groove.cuts()[1]
    turned = plan.opening.transformed(mirror)
    assert furthest(offset(opposite.solid.section(0.0), plan.offset), turned) < 1e-6
    texts = {mark.string for mark in plan.marks if isinstance(mark, Text)}
    assert {"THIS FACE UP: AS DRAWN", "TURNED OVER: OPPOSITE"} <= texts
    # One that is never turned over does not say so.
    single = plan_template(made(groove_job(shelf=12.7)).cuts()[0], kit, both_hands=False)
    assert not [mark.string for mark in single.marks if isinstance(mark, Text) and "TURNED" in mark.string]
    assert any(finding.rule == "turn-over" for finding in plan.findings)


def test_what_can_be_read_off_the_sheet(kit: Kit) -> None:
    plan = shipped(kit, voice=Voice("in"))
    texts = {mark.string for mark in plan.marks if isinstance(mark, Text)}
    # What else there is to know stands on the setup sheet: each letter takes the machine more than a second.
    of_the_sheet = {"TILTED SHELF", "THIS FACE UP: AS DRAWN", "0.815 IN BELOW BASE"}
    assert texts == {*of_the_sheet, "FENCE: LOWER EDGE", "STOP: RIGHT END", "UPPER EDGE"}
    says = {mark.says for mark in plan.marks if isinstance(mark, Stroke)}
    assert says == {"side of the board", "centreline", "a hole to drill"}
    screw = "No. 8 screw: hole 11/64 in, countersunk 82° to 11/32 in"
    assert {hole.says for hole in plan.holes} == {screw, "sight on the centreline"}


def test_a_sight_has_the_end_of_its_engraved_line_at_both_rims(kit: Kit) -> None:
    """A line in the middle of a hole of 7 mm is laid by guess: the engraved line stopped 3 mm before the hole."""
    lines = [mark for plan in (shipped(kit), planned(made(groove_job()), kit)) for mark in _across_sights(plan)]
    assert lines
    for stroke, hole in lines:
        (x0, y0), (x1, y1) = stroke.points
        length = hypot(x1 - x0, y1 - y0)
        along = ((hole.x - x0) * (x1 - x0) + (hole.y - y0) * (y1 - y0)) / length
        assert along > hole.diameter / 2.0
        assert length - along > hole.diameter / 2.0


def _across_sights(plan: TemplatePlan) -> list[tuple[Stroke, SheetHole]]:
    """Every sight with the one line that runs over its middle."""
    found = []
    for hole in (each for each in plan.holes if each.says.startswith("sight")):
        for stroke in (mark for mark in plan.marks if isinstance(mark, Stroke) and mark.says in hole.says):
            (x0, y0), (x1, y1) = stroke.points
            off = abs((x1 - x0) * (hole.y - y0) - (y1 - y0) * (hole.x - x0)) / hypot(x1 - x0, y1 - y0)
            if off < 1e-6 and min(x0, x1) - 1e-6 <= hole.x <= max(x0, x1) + 1e-6:
                found.append((stroke, hole))
    assert len(found) == sum(hole.says.startswith("sight") for hole in plan.holes)
    return found


def test_hole_screw_and_countersink_fit_each_other(kit: Kit) -> None:
    """The holes were as the cutter made them, 6 to 7.5 mm, and no size of screw was told."""
    for units in ("in", "mm"):
        plan = shipped(kit, voice=Voice(units))
        screws = [hole for hole in plan.holes if hole.head]
        # ASME B18.6.1: No. 8 has a shank of 0.164 in; clearance 0.2 to 0.4 mm: common practice, no source.
        shank = 0.164 * 25.4 if units == "in" else 4.0
        assert {True} == {0.2 <= hole.diameter - shank <= 0.4 + 1e-9 for hole in screws}
        assert {True} == {hole.head > 1.5 * hole.diameter for hole in screws}
        (note,) = (finding for finding in plan.findings if finding.rule == "screws")
        for part in ("No. 8" if units == "in" else "4 mm", "countersink", "82°" if units == "in" else "90°"):
            assert part in note.says
        crosses = [mark for mark in plan.marks if isinstance(mark, Stroke) and mark.says == "a hole to drill"]
        assert len(crosses) == 2 * len(screws)
        assert str(len(screws)) in note.says


def test_a_screw_does_not_come_through_the_strip() -> None:
    for units in ("in", "mm"):
        for sheet in (6.0, 9.0, 12.0, 12.7, 18.0, 25.0):
            found = screws_for(sheet, 6.35, units)
            assert sheet < found.length <= 2.0 * sheet - 2.0
            assert found.by_hand
    assert not screws_for(12.0, 3.0, "mm").by_hand  # a bit of 3 mm bores 4.3 mm
    assert not screws_for(12.0, 4.3, "mm", drills=True).by_hand


@pytest.mark.parametrize(("thickness", "deep"), [(8.0, True), (12.7, False), (20.0, False)])
def test_strips_deeper_than_the_board_are_told(kit: Kit, thickness: float, deep: bool) -> None:
    board = {"length": 500.0, "width": 240.0, "thickness": thickness}
    plan = planned(made(groove_job(shelf=12.7, clearance=0.15, depth=4.0, board=board)), kit, voice=Voice("mm"))
    found = [finding for finding in plan.findings if finding.rule == "strip-too-deep"]
    assert bool(found) is deep
    assert all("at least 4.7 mm" in finding.says for finding in found)


def refused(kit: Kit, groove: Groove | None = None, **keys: Any) -> dict[str, Finding]:
    with pytest.raises(Refused) as caught:
        planned(groove or made(groove_job(shelf=12.7, clearance=0.15)), kit, **keys)
    found = stops(caught.value.findings)
    assert len({f.rule for f in found}) == len(found)
    return {f.rule: f for f in caught.value.findings}


def test_a_named_pair_that_will_not_do_names_a_better_one(kit: Kit) -> None:
    found = refused(kit, bit=kit.bit("straight 1/2"), bushing=kit.bushing("bushing 7/16"))
    assert found["bit-does-not-pass"].level == "stop"
    assert found["better-pair"].says == "straight 1/2 in bushing 3/4 would do"
    narrow = made(groove_job(shelf=10.0))
    found = refused(kit, narrow, bit=kit.bit("straight 1/2"), bushing=kit.bushing("bushing 3/4"))
    assert found["bit-too-wide"].level == "stop"


def test_a_named_bit_with_any_bushing(kit: Kit) -> None:
    plan = shipped(kit, bit=kit.bit("straight 3/8"))
    assert plan.bit.name == "straight 3/8"
    plan = shipped(kit, bushing=kit.bushing("bushing 5/8"))
    assert plan.bushing.name == "bushing 5/8"
    assert "no-pair" in refused(kit, bit=kit.bit("vee 60"))


def test_a_kit_without_bushings_or_without_a_cutter(kit: Kit) -> None:
    assert "no guide bushing" in refused(kit.model_copy(update={"bushings": ()}))["no-pair"].says
    halves = kit.model_copy(update={"bits": (kit.bit("straight 1/2"), kit.bit("vee 60"))})
    # The half-inch bit would clear the opening of 0.756 in; without a collet for it on the machine nothing does.
    machine = kit.machine.model_copy(update={"collets": (6.35,)})
    found = refused(halves.model_copy(update={"machine": machine}))
    assert "no collet of the machine" in found["no-template-cutter"].says


def test_a_template_larger_than_the_machine(kit: Kit) -> None:
    small = kit.model_copy(update={"machine": kit.machine.model_copy(update={"travel": (200.0, 200.0, 60.0)})})
    says = refused(small, voice=Voice("mm"))["template-too-large"].says
    assert "200 mm by 200 mm" in says
    assert "blank of at least" in says


def test_a_small_machine_leaves_the_base_without_support(kit: Kit) -> None:
    """The blank fits, but the sheet ends 25 mm from the opening: a base of 152 mm tips on a rim."""
    wide = made(groove_job(receives=None, width=60.0, length=150.0, start_point=(200.0, 60.0)))
    small = kit.model_copy(update={"machine": kit.machine.model_copy(update={"travel": (190.0, 252.0, 60.0)})})
    try:
        rules = {f.rule: f.level for f in planned(wide, small).findings}
    except Refused as refusal:
        rules = {f.rule: f.level for f in refusal.findings}
    assert rules.get("base-tips") == "stop" or rules.get("base-support") == "caution"


def test_an_exact_fit_does_not_go_in(kit: Kit) -> None:
    """Play of nothing: refused, with the clearance or the bit that would cure it."""
    with pytest.raises(Refused) as caught:
        planned(
            made(groove_job(receives=None, width=12.7)),
            kit,
            bit=kit.bit("straight 1/2"),
            bushing=kit.bushing("bushing 3/4"),
        )
    (binds,) = [f for f in caught.value.findings if f.rule == "bushing-binds"]
    assert binds.level == "stop"
    assert "take a bit of at most" in binds.says


def test_a_bushing_with_hardly_any_play_is_cautioned(kit: Kit) -> None:
    plan = planned(
        made(groove_job(receives=None, width=12.72)),
        kit,
        bit=kit.bit("straight 1/2"),
        bushing=kit.bushing("bushing 3/4"),
    )
    (binds,) = [f for f in plan.findings if f.rule == "bushing-binds"]
    assert binds.level == "caution"
    assert plan.ride.area < 10.0


def test_the_choice_is_explained_and_every_pair_has_a_verdict(kit: Kit) -> None:
    plan = shipped(kit)
    (pair,) = [f for f in plan.findings if f.rule == "pair"]
    assert "straight 1/2 in bushing 3/4" in pair.says
    assert "next best: straight 3/8 in bushing 3/4" in pair.says
    assert len(plan.verdicts) == len(kit.bits) * len(kit.bushings)
    assert all(v.reasons for v in plan.verdicts if not v.ok)


def test_the_same_plan_twice(kit: Kit) -> None:
    one, other = shipped(kit), shipped(kit)
    assert one.holes == other.holes
    assert one.marks == other.marks
    assert one.findings == other.findings
    assert isinstance(one.holes[0], SheetHole)


def test_a_hostile_name_is_harmless_on_the_sheet(kit: Kit) -> None:
    plan = planned(made(groove_job(name="x) G0 Z-50 (\n%")), kit)
    assert "X G0 Z-50" in {mark.string for mark in plan.marks if isinstance(mark, Text)}


def test_only_straight_bits_are_told_why_they_cannot_mill_a_template() -> None:
    kit = load_kit("inch-shop")
    straight = {bit.name for bit in kit.bits if bit.upright_walls}
    rejected = rejected_cutters(kit, 1.0, 1.0, Voice("in"))
    assert set(rejected) == straight < {bit.name for bit in kit.bits}
    assert all(rejected.values())


def test_marks_by_pencil_name_bit_and_bushing_too(kit: Kit) -> None:
    """Each letter costs a machine a second, and a pencil nothing: they are there where the sheet is made by hand."""
    by_hand = shipped(kit.model_copy(update={"machine": None}), voice=Voice("in"))
    texts = {mark.string for mark in by_hand.marks if isinstance(mark, Text)}
    assert "BIT 1/2 IN BUSHING 3/4 IN" in texts
    assert not any("BUSHING" in mark.string for mark in shipped(kit).marks if isinstance(mark, Text))
