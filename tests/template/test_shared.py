"""One sheet with several openings: the pair for all of them, and the wall that stays between two."""

from __future__ import annotations

from math import hypot, pi
from typing import Any

import numpy as np
import pytest
from support.grooves import groove_job, made

from jigcam.errors import Refused
from jigcam.geometry import disc, offset, rectangle, slot
from jigcam.kit import load_kit
from jigcam.template import SharedSheet, Wanted, plan_shared
from jigcam.template.shared import GOOD_WALL, LEAST_WALL
from jigcam.template.sheet import HOLD
from jigcam.template.wall import wall_between
from jigcam.units import Voice
from jigcam.wood import Cut

KIT = load_kit("metric-shop")


def cut_of(name: str, start: tuple[float, float], **keys: Any) -> Cut:
    """A groove of 12.35 mm, along the grain where nothing else is said."""
    return made(groove_job(name=name, start_point=start, **{"angle": 0.0, "length": 120.0, **keys})).cuts()[0]


def sheet_of(
    second: tuple[float, float] = (100.0, 140.0), first: tuple[float, float] = (100.0, 100.0), **keys: Any
) -> SharedSheet:
    cuts = [cut_of("shelf", first), cut_of("strip", second, **keys)]
    return plan_shared("both", [Wanted(cut) for cut in cuts], KIT, Voice("mm"))


def rules(sheet: SharedSheet) -> dict[str, str]:
    return {finding.rule: finding.level for finding in sheet.findings}


@pytest.mark.parametrize(
    ("one", "other", "gap"),
    [
        (disc(0.0, 0.0, 10.0), disc(30.0, 40.0, 15.0), 25.0),
        (rectangle(0.0, 0.0, 10.0, 10.0), rectangle(13.0, 14.0, 20.0, 20.0), 5.0),
        (slot((0.0, 0.0), (100.0, 0.0), 20.0), slot((50.0, 40.0), (50.0, 90.0), 10.0), 30.0),
        (disc(0.0, 0.0, 10.0), disc(15.0, 0.0, 10.0), 0.0),
        (disc(0.0, 0.0, 10.0), disc(0.0, 0.0, 3.0), 0.0),
    ],
)
def test_the_wall_is_the_least_distance_between_two_regions(one: Any, other: Any, gap: float) -> None:
    wall = wall_between(one, other)
    assert wall.size == pytest.approx(gap, abs=2e-3)
    if gap:
        assert hypot(wall.a[0] - wall.b[0], wall.a[1] - wall.b[1]) == pytest.approx(gap, abs=2e-3)
        assert np.abs(one.signed_distance([wall.a])).max() < 1e-6
        assert np.abs(other.signed_distance([wall.b])).max() < 1e-6


def test_the_wall_is_the_distance_of_the_cuts_less_both_offsets() -> None:
    sheet = sheet_of()
    (near,) = sheet.neighbours
    assert near.joints == ("shelf", "strip")
    assert near.wood.size == pytest.approx(40.0 - 12.35, abs=1e-3)
    assert near.wall.size == pytest.approx(40.0 - 12.35 - 2.0 * sheet.first.offset, abs=1e-3)


def test_alike_grooves_get_one_pair_and_the_same_sheet() -> None:
    sheet = sheet_of(depth=6.0)
    first, second = sheet.openings
    assert str(first.pair) == str(second.pair)
    assert (first.sheet, first.marks, first.holes, first.fence) == (
        second.sheet,
        second.marks,
        second.holes,
        second.fence,
    )
    assert first.stack.projection - second.stack.projection == pytest.approx(2.0)
    assert rules(sheet)["one-pair"] == "note"


def test_a_narrower_groove_decides_for_a_bit_that_makes_both() -> None:
    alone = {str(plan.pair) for plan in sheet_of().openings}
    sheet = sheet_of(shelf=8.2)
    (pair,) = {str(plan.pair) for plan in sheet.openings}
    assert pair not in alone
    assert sheet.first.bit.diameter <= 8.35


def test_openings_that_no_one_pair_makes_have_their_own() -> None:
    cuts = [cut_of("shelf", (100.0, 100.0)), cut_of("strip", (100.0, 150.0), shelf=8.2)]
    wanted = [Wanted(cuts[0], KIT.bit("straight 12")), Wanted(cuts[1])]
    sheet = plan_shared("both", wanted, KIT, Voice("mm"))
    assert sheet.openings[0].bit.name == "straight 12"
    assert sheet.openings[1].bit.diameter <= 8.35
    assert "several-pairs" in rules(sheet)


def test_every_opening_keeps_its_distance_from_the_rim_of_the_sheet() -> None:
    sheet = sheet_of((150.0, 150.0), angle=pi / 3.0)
    for plan in sheet.openings:
        inner = offset(plan.sheet, 1e-6 - HOLD)
        assert inner.signed_distance(np.vstack([loop.points(0.01) for loop in plan.opening.loops])).min() >= -2e-6


@pytest.mark.parametrize(
    ("apart", "level"), [(60.0, "note"), (12.35 + 5.0 + 7.0, "caution"), (12.35 + 5.0 + 12.5, "note")]
)
def test_a_wall_is_told_by_how_thick_it_is(apart: float, level: str) -> None:
    sheet = sheet_of((100.0, 100.0 + apart))
    assert rules(sheet)["sheet-wall"] == level
    assert (sheet.neighbours[0].wall.size < GOOD_WALL) is (level == "caution")


@pytest.mark.parametrize(("apart", "says"), [(20.0, "break into each other|leave"), (12.0, "break into each other")])
def test_too_thin_a_wall_is_refused_with_the_way_that_works(apart: float, says: str) -> None:
    with pytest.raises(Refused) as refused:
        sheet_of((100.0, 100.0 + apart))
    (stop,) = [finding for finding in refused.value.findings if finding.level == "stop"]
    assert stop.rule == "sheet-wall"
    assert any(each in stop.says for each in says.split("|"))
    assert "leave the key template out" in stop.says


def test_the_pair_that_leaves_a_good_wall_is_taken_where_the_best_one_would_not() -> None:
    """A pair that is warned of, as chips have little room in it, is better than no sheet."""
    wide = sheet_of()
    near = 12.35 + 2.0 * wide.first.offset + LEAST_WALL - 1.0
    try:
        sheet = sheet_of((100.0, 100.0 + near))
    except Refused:
        pytest.fail("a pair with a smaller offset is in the kit")
    assert sheet.neighbours[0].wall.size >= LEAST_WALL
    assert str(sheet.first.pair) != str(wide.first.pair)


def test_marks_name_every_opening_with_its_own_settings() -> None:
    sheet = sheet_of((100.0, 160.0), depth=5.0)
    texts = [mark.string for mark in sheet.first.marks if hasattr(mark, "string")]
    assert {"SHELF", "STRIP"} <= {text.upper() for text in texts}
    below = [float(text.split(" MM BELOW BASE")[0]) for text in texts if "BELOW BASE" in text]
    assert below[0] - below[1] == pytest.approx(3.0), "8 mm deep and 5 mm deep"
    assert not any("," in text for text in texts)
    assert any("BUSHING" in text for text in texts) == sheet.both_pairs, "where there is one pair, the sheet says it"


def test_a_sheet_that_is_too_large_says_that_the_joints_can_have_their_own() -> None:
    with pytest.raises(Refused) as refused:
        sheet_of((400.0, 250.0), first=(10.0, 20.0))
    (stop,) = [finding for finding in refused.value.findings if finding.level == "stop"]
    assert stop.rule == "template-too-large"
    assert "leave the key template out" in stop.says
