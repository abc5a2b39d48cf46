"""Programs of dovetails: what they sweep against the drawn solids, where they come in, and what they never do."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise, product
from math import atan
from typing import Any

import numpy as np
import pytest
from support.cutting import feeds_over, low_rapids
from support.distances import chains, depth_in, level_strokes, to_segments
from support.dovetails import SIDE, TOP, dovetail_job, made
from support.setups import Planned, dovetail_programs

from jigcam.dovetails.choice import DovetailChoice, choose_ways
from jigcam.dovetails.corners import Opened
from jigcam.dovetails.cuts import EndCut
from jigcam.errors import Refused
from jigcam.geometry import Region, apply, intersection, rectangle
from jigcam.kit import Bit, Kit, load_kit
from jigcam.toolpath import Program
from jigcam.wood import PlacedSolid, Solid

MEASURED = ((7.0, 37.5, 9.4, 35.9), (46.0, 82.4, 48.1, 79.5))
FLAT = {"tails_setup": "flat", "pins_setup": "flat", "scallop": 0.3, "clearance": 0.3, "slope": atan(1 / 6)}
"""No dovetail bit of the kit has that slope: pins are cut in terraces."""
UNDERCUT = {"pins_setup": "flat", "pin": 10.0}
"""Pins have the slope of the bit that cuts the tails."""
VARIANTS: dict[str, dict[str, Any]] = {
    "upright, both ends": {"pin": 10.0, "tails_end": "both", "pins_end": "both"},
    "upright, rabbet": {"pin": 10.0, "rabbet": 1.5},
    "upright, pared": {"pin": 11.0, "pare": 0.4},
    "upright, one tail": {"count": 1, "pin": 10.0, "half_pin": 15.0},
    "upright, wide pins": {"pin": 30.0, "half_pin": 12.0},
    "flat, right": {**FLAT},
    "flat, left": {**FLAT, "tails_end": "left", "pins_end": "right", "rabbet": 1.0},
    "flat, fine": {**FLAT, "count": 1, "scallop": 0.08},
    "flat, relieved": {**FLAT, "corners": "relieved"},
    "flat, pared": {**FLAT, "pare": 0.4},
    "flat, steep": {**FLAT, "slope": atan(1 / 4), "count": 1, "pin": 20.0},
    "flat, undercut": {**UNDERCUT},
    "flat, undercut, another slope": {
        **UNDERCUT,
        "tails_setup": "flat",
        "slope": atan(1 / 7),
        "clearance": 0.1,
        "scallop": 0.05,
    },
    "measured": {"measured": MEASURED, "count": None, "pin": None, "half_pin": None, "slope": None},
    "measured, flat": {
        "measured": MEASURED,
        "count": None,
        "pin": None,
        "half_pin": None,
        "slope": None,
        "pins_setup": "flat",
        "scallop": 0.3,
        "clearance": 0.3,
    },
}


@cache
def programs(name: str) -> list[tuple[EndCut, Planned]]:
    plan = planned(**VARIANTS[name])
    assert plan.cuts
    return [(cut, dovetail_programs(cut, load_kit("metric-shop"))) for cut in plan.cuts]


def planned(kit: Kit | None = None, **keys: Any) -> DovetailChoice:
    return choose_ways(made(dovetail_job(**keys)), kit or load_kit("metric-shop"))


def board(cut: EndCut) -> Region:
    """The stock seen from above, in the frame of the solid."""
    if cut.setup == "upright":
        return rectangle(0.0, 0.0, cut.board.width, cut.board.thickness)
    return rectangle(0.0, 0.0, cut.board.length, cut.board.width)


def swept(program: Program, z: float, points: np.ndarray) -> np.ndarray:
    """How far points of the solid's frame lie within what a program sweeps at height z, mm; negative outside."""
    within = np.full(len(points), -np.inf)
    at = apply(program.placement, points)
    for operation in program.operations:
        rows = level_strokes(operation.moves)
        rows = rows[rows[:, 4] <= z + 1e-6]
        radii = operation.bit.radius_at(np.minimum(z - rows[:, 4], operation.bit.cutting_length)).round(6)
        for radius in np.unique(radii):
            same = rows[radii == radius]
            within = np.maximum(within, radius - to_segments(at, same[:, :2], same[:, 2:4]))
    return within


