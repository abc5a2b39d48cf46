"""What is said of joints that come together in one board, each rule speaking and keeping silent."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from support.boards import along, board_job, bow_ties, dado, lapped, tails

from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.job import Board, Entry, kit_for
from jigcam.joints import design, kind, kind_names, load_job
from jigcam.kit import load_kit
from jigcam.piece import RULES, Piece, PieceJoint
from jigcam.workshop.build import build_job, planned_job


def drawn(*joints: Entry, units: Any = "mm", **keys: Any) -> tuple[Finding, ...]:
    """What is said of joints as drawn, without any tool."""
    job = board_job(*joints, units=units, **keys)
    piece = Piece(tuple(PieceJoint(each.name, design(each, job).taken()) for each in joints), job.voice)
    found = tuple(told.finding for told in piece.as_drawn)
    for each in found:
        assert each.level in RULES[each.rule].levels
    return found


def only(*joints: Entry, **keys: Any) -> Finding:
    (found,) = drawn(*joints, **keys)
    return found


@pytest.mark.parametrize("name", kind_names())
def test_every_room_says_what_wood_it_takes(name: str, tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(kind(name).starter("mm"), "utf-8")
    job = load_job(path)
    kit = kit_for(job, None)
    for entry in job.joints:
        joint = design(entry, job)
        taken = joint.taken()
        assert taken, f"{name} takes no wood"
        assert all(each.joint == entry.name and not each.section(each.depths[0] + 1e-3).is_empty for each in taken)
        planned = {(setup.board, setup.hand) for setup in kind(name).plan(joint, entry, job, kit).setups}
        assert planned <= {(each.board.name, each.hand) for each in taken}


def test_two_dados_that_meet_in_the_middle_of_a_three_quarter_board_are_refused() -> None:
    # Issue 11, point 5: both were "proved".
    half = 19.05 / 2.0
    # x = 100 of the inside is x = 200 of the outside.
    joints = dado("left", 200.0, face="outside", depth=half), dado("right", 100.0, depth=half)
    found = only(*joints, units="in")
    assert (found.level, found.rule) == ("stop", "broken-through")
    assert "3/8 in and 3/8 in deep in 3/4 in" in found.says
    assert "about 3-15/16 in from the right end" in found.says
    with pytest.raises(Refused, match="left and right cannot be in one board") as refused:
        planned_job(board_job(*joints), load_kit("metric-shop"))
    assert "broken-through" in {each.rule for each in refused.value.findings}


@pytest.mark.parametrize(
    ("depth", "level"), [(6.0, None), (6.3, None), (6.4, "caution"), (8.0, "caution"), (8.1, "stop"), (9.6, "stop")]
)
def test_a_third_of_the_board_stays_between_dados_from_opposite_faces(depth: float, level: str | None) -> None:
    found = drawn(dado("left", 200.0, face="outside", depth=depth), dado("right", 100.0, depth=depth))
    assert [each.level for each in found] == ([level] if level else [])
    if level:
        assert found[0].rule == ("core" if depth < 9.525 else "broken-through")


@pytest.mark.parametrize(
    ("gap", "level"), [(0.0, "stop"), (0.9, "stop"), (1.1, "caution"), (5.9, "caution"), (6.1, None)]
)
def test_a_wall_between_two_dados_side_by_side(gap: float, level: str | None) -> None:
    found = drawn(dado("one", 100.0), dado("other", 112.0 + gap))
    assert [(each.level, each.rule) for each in found] == ([(level, "web")] if level else [])


@pytest.mark.parametrize(("gap", "level"), [(2.0, "stop"), (2.9, "stop"), (3.1, "caution"), (6.1, None)])
@pytest.mark.parametrize("depth", [12.0, 9.525])
def test_dados_from_opposite_faces_that_pass_each_other_closely_leave_a_thin_web(
    depth: float, gap: float, level: str | None
) -> None:
    # As deep as half the board or deeper, so that they pass side by side, and the web is all that holds the board.
    found = drawn(dado("left", 200.0, face="outside", depth=depth), dado("right", 112.0 + gap, depth=depth))
    assert [(each.level, each.rule) for each in found] == ([(level, "web")] if level else [])


def test_a_groove_across_a_shelf_housing_is_a_caution_that_names_the_place() -> None:
    found = only(dado("shelf", 100.0), along("back", 80.0))
    assert (found.level, found.rule) == ("caution", "cuts-cross")
    assert "about 100 mm from the right end and 10 mm from the upper edge" in found.says


@pytest.mark.parametrize("move", [0.0, 2.0, 5.0, 9.0])
def test_two_dados_in_one_place_are_refused(move: float) -> None:
    found = only(dado("one", 100.0), dado("other", 100.0 + move))
    assert (found.level, found.rule) == ("stop", "same-place")


def test_two_keys_in_one_place_are_refused_and_beside_a_groove_warned() -> None:
    on_face = along("strip", 45.0, face="outside")
    assert {(each.level, each.rule) for each in drawn(bow_ties(), on_face)} == {("caution", "cuts-cross")}
    (first, *_) = drawn(bow_ties(), bow_ties(name="more", at=(152.0, 45.0)))
    assert (first.level, first.rule) == ("stop", "same-place")


def test_a_groove_that_runs_out_through_a_tail_shows_and_one_in_a_space_does_not() -> None:
    # Right end, tails 90 wide: spaces 0 to 7, 40.5 to 49.5, 83 to 90 at the end, tails between.
    found = only(tails(), along("bottom", 60.0))
    assert (found.level, found.rule) == ("caution", "in-end-joint")
    assert "shows as a hole in the end grain, 57 mm to 63 mm from the lower edge" in found.says
    assert "stop it at least 16 mm before the end" in found.says
    hidden = only(tails(), along("bottom", 45.0))
    assert (hidden.level, hidden.rule) == ("note", "in-end-joint")


def test_the_place_where_a_groove_would_be_hidden_is_told_and_true() -> None:
    says = only(tails(), along("bottom", 60.0)).says
    match = re.search(r"where it is hidden, ([\d.]+) mm to ([\d.]+) mm from the lower edge", says)
    assert match is not None
    low, high = map(float, match.groups())
    assert high - low >= 6.0
    assert only(tails(), along("bottom", (low + high) / 2.0)).level == "note"


def test_a_groove_stopped_before_the_tails_is_no_matter() -> None:
    short = {"finish": "stopped", "start_point": (0.0, 60.0), "face": "outside"}
    assert not drawn(tails(), along("bottom", 60.0, length=300.0 - 16.0 - 6.5, **short))
    (near,) = drawn(tails(), along("bottom", 45.0, **{**short, "start_point": (0.0, 45.0)}, length=300.0 - 16.0 - 3.0))
    assert near.rule == "web"
    (into,) = drawn(tails(), along("bottom", 60.0, length=300.0 - 10.0, **short))
    assert into.rule == "in-end-joint"
    assert "weakens" in into.says


def test_a_groove_that_runs_out_through_a_pin_shows() -> None:
    # The pin board: half pins 7 at the outside; a groove near its lower edge.
    in_pins = along("bottom", 4.0, board="top", width=3.0, length=700.0, depth=4.0)
    assert only(tails(), in_pins).level == "caution"


def test_the_groove_of_a_drawers_bottom_is_hidden_in_a_side_whose_tails_end_at_a_lap() -> None:
    """The same groove through the same tail shows where the tails go through: the lap stands before their ends."""
    found = only(lapped(), along("bottom", 24.0))
    assert (found.level, found.rule) == ("note", "in-end-joint")
    assert "21 mm to 27 mm from the lower edge" in found.says
    assert "nothing of it is seen once drawer is together" in found.says
    assert only(tails(), along("bottom", 24.0)).level == "caution"
    # Inside, the right end is at x = 0.
    weak = along("bottom", 24.0, start="stopped", start_point=(6.0, 24.0), length=300.0 - 6.0)
    assert only(lapped(), weak).level == "caution", "stopped within the tail it weakens it, seen or not"


def test_the_groove_of_a_drawers_bottom_shows_where_it_leaves_the_front_through_a_pin() -> None:
    """Hidden by lying behind a tail (a machine's manual); sockets 7 to 40.5 and 49.5 to 83 where tails are widest."""
    front = {"board": "top", "length": 700.0}
    shows = only(lapped(), along("bottom", 45.0, **front))
    assert (shows.level, shows.rule) == ("caution", "in-end-joint")
    assert "on the outside of the board that meets it" in shows.says
    match = re.search(r"where it is hidden, ([\d.]+) mm to ([\d.]+) mm from the lower edge", shows.says)
    assert match is not None
    low, high = map(float, match.groups())
    assert only(lapped(), along("bottom", (low + high) / 2.0, **front)).level == "note"


def test_a_dado_within_the_tails_is_refused() -> None:
    found = only(tails(), dado("rail", 292.0, face="outside"))
    assert (found.level, found.rule) == ("stop", "in-end-joint")


def test_two_dovetails_on_one_end_are_refused() -> None:
    found = drawn(tails(), tails(name="again", count=3, pin=6.0))
    assert {each.rule for each in stops(found)} == {"same-place"}


def test_the_mirrored_board_has_only_what_is_for_both_hands_and_says_nothing_twice() -> None:
    both = dado("shelf", 100.0, opposite_hand=True), along("back", 80.0, opposite_hand=True)
    (found,) = drawn(*both)
    assert "opposite" not in found.where
    # Mirrored, the keys would lie on the shelf; they are not on the mirrored board.
    wide = Board(name="divider", length=400.0, width=90.0, thickness=19.05)
    one_hand = bow_ties(face="inside", at=(300.0, 45.0), count=1, spacing=None)
    assert not drawn(dado("shelf", 100.0, opposite_hand=True), one_hand, board=wide)


def test_what_a_later_clamping_refers_to_is_looked_for() -> None:
    job = board_job(tails(), dado("shelf", 220.0, face="outside", opposite_hand=False))
    kit = load_kit("metric-shop")
    told = {each.finding.rule: each.finding for each in planned_job(job, kit).piece.as_drawn}
    # Zero of the groove lies at the left end, which stands.
    assert "reference-gone" not in told
    left = board_job(tails(tails_end="left", pins_end="right"), dado("shelf", 220.0, face="outside"))
    # There the tails would take it: whichever is written first, the groove is cut first, and nothing is spoilt.
    for joints in (left.joints, left.joints[::-1]):
        planned = planned_job(board_job(*joints), kit)
        assert [each.name for each in planned.joints] == ["shelf", "corner"]
        assert not [each for each in planned.piece.as_drawn if each.finding.rule == "reference-gone"]
    # A groove that takes the outside face at that end, by which the tails stand, leaves no order at all.
    deep = along("deep", 45.0, face="outside", width=80.0, depth=12.0)
    told = {
        each.finding.rule: each.finding for each in planned_job(board_job(left.joints[0], deep), kit).piece.as_drawn
    }
    assert told["reference-gone"].says.startswith("no order of the work suits all joints of this board: for ")
    assert "mark the place of" in told["reference-gone"].says


@pytest.mark.parametrize(
    ("at", "depth", "lost"),
    [
        (14.0, 11.0, False),  # a groove beside the edge
        (4.0, 4.0, False),  # a rabbet that leaves most of the edge
        (4.0, 11.0, True),  # one that takes more than half of it
        (86.0, 11.0, False),  # the same on the upper edge, to which nothing refers
    ],
)
@pytest.mark.parametrize("way", ["direct", "template"])
def test_a_rabbet_that_takes_the_reference_edge_comes_after_what_bears_on_it(
    at: float, depth: float, lost: bool, way: str
) -> None:
    edge = along("edge", at, width=8.0, depth=depth)
    planned = planned_job(board_job(edge, dado("shelf", 100.0, way=way)), load_kit("metric-shop"))
    assert [each.name for each in planned.joints] == (["shelf", "edge"] if lost else ["edge", "shelf"])
    assert not [each for each in planned.piece.as_drawn if each.finding.rule == "reference-gone"]


def test_one_joint_asked_for_is_looked_at_with_all_others_but_not_they_with_each_other() -> None:
    job = board_job(dado("one", 60.0), dado("other", 75.0), dado("third", 150.0), dado("fourth", 165.0))
    kit = load_kit("metric-shop")
    told = planned_job(job, kit, "third").piece.as_drawn
    assert [each.joints for each in told] == [("third", "fourth")]
    assert len(planned_job(job, kit).piece.as_drawn) == 2


def test_findings_of_joints_together_stand_with_the_others_and_once() -> None:
    job = board_job(dado("shelf", 100.0, opposite_hand=True), along("back", 80.0, length=120.0, finish="stopped"))
    built = build_job(job, load_kit("metric-shop"))
    assert [each.rule for each in built.findings].count("cuts-cross") == 1
    assert [each.rule for each in built.together_of("back")] == ["cuts-cross"]
