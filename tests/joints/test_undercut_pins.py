"""Pins that lie flat, cut with a dovetail bit: walls against planes from the drawing, corners, refusals, loads."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import atan, cos, hypot, radians, tan
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.cutting import feeds_over
from support.distances import level_strokes, to_segments
from support.dovetails import TOP, dovetail_job, lengths, made
from support.jobs import write_job
from support.kinds.through_dovetail import PINS_FLAT
from support.setups import Planned, dovetail_programs

from jigcam.dovetails.choice import DovetailChoice, choose_ways
from jigcam.dovetails.cuts import EndCut
from jigcam.dovetails.undercut_pins import WEB
from jigcam.dovetails.ways import Way
from jigcam.findings import stops
from jigcam.geometry import apply
from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.kit import Kit, load_kit
from jigcam.making.built import Built
from jigcam.making.setup_sheet import setup_sheet
from jigcam.proof import prove
from jigcam.toolpath import seconds
from jigcam.workshop.build import build_job, plan_job

FLAT = {"pins_setup": "flat", "pin": 10.0}
"""Tails upright get the slope of the metric shop's bit of 12.7 mm at 8 degrees."""
RADIUS, SLOPE = 12.7 / 2, radians(8)


def kit_with(*bits: str) -> Kit:
    """The metric shop with some of its bits only."""
    kit = load_kit("metric-shop")
    return kit.model_copy(update={"bits": tuple(bit for bit in kit.bits if bit.name in bits)})


def planned(kit: Kit | None = None, **keys: Any) -> DovetailChoice:
    return choose_ways(made(dovetail_job(**{**FLAT, **keys})), kit or load_kit("metric-shop"))


def pins(choice: DovetailChoice) -> list[tuple[EndCut, Planned]]:
    return [(cut, dovetail_programs(cut, load_kit("metric-shop"))) for cut in choice.cuts if not cut.of_tails]


def flat_way(choice: DovetailChoice) -> Way:
    return next(way for way in choice.ways if (way.part, way.setup) == ("pins", "flat"))


def swept(cuts: list[tuple[EndCut, Planned]], e: np.ndarray, s: np.ndarray, u: float) -> np.ndarray:
    """How far places lie within what all files clear, mm. e: from the end; s: from the lower edge; u: from the outside
    face. Distances to the moves as they are, whatever planned them."""
    within = np.full(len(e), -np.inf)
    for cut, plan in cuts:
        board = cut.board
        x = board.length - e if cut.at_right else e
        z = -u if cut.face == "outside" else u - board.thickness
        for program in plan.programs:
            at = apply(program.placement, np.column_stack([x, s]))
            for operation in program.operations:
                rows = level_strokes(operation.moves)
                rows = rows[rows[:, 4] <= z + 1e-9]
                radii = operation.bit.radius_at(np.minimum(z - rows[:, 4], operation.bit.cutting_length)).round(9)
                for radius in np.unique(radii):
                    same = rows[radii == radius]
                    within = np.maximum(within, radius - to_segments(at, same[:, :2], same[:, 2:4]))
    return within


@given(
    count=st.integers(1, 3),
    pin=lengths(9.5, 14),
    half_pin=lengths(6, 12),
    tail=lengths(24, 40),
    thickness=lengths(10, 20),
    clearance=st.sampled_from([0.0, 0.05, 0.15]),
    pare=st.sampled_from([0.0, 0.25]),
    left=st.booleans(),
    share=st.floats(0.0, 1.0),
)
@settings(max_examples=30, deadline=None)
def test_walls_lie_in_the_planes_of_the_drawing(
    count: int,
    pin: float,
    half_pin: float,
    tail: float,
    thickness: float,
    clearance: float,
    pare: float,
    left: bool,
    share: float,
) -> None:
    """Flanks by the sum of pins and tails, moved square to themselves: nothing of the program's layout is asked."""
    width = count * tail + (count - 1) * pin + 2.0 * half_pin
    boards = {
        "side": {"length": 300.0, "width": width, "thickness": 20.0},
        "top": {"length": 500.0, "width": width, "thickness": thickness},
    }
    ends = {"tails_end": "left", "pins_end": "right"} if left else {"tails_end": "right", "pins_end": "left"}
    sizes = {
        "pin": pin,
        "half_pin": half_pin,
        "clearance": clearance,
        "pare": pare,
        "tails_setup": "flat",
        "slope": SLOPE,
    }
    choice = planned(kit_with("dovetail 12.7 x 8", "straight 8"), count=count, **boards, **sizes, **ends)
    assert flat_way(choice).undercut, flat_way(choice).reasons
    cuts = pins(choice)
    u, e = share * thickness, np.array([0.05, 4.0, 20.0 - pare - RADIUS - 0.11])
    inward = u * tan(SLOPE) - (clearance - pare) / cos(SLOPE)
    starts = half_pin + np.arange(count) * (tail + pin)
    walls = np.concatenate([starts + inward, starts + tail - inward])
    into = np.repeat([0.002, -0.002], count)
    within, beyond = (swept(cuts, np.tile(e, 2 * count), np.repeat(walls + by, 3), u) for by in (into, -into))
    assert within.min() > 0.0
    assert beyond.max() < 0.0


