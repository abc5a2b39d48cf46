"""What a job leaves open of its boards: which end enters, which of two alike boards takes something, how many there
are. Places are worked out by hand."""

from __future__ import annotations

from itertools import permutations
from math import hypot
from typing import Any

import pytest
from support.carcases import CORNERS, at, board, job_of, shelf_groove

from jigcam.findings import Finding
from jigcam.job import Job
from jigcam.piece import closing_findings, piece_of

SIDES = {"side": board(500), "top": board(700)}
SHELF = board(676, 199.9, 12)


def groove(name: str, where: str, receives: str, at: list[float], **more: Any) -> dict[str, Any]:
    """A groove of 200 across a board, of one hand."""
    return shelf_groove(name=name, board=where, receives=receives, opposite_hand=False, **{"from": at, **more})


def found(job: Job) -> tuple[Finding, ...]:
    return closing_findings(job, piece_of(job))


def stops(job: Job) -> list[str]:
    return [each.says for each in found(job) if each.level == "stop"]


# ---- which of two alike boards takes something


def test_a_divider_in_one_of_two_alike_tops_does_not_reach_the_other() -> None:
    """A ring has two tops, and the job draws the divider's groove in both: it is 120 long, and they are 460 apart.

    From one groove's bottom to the other's 476; and beside it 500 − 200, as left and right are the other way.
    """
    job = job_of({**SIDES, "divider": board(120, 199.9, 12)}, [CORNERS, groove("divider", "top", "divider", [200, 40])])
    (finding,) = found(job)
    assert (finding.level, finding.rule) == ("caution", "nothing-comes")
    off = f"divider stands {hypot(476 - 120, 500 - 200):.2f} mm off it"
    assert finding.says.startswith(f"the groove (inside face) of top 2 takes nothing: {off}")
    assert [each.b.name for each in piece_of(job).contacts].count("divider") == 1
    # The other one by name: it has no groove, and there is nothing to say.
    boards = {**SIDES, "bottom": {"like": "top"}, "divider": board(120, 199.9, 12)}
    named = job_of(boards, [CORNERS, groove("divider", "top", "divider", [200, 40])])
    assert not found(named)
    assert [each.a.name for each in piece_of(named).contacts if each.b.name == "divider"] == ["top"]


@pytest.mark.parametrize(("length", "off"), [(676.0, 0.0), (676.3, -0.3)])
def test_a_shelf_that_reaches_both_of_two_alike_sides_is_held_to_both(length: float, off: float) -> None:
    """Its grooves lie in their middle, where no opposite hand is wanted."""
    job = job_of({**SIDES, "shelf": board(length, 199.9, 12)}, [CORNERS, groove("shelf", "side", "shelf", [250, 40])])
    assert [each.gap for each in piece_of(job).closing if each.contact.guessed] == pytest.approx([off], abs=1e-9)
    assert bool(stops(job)) == (off != 0.0)


@pytest.mark.parametrize("first", ["d1", "sa"])
def test_a_divider_hangs_from_that_one_of_two_alike_tops_that_it_can(first: str) -> None:
    """Of both tops only one looks at the outside of the shelf, which lies in two grooves.

    By hand, with grooves 8 deep in boards 20 thick, the middle of the shelf 150 from the outside of that top: from the
    bottom of one groove to that of the other it is 150 − 12 − 10 + 8 = 136.
    """
    boards = {**SIDES, "shelf": board(676, 199.9, 20), "divider": board(136, 199.9, 18)}
    boards["top"] = board("to fit")
    joints = {
        "sa": shelf_groove(name="sa"),
        "d1": groove("d1", "top", "divider", [300, 40]),
        "d2": groove("d2", "shelf", "divider", [388, 0], face="outside", start="open", finish="open", length=199.9),
    }
    order = [joints.pop(first), *joints.values()]
    job = job_of(boards, [CORNERS, *order])
    assert not stops(job)
    assert job.board("top").length == pytest.approx(700)
    assert max(each.error for each in piece_of(job).closing) < 1e-6


# ---- which end enters


