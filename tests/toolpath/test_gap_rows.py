"""Rows along the mouth of a gap: what they take, which way, how much at once, and how long that takes."""

from __future__ import annotations

from functools import cache, partial
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from support.distances import level_strokes, to_segments
from support.least_time import Outline, pocket_seconds, socket_seconds, sockets_of_file

from jigcam.geometry import Region, arc_of, bar, disc, offset, polygon, rectangle, slot, union
from jigcam.joints import load_job
from jigcam.kit import Bit, Machine, load_kit
from jigcam.toolpath.feeds import choose, deeper
from jigcam.toolpath.gap import Gap, Line, Mouth, Wall, blind_gap, through_gap
from jigcam.toolpath.gap_rows import CUSP, quickest_rows, row_places, rows_run, widest_row
from jigcam.toolpath.gap_run import along_walls, clearing_run, lane_passes, wall_run
from jigcam.toolpath.levels import even_levels
from jigcam.toolpath.pocket import ALLOWANCE, pocket
from jigcam.toolpath.program import Move
from jigcam.toolpath.time import move_seconds, runs_seconds, seconds
from jigcam.toolpath.track import Cutter, Run
from jigcam.workshop.build import plan_job

THICK, DEPTH = 20.6, 23.8
KIT = load_kit("inch-shop")
(BIT,) = [bit for bit in KIT.bits if bit.name == "straight 1/4"]
MOUTHS = {
    "left end up": Mouth(((0.0, 1.0, 0.0), (1.0, 0.0, 0.0))),
    "right end up": Mouth(((0.0, -1.0, 90.0), (1.0, 0.0, 0.0))),
}
WALLS = Wall(Line(10.0, 0.125)), Wall(Line(52.0, -0.125))
GAPS = {
    "through": through_gap(*WALLS, BIT.radius, THICK, cover=BIT.radius, lead=2.0, over=0.5),
    "to a lap": blind_gap(Wall(Line(15.0, -0.125)), Wall(Line(47.0, 0.125)), BIT.radius, 16.0, lead=2.0),
}


def cutter(width: float | None = None, bit: Bit = BIT, machine: Machine = KIT.the_machine) -> Cutter:
    return Cutter(bit, choose(bit, "black cherry", machine, DEPTH, width=width), machine)


@cache
def cleared(gap: str, mouth: str) -> tuple[Cutter, Run]:
    way = quickest_rows([GAPS[gap].inset(ALLOWANCE)], cutter(), cutter, MOUTHS[mouth], DEPTH, under=1e9)
    assert way is not None
    narrow, (run,) = way
    return narrow, run


def in_gap(points: np.ndarray, mouth: str) -> np.ndarray:
    """(e, t) of points of the file: the mouths here are swapped axes, one of them mirrored."""
    return np.column_stack([points[:, 1], points[:, 0] if mouth == "left end up" else 90.0 - points[:, 0]])


@pytest.mark.parametrize("mouth", MOUTHS)
@pytest.mark.parametrize("gap", GAPS)
def test_rows_leave_an_even_rest_for_the_finishing_pass_at_every_level(gap: str, mouth: str) -> None:
    """Nothing beyond the drawing, and between the walls nothing but the allowance and the cusps beside it."""
    _, run = cleared(gap, mouth)
    strokes = level_strokes(run.moves)
    deep, (low, high) = (
        (THICK, WALLS) if gap == "through" else (16.0, (Wall(Line(15.0, -0.125)), Wall(Line(47.0, 0.125))))
    )
    grid = np.stack(np.meshgrid(np.arange(0.0, deep, 0.4), np.arange(0.0, 90.0, 0.4)), axis=-1).reshape(-1, 2)
    lean = np.hypot(1.0, 0.125)
    off = (
        np.minimum(
            grid[:, 1] - low.line.at(0.0) - low.line.slope * grid[:, 0],
            high.line.at(0.0) + high.line.slope * grid[:, 0] - grid[:, 1],
        )
        / lean
    )
    if gap != "through":
        off = np.where((grid[:, 0] > deep - BIT.radius - ALLOWANCE), -9.0, off)  # its round corners are another matter
    for level in sorted({row[4] for row in strokes if row[4] < 0.0}):
        rows = strokes[strokes[:, 4] == level]
        ends = in_gap(rows[:, :2], mouth), in_gap(rows[:, 2:4], mouth)
        taken = to_segments(grid, *ends) < BIT.radius
        assert taken[off > ALLOWANCE + CUSP * BIT.diameter + 0.01].all()
        if gap == "through":
            assert not taken[off < ALLOWANCE - 0.01].any()