@cache
def corner() -> tuple[DovetailChoice, list[tuple[EndCut, Planned]]]:
    choice = planned()
    return choice, pins(choice)


@pytest.mark.parametrize("u", [0.01, 1.59, 3.0, 8.0, 14.49, 14.51, 15.99])
def test_nothing_stays_in_a_socket_but_its_corners_and_no_more_there_than_is_said(u: float) -> None:
    choice, cuts = corner()
    left = choice.corner_left
    assert left is not None
    tail = (90.0 - 10.0 - 2 * 7.0) / 2
    low = 7.0 + u * tan(SLOPE) - 0.05 / cos(SLOPE)
    high = 7.0 + tail - u * tan(SLOPE) + 0.05 / cos(SLOPE)
    e, s = (each.ravel() for each in np.meshgrid(np.linspace(0.0, 19.999, 120), np.linspace(low, high, 160)[1:-1]))
    stays = swept(cuts, e, s, u) < -1e-6
    deep, proud = 20.0 - e, np.minimum(s - low, high - s) * cos(SLOPE)
    assert (deep[stays] <= left.along + 1e-9).all()
    # Beside the round at the floor no more stands on the wall than is said.
    beside = stays & (deep > left.radius)
    assert (proud[beside] <= left.thick + 1e-9).all()
    assert (proud[stays] <= left.thick + left.radius + 1e-9).all()
    # What stands before the tail's corner: from there to the nearest ground that is cleared.
    corner_e, corner_s = np.array([20.0]), np.array([low + 0.05 / cos(SLOPE)])
    assert -swept(cuts, corner_e, corner_s, u)[0] <= left.corner + 1e-9


def test_the_corner_that_is_said_is_found_where_a_step_is_widest() -> None:
    choice, cuts = corner()
    left = choice.corner_left
    assert left is not None
    u = 1e-6
    found = -swept(cuts, np.array([20.0]), np.array([7.0 + u * tan(SLOPE)]), u)[0]
    assert found == pytest.approx(left.corner, abs=0.03)
    assert left.along == pytest.approx(RADIUS + 0.1)


def test_no_wood_beyond_the_floor_is_touched() -> None:
    _, cuts = corner()
    s = np.linspace(8.0, 39.0, 60)
    for u in (0.01, 7.0, 15.99):
        assert swept(cuts, np.full(60, 20.002), s, u).max() < 0.0


def test_the_outside_face_is_opened_first_and_the_dovetail_bit_comes_last() -> None:
    _, cuts = corner()
    assert [(cut.purpose, cut.face, [p.bits[0].kind for p in plan.programs]) for cut, plan in cuts] == [
        ("outside of pins", "outside", ["straight"]),
        ("pins", "inside", ["straight", "dovetail"]),
    ]
    lowest = [min(m.z for o in p.operations for m in o.moves) for _, plan in cuts for p in plan.programs]
    assert lowest == pytest.approx([-TOP["thickness"] + WEB, -WEB - 0.5, -TOP["thickness"]])
    machine = load_kit("metric-shop").machine
    assert not any(feeds_over(o.moves, machine) for _, plan in cuts for p in plan.programs for o in p.operations)


def test_the_dovetail_bit_goes_down_in_the_air_and_comes_out_as_deep_as_it_went_in() -> None:
    _, cuts = corner()
    _, plan = cuts[1]
    (operation,) = plan.programs[1].operations
    inside = [m for m in operation.moves if m.z < 0.0]
    assert {m.z for m in inside} == {-TOP["thickness"]}
    # The end is at the right, where the file's zero lies: x is negative over the board.
    downs = [m for m in operation.moves if m.z < 0.0 and m.kind == "line"]
    assert downs[0].x >= RADIUS + 1.0


def test_a_slope_that_no_bit_has_is_cut_in_terraces_and_says_how_far_off_each_is() -> None:
    choice = planned(tails_setup="flat", slope=atan(1 / 8), pin=9.0)
    way = flat_way(choice)
    assert way.possible
    assert not way.undercut
    assert choice.corner_left is None
    # 16 mm at 8 degrees against 1:8: 16 (tan 8° − 1/8) cos(atan 1/8) = 0.246 mm.
    off = 16.0 * (tan(SLOPE) - 0.125) * cos(atan(1 / 8))
    says = "; ".join(way.reasons)
    assert (
        f"dovetail 12.7 x 8 cannot cut them in one pass: its slope of 1:7.12 (8.00 deg) leaves up to {off:.3f} mm"
        in says
    )
    assert "the fit bears 0.018 mm" in says


def test_a_slope_within_what_the_fit_bears_is_cut_by_the_bit_and_leaves_that() -> None:
    slope = atan(tan(SLOPE) + 0.012 / 16.0)
    done = build_job(dovetail_job(**FLAT, tails_setup="flat", slope=slope), load_kit("metric-shop"))
    fit = done.proofs[0].outcome.fit_dict()
    assert flat_way(planned(tails_setup="flat", slope=slope)).undercut
    # Its neck touches the wall at the inside face; a quarter of a millimetre from the outside one it is farthest off.
    assert fit["least_mm"] == pytest.approx(0.05 - 0.012 * (1.0 - 0.25 / 16.0) * cos(slope), abs=2e-4)
    assert fit["least_mm"] + 0.005 < fit["most_mm"] < 0.05