@pytest.mark.parametrize("order", list(permutations(["l", "r", "d2"])), ids="".join)
@pytest.mark.parametrize(("face", "left"), [("outside", "left side"), ("inside", "right side")])
def test_the_order_of_joints_does_not_say_which_end_enters(order: tuple[str, ...], face: str, left: str) -> None:
    """A divider stands on the outside or the inside of a shelf: from that follows which end is in which side."""
    boards = {each: board(500) for each in ("left side", "right side")}
    boards |= {"top": board(700), "shelf": board(676, 199.9, 20), "divider": board("to fit", 280, 18)}
    ends = ("left side", "right", "top", "left"), ("top", "right", "right side", "left")
    corners = [{**CORNERS, "name": f"corner {a}", "a": a, "a_end": p, "b": b, "b_end": q} for a, p, b, q in ends]
    socket = {"name": "d1", "kind": "sliding-dovetail", "socket": "top", "face": "inside", "from": [300, 20]}
    socket |= {"angle": 90, "length": 260, "finish": "open", "depth": 8, "base": 12, "slope": "8 deg"}
    socket |= {"tail": "divider", "tail_end": "left"}
    joints = {
        "l": groove("l", "left side", "shelf", [150, 40]),
        "r": groove("r", "right side", "shelf", [350, 40]),
        "d2": groove("d2", "shelf", "divider", [388, 0], face=face, start="open", finish="open", length=199.9),
    }
    job = job_of(boards, [*corners, socket, *(joints[each] for each in order)])
    assert not stops(job)
    # A tail of 7.8; from its shoulder, 20 below the outside of the top, to 8 deep in the shelf, 10 above its middle.
    assert job.board("divider").length == pytest.approx(7.8 + (150 - 20 - 10 + 8))
    places = {each.a.name: each.meeting.b_at for each in piece_of(job).contacts if each.b.name == "shelf"}
    assert places[left] == "left end"


def test_an_end_that_is_not_said_is_asked_for_where_it_matters() -> None:
    """A shelf with a groove of its own, which lies elsewhere if the other end enters."""
    own = groove("divider", "shelf", "divider", [200, 0], length=199.9, start="open", finish="open", face="outside")
    boards = {"side": board(500), "shelf": board(676, 199.9, 20), "divider": board(100, 199.9, 12)}
    (finding,) = found(job_of(boards, [groove("shelf", "side", "shelf", [150, 40]), own]))
    assert (finding.level, finding.rule, finding.where) == ("caution", "enters-unsaid", "shelf")
    assert 'say enters = "left", or the other' in finding.says
    assert not found(job_of(boards, [groove("shelf", "side", "shelf", [150, 40], enters="left"), own]))
    plain = {"side": board(500), "shelf": SHELF}
    assert not found(job_of(plain, [groove("shelf", "side", "shelf", [150, 40])])), "nothing lies elsewhere"


def test_an_edge_that_may_as_well_be_an_end_is_asked_for() -> None:
    boards = {"side": board(500), "panel": board(200, 199, 12)}
    (finding,) = found(job_of(boards, [groove("panel", "side", "panel", [150, 40])]))
    assert finding.rule == "enters-unsaid"
    assert "than the lower edge too, and it is about as long as wide" in finding.says


# ---- how many there are


def test_three_trays_for_four_rows_of_grooves_leave_one_row_empty() -> None:
    boards = {**SIDES, "tray": board(676, 199.9, 12, count=3)}
    job = job_of(boards, [CORNERS, shelf_groove(name="trays", receives="tray", repeat={"count": 4, "pitch": 90})])
    assert [(each.rule, each.says.split(":")[0]) for each in found(job)] == [
        ("nothing-comes", "groove 4 (inside face) of side takes nothing"),
        ("nothing-comes", "groove 4 (inside face) of side, opposite hand takes nothing"),
    ]
    assert max(each.error for each in piece_of(job).closing) < 1e-9


def test_one_side_of_which_both_hands_are_cut_lacks_its_mirror_image() -> None:
    job = job_of({"side": board(500, count=1), "shelf": SHELF}, [shelf_groove()])
    (finding,) = found(job)
    assert "there is no mirror image of side" in finding.says
    assert at(piece_of(job), "shelf", (0, 0, -6)) == [350, 40.05, -12]


# ---- what is told


def test_a_shelf_that_does_not_reach_its_groove_is_refused_and_one_that_does_is_not() -> None:
    """Grooves 8 deep: 7.9 short it just stands in the second one, 8.1 short it does not."""
    just, not_at_all = (
        job_of({**SIDES, "shelf": board(676 - by, 199.9, 12)}, [CORNERS, shelf_groove()]) for by in (7.9, 8.1)
    )
    assert [(each.level, each.rule) for each in found(just)] == [("caution", "stays-off")]
    (says,) = stops(not_at_all)
    assert "shelf is 667.9 mm long and has to be 676 mm" in says


def test_one_wrong_board_behind_several_places_is_told_first() -> None:
    boards = {"side": board(500), "top": board(690), "shelf": SHELF, "strip": SHELF}
    joints = [shelf_groove(), shelf_groove(name="strip", receives="strip", **{"from": [300, 40]})]
    first, *_ = stops(job_of(boards, [CORNERS, *joints]))
    assert "top is 690 mm long and has to be 700 mm, by corners" in first


def test_a_cure_does_not_open_what_is_closed() -> None:
    """The strip alone is wrong: no size of the carcase is told, which would mend it and spoil the shelf."""
    boards = {"side": board(500), "top": board(700), "shelf": SHELF, "strip": board(677, 199.9, 12)}
    joints = [shelf_groove(), shelf_groove(name="strip", receives="strip", **{"from": [300, 40]})]
    (says,) = stops(job_of(boards, [CORNERS, *joints]))
    assert "strip is 677 mm long and has to be 676 mm" in says
