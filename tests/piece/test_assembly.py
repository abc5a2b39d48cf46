"""Pieces that go together, and that do not: orders acted on by boards that are cut as the joints say, locks and what
opens them, boards in one place, and what the year does to the whole."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.jobs import toml
from support.shop import jigcam

from jigcam.document import Document
from jigcam.job import Job
from jigcam.job.loading import job_from
from jigcam.joints import Entries, kind, kind_names, load_job
from jigcam.kit import change, wood
from jigcam.piece import piece_of, together_findings
from jigcam.piece.assembly import PartAssembly, assembly_of
from jigcam.piece.collisions import SolidBoard, seats_between, shared_wood, solids_of
from jigcam.piece.glue_up import glue_facts, glue_lines, glue_steps
from jigcam.piece.order_words import order_lines
from jigcam.piece.seasonal import PieceSeason
from jigcam.piece.together import bodies_of
from jigcam.units import MM
from jigcam.wood.seasons import Season, Seasons

CABINET = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet" / "cabinet.toml"
Table = dict[str, Any]


def job_of(boards: Mapping[str, Table], *joints: Table) -> Job:
    table = {"job": "Carcase", "units": "mm", "kit": "metric-shop", "boards": dict(boards), "joints": list(joints)}
    return job_from(Document.parse(toml(table), Path("job.toml")), Entries())


def board(length: float, width: float = 200, thickness: float = 20, **more: Any) -> Table:
    return {"length": length, "width": width, "thickness": thickness, **more}


def corner(name: str, tails: str, tails_end: str, pins: str, pins_end: str) -> Table:
    return {
        "name": name,
        "kind": "through-dovetail",
        "tails": tails,
        "tails_end": tails_end,
        "pins": pins,
        "pins_end": pins_end,
        "count": 3,
        "pin": 10,
        "half_pin": 8,
        "slope": "8 deg",
        "clearance": 0.05,
    }


def groove(name: str, on: str, receives: str, enters: str, **more: Any) -> Table:
    return {
        "name": name,
        "kind": "groove",
        "way": "direct",
        "board": on,
        "face": "inside",
        "angle": 90,
        "depth": 6,
        "clearance": 0.1,
        "receives": receives,
        "enters": enters,
        **more,
    }


def socket(name: str, on: str, tail: str, end: str, **more: Any) -> Table:
    return {
        "name": name,
        "kind": "sliding-dovetail",
        "socket": on,
        "face": "inside",
        "angle": 0,
        "length": 100,
        "depth": 6,
        "base": 12,
        "tail": tail,
        "tail_end": end,
        "slope": "8 deg",
        "clearance": 0.05,
        **more,
    }


SIDES = {"left side": board(400), "right side": board(400)}


def parts_of(job: Job) -> list[PartAssembly]:
    return [part for part in assembly_of(piece_of(job)) if part.holds]


def stops_of(job: Job) -> dict[str, str]:
    return {each.rule: each.says for each in together_findings(job, piece_of(job)) if each.level == "stop"}


def assert_clear_on_the_way(part: PartAssembly, job: Job, shares: int = 4, *, round_ends: bool = False) -> None:
    """Acts the order out: boards cut as the joints say share no wood at any of some places of each way in.

    round_ends: whether boards fill grooves with round ends, or are notched, which is the joint's to say.
    """
    bodies = bodies_of(job)
    assert bodies is not None
    solids = solids_of(part, bodies)
    number = {each.copy: place for place, each in enumerate(part.placed)}
    together = {frozenset({place}) for place in range(len(solids))}
    for step in part.steps:
        moves, onto = (frozenset(number[copy] for copy in some) for some in (step.moves, step.onto))
        assert {moves, onto} <= together
        together = (together - {moves, onto}) | {moves | onto}
        for share in np.linspace(0.0, 1.0, shares):
            shift = -step.direction * step.far * share
            for a in onto:
                for b in moves:
                    # At rest how a board fills its groove is the joint's own business, and only there.
                    seats = [*seats_between(part, solids, a, b)] if share == 0.0 or round_ends else []
                    found = shared_wood(solids[a], solids[b], shift, seats)
                    assert not len(found), (part.copies([a, b]), share, found[:3])
    assert together == {frozenset(range(len(solids)))}


def test_boards_on_a_wrong_way_are_seen_to_overlap() -> None:
    """The judge itself: tails pulled out along their own board, and a shelf pushed across its groove."""
    job = job_of({**SIDES, "top": board(500)}, corner("top", "left side", "right", "top", "left"))
    (part,) = parts_of(job)
    bodies = bodies_of(job)
    assert bodies is not None
    side, top = solids_of(part, bodies)
    assert not len(shared_wood(side, top))
    away = part.placed[0].motion.turned([1.0, 0.0, 0.0])
    assert len(shared_wood(side, top, 5.0 * away))
    inward = part.placed[0].motion.turned([0.0, 0.0, -1.0])
    assert not len(shared_wood(side, top, 5.0 * inward))


# ---- pieces that go together


@pytest.fixture(scope="module")
def cabinet() -> Job:
    return load_job(CABINET)


def test_the_music_cabinet_goes_together_side_first_and_its_trays_last(cabinet: Job) -> None:
    carcase, drawer = parts_of(cabinet)
    assert [tuple(copy.name for copy in step.moves) for step in carcase.steps] == [
        ("top 1",),
        ("top 2",),
        ("shelf",),
        ("strip",),
        ("side, opposite hand",),
        ("divider",),
        ("tray 1",),
        ("tray 2",),
        ("tray 3",),
        ("tray 4",),
    ]
    assert [tuple(copy.name for copy in step.moves) for step in drawer.steps] == [
        ("left drawer side",),
        ("drawer back",),
        ("right drawer side",),
    ]
    # In the frame of the side, whose inside face looks along -z: boards come against it, and trays from its back.
    assert [tuple(np.round(step.direction, 9)) for step in carcase.steps] == [(0, 0, 1)] * 5 + [(0, -1, 0)] * 5


def test_the_words_of_the_order_name_the_side_that_leads_and_the_one_it_comes_from(cabinet: Job) -> None:
    lines = order_lines(parts_of(cabinet)[0])
    assert lines[0] == "side lies ready"
    assert lines[-1] == (
        "tray 1, tray 2, tray 3 and tray 4, one after the other: its lower edge first, into side and side, opposite "
        "hand (trays), from the upper edge of side, its outside face toward the right end of side"
    )


OUT = {
    "left end": (-1, 0, 0),
    "right end": (1, 0, 0),
    "lower edge": (0, -1, 0),
    "upper edge": (0, 1, 0),
    "inside face": (0, 0, -1),
    "outside face": (0, 0, 1),
}
"""Out of which side of a board, in its outside face frame."""


def test_a_board_turned_and_moved_by_the_words_of_the_order_alone_comes_in_as_the_step_moves_it(cabinet: Job) -> None:
    """Two sides of the board that moves and two of the one that it goes into are named, so its place has no choice."""
    read = 0
    for part in parts_of(cabinet):
        placed = {each.copy.name: each for each in part.placed}
        for line in order_lines(part)[1:]:
            names, _, told = line.partition(": ")
            # A name may hold a comma: "side, opposite hand".
            first = max((each for each in placed if names.startswith(each)), key=len)
            found = re.search(
                r"^(?:its|.*'s) ([a-z]+ [a-z]+) (?:first, into .*, (?:from|straight onto) the ([a-z]+ [a-z]+) of (.*)|"
                r"onto (the .*) \([^)]*\)), (?:its|.*'s) ([a-z]+ [a-z]+) toward the ([a-z]+ [a-z]+) of (.*)$",
                told,
            )
            assert found, line
            lead, source, holder, onto, side, toward, other = found.groups()
            if onto:
                # "the right end of shelf and top 2 and the left end of top 1": the last side named before the board.
                holder = other
                source = re.findall(r"the ([a-z]+ [a-z]+) of", onto[: onto.index(other)])[-1]
            assert holder == other
            step = next(each for each in part.steps if each.moves[0].name == first)
            out = {name: placed[first].motion.turned(np.array(way, dtype=float)) for name, way in OUT.items()}
            there = {name: placed[holder].motion.turned(np.array(way, dtype=float)) for name, way in OUT.items()}
            assert out[lead] @ step.direction > 0.9
            assert there[source] @ step.direction < -0.9
            assert out[side] @ there[toward] > 0.7
            assert abs(out[lead] @ out[side]) < 0.1
            read += 1
    assert read > 5


def test_the_virtual_boards_of_the_cabinets_drawer_never_overlap_on_their_way(cabinet: Job) -> None:
    assert_clear_on_the_way(parts_of(cabinet)[1], cabinet, shares=3)


def carcase_of(tails_on_sides: bool, shelves: list[bool], divider: bool) -> Job:
    """Sides, top and bottom; shelves in grooves that are open at the back, or stopped; a divider below the top."""
    high = 400
    boards: dict[str, Table] = {**SIDES, "top": board(500), "bottom": board(500)}
    joints: list[Table] = []
    # A right end meets a left one, round the ring.
    ring = ("left side", "top"), ("top", "right side"), ("right side", "bottom"), ("bottom", "left side")
    for one, other in ring:
        tails, pins = (one, "right"), (other, "left")
        if (one in SIDES) is not tails_on_sides:
            tails, pins = pins, tails
        joints.append(corner(f"{one}, {other}", *tails, *pins))
    for number, stopped in enumerate(shelves):
        name, at = f"shelf {number + 1}", 80 + 90 * number
        boards[name] = board(472, 104 if stopped else 150, 15)  # clear of the groove's round ends
        ends = {"start": "stopped", "finish": "stopped" if stopped else "open", "length": 120 if stopped else 160}
        joints.append(groove(f"{name}, left", "left side", name, "left", **{"from": [at, 40]}, **ends))
        joints.append(groove(f"{name}, right", "right side", name, "right", **{"from": [high - at, 40]}, **ends))
    if divider:
        boards["divider"] = board(45, 160, 18)
        upright = {"angle": 90, "from": [250, 40], "length": 160, "start": "stopped", "finish": "open"}
        joints.append(socket("divider", "top", "divider", "left", **upright))
    return job_of(boards, *joints)


@settings(max_examples=3)
@given(st.booleans(), st.lists(st.booleans(), max_size=2), st.booleans())
def test_any_carcase_goes_together_in_the_order_found_and_no_boards_overlap_on_the_way(
    tails_on_sides: bool, shelves: list[bool], divider: bool
) -> None:
    job = carcase_of(tails_on_sides, shelves, divider)
    assert stops_of(job) == {}
    (part,) = parts_of(job)
    assert len(part.steps) == len(part.placed) - 1
    assert_clear_on_the_way(part, job, shares=3)
    place = {step.moves[0].name: number for number, step in enumerate(part.steps) if len(step.moves) == 1}
    if tails_on_sides and shelves:
        closed = next(n for n, step in enumerate(part.steps) if step.moves[0].name.endswith("side"))
        for number, stopped in enumerate(shelves):
            # In stopped grooves a shelf has to be there before the sides close; from the back it can wait.
            assert (place[f"shelf {number + 1}"] < closed) is stopped


@pytest.mark.parametrize("name", [name for name in kind_names() if kind(name).meets is not None])
def test_the_ways_off_that_a_joint_names_are_ways_off_for_its_boards_as_cut(name: str) -> None:
    """Of every kind: its starter, put together in the order found, by boards cut as it is drawn."""
    job = job_from(Document.parse(kind(name).starter("mm"), Path("job.toml")), Entries())
    parts = parts_of(job)
    assert parts
    for part in parts:
        assert_clear_on_the_way(part, job, shares=3, round_ends=True)


# ---- pieces that do not


def rails(left: Table, right: Table, top: bool) -> Job:
    boards = {**SIDES, "rail": board(472 - 0.4, 80, 18)}
    joints = [socket("rail, left", "left side", "rail", "left", **left)]
    joints.append(socket("rail, right", "right side", "rail", "right", **right))
    if top:
        boards["top"] = board(500)
        joints.append(corner("top, left", "left side", "right", "top", "left"))
        joints.append(corner("top, right", "right side", "left", "top", "right"))
    return job_of(boards, *joints)


FROM_ABOVE = (
    {"from": [0, 100], "start": "open", "finish": "stopped"},
    {"from": [300, 100], "start": "stopped", "finish": "open"},
)


def lock_of(job: Job) -> str:
    return next(f.says for f in together_findings(job, piece_of(job)) if f.rule == "locked")


def test_a_rail_that_slides_in_from_above_goes_in_last_and_not_at_all_under_a_top_that_closes_the_sides() -> None:
    assert parts_of(rails(*FROM_ABOVE, top=False))[0].locked == ()
    says = lock_of(rails(*FROM_ABOVE, top=True))
    assert says.startswith("left side, rail and top lock each other")
    assert "rail goes into left side only from the right end of left side (rail, left), which is covered by top" in says
    # What it offers is so: the sockets run out below as well, or the top comes down on tails of its own.
    assert 'rail, left run out at the left end of left side (finish = "open")' in says
    assert 'rail, right run out at the right end of right side (start = "open")' in says
    assert "let tails and pins of top, left and top, right change places" in says


def test_what_opens_a_lock_is_tried_and_not_supposed() -> None:
    below = [{**each, "start": "open", "finish": "open", "from": [0, 100], "length": 400} for each in FROM_ABOVE]
    assert "locked" not in stops_of(rails(below[0], below[1], top=True))


def test_a_shelf_in_two_stopped_grooves_is_locked_out_by_sides_that_another_board_holds_already() -> None:
    """The shelf wants the sides to close over it; the rail wants them closed before it, and the top
    goes onto one of them from the side and onto the other from above."""
    boards = {**SIDES, "shelf": board(472, 104, 15), "top": board(500), "rail": board(471.6, 80, 18)}
    joints = [
        groove("shelf, left", "left side", "shelf", "left", **{"from": [80, 40], "length": 120}),
        groove("shelf, right", "right side", "shelf", "right", **{"from": [320, 40], "length": 120}),
        corner("top, left", "left side", "right", "top", "left"),
        corner("top, right", "top", "right", "right side", "left"),
        socket("rail, right", "right side", "rail", "right", **FROM_ABOVE[1]),
        socket("rail, left", "left side", "rail", "left", **FROM_ABOVE[0]),
    ]
    says = lock_of(job_of(boards, *joints))
    assert "change places" in says
    assert "rail" in says


def test_make_refuses_what_locks_and_makes_one_joint_of_it_all_the_same(tmp_path: Path) -> None:
    source = tmp_path / "job.toml"
    table = {"job": "Rails", "units": "mm", "kit": "metric-shop"}
    boards = {**SIDES, "rail": board(471.6, 80, 18), "top": board(500)}
    joints = [
        socket("rail, left", "left side", "rail", "left", **FROM_ABOVE[0]),
        socket("rail, right", "right side", "rail", "right", **FROM_ABOVE[1]),
        corner("top, left", "left side", "right", "top", "left"),
        corner("top, right", "right side", "left", "top", "right"),
    ]
    source.write_text(toml({**table, "boards": boards, "joints": joints}), "utf-8")
    run = jigcam("piece", str(source))
    assert run.status == 1
    assert "order" not in run.out.split("it closes")[1], "of no use, and nothing that wood could be bought by"
    made = jigcam("make", str(source), "-o", str(tmp_path / "out"))
    assert made.status == 1
    assert "lock each other" in made.out + made.err
    assert not (tmp_path / "out").exists()


# ---- boards in one place


def test_boards_that_would_be_in_one_place_are_told_with_the_place_and_how_much() -> None:
    boards = {**SIDES, "one": board(472, 150, 15), "two": board(472, 150, 15)}
    ends = {"length": 160, "finish": "open"}
    joints = [
        groove("one, left", "left side", "one", "left", **{"from": [80, 40]}, **ends),
        groove("one, right", "right side", "one", "right", **{"from": [320, 40]}, **ends),
        groove("two, left", "left side", "two", "left", **{"from": [90, 40]}, **ends),
    ]
    says = stops_of(job_of(boards, *joints))["boards-collide"]
    assert says.startswith("two and one would have to be in one place")
    assert "they overlap by 5 mm" in says  # 15 mm thick each, 10 mm from one to the other


def test_a_shelf_that_is_notched_round_the_stopped_end_of_its_groove_is_not_told_to_be_in_the_side() -> None:
    boards = {**SIDES, "shelf": board(472, 180, 15)}
    ends = {"length": 160, "finish": "open"}
    job = job_of(
        boards,
        groove("left", "left side", "shelf", "left", **{"from": [80, 40]}, **ends),
        groove("right", "right side", "shelf", "right", **{"from": [320, 40]}, **ends),
    )
    assert stops_of(job) == {}


@pytest.mark.parametrize("deeper", [0.3, 1.0])
def test_wood_of_two_boards_in_one_place_is_found_as_deep_as_it_is(deeper: float) -> None:
    job = carcase_of(True, [False], False)
    (part,) = parts_of(job)
    bodies = bodies_of(job)
    assert bodies is not None
    number = {each.copy.name: place for place, each in enumerate(part.placed)}
    solids: list[SolidBoard] = solids_of(part, bodies)
    side, shelf = solids[number["left side"]], solids[number["shelf 1"]]
    # Its square corners in the groove's round ends are for the joint to tell.
    corners = [*seats_between(part, solids, number["left side"], number["shelf 1"])]
    assert not len(shared_wood(side, shelf, seats=corners))
    into = part.placed[number["left side"]].motion.turned([0.0, 0.0, 1.0])
    found = shared_wood(side, shelf, deeper * into, corners)
    assert len(found)
    # All of it lies below the groove's bottom, 6 mm into the inside face.
    depths = -part.placed[number["left side"]].motion.inverse()(found)[:, 2]
    assert 14.0 - deeper < depths.min() <= depths.max() < 14.0


# ---- over the year


def panel() -> Job:
    """A panel by its edges in the grooves of two stiles, as a door has it."""
    wooden = {"wood": "black cherry", "sawn": "flat"}
    boards = {
        "left side": board(400, 60, 20, **wooden),
        "right side": board(400, 60, 20, **wooden),
        "panel": board(380, 300, 10, **wooden),
    }
    return job_of(
        boards,
        groove("left", "left side", "panel", "lower", **{"from": [10, 30], "angle": 0, "length": 380}),
        groove("right", "right side", "panel", "upper", **{"from": [10, 30], "angle": 0, "length": 380}),
    )


def test_a_part_grows_by_what_the_handbook_says_of_its_boards_across_the_grain() -> None:
    """Wood Handbook, Eq. 13-2 and Table 13-5, as `jigcam movement` has them: the panel across, the stiles through."""
    (part,) = parts_of(panel())
    season = Season("damp", 12.0, 4.0)
    grown = PieceSeason(part, season).size
    cherry = wood("black cherry")
    across = change(300.0, cherry.across("flat"), 8.0, 12.0)
    through = 2.0 * 14.0 * cherry.through("flat") * 4.0  # two stiles beyond the bottoms of their grooves
    assert max(grown) == pytest.approx(across + through, abs=0.05)


def test_the_gap_of_a_panel_opens_when_it_shrinks_between_sides_that_a_top_holds_apart() -> None:
    """The panel across its grain and either side below its groove, as the top keeps its length: Eq. 13-2 again.

    Half of it at each edge: nothing holds the panel at one more than at the other, and it was all told of one.
    """
    wooden = {"wood": "black cherry", "sawn": "flat"}
    boards = {
        "left side": board(400, **wooden),
        "right side": board(400, **wooden),
        "top": board(500, **wooden),
        "panel": board(300, 472, 10, **wooden),
    }
    job = job_of(
        boards,
        corner("top, left", "left side", "right", "top", "left"),
        corner("top, right", "right side", "left", "top", "right"),
        groove("left", "left side", "panel", "lower", floats=True, **{"from": [50, 30], "angle": 0, "length": 300}),
        groove("right", "right side", "panel", "upper", floats=True, **{"from": [50, 30], "angle": 0, "length": 300}),
    )
    (part,) = parts_of(job)
    cherry = wood("black cherry")
    share = 472.0 * cherry.across("flat") + 2.0 * 14.0 * cherry.through("flat")
    gaps = [each.gap for each in PieceSeason(part, Season("dry", 6.2, -1.5)).changes if each.gap is not None]
    assert [gap for gap in gaps if abs(gap) > 0.01] == [pytest.approx(1.5 * share / 2.0, abs=1e-6)] * 2
    told = "\n".join(glue_lines(part, job, Seasons(6.2, 7.7, 12.0)))
    half = share / 2.0
    gap = f"the gap opens by {MM.length(1.5 * half)} when dry and closes by {MM.length(4.3 * half)} when damp"
    assert told.count(gap) == 2
    assert "no glue at all: panel, which floats in the groove" in told


def test_gluing_up_tells_the_dry_fit_the_clamps_and_what_moves(cabinet: Job) -> None:
    lines = glue_lines(parts_of(cabinet)[0], cabinet, Seasons(6.2, 7.7, 12.0))
    told = "\n".join(lines)
    assert lines[0].startswith("dry first")
    assert "clamps press from the outside face of side, opposite hand to the outside face of side" in told
    assert "slides in when the clamps are off: divider, tray 1, tray 2, tray 3 and tray 4" in told
    assert "the whole, along the width of side: -" in told


def test_what_the_year_does_is_told_apart_from_what_is_done(cabinet: Job) -> None:
    """Only what is done has a box to tick on paper."""
    given = parts_of(cabinet)[0], cabinet, Seasons(6.2, 7.7, 12.0)
    steps, facts = glue_steps(*given), glue_facts(*given)
    assert [*steps, *facts] == glue_lines(*given)
    assert facts
    assert all("when dry" in line or "over the year" in line for line in facts)
    assert not [line for line in steps if "when dry" in line or "opens or closes" in line]


def test_a_board_whose_grain_runs_along_one_that_moves_is_glued_where_it_is_held_and_not_all_along() -> None:
    """A breadboard end: the groove runs along its grain, and the top's end in it across its own."""
    boards = {
        "end": board(500, 60, 24, wood="black cherry", sawn="flat"),
        "leaf": board(700, 480, 15, wood="black cherry", sawn="flat"),
    }
    job = job_of(boards, groove("end", "end", "leaf", "left", **{"from": [10, 30], "angle": 0, "length": 480}))
    told = "\n".join(glue_lines(parts_of(job)[0], job, Seasons(6.2, 7.7, 12.0)))
    moved = change(480.0, wood("black cherry").across("flat"), 6.2, 12.0)
    assert "across the grain, no glue all along: leaf in end (end)" in told
    # Held in the middle of its groove, either end goes half of that.
    assert f"slides up to {moved / 2.0:.2f} mm over the year; glue it only a hand's breadth in the middle" in told
