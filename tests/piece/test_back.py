"""A back in rabbets: where it stands, how long and wide it has to be, and that it goes in last."""

from __future__ import annotations

from itertools import permutations
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.carcases import CORNERS, at, board, job_of, shelf_groove

from jigcam.errors import Faults
from jigcam.job import Job
from jigcam.piece import closing_findings, piece_of
from jigcam.piece.assembly import assembly_of
from jigcam.piece.order_words import clamp_lines

RABBET = {"kind": "rabbet", "face": "inside", "along": "upper", "depth": 8, "receives": "back", "clearance": 0}


def with_back(back: dict[str, Any], *, depth: float = 8.0, side: float = 500.0, top: float = 700.0) -> Job:
    """A carcase of two sides and two tops, 20 thick and 280 deep, with a back in rabbets all round."""
    boards = {"side": board(side, count=2), "top": board(top, count=2), "back": back}
    of_side = {**RABBET, "name": "in side", "board": "side", "enters": "left", "depth": depth}
    of_top = {**RABBET, "name": "in top", "board": "top", "enters": "lower", "depth": depth}
    return job_of(boards, [CORNERS, of_side, of_top])


def test_it_lies_on_four_cheeks_flush_with_the_back_edges() -> None:
    """Its edges lie 8 deep in sides 20 thick, and its face in the plane of the upper edges, 280 from the front."""
    piece = piece_of(with_back(board(676, 476, 6)))
    corners = [at(piece, "back", point) for point in ((0, 0, 0), (676, 476, -6))]
    low, high = ([pick(values) for values in zip(*corners, strict=True)] for pick in (min, max))
    assert low == [12, 274, -688]
    assert high == [488, 280, -12]
    assert max(each.error for each in piece.closing) < 1e-9
    assert not closing_findings(with_back(board(676, 476, 6)), piece)


@settings(max_examples=8, deadline=None)
@given(depth=st.floats(3.0, 12.0), side=st.floats(300.0, 900.0), top=st.floats(300.0, 900.0))
def test_its_sizes_to_fit_are_the_sums_by_hand(depth: float, side: float, top: float) -> None:
    back = with_back(board("to fit", "to fit", 6), depth=depth, side=side, top=top).board("back")
    assert back.length == pytest.approx(top - 40.0 + 2.0 * depth, abs=1e-6)
    assert back.width == pytest.approx(side - 40.0 + 2.0 * depth, abs=1e-6)


def test_one_that_is_too_long_is_told_with_the_length_that_it_has_to_have() -> None:
    job = with_back(board(690, 476, 6))
    (said,) = (each for each in closing_findings(job, piece_of(job)) if each.level == "stop")
    assert "back is 690 mm long and has to be 676 mm" in said.says


@pytest.mark.parametrize("order", [*permutations(range(4))], ids=str)
def test_the_same_joints_in_any_order_close(order: tuple[int, ...]) -> None:
    """A back that is placed before the corners may stand either way round, and took the whole case with it."""
    stopped = {**RABBET, "from": 10}
    joints = [
        CORNERS,
        {**stopped, "name": "in side", "board": "side", "length": 480},
        {**stopped, "name": "in top", "board": "top", "length": 680},
        shelf_groove(),
    ]
    boards = {"side": board(500), "top": board(700), "shelf": board(676, 199.9, 12), "back": board(676, 476, 6)}
    job = job_of(boards, [joints[number] for number in order])
    piece = piece_of(job)
    assert len(piece.contacts) == 10
    assert max(each.error for each in piece.closing) < 1e-6
    assert not [each for each in closing_findings(job, piece) if each.level == "stop"]


@pytest.mark.parametrize("sizes", [("to fit", "to fit"), (676, "to fit"), ("to fit", 476)])
def test_a_size_to_fit_asks_which_end_or_edge_lies_in_each_rabbet(sizes: tuple[Any, Any]) -> None:
    """Either would do, and gives another board; nothing was said, and the shelf was blamed."""
    boards = {"side": board(500), "top": board(700), "back": board(*sizes, 6)}
    rabbets = [{**RABBET, "name": f"in {name}", "board": name} for name in ("side", "top")]
    with pytest.raises(Faults) as caught:
        job_of(boards, [CORNERS, *rabbets])
    assert len(caught.value.faults) == 2
    assert "which end or edge of back lies in in side is not said" in str(caught.value)
    assert 'enters = "left"' in str(caught.value)


def test_it_goes_in_last_from_behind_and_no_clamp_draws_it_home() -> None:
    """Trade practice (no source): a case is glued up and squared first, and its back laid in from behind."""
    (part,) = assembly_of(piece_of(with_back(board(676, 476, 6))))
    assert [copy.name for copy in part.steps[-1].moves] == ["back"]
    assert part.steps[-1].direction.round(6).tolist() == [0, -1, 0]
    assert not any("upper edge" in line or "lower edge" in line for line in clamp_lines(part))


def test_a_rabbet_along_an_end_makes_a_corner_that_clamps_draw_home() -> None:
    boards = {"side": board(500), "top": board(700)}
    rabbet = {**RABBET, "name": "corner", "board": "side", "along": "right", "receives": "top", "enters": "left"}
    (part,) = assembly_of(piece_of(job_of(boards, [rabbet])))
    assert len(clamp_lines(part)) == 1
