"""What strangers could not read on sheets of routed work: each remark with the line that answers it now."""

from __future__ import annotations

from math import hypot, pi
from typing import Any

import pytest
from support.grooves import groove_job, made

from jigcam.joints.groove.by_hand import groove_by_hand
from jigcam.joints.groove.straight_edge import StraightEdge
from jigcam.kit import Kit, load_kit
from jigcam.making.block_text import text_lines
from jigcam.units import Voice

MM = Voice("mm")


@pytest.fixture(scope="module")
def shop() -> Kit:
    """The metric shop."""
    return load_kit("metric-shop")


def housing(**keys: Any) -> Any:
    """A housing stopped 20 mm behind the lower edge, open at the upper one, in the outside face."""
    drawn = {"face": "outside", "start_point": (200.0, 20.0), "angle": pi / 2.0, "length": 265.0, "finish": "open"}
    return made(groove_job(**(drawn | keys)))


def told(groove: Any, kit: Kit) -> str:
    """The words at the bench on one line."""
    return " ".join(" ".join(text_lines(groove_by_hand(groove, kit, MM, 1))).split())


def test_each_wall_along_a_straight_edge_has_its_way_and_where_it_begins_and_ends(shop: Kit) -> None:
    """The bit turns clockwise and pulls to the left of its way: there is the straight-edge (common practice)."""
    groove = housing()
    routed = StraightEdge.of(groove, shop)
    assert routed is not None
    assert routed.bit.plunges
    left, right = routed.rides()
    assert (left.side, left.toward, left.first, left.last, left.ends) == (
        "left end",
        "upper edge",
        "start",
        "finish",
        None,
    )
    assert (right.side, right.toward, right.first, right.last, right.begins) == (
        "right end",
        "lower edge",
        "finish",
        "start",
        None,
    )
    text = told(groove, shop)
    assert "begin at the start, the base against the block there" in text
    assert "begin off the board, at the open finish; move toward the lower edge; stop where the base meets" in text
    assert "lower the running bit there: that takes a router whose base plunges" in text


@pytest.mark.parametrize("ends", ["round", "square"])
def test_a_bit_that_rests_at_its_stop_block_stays_within_the_groove_as_drawn(ends: str, shop: Kit) -> None:
    """A bit narrower than a groove with round ends stops short of the extreme end, or it cuts the round ones away."""
    groove = housing(ends=ends)
    routed = StraightEdge.of(groove, shop)
    assert routed is not None
    low = groove.band.y
    for centre in (routed.rides()[0].begins, routed.rides()[1].ends):
        assert centre is not None
        aside = abs(centre[0] - 200.0)
        assert aside + routed.bit.radius == pytest.approx(groove.width / 2.0)
        if ends == "round":
            assert hypot(aside, low + groove.width / 2.0 - centre[1]) + routed.bit.radius <= groove.width / 2.0 + 1e-9
        else:
            assert centre[1] - routed.bit.radius == pytest.approx(low)
        # the base, which is round, touches the block there
        assert groove.band.y + routed.block_station("start") == pytest.approx(centre[1] - routed.radius)
    assert "beyond the board's edge, so lay an offcut as thick as the board" in told(groove, shop)


def test_a_bit_that_does_not_cut_at_its_centre_is_not_lowered_into_the_wood(shop: Kit) -> None:
    kit = shop.model_copy(update={"bits": tuple(b.model_copy(update={"plunges": False}) for b in shop.bits)})
    text = told(housing(), kit)
    assert "does not cut at its centre, so it cannot be lowered into the wood where a wall begins at a stop" in text
    assert "in which the bit turns free" in text
    both_open = housing(start_point=(200.0, 0.0), length=285.0, start="open")
    assert "cut at its centre" not in told(both_open, kit)


def test_in_the_mirrored_board_each_wall_is_routed_the_other_way(shop: Kit) -> None:
    assert "each wall is begun where it ended before" in told(housing(opposite_hand=True), shop)
