"""Grooves cut directly: every width, end and angle, judged by plain distances and a grid of heights."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.cutting import Stock, feeds_over, gouge, left_over, low_rapids
from support.grooves import groove_job, grooves, made
from support.setups import Planned, direct_programs

from jigcam.errors import InputError, Refused
from jigcam.geometry import difference, offset, rectangle, union
from jigcam.joints.groove.groove import Groove
from jigcam.kit import Kit, load_kit
from jigcam.toolpath import Move, facet_arcs, seconds
from jigcam.toolpath.frame import extent
from jigcam.wood.solid import Cut

AROUND = 150.0
"""mm beside the board where the bit may be."""
KITS = {name: load_kit(name) for name in ("inch-shop", "metric-shop")}


def changed(kit: Kit, *, plunges: bool | None = None, **machine: object) -> Kit:
    """The kit with another machine, and with bits that may plunge or not."""
    bits = kit.bits if plunges is None else tuple(b.model_copy(update={"plunges": plunges}) for b in kit.bits)
    return kit.model_copy(update={"bits": bits, "machine": kit.machine.model_copy(update=machine)})


def in_face_frame(planned: Planned) -> list[Move]:
    """All moves, back in the face frame."""
    moves = []
    for program in planned.programs:
        dx, dy = program.placement[0][2], program.placement[1][2]
        moves += [
            Move(m.kind, m.x - dx, m.y - dy, m.z, m.feed, m.cx - dx, m.cy - dy, m.ccw)
            for operation in program.operations
            for m in operation.moves
        ]
    return moves


def judge(cut: Cut, kit: Kit, planned: Planned) -> None:
    moves, bit, depth = in_face_frame(planned), planned.programs[0].bits[0], cut.solid.depth
    region, board = cut.solid.section(0.0), rectangle(0.0, 0.0, cut.board.length, cut.board.width)
    around = rectangle(-AROUND, -AROUND, cut.board.length + AROUND, cut.board.width + AROUND)
    assert gouge(moves, union(region, difference(around, board)), bit.radius) <= 0.005
    stock = Stock((0.0, 0.0, cut.board.length, cut.board.width), bit.radius, spacing=0.5)
    stock.cut(moves, steepest=math.tan(math.radians(8.5 if bit.plunges else 5.5)))
    x, y = np.meshgrid(stock.xs, stock.ys)
    reach = offset(offset(region, -bit.radius + 1e-3), bit.radius)
    wanted = reach.signed_distance(np.column_stack([x.ravel(), y.ravel()])).reshape(x.shape) > 0.02
    on_board = (board.signed_distance(np.column_stack([x.ravel(), y.ravel()])) >= 0.0).reshape(x.shape)
    assert (stock.top[wanted & on_board] <= -depth + 1e-6).all()
    if not (cut.open_start or cut.open_finish):
        assert left_over(moves, region, bit.radius, -depth) <= 0.01
    assert not stock.plunges
    assert not stock.rapids
    assert not feeds_over(moves, kit.machine)
    assert not low_rapids(moves)
    for program in planned.programs:
        reached = extent([m for operation in program.operations for m in operation.moves])
        assert all(e <= t + 1e-6 for e, t in zip(reached, kit.machine.travel, strict=True))


def can_be_cut(cut: Cut, kit: Kit) -> Planned | None:
    """The plan, or None where it is refused for want of a bit or of travel."""
    try:
        return direct_programs(cut, kit)
    except Refused as refused:
        rules = {f.rule for f in refused.findings if f.level == "stop"}
    assert rules <= {"no-bit", "path-too-large"}
    return None


@settings(max_examples=12)
@given(grooves(), st.sampled_from(sorted(KITS)), st.booleans())
def test_any_groove(groove: Groove, name: str, plunges: bool) -> None:
    kit = changed(KITS[name], plunges=plunges)
    cut = groove.cuts()[0]
    planned = can_be_cut(cut, kit)
    if planned is not None:
        judge(cut, kit, planned)


def cut_of(**keys: object) -> Cut:
    return made(groove_job(**keys)).cuts()[0]


def test_a_groove_as_wide_as_the_bit_is_cut_along_its_centreline() -> None:
    kit = KITS["metric-shop"]
    bit = next(b for b in kit.bits if b.kind == "straight" and b.diameter == 6.0)
    planned = direct_programs(cut_of(width=6.0, receives=None, clearance=0.1), kit, bit.name)
    (program,) = planned.programs
    assert [operation.name for operation in program.operations] == ["cut the groove"]


def test_a_groove_a_little_wider_is_roughed_down_the_middle_and_finished_along_its_walls() -> None:
    planned = direct_programs(cut_of(width=6.4, receives=None, clearance=0.1), KITS["metric-shop"], "straight 6")
    (program,) = planned.programs
    assert [operation.name for operation in program.operations] == ["cut along the centreline", "finish the walls"]


def test_the_widest_bit_that_goes_in_is_taken_and_every_other_is_explained() -> None:
    kit = KITS["inch-shop"]
    planned = direct_programs(cut_of(width=7.0, receives=None, clearance=0.1), kit)
    assert planned.programs[0].bits[0].name == "straight 1/4"
    said = " ".join(f.says for f in planned.findings)
    assert all(bit.name in said for bit in kit.bits)


@pytest.mark.parametrize(
    ("keys", "bit", "rule"),
    [
        ({"width": 6.0}, "straight 1/4", "bit-too-wide"),
        ({"width": 8.0, "depth": 14.0}, "straight 1/8", "bit-too-short"),
        ({"width": 8.0}, "vee 60", "bit-kind"),
        ({"width": 15.0}, "straight 1/2", "bit-shank"),
    ],
)
def test_a_named_bit_that_cannot_is_refused_with_the_cure(keys: dict[str, float], bit: str, rule: str) -> None:
    kit = changed(KITS["inch-shop"], collets=(6.35,))
    with pytest.raises(Refused) as refused:
        direct_programs(cut_of(receives=None, clearance=0.1, **keys), kit, bit)
    (stop,) = [f for f in refused.value.findings if f.level == "stop"]
    assert stop.rule == rule
    assert "Take " in stop.says


def test_an_unknown_bit_is_an_input_error_with_the_nearest_name() -> None:
    with pytest.raises(InputError, match="straight 1/3"):
        direct_programs(cut_of(), KITS["inch-shop"], "straight 1/3")


def test_the_right_end_is_cut_from_the_right_corner_and_the_middle_of_a_long_board_is_refused() -> None:
    kit = changed(KITS["metric-shop"], travel=(300.0, 300.0, 80.0))
    near = direct_programs(cut_of(start_point=(450.0, 60.0), angle=math.pi / 2, length=150.0), kit)
    (program,) = near.programs
    assert program.zero.startswith("lower right")
    assert program.placement == ((1.0, 0.0, -560.0), (0.0, 1.0, 0.0))
    assert all(m.x <= 0.0 for operation in program.operations for m in operation.moves)
    with pytest.raises(Refused) as refused:
        direct_programs(
            cut_of(start_point=(350.0, 60.0), angle=math.pi / 2, length=150.0),
            changed(KITS["metric-shop"], travel=(200.0, 300.0, 80.0)),
        )
    assert refused.value.findings[0].rule == "path-too-large"


def test_a_machine_without_arcs_gets_chords_within_two_microns() -> None:
    cut = cut_of(width=14.0, receives=None, clearance=0.1)
    arcs, lines = (direct_programs(cut, changed(KITS["metric-shop"], arcs=a)) for a in (True, False))
    assert {m.kind for o in lines.programs[0].operations for m in o.moves} == {"rapid", "line"}
    bit = arcs.programs[0].bits[0]
    assert gouge(in_face_frame(lines), cut.solid.section(0.0), bit.radius) <= 0.005
    assert left_over(in_face_frame(lines), cut.solid.section(0.0), bit.radius, -cut.solid.depth) <= 0.01
    finer = facet_arcs(arcs.programs[0], 1e-4)
    assert seconds(finer, KITS["metric-shop"].machine) > 0.0


def test_the_sheet_says_how_each_bit_is_run_why_and_for_how_long() -> None:
    planned = direct_programs(cut_of(), KITS["metric-shop"], units="mm")
    text = "\n".join(planned.sheet_lines)
    assert "rpm" in text
    assert "passes" in text
    assert "min" in text
    assert "time" in text


def test_every_operation_starts_and_ends_at_the_clear_height() -> None:
    for width in (6.0, 6.4, 14.0):
        planned = direct_programs(cut_of(width=width, receives=None, clearance=0.1), KITS["metric-shop"])
        for program in planned.programs:
            for operation in program.operations:
                assert operation.moves[0].kind == operation.moves[-1].kind == "rapid"
                assert operation.moves[0].z == operation.moves[-1].z == program.clear_height