@pytest.mark.parametrize("mouth", MOUTHS)
@pytest.mark.parametrize("gap", GAPS)
def test_nothing_is_cut_on_the_way_out_and_the_first_row_climbs(gap: str, mouth: str) -> None:
    """What breaks out of the face at the mouth is wood that the bit leaves outward. Climb milling has the wood on the
    right of the way (derived from the sense of turning): there the edges come in from outside the face."""
    _, run = cleared(gap, mouth)
    rim = BIT.radius * np.array([(np.cos(a), np.sin(a)) for a in np.linspace(0.0, 2.0 * np.pi, 72)])
    done = np.empty((0, 5))
    fresh, first_rows = False, []
    for a, b in pairwise(run.moves):
        fresh |= b.z < a.z
        if b.kind != "line" or a.z != b.z:
            continue
        (e0, t0), (e1, t1) = in_gap(np.array([a.point[:2], b.point[:2]]), mouth)
        if e1 < e0 - 1e-6:
            ways = np.linspace(a.point[:2], b.point[:2], 25)
            places = (ways[:, None, :] + 0.995 * rim).reshape(-1, 2)
            on_board = in_gap(places, mouth)[:, 0] > 0.0
            before = done[done[:, 4] <= a.z]
            free = to_segments(places[on_board], before[:, :2], before[:, 2:4]) < BIT.radius
            assert free.mean() > 0.999, f"cuts on the way out, at z {a.z}"
        elif fresh and abs(t1 - t0) > 5.0:
            fresh = False
            first_rows.append(b.x < a.x)  # in both files +y leads into the board: it is on the right of a way toward −x
        done = np.vstack([done, (a.x, a.y, b.x, b.y, a.z)])
    assert first_rows == [True] * len({m.z for m in run.moves if m.z < 0.0})


@pytest.mark.parametrize("gap", GAPS)
def test_no_row_takes_more_than_a_full_cut_and_all_lie_evenly(gap: str) -> None:
    inner = GAPS[gap].inset(ALLOWANCE)
    narrow, run = cleared(gap, "left end up")
    levels = sorted({m.z for m in run.moves if m.z < 0.0}, reverse=True)
    rows = sorted({round(b.y, 3) for a, b in pairwise(run.moves) if b.kind == "line" and a.z == b.z and a.y == b.y})
    rows = [y for y in rows if y > inner.first + 0.5]
    steps = np.diff([-BIT.radius, *rows])
    assert np.ptp(steps) < 2e-3
    drop = max(np.diff([0.0, *levels]) * -1.0)
    assert steps.max() * drop <= BIT.diameter**2 * KIT.the_machine.deepest_pass * 1.001
    assert steps.max() <= widest_row(BIT.radius) + 1e-3
    assert narrow.feeds.depth_per_pass == pytest.approx(drop)


def test_rows_and_levels_take_the_least_time_of_all_and_a_third_of_lanes() -> None:
    inner, mouth = GAPS["through"].inset(ALLOWANCE), MOUTHS["left end up"]
    _, run = cleared("through", "left end up")
    spent, lanes = runs_seconds([run], KIT.the_machine), lane_seconds(inner, mouth)
    for count in range(2, 9):
        width = min(widest_row(BIT.radius), BIT.diameter**2 * KIT.the_machine.deepest_pass * count / DEPTH)
        other = rows_run(inner, cutter(width), mouth, even_levels(DEPTH, DEPTH / count), width)
        if DEPTH / count <= 1.5 * BIT.diameter:
            assert spent <= runs_seconds([other], KIT.the_machine) + 1e-9
    assert spent < lanes / 2.9
    assert quickest_rows([inner], cutter(), cutter, mouth, DEPTH, under=spent) is None


