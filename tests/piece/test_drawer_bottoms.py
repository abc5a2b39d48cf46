"""Drawers whose bottom lies in grooves ploughed right through: how large it is, and what is said where it is not."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest
from support.carcases import board, job_of

from jigcam.errors import Faults
from jigcam.job import Job
from jigcam.joints import design
from jigcam.joints.groove.entry import GrooveEntry
from jigcam.joints.groove.groove import groove
from jigcam.joints.groove.season import season_findings, with_room
from jigcam.joints.groove.words import mate_rows
from jigcam.kit import load_kit
from jigcam.making.work_order import WorkOrder
from jigcam.piece import Piece, PieceJoint, closing_findings, piece_of, together_findings
from jigcam.piece.assembly import assembly_of
from jigcam.piece.body import Body
from jigcam.piece.closing import with_sizes
from jigcam.piece.cut_list_text import cut_list_lines
from jigcam.piece.glue_up import glue_lines
from jigcam.piece.order_of_work import work_order
from jigcam.piece.order_words import order_lines
from jigcam.piece.room import rooms_of
from jigcam.piece.scene import piece_cuts
from jigcam.wood.seasons import Seasons
from jigcam.workshop.piece_account import PieceAccount

Table = dict[str, Any]
TAILS = {"kind": "through-dovetail", "count": 3, "pin": 12, "half_pin": 8, "slope": "1:8", "clearance": 0.05}
FRONT = {**TAILS, "kind": "half-blind-dovetail", "lap": 6}


def corner(name: str, tails: str, tails_end: str, pins: str, pins_end: str, **more: Any) -> Table:
    return {**TAILS, "name": name, "tails": tails, "tails_end": tails_end, "pins": pins, "pins_end": pins_end, **more}


def ploughed(in_board: str, length: float, enters: str, **more: Any) -> Table:
    """A groove that runs right through, 6 deep, its centreline 16 from the lower edge."""
    return {
        "name": f"bottom in {in_board}",
        "kind": "groove",
        "board": in_board,
        "face": "inside",
        "from": [0, 16],
        "angle": 0,
        "length": length,
        "depth": 6,
        "receives": "bottom",
        "start": "open",
        "finish": "open",
        "ends": "square",
        "floats": True,
        "enters": enters,
        "clearance": 0.1,
        **more,
    }


BOARDS = {
    "left side": board(350, 100, 12),
    "right side": board(350, 100, 12),
    "front": board(420, 100, 20),
    "back": board(420, 100, 12),
}
CORNERS = [
    corner("front left", "left side", "right", "front", "left", **FRONT),
    corner("front right", "right side", "left", "front", "right", **FRONT),
    corner("back left", "left side", "left", "back", "right"),
    corner("back right", "right side", "right", "back", "left"),
]
HELD = [
    ploughed("front", 420, "lower"),
    ploughed("back", 420, "upper"),
    ploughed("left side", 350, "left"),
    ploughed("right side", 350, "right"),
]


def drawer(length: Any, width: Any, *, behind: bool = True) -> Job:
    """behind: whether its back is as deep as the sides and holds the bottom; else it goes out behind, under none."""
    boards = BOARDS if behind else {name: each for name, each in BOARDS.items() if name != "back"}
    joints = [*CORNERS, *HELD] if behind else [each for each in (*CORNERS, *HELD) if "back" not in each["name"]]
    return job_of({**boards, "bottom": board(length, width, 6)}, joints)


def said(job: Job) -> list[tuple[str, str, str]]:
    return [(each.level, each.rule, each.says) for each in closing_findings(job, piece_of(job))]


def test_a_bottom_in_grooves_that_run_right_through_reaches_from_groove_to_groove_of_the_boards_at_its_ends() -> None:
    bottom = drawer("to fit", "to fit").boards["bottom"]
    # Between the sides 420 − 2 · 12, and 6 into each; from front to back 350 + lap 6 less 20 and 12, and 6 into each.
    assert bottom.length == pytest.approx(420 - 2 * 12 + 2 * 6, abs=1e-6)
    assert bottom.width == pytest.approx(350 + 6 - 20 - 12 + 2 * 6, abs=1e-6)
    assert said(drawer(408, 336)) == []


def test_of_a_bottom_that_is_too_long_the_size_that_is_named_closes_it() -> None:
    (level, rule, says), *others = said(drawer(420, 336))
    assert (level, rule, others) == ("stop", "does-not-close", [])
    assert "bottom is 420 mm long and has to be 408 mm" in says


def test_a_bottom_that_goes_out_behind_ends_where_its_grooves_do() -> None:
    # Its front edge lies 6 deep in a front 20 thick, of which the sides leave the lap, 6, free: 8 from their ends.
    assert drawer("to fit", "to fit", behind=False).boards["bottom"].width == pytest.approx(350 + 6 - 20 + 6, abs=1e-6)
    assert said(drawer(408, 342, behind=False)) == []
    ((level, rule, says),) = said(drawer(408, 350, behind=False))
    assert (level, rule) == ("caution", "stands-out")
    assert says.startswith("the upper edge of bottom stands 8 mm out of the open end of its groove in left side")
    assert "bottom is 342 mm wide" in says


def without_enters(joint: Table) -> Table:
    return {key: value for key, value in joint.items() if key != "enters"}


def test_where_the_end_that_enters_is_not_said_the_key_is_named_that_was_tried() -> None:
    boards = {**BOARDS, "bottom": board("to fit", "to fit", 6)}
    with pytest.raises(Faults) as caught:
        job_of(boards, [*CORNERS, HELD[0], without_enters(HELD[1]), *HELD[2:]])
    assert {error.mend.split(": ")[1] for error in caught.value.faults} == {'write enters = "upper" in bottom in back'}

    # About as long as wide: which of both lies in a groove its length does not tell.
    boards = {**BOARDS, "front": board(360, 100, 20), "back": board(360, 100, 12), "bottom": board(348, 336, 6)}
    short = [{**each, "length": min(360, each["length"])} if "length" in each else each for each in HELD]
    found = said(job_of(boards, [*CORNERS, *map(without_enters, short)]))
    assert [(level, rule) for level, rule, _ in found] == [("caution", "enters-unsaid")]
    written = dict(re.findall(r'"(\w+)" in (bottom in \w+(?: side)?)', found[0][2]))
    ends = {name: part for part, name in written.items()}
    mended = [{**each, "enters": ends[each["name"]]} for each in short]
    assert said(job_of(boards, [*CORNERS, *mended])) == []


def back_in(side: str, at: float, **more: Any) -> Table:
    """A groove right across a side, for the back of a drawer whose bottom lies in it."""
    own = {"name": f"back in {side}", "receives": "back", "from": [at, 0], "angle": 90, "depth": 5}
    return {key: value for key, value in {**ploughed(side, 100, "left"), **own, **more}.items() if key != "floats"}


BETWEEN = [CORNERS[0], CORNERS[1], *HELD, back_in("left side", 320), back_in("right side", 30)]
TO_FIT = {**BOARDS, "back": board("to fit", 100, 12), "bottom": board("to fit", "to fit", 6)}


def test_a_back_between_two_sides_is_told_to_go_in_by_opposite_ends_and_that_closes() -> None:
    with pytest.raises(Faults) as caught:
        job_of(TO_FIT, [*map(without_enters, BETWEEN)])
    mends = " ".join(each.mend for each in caught.value.faults)
    by_joint = {name: part for part, name in re.findall(r'"(\w+)" in (\w+ in \w+(?: side)?)', mends)}
    # By the other way round it closes too, upside down: its right end meets the left side's inside, lower edges down.
    assert (by_joint["back in left side"], by_joint["back in right side"]) == ("right", "left")
    job = job_of(TO_FIT, [{**each, "enters": by_joint[each["name"]]} if "enters" in each else each for each in BETWEEN])
    assert job.boards["back"].length == pytest.approx(420 - 24 + 2 * 5, abs=13)
    assert not [each for each in closing_findings(job, piece_of(job)) if each.level == "stop"]
    assert PieceAccount(job, piece_of(job)).closes().startswith("it closes")


def test_a_piece_whose_boards_are_held_two_ways_round_is_not_said_to_close() -> None:
    wrong = [{**each, "enters": "lower"} if each["name"] == "back in right side" else each for each in BETWEEN]
    wrong = [{**each, "enters": "left"} if each["name"] == "back in left side" else each for each in wrong]
    job = job_of({**TO_FIT, "back": board(400, 100, 12), "bottom": board(400, 300, 6)}, wrong)
    account = PieceAccount(job, piece_of(job))
    assert any(each.rule == "does-not-close" for each in account.findings)
    assert not account.closes().startswith("it closes")


def test_a_board_that_is_held_by_what_it_holds_alone_is_named() -> None:
    joints = [each for each in (*CORNERS, *HELD) if "right" not in each["name"] or each in HELD]
    with pytest.raises(Faults) as caught:
        job_of({**BOARDS, "bottom": board("to fit", 336, 6)}, joints)
    (error,) = caught.value.faults
    assert error.wanted == "other joints that hold right side: nothing but bottom does"


def test_a_size_that_was_worked_out_is_not_said_as_if_it_were_written() -> None:
    job = with_sizes(drawer("to fit", "to fit"), {("bottom", "length"): 420.0})
    ((_, _, says),) = said(job)
    assert "bottom is worked out as 420 mm long and has to be 408 mm" in says


CHERRY = {"wood": "black cherry", "sawn": "flat"}


def test_the_cut_list_and_the_sheet_leave_a_bottom_the_same_room_for_its_movement() -> None:
    job = job_of({**BOARDS, "bottom": board("to fit", "to fit", 6, **CHERRY)}, [*CORNERS, *HELD])
    seasons = Seasons(dry=6.0, shop=8.0, damp=12.0)
    cuts = piece_cuts(job, piece_of(job), WorkOrder(()), seasons)
    (line,) = (each for each in cuts.lines if each.board.name == "bottom")
    # Table 13-5 of the Wood Handbook: 0.00248 a point across flat-sawn black cherry; at each of two grooves rounded up.
    each_side = math.ceil(336 * 0.00248 * 4 / 2)
    assert line.finished[1] == pytest.approx(336 - 2 * each_side)
    told = cut_list_lines(cuts)
    assert any(f"bottom: {336 - 2 * each_side} mm wide, {2 * each_side} mm less" in says for says in told)
    # One that is drawn as much narrower already is sawn as it is drawn.
    narrow = job_of({**BOARDS, "bottom": board(408, 336 - 2 * each_side, 6, **CHERRY)}, [*CORNERS, *HELD])
    assert rooms_of(narrow, piece_of(narrow), seasons) == {}


def test_a_bottom_with_one_edge_in_a_groove_is_not_told_of_two() -> None:
    boards = {name: {**each, **CHERRY} for name, each in {**BOARDS, "bottom": board(408, 336, 6)}.items()}
    kit = load_kit("metric-shop")
    for joints, words in ((HELD, "at each of two grooves"), ([HELD[0], *HELD[2:]], "only one of its edges")):
        job = job_of(boards, [*CORNERS, *joints])
        in_front = groove(next(each for each in job.joints if isinstance(each, GrooveEntry)), job)
        (says,) = (each.says for each in season_findings(in_front, job, kit) if each.rule == "floating-panel")
        assert words in says
        rows = dict(mate_rows(with_room(in_front, job, kit).mate, kit, job.voice))
        assert ("room" in rows) == ("two" in words)


def test_a_groove_that_shows_in_a_corner_is_plugged_or_stopped_where_the_bottom_ends_and_that_goes_together() -> None:
    def shown(job: Job) -> list[str]:
        piece = Piece(tuple(PieceJoint(each.name, design(each, job).taken()) for each in job.joints), job.voice)
        return [each.finding.says for each in piece.as_drawn if each.finding.rule == "in-end-joint"]

    told = shown(drawer(408, 336))
    assert sum("plug the hole" in says for says in told) >= 2
    # Stopped before the joint, or moved alone, it would be refuted by the next run: the bottom's corner lies there.
    assert not any("stop it at least" in says or "move it" in says for says in told)
    # The bottom begins 6 from the ends of front and back, 8 from the front ends of the sides, 6 from their rear ends.
    begins = {"front": 6, "back": 6, "left side": 8, "right side": 6}
    stopped = [
        {**each, "from": [begins[each["board"]], 16], "length": 336 if "side" in each["board"] else 408}
        | {"start": "stopped", "finish": "stopped"}
        for each in HELD
    ]
    job = job_of({**BOARDS, "bottom": board("to fit", "to fit", 6)}, [*CORNERS, *stopped])
    assert not any("hole" in says for says in shown(job))
    assert [each for each in together_findings(job, piece_of(job)) if each.level == "stop"] == []


def test_clamps_press_on_what_is_glued_and_a_back_in_dados_is_in_before_them() -> None:
    dado = {"kind": "groove", "face": "inside", "angle": 90, "length": 81, "depth": 6, "receives": "back"}
    dado |= {"start": "stopped", "finish": "open", "ends": "square", "clearance": 0.1}
    backs = [
        {**dado, "name": "back in left side", "board": "left side", "from": [320, 19]},
        {**dado, "name": "back in right side", "board": "right side", "from": [30, 19]},
    ]
    boards = {**BOARDS, "back": board(408, 81, 12), "bottom": board(408, 342, 6)}
    (part,) = assembly_of(piece_of(job := job_of(boards, [*CORNERS[:2], HELD[0], *HELD[2:], *backs])))
    told = glue_lines(part, job, Seasons(6.0, 8.0, 12.0))
    clamps = [each for each in told if "clamps press from" in each]
    assert len(clamps) == 1  # None from front to rear, where but the bottom lies in the front, without glue.
    assert "right side" in clamps[0]
    assert "left side" in clamps[0]
    assert "slid in with glue before the clamps press, which draw it home too: back" in told
    assert not any("when the clamps are off" in each for each in told)


def test_a_back_lower_than_the_sides_is_told_to_stand_in_a_groove() -> None:
    boards = {**BOARDS, "back": board(420, 81, 12)}
    job = job_of(boards, [CORNERS[2]])
    (says,) = (each.says for each in design(job.joints[0], job).findings if each.rule == "dovetail-widths")
    assert "equally wide; make them so, or let back stand in a groove across left side instead" in says
    assert "plane" not in says


def back_groove(y: float, depth: float = 6) -> Table:
    """Of a back in the left side, from so far above the lower edge to the upper one."""
    own = {"name": "back in left side", "kind": "groove", "board": "left side", "receives": "back", "face": "inside"}
    ends = {"start": "stopped", "finish": "open", "ends": "square", "clearance": 0.1}
    return {**own, **ends, "from": [320, y], "angle": 90, "length": 100 - y, "depth": depth}


def test_grooves_that_meet_are_told_by_how_much_and_where_they_no_longer_do() -> None:
    def told(y: float) -> list[tuple[str, str]]:
        job = job_of({**BOARDS, "back": board(408, 81, 12), "bottom": board(408, 342, 6)}, [HELD[2], back_groove(y)])
        piece = Piece(tuple(PieceJoint(each.name, design(each, job).taken()) for each in job.joints), job.voice)
        return [(each.finding.rule, each.finding.says) for each in piece.as_drawn]

    # The bottom's groove, 6.1 wide, reaches 19.05 up.
    ((rule, says),) = told(19.0)
    assert rule == "cuts-cross"
    assert "groove of back in left side runs 0.05 mm into the groove of bottom in left side" in says
    moved = re.search(r"move one of them by ([\d.]+) mm or more", says)
    assert moved is not None
    assert told(19.0 + float(moved[1])) == []


def test_a_groove_in_a_thin_board_is_not_too_deep_and_too_shallow_at_once() -> None:
    for depth, rules in ((3.0, {"shallow"}), (4.0, set()), (5.0, {"deep"})):
        job = job_of({**BOARDS, "back": board(408, 81, 12)}, [back_groove(19, depth)])
        found = {each.rule for each in design(job.joints[0], job).findings}
        assert found & {"deep", "shallow"} == rules, depth


def test_names_with_a_comma_do_not_run_into_the_sentence() -> None:
    comma = {**HELD[1], "name": "back, bottom"}
    job = job_of({**BOARDS, "bottom": board(408, 346, 6)}, [*CORNERS, HELD[0], comma, *HELD[2:]])
    ((level, _, says),) = said(job)
    assert level == "stop"
    assert says.startswith("the upper edge of bottom stands 10 mm too deep in back: ")
    job = job_of({**BOARDS, "bottom": board(408, 336, 6)}, [*CORNERS, HELD[0], comma, *HELD[2:]])
    (part,) = assembly_of(piece_of(job))
    assert '"back, bottom"' in "\n".join(order_lines(part))
    assert "back, bottom: the upper edge of bottom in the groove (inside face) of back" in {
        each.where for each in part.contacts
    }


def test_a_bottom_that_floats_is_not_said_to_be_done_with_glue() -> None:
    job = drawer(408, 336)
    in_front = next(each for each in job.joints if isinstance(each, GrooveEntry))
    rows = dict(mate_rows(groove(in_front, job).mate, load_kit("metric-shop"), job.voice))
    assert rows == {"leave unglued": "bottom floats"}
    order = work_order(job, [Body(taken) for each in job.joints for taken in design(each, job).taken()])
    lines = cut_list_lines(piece_cuts(job, piece_of(job), order), kit="Hand tools", by_hand=True)
    assert any(line.startswith("The order is that of the sheets, by hand") for line in lines)
    assert not any("zero" in line for line in lines)


def test_boards_in_one_place_that_no_joint_holds_are_asked_for_it() -> None:
    joints = [each for each in (*CORNERS, *HELD) if each["name"] not in ("front right", "back right")]
    job = job_of({**BOARDS, "bottom": board(408, 336, 6)}, joints)
    found = [each.says for each in together_findings(job, piece_of(job)) if each.rule == "boards-collide"]
    assert found
    assert all("no joint of the job holds them: write the one in which they meet" in says for says in found)