def spread(x0: float, y0: float, x1: float, y1: float, spacing: float = 1.5) -> np.ndarray:
    """A grid of places."""
    return np.stack(np.meshgrid(np.arange(x0, x1, spacing), np.arange(y0, y1, spacing)), axis=-1).reshape(-1, 2)


def outline(region: Region) -> np.ndarray:
    """Places along the boundary of a region, a millimetre apart or less."""
    return np.vstack([loop.at(np.arange(0.0, loop.length, 0.7))[0] for loop in region.loops])


def drawing(cut: EndCut, program: Program) -> tuple[Solid, Solid]:
    """What a file with the program's bits may take, and what it has to."""
    if cut.cleared is not None and cut.bit not in program.bits:
        return cut.cleared, Opened(cut.cleared, program.bits[0].radius) if cut.way.undercut else cut.cleared
    return cut.solid, cut.needed


@pytest.mark.parametrize("name", VARIANTS)
def test_what_is_swept_is_what_is_drawn(name: str) -> None:
    """An independent judge, distances to chords in numpy: left at most 10 µm, gouged at most 5 µm."""
    for cut, plan in programs(name):
        wood = chains(board(cut))
        for program, share in product(plan.programs, (0.02, 0.51, 0.98)):
            solid, needed = drawing(cut, program)
            z = -share * solid.depth
            must, may = intersection(needed.section(z), board(cut)), solid.section(z)
            grid = spread(*must.bounds)
            inside = np.vstack([grid[depth_in(grid, chains(must)) > 0.0], outline(must)])
            assert swept(program, z, inside).min() > -0.010, f"{cut.purpose}: left at z {z:.2f}"
            walls = outline(may)
            walls = walls[depth_in(walls, wood) > 1e-3]
            assert swept(program, z, walls).max(initial=-1.0) < 0.005, f"{cut.purpose}: gouge at z {z:.2f}"
            around = spread(*board(cut).bounds)
            outside = around[depth_in(around, chains(may)) < -0.01]
            assert swept(program, z, outside).max(initial=-1.0) < 0.0, f"{cut.purpose}: gouge at z {z:.2f}"


@pytest.mark.parametrize("name", VARIANTS)
def test_the_bit_goes_down_only_in_the_air_and_one_that_undercuts_up_too(name: str) -> None:
    """Beside the board, or, from one terrace to the next, where operations before have cleared all that it sweeps. A
    straight bit may go up where it has cut."""
    around = np.linspace(0.0, 2.0 * np.pi, 24)
    for cut, plan in programs(name):
        for program in plan.programs:
            for number, operation in enumerate(program.operations):
                opened = replace(program, operations=program.operations[:number], placement=((1, 0, 0), (0, 1, 0)))
                for before, after in pairwise(operation.moves):
                    rises = after.z > before.z and operation.bit.kind == "straight" and cut.setup == "upright"
                    if before.z != after.z and min(before.z, after.z) < 0.0 and not rises:
                        place = np.array(after.point[:2])
                        x0, y0, x1, y1 = board(cut).transformed(program.placement).bounds
                        off = np.hypot(max(x0 - place[0], 0.0, place[0] - x1), max(y0 - place[1], 0.0, place[1] - y1))
                        if off >= operation.bit.radius + 1.0:
                            continue
                        assert operation.name == "cut the slopes"
                        rim = np.column_stack([np.cos(around), np.sin(around)])
                        assert swept(opened, after.z, place + (operation.bit.radius - 1e-4) * rim).min() > 0.0


@pytest.mark.parametrize("name", [name for name in VARIANTS if "upright" in name])
def test_upright_every_cut_comes_from_the_outside_face(name: str) -> None:
    """What moves outward does so where it was just cut; the first pass of every lane goes inward."""
    for cut, plan in programs(name):
        if cut.setup != "upright":
            continue
        for program in plan.programs:
            for operation in program.operations:
                feed = min(m.feed for m in operation.moves if m.kind == "line" and m.z < 0.0)
                cutting = [(a, b) for a, b in pairwise(operation.moves) if b.kind == "line" and b.feed == feed]
                assert cutting
                assert all(b.y - a.y > abs(b.x - a.x) for a, b in cutting if a.z == b.z)