def lane_seconds(gap: Gap, mouth: Mouth) -> float:
    plain = cutter()
    levels = even_levels(DEPTH, plain.feeds.depth_per_pass)
    passes = lane_passes(gap, plain, mouth, levels, 0.85 * BIT.diameter, alike=True)
    return runs_seconds([clearing_run(passes, plain, mouth)], KIT.the_machine)


@pytest.mark.parametrize("edges", [(True, False), (False, True)])
def test_a_gap_at_the_boards_edge_has_no_rows(edges: tuple[bool, bool]) -> None:
    """They would run out of the edge, and break it."""
    walls = Wall(Line(0.0), edges[0]), Wall(Line(30.0), edges[1])
    gap = through_gap(*walls, BIT.radius, THICK, cover=BIT.radius, lead=2.0, over=0.5)
    assert quickest_rows([gap], cutter(), cutter, MOUTHS["left end up"], DEPTH, under=1e9) is None


def test_the_lane_beside_a_slot_is_cut_in_fewer_levels() -> None:
    """A slot as wide as the bit takes eight levels; a shaving beside it few, with no more wood at once."""
    gap = through_gap(Wall(Line(0.0)), Wall(Line(8.0)), BIT.radius, THICK, cover=BIT.radius, lead=2.0, over=0.5)
    plain, mouth = cutter(), MOUTHS["left end up"]
    levels = even_levels(DEPTH, plain.feeds.depth_per_pass)
    passes = lane_passes(gap, plain, mouth, levels, 0.85 * BIT.diameter)
    depths = [each.level for each in passes if each.lanes[0] == gap.lanes(BIT.diameter)[-1]]
    assert [each.level for each in passes if each.lanes[0].t0 == pytest.approx(gap.low.t0)] == levels
    assert depths[-1] == -DEPTH
    drops = -np.diff([0.0, *depths])
    assert len(depths) < len(levels) / 2
    assert drops.max() * gap.width <= BIT.diameter**2 * KIT.the_machine.deepest_pass
    assert drops.max() <= 1.5 * BIT.diameter
    strong = KIT.the_machine.model_copy(update={"light": False, "pass_depth": 1.0})
    stiff = cutter(machine=strong)
    deep, feed = deeper(stiff.feeds, BIT, 1.0, strong)
    assert deep == pytest.approx(1.5 * BIT.diameter)
    assert feed == pytest.approx(0.875 / 1.0 * stiff.feeds.feed, rel=0.02)


def test_finishing_goes_straight_over_and_ends_at_the_second_wall() -> None:
    gap, mouth, plain = GAPS["through"], MOUTHS["left end up"], cutter()
    slow, quick = (wall_run(gap, plain, mouth, -DEPTH, rises=rises) for rises in (False, True))
    assert runs_seconds([quick], KIT.the_machine) < 0.8 * runs_seconds([slow], KIT.the_machine)
    rises = [a for a, b in pairwise(quick.moves) if b.z > a.z and a.z < 0.0]
    assert [(m.y, m.x) for m in rises] == [(gap.last, pytest.approx(gap.high.at(gap.last) - 0.1))]
    cuts = [
        (a.point[:2], b.point[:2])
        for a, b in pairwise(quick.moves)
        if b.kind == "line" and b.feed < 3045.0 and a.z == b.z
    ]
    assert cuts == [
        (pytest.approx((line.at(gap.first), gap.first)), pytest.approx((line.at(gap.last), gap.last)))
        for line in (gap.low, gap.high)
    ]


