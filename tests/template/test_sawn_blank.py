"""A blank that is sawn to the template's size: no outline, zero where the strips lie, and the sheet that says so."""

from __future__ import annotations

from typing import Any

import pytest
from support.grooves import groove_job, made
from support.setups import template_programs

from jigcam.drawing.scenes.template import scene_template
from jigcam.errors import Refused
from jigcam.findings import stops
from jigcam.geometry import apply
from jigcam.kit import Kit, load_kit
from jigcam.making.made_joint import MadeJoint
from jigcam.template import Need, TemplatePlan, plan_coupon, plan_template, rank_pairs
from jigcam.units import Voice
from jigcam.workshop.build import plan_job

METRIC = load_kit("metric-shop")


def sawing(kit: Kit = METRIC, **machine: Any) -> Kit:
    """The shop with blanks that are sawn to size, and perhaps another machine."""
    changed = {"machine": kit.the_machine.model_copy(update=machine)} if machine else {}
    return kit.model_copy(update={"sheet": kit.the_sheet.model_copy(update={"sawn_to_size": True}), **changed})


def planned(kit: Kit, **keys: Any) -> TemplatePlan:
    return plan_template(made(groove_job(**keys)).cuts()[0], kit, voice=Voice("mm"))


@pytest.mark.parametrize(
    ("keys", "corner"),
    [({}, "lower left"), ({"start_point": (430.0, 45.0)}, "lower right")],
    ids=["strips at the left", "stop at the far end"],
)
def test_zero_is_the_corner_on_whose_edges_the_strips_lie(keys: dict[str, Any], corner: str) -> None:
    """So no error in the sawn size moves the opening to the strips, which lie flush with the sheet's edges."""
    plan, usual = planned(sawing(), **keys), planned(METRIC, **keys)
    assert plan.fence is not None
    assert plan.stop is not None
    assert plan.tabs == ()
    x0, y0, x1, y1 = plan.sheet.bounds
    assert plan.blank[:2] == pytest.approx((x1 - x0, y1 - y0))
    assert usual.blank[0] > usual.sheet.bounds[2] - usual.sheet.bounds[0] + 24.0
    zero = apply(plan.placement, [[x1 if "right" in corner else x0, y0]])[0]
    assert zero == pytest.approx((0.0, 0.0))
    for strip in (plan.fence, plan.stop):
        box = strip.box.region.transformed(plan.placement).bounds
        assert min(abs(value) for value in box) < 1e-9  # one of its sides runs through zero
    (program,) = [each for each in template_programs(plan, sawing()).programs if each.bits[0].kind == "straight"]
    assert program.zero == f"{corner} corner, top"
    assert not [each.name for each in program.operations if "outline" in each.name]
    low = -plan.blank[0] if "right" in corner else 0.0
    for operation in program.operations:
        cutting = [move for move in operation.moves if move.z < 0.0]
        assert all(low + 3.0 < move.x < low + plan.blank[0] - 3.0 for move in cutting)
    notes = [each.says for each in plan.findings if each.rule == "sawn-blank"]
    assert f"its lower and its {corner.split()[1]} edge" in notes[0]


def test_the_sheet_may_be_as_large_as_the_machine_travels() -> None:
    """No room is left beside it for an outline and clamps: 36 mm in all with a bit of 6 mm (derived: 2 · (6 + 12))."""
    small = METRIC.the_machine.model_copy(update={"travel": (160.0, 300.0, 80.0)})
    with pytest.raises(Refused):
        planned(METRIC.model_copy(update={"machine": small.model_copy(update={"travel": (110.0, 300.0, 80.0)})}))
    plan = planned(sawing(travel=(110.0, 300.0, 80.0)))
    assert plan.blank[0] <= 110.0


@pytest.fixture(scope="module")
def work() -> MadeJoint:
    """Its zero is the lower right corner."""
    (made_work,) = plan_job(groove_job(start_point=(430.0, 45.0)), sawing())
    return made_work


def test_the_files_are_proved_in_the_sawn_blank(work: MadeJoint) -> None:
    """And what runs over its edge, which an outline would have cut away, is a gouge there."""
    proof = work.proved(work.texts)
    assert not stops(proof.findings)
    assert proof.gouge < 0.002
    file = work.files[-1]
    low, _, high, _ = file.setup.box
    edge = f"G0 Z5\nX{low if low < 0.0 else high} Y-9\nG1 Z-3 F900\nY40\nG0 Z5\nM5\n"
    spoiled = file.text.replace("M5\n", edge)
    assert spoiled != file.text
    worse = work.proved({**work.texts, file.file: spoiled})
    assert worse.gouge > 2.5


def test_sheet_and_picture_say_that_it_is_sawn(work: MadeJoint) -> None:
    plan = work.plan.template
    planned_file = template_programs(plan, sawing())
    sheet = " ".join(planned_file.sheet_lines)
    wide, high = (f"{size:g} mm" for size in plan.blank[:2])
    assert f"sawn to {wide} x {high}, square" in sheet
    assert "No outline is milled." in sheet
    assert "or larger" not in sheet
    assert "tabs" not in sheet
    facts = dict(scene_template(plan).facts)
    assert facts["sheet"].endswith(", sawn to size")
    roles = {item.role for view in scene_template(plan).rows[0] for item in view.items}
    assert "blank" not in roles
    assert "tab" not in roles


def test_a_test_coupon_is_sawn_to_whole_sizes_too() -> None:
    cut = made(groove_job()).cuts()[0]
    (verdict, *_) = rank_pairs(METRIC, Need(cut.width, 8.0), where="")
    plan = plan_coupon("tilted shelf", cut.width, 8.0, verdict, sawing(), steps=1, step=0.1, voice=Voice("mm")).plan
    assert plan.tabs == ()
    assert [size % 1.0 for size in plan.blank[:2]] == pytest.approx([0.0, 0.0])
    assert plan.blank[:2] == plan.sheet.bounds[2:]
    assert not [
        step
        for step in template_programs(plan, sawing()).setup.steps
        if step.wastes and step.wastes[0].name == "outline"
    ]