@pytest.mark.parametrize("name", VARIANTS)
def test_feeds_and_rapids_are_safe(name: str) -> None:
    machine = load_kit("metric-shop").machine
    for _, plan in programs(name):
        for program in plan.programs:
            for operation in program.operations:
                assert not feeds_over(operation.moves, machine)
                assert not low_rapids(operation.moves)
                assert operation.moves[0].kind == "rapid"
                assert operation.moves[0].z == program.clear_height


def test_a_dovetail_bit_cuts_its_depth_at_once_after_the_way_was_cleared() -> None:
    cut, plan = programs("upright, rabbet")[1]
    clear, tails = plan.programs
    assert [program.bits[0].kind for program in plan.programs] == ["straight", "dovetail"]
    assert {m.z for m in tails.operations[0].moves if m.z < 0.0} == {-cut.depth}
    assert min(m.z for m in clear.operations[0].moves) == pytest.approx(-cut.depth + 0.8)
    wastes = [waste for step in plan.setup.steps for waste in step.wastes]
    assert [waste.may for waste in wastes] == [PlacedSolid(each, clear.placement) for each in (cut.cleared, cut.solid)]
    assert [waste.must for waste in wastes] == [None, PlacedSolid(cut.needed, tails.placement)]


def test_frames_upright() -> None:
    for cut, plan in programs("upright, both ends"):
        for program in plan.programs:
            assert program.clamping == "upright"
            assert program.stock == (cut.board.width, cut.board.thickness, cut.board.length)
            right = ((-1.0, 0.0, cut.board.width), (0.0, 1.0, 0.0))
            assert program.placement == (right if cut.end == "right" else ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)))


def test_a_long_board_hangs_off_the_machine() -> None:
    flat = planned(top=TOP | {"length": 1200.0}, **FLAT)
    (cut,) = [cut for cut in flat.cuts if cut.purpose == "inside of pins"]
    (program,) = dovetail_programs(cut, load_kit("metric-shop")).programs
    assert cut.at_right  # the left end, seen from the inside
    assert program.zero == "lower right corner, face"
    assert program.placement == ((1.0, 0.0, -1200.0), (0.0, 1.0, 0.0))


def test_flat_cuts_stay_above_the_spoilboard_and_below_the_inside_cut() -> None:
    depths = {
        cut.purpose: min(m.z for p in plan.programs for o in p.operations for m in o.moves)
        for cut, plan in programs("flat, right")
    }
    assert depths == pytest.approx(
        {"inside of tails": -3.0, "tails": -SIDE["thickness"], "inside of pins": -3.0, "pins": -TOP["thickness"]}
    )


def test_terraces_are_as_fine_as_the_scallop() -> None:
    ((cut, plan),) = [each for each in programs("flat, right") if each[0].purpose == "pins"]
    finish = plan.programs[0].operations[-1]
    levels = sorted({m.z for m in finish.moves if m.z < 0.0})
    steps = np.diff([*levels, 0.0])
    assert steps.max() * np.sin(atan(1 / 6)) <= cut.scallop + 1e-9
    each = TOP["thickness"] / len(levels)
    assert finish.note == f"{len(levels)} terraces of {each:.3f} mm."
    inches = dovetail_programs(cut, load_kit("metric-shop"), units="in").programs[0].operations[-1]
    assert inches.note == f"{len(levels)} terraces of {each / 25.4:.4f} in."


def test_the_machine_that_is_too_small_is_refused() -> None:
    plan = planned(pin=10.0)
    kit = load_kit("metric-shop")
    small = kit.model_copy(update={"machine": kit.machine.model_copy(update={"travel": (600.0, 25.0, 100.0)})})
    with pytest.raises(Refused):
        dovetail_programs(plan.cuts[0], small)


def test_a_rabbet_that_no_bit_can_cut() -> None:
    plan = planned(pin=10.0, rabbet=1.5)
    kit = load_kit("metric-shop")
    bits: tuple[Bit, ...] = tuple(bit for bit in kit.bits if bit.kind == "dovetail")
    with pytest.raises(Refused) as refused:
        dovetail_programs(plan.cuts[0], kit.model_copy(update={"bits": bits}))
    assert refused.value.findings[0].rule == "no-bit"


def test_corners_are_named() -> None:
    flat = [finding.says for _, plan in programs("flat, right") for finding in plan.findings]
    assert any("corners of radius" in says for says in flat)