@pytest.mark.parametrize(("shop", "tails", "most"), [("inch-shop", "upright", 1.4), ("metric-shop", "flat", 1.5)])
def test_sockets_upright_take_no_more_than_half_over_the_least_time(shop: str, tails: str, most: float) -> None:
    """11.2 and 4.8 min for a corner's pins in lanes: full cuts only, the finishing, the machine's acceleration
    (`support.least_time`)."""
    job, kit = load_job(Path(__file__).parents[2] / "examples" / "music-cabinet" / "carcase.toml"), load_kit(shop)
    only = {"tails_end": "right", "pins_end": "left", "tails_setup": tails, "pins_setup": "upright"}
    job = job.model_copy(update={"joints": (job.joints[0].model_copy(update=only),)})
    (made,) = plan_job(job, kit)
    pins = made.files[-1]
    taken, least = seconds(pins.program, kit.the_machine), sockets_of_file(pins, kit.the_machine, ALLOWANCE)
    assert "pins" in pins.file
    assert 1.0 < taken / least <= most
    # Each socket is finished before the bit is lifted out of it.
    (cut,) = pins.program.operations
    deepest = min(move.z for move in cut.moves)
    lifts = [a for a, b in pairwise(cut.moves) if b.kind == "rapid" and b.z > 0.0 > a.z]
    assert len(lifts) == len(pins.steps[0].wastes[0].may.section(-1.0).loops)
    assert {move.z for move in lifts} == {deepest}


@settings(max_examples=25, deadline=None)
@given(
    st.floats(8.0, 60.0),
    st.floats(0.0, 0.17),
    st.floats(9.0, 30.0),
    st.floats(6.0, 30.0),
    st.sampled_from(["inch-shop", "metric-shop"]),
)
def test_no_socket_is_planned_under_the_least_time(
    width: float, slope: float, thick: float, depth: float, shop: str
) -> None:
    machine = load_kit(shop).the_machine
    back = width - 2.0 * slope * thick
    assume(back >= 1.1 * BIT.diameter)
    gap = through_gap(
        Wall(Line(0.0, slope)), Wall(Line(width, -slope)), BIT.radius, thick, cover=BIT.radius, lead=2.0, over=0.5
    )
    inner, mouth, plain = gap.inset(ALLOWANCE), MOUTHS["left end up"], cutter(machine=machine)
    ending = partial(along_walls, gap=gap, rises=True)
    passes = lane_passes(inner, plain, mouth, even_levels(depth, plain.feeds.depth_per_pass), 0.85 * BIT.diameter)
    runs = [clearing_run(passes, plain, mouth, then=ending)]
    rows = quickest_rows([inner], plain, partial(cutter, machine=machine), mouth, depth, under=1e9, then=[ending])
    runs += rows[1] if rows else []
    outline = Outline((width + back) / 2.0 * thick - 2.0 * ALLOWANCE * thick, width, back, thick)
    section, feed = BIT.diameter**2 * machine.deepest_pass, min(machine.max_feed[:2])
    least = socket_seconds([outline], BIT.radius, section, depth, feed, machine, above=plain.approach)
    assert min(runs_seconds([run], machine) for run in runs) > least


def test_the_least_time_of_a_socket_is_all_but_reached_by_the_best_path_there_is() -> None:
    """Two lanes wide and two full cuts deep: to and fro in full cuts, down outside, and nothing that could be shorter.

    What is over the bound are the ways outside the wood, of a radius at each end of a lane.
    """
    machine, radius, thick, deep = KIT.the_machine, BIT.radius, 60.0, BIT.diameter * KIT.the_machine.deepest_pass
    feed, top, up = min(machine.max_feed[:2]), 1.5, machine.max_feed[2]
    near, far = -radius, thick + radius
    moves = [Move("rapid", near, radius, top)]
    for z in (-deep, -2.0 * deep):
        moves += [Move("line", near, radius, z, up), Move("line", far, radius, z, feed)]
        moves += [Move("line", far, 3.0 * radius, z, feed), Move("line", near, 3.0 * radius, z, feed)]
        moves += [Move("line", near, radius, z, feed)]
    z = -2.0 * deep
    for t in (radius, 3.0 * radius):
        moves += [Move("line", 0.0, t, z, feed), Move("line", thick, t, z, feed)]
    moves.append(Move("rapid", thick, 3.0 * radius, top))
    taken = runs_seconds([Run(tuple(moves))], machine)
    outline = Outline(4.0 * radius * thick, 4.0 * radius, 4.0 * radius, thick)
    least = socket_seconds([outline], radius, BIT.diameter * deep, 2.0 * deep, feed, machine, above=top)
    assert 1.0 < taken / least < 1.2