@pytest.mark.parametrize(
    ("bits", "keys", "reason"),
    [
        (("dovetail 12.7 x 8", "straight 6"), {"corners": "relieved"}, "it would cut 3.45 mm past the baseline"),
        (("dovetail 12.7 x 8", "straight 6"), {"top": TOP | {"thickness": 21.5}}, "it cuts 20.6 mm high"),
        (("dovetail 12.7 x 8", "straight 6"), {"count": 5, "pin": 5.0, "half_pin": 6.0}, "the narrowest socket lacks"),
        (("dovetail 12.7 x 8",), {}, "no straight bit of the kit opens the sockets"),
        (
            ("dovetail 12.7 x 8", "straight 6"),
            {"side": {"length": 300.0, "width": 90.0, "thickness": 8.0}},
            "before the floor",
        ),
    ],
)
def test_why_a_dovetail_bit_cannot(bits: tuple[str, ...], keys: dict[str, Any], reason: str) -> None:
    """The tails are drawn with the bit's slope, so that nothing but the reason stands in its way."""
    way = flat_way(planned(kit_with(*bits), tails_setup="flat", slope=SLOPE, **keys))
    assert not way.undercut
    assert reason in "; ".join(way.reasons)


def test_relief_by_a_dovetail_bit_would_reach_as_far_as_said() -> None:
    """Its neck at the inside face, 16 mm up, has to reach the corner: R − r / √2."""
    assert RADIUS - (RADIUS - 16.0 * tan(SLOPE)) / hypot(1.0, 1.0) == pytest.approx(3.45, abs=0.005)


@cache
def built() -> Built:
    return build_job(dovetail_job(**FLAT), load_kit("metric-shop"))


def test_files_are_proved_and_the_boards_fit() -> None:
    proof = built().proofs[0]
    assert proof.gouge <= 0.001
    assert proof.left <= 0.001
    fit = proof.outcome.fit_dict()
    assert (fit["least_mm"], fit["most_mm"]) == pytest.approx((0.05, 0.05), abs=0.001)
    assert "engagement" not in {finding.rule for finding in proof.findings}


def test_the_load_on_the_dovetail_bit_is_judged_by_what_the_steps_left() -> None:
    """Without them it has more wood before it than is usual."""
    joint = built().joints[0]
    file = next(each for each in joint.files if each.file.endswith("05-top-left-pins.nc"))
    machine = load_kit("metric-shop").machine

    def rules(target: Any) -> set[str]:
        return {finding.rule for finding in prove(file.text, target, machine, file.tools).findings}

    assert "engagement" not in rules(file.target)
    assert "engagement" in rules(replace(file.target, opened=(), gone=()))


def test_the_sheet_tells_faces_zero_and_the_chisels_work() -> None:
    done = built()
    text = " ".join("\n".join(setup_sheet(done.joints[0], done.proofs[0], done)).split())
    for part in (
        "top, left end: outside of pins, lying flat",
        "leave a thin web at the inside one",
        "The inside face up, the lower edge toward you: the left end, which is cut, is then on your right.",
        "makes every socket 0.028 mm wider",
        "4. Left for the chisel",
        "Next to the floor 6.45 mm of each wall stand up to 0.424 mm proud",
        "radius 5 mm",
        "before the tails' corners, and the joint does not close",
    ):
        assert part in text


def test_pins_flat_take_a_fraction_of_the_time_of_terraces() -> None:
    """By the estimate of the program itself, which counts corners and acceleration."""

    def time_of(kit: Kit) -> float:
        (joint,) = plan_job(dovetail_job(**FLAT, tails_setup="flat", slope=SLOPE), kit)
        return sum(seconds(f.program, kit.machine) for f in joint.files if "pins" in f.file)

    straights = ("straight 6", "straight 8", "straight 10")
    assert time_of(kit_with(*straights, "dovetail 12.7 x 8")) < 0.3 * time_of(kit_with(*straights))


@pytest.mark.parametrize(("line", "changed"), [("Z-8.4375", ""), ("Z-10.1250", "Z-10.3250"), ("Z-1.6875", "Z-1.4875")])
def test_a_step_that_is_missing_or_of_another_depth_is_refused(line: str, changed: str, tmp_path: Path) -> None:
    """What a missing step leaves is no corner for the chisel, though the bit works deeper everywhere."""
    job = load_job(write_job(tmp_path, PINS_FLAT))
    (joint,) = plan_job(job, kit_for(job))
    (file,) = [each for each in joint.files if "outside-of-pins" in each.file]
    head, steps = file.text.split("(cut the floors", 1)
    assert line in steps
    text = f"{head}(cut the floors{steps.replace(line, changed)}"
    found = prove(text, file.target, kit_for(job).machine, file.tools).findings
    assert {"left", "gouge"} & {finding.rule for finding in stops(found)}