SIZES = st.floats(12.0, 90.0)
POCKETS = st.one_of(
    st.builds(lambda long, wide: rectangle(0, 0, long, wide), SIZES, SIZES),
    st.builds(lambda more, wide: slot((0, 0), (wide + more, 0), wide), SIZES, st.floats(8.0, 40.0)),
    st.builds(
        lambda long, high, at: polygon([(0, 0), (long, 0), (at * long, high)]), SIZES, SIZES, st.floats(0.1, 0.9)
    ),
    st.builds(lambda long: union(disc(0, 0, 16), disc(long, 0, 12), bar((0, 0), (long, 0), 14)), st.floats(20.0, 60.0)),
)


@settings(max_examples=12, deadline=None)
@given(POCKETS)
@example(slot((0, 0), (150, 0), 19.0))
def test_no_pocket_is_planned_under_the_least_time(region: Region) -> None:
    """The bound is one, for small pockets with and without corners, whose passes are as deep as they may be."""
    tool = Cutter(BIT, choose(BIT, "mdf", KIT.the_machine, 6.35), KIT.the_machine)
    work = pocket(region, tool, even_levels(6.35, tool.feeds.depth_per_pass))
    assume(work.rough)
    taken = runs_seconds([*work.rough, *work.finish], KIT.the_machine)
    section = BIT.diameter**2 * KIT.the_machine.deepest_pass
    least = pocket_seconds(region, BIT.radius, section, 6.35, 2, tool.feeds.feed, KIT.the_machine, work.allowance)
    assert taken > least


@pytest.mark.parametrize("round_ends", [False, True])
def test_the_least_time_of_a_pocket_is_all_but_reached_by_the_best_path_there_is(round_ends: bool) -> None:
    """Two rows wide and one cut deep: once round the ground of the middle clears it, and once more the walls."""
    machine, radius, rest = KIT.the_machine, BIT.radius, ALLOWANCE
    feed, deep, wide = 3000.0, BIT.diameter * KIT.the_machine.deepest_pass, 4.0 * BIT.radius + 2.0 * ALLOWANCE
    region = slot((0, 0), (120, 0), wide) if round_ends else rectangle(0, 0, 120, wide)
    moves = [Move("rapid", 0.0, 0.0, 0.2)]
    for inward in (radius + rest, radius):
        (loop,) = offset(region, -inward).loops
        x, y = loop.start
        moves += [Move("line", x, y, -deep if moves[1:] else 0.2, feed), Move("line", x, y, -deep, 1000.0)]
        for x0, y0, x1, y1, bulge in loop.segments().tolist():
            if abs(bulge) < 1e-9:
                moves.append(Move("line", x1, y1, -deep, feed))
            else:
                cx, cy, *_ = arc_of((x0, y0), (x1, y1), bulge)
                moves.append(Move("arc", x1, y1, -deep, feed, cx, cy, bulge > 0.0))
    taken = sum(move_seconds(moves[2:], machine, moves[1].point))
    least = pocket_seconds(region, radius, BIT.diameter * deep, deep, 1, feed, machine, rest)
    assert 1.0 < taken / least < 1.12


def test_rows_begin_outside_and_end_at_the_floor() -> None:
    places = row_places(GAPS["to a lap"], BIT.radius, 2.0)
    assert places[-1] == pytest.approx(16.0 - BIT.radius)
    assert places[0] <= 2.0 - BIT.radius
