"""What the trade says about a groove. All limits are common practice, no source, unless a test says otherwise."""

from __future__ import annotations

from math import pi
from typing import Any

import pytest
from support.grooves import groove_job, made

from jigcam.findings import Finding, Level
from jigcam.wood.band import sides


def said(level: Level, **keys: Any) -> dict[str, Finding]:
    """The findings of one level, by rule; a rule speaks once."""
    found = [finding for finding in made(groove_job(**keys)).findings if finding.level == level]
    assert len({finding.rule for finding in found}) == len(found), "one message per fault"
    assert all(finding.where == "tilted shelf" for finding in found)
    return {finding.rule: finding for finding in found}


def dado(**keys: Any) -> dict[str, Any]:
    return {"start_point": (100.0, 0.0), "angle": pi / 2, "length": 285.0, "start": "open", "finish": "open"} | keys


def test_a_sound_groove_has_neither_stop_nor_caution() -> None:
    assert not said("stop")
    assert not said("caution")


@pytest.mark.parametrize(
    ("depth", "level", "part"),
    [
        (7.9, None, ""),
        (8.0, None, ""),  # just a third of 24 mm
        (8.1, "caution", "a quarter to a third"),
        (12.0, "caution", "a quarter to a third"),
        (12.1, "caution", "more than a half"),
        (20.9, "caution", "more than a half"),
        (21.1, "stop", "only 2.9 mm is left"),
        (24.0, "stop", "nothing of side is left"),
        (30.0, "stop", "nothing of side is left"),
    ],
)
def test_depth(depth: float, level: Level | None, part: str) -> None:
    rules = {"deep", "too-deep"}
    found = [f for f in made(groove_job(depth=depth)).findings if f.rule in rules]
    assert [f.level for f in found] == ([level] if level else [])
    assert all(part in f.says for f in found)


def test_a_shallow_housing_is_noted_for_a_shelf_only() -> None:
    assert "shallow" in said("note", depth=5.0)
    assert "shallow" not in said("note", depth=5.0, receives=None, width=12.5)


@pytest.mark.parametrize(
    ("keys", "part"),
    [
        ({"start_point": (100.0, -0.01)}, "over the lower edge"),
        ({"start_point": (6.0, 100.0), "angle": pi / 2, "length": 100.0}, "over the right end"),
        ({"start_point": (6.0, 100.0), "angle": pi / 2, "length": 100.0, "face": "outside"}, "over the left end"),
        ({"start_point": (500.0, 100.0), "angle": 0.0, "length": 61.0}, "over the left end"),
        ({"start_point": (100.0, 100.0), "angle": pi / 2, "length": 186.0}, "over the upper edge"),
        (dado(start_point=(3.0, 0.0)), "one wall"),
    ],
)
def test_off_the_board(keys: dict[str, Any], part: str) -> None:
    assert part in said("stop", **keys)["off-board"].says


@pytest.mark.parametrize("start", ["stopped", "open"])
@pytest.mark.parametrize("point", [(100.0, 300.0), (700.0, 50.0), (-10.0, -300.0)])
def test_a_groove_that_misses_its_board(point: tuple[float, float], start: str) -> None:
    found = said("stop", start_point=point, start=start)
    assert list(found) == ["misses-board"]
    assert "560 mm by 285 mm" in found["misses-board"].says


def test_a_square_corner_off_the_board_where_a_round_end_would_be_on_it() -> None:
    corner = {"start_point": (20.0, 4.0), "angle": pi / 4, "length": 100.0}
    assert "off-board" in said("stop", **corner, ends="square")
    assert "off-board" not in said("stop", **corner, ends="round")


def test_longer_than_wide_or_square() -> None:
    keys = {"start_point": (100.0, 100.0), "length": 12.0, "receives": None, "width": 12.5}
    assert "too-short" in said("stop", **keys)
    assert not said("stop", **keys, ends="square")


def test_an_open_end_drawn_inside_the_board_is_told() -> None:
    found = said("caution", **dado(start_point=(100.0, 30.0), length=255.0))
    assert "30 mm" in found["open-end-extended"].says
    assert not said("caution", **dado())
    assert not said("caution", **dado(start_point=(100.0, 0.4), length=284.6))


@pytest.mark.parametrize(
    ("keys", "side"),
    [
        ({"start_point": (100.0, 5.0)}, "lower edge"),
        ({"start_point": (100.0, 80.0), "angle": pi / 2}, "upper edge"),
        ({"start_point": (10.0, 50.0), "angle": pi / 2}, "right end"),
        (dado(start_point=(10.0, 0.0)), "right end"),
        (dado(start_point=(550.0, 0.0)), "left end"),
        (dado(finish="stopped", length=280.0), "upper edge"),
    ],
)
def test_little_wood_beside_the_groove(keys: dict[str, Any], side: str) -> None:
    assert side in said("caution", **keys)["short-grain"].says


def test_an_open_end_has_no_short_grain_where_it_runs_out() -> None:
    assert "short-grain" not in said("caution", **dado())
    assert "short-grain" not in said("caution", **dado(angle=pi / 3, length=330.0))


@pytest.mark.parametrize(
    ("keys", "level", "rule"),
    [
        ({"width": 12.0}, "stop", "interference"),
        ({"width": 12.2}, "caution", "no-clearance"),
        ({"clearance": 0.0}, "caution", "no-clearance"),
        ({"clearance": 0.25}, "caution", ""),
        ({"clearance": 0.3}, "caution", "loose"),
        ({"receives": None, "width": 12.5, "clearance": 0.0}, "caution", ""),
    ],
)
def test_fit(keys: dict[str, Any], level: Level, rule: str) -> None:
    """0.25 mm in all fails a glue line (common practice, weakly sourced)."""
    assert list(said(level, **keys)) == ([rule] if rule else [])


def test_findings_speak_in_the_units_of_the_job() -> None:
    assert "0.909 in" in said("stop", depth=23.1, units="in")["too-deep"].says
    assert "23.1 mm" in said("stop", depth=23.1)["too-deep"].says


def test_a_shelf_wider_than_the_groove_is_notched() -> None:
    says = said("caution", length=150.0)["notch"].says
    assert "notch 50.15 mm in all" in says, "the clearance holds at the ends too"
    assert "at its two edges" in says
    assert "a tongue of 149.85 mm stays" in says
    assert "notch" not in said("caution")


def test_the_rounded_tongue_of_a_notched_shelf_is_named_and_by_half_the_thickness() -> None:
    """A shelf of 12.2 was told a radius of 6.18, half of its groove's width, and "edges", of which none is there."""
    says = said("note", length=150.0)["round-the-edge"].says
    assert "both ends of the tongue of shelf" in says
    assert "half the thickness, to a radius of 6.1 mm" in says
    assert "both edges of shelf that lie in the round ends" in said("note")["round-the-edge"].says
    stopped = said("note", **dado(finish="stopped", length=150.0))
    assert "the stopped end of the tongue" in stopped["round-the-edge"].says
    assert "at the edge toward the stopped end" in said("caution", **dado(finish="stopped", length=150.0))["notch"].says


TO_THE_EDGE = {"start_point": (100.0, 0.0), "angle": pi / 2, "length": 150.0}


@pytest.mark.parametrize("angle", [pi / 2, pi / 3])
def test_a_square_end_drawn_to_the_very_edge_is_to_be_drawn_open_without_a_sum(angle: float) -> None:
    """It was refused for wood left at a corner, or for a fraction of the width beyond the edge."""
    says = said("stop", **TO_THE_EDGE | {"angle": angle}, ends="square")["off-board"].says
    assert "drawn to the very edge, the lower edge of side" in says
    assert 'draw it open there (start = "open"), or stop it at least 6 mm before the edge' in says
    assert "over the" not in says
    assert not said("stop", **TO_THE_EDGE | {"angle": angle}, ends="square", start="open")


def test_a_round_end_that_touches_the_edge_is_to_be_drawn_open() -> None:
    says = said("caution", **TO_THE_EDGE)["short-grain"].says
    assert says == (
        "the stopped start of the groove touches the lower edge of side, and breaks out there: draw it open there "
        '(start = "open"), or stop it at least 6 mm before the edge'
    )
    finish = {"start_point": (100.0, 285.0), "angle": -pi / 2, "length": 150.0}
    assert "touches the upper edge" in said("caution", **finish)["short-grain"].says


def test_a_groove_whose_board_floats_has_no_glue_line() -> None:
    for keys in ({"clearance": 0.8}, {"width": 12.2}, {"clearance": 0.0}):
        assert said("caution", **keys)
        assert not said("caution", **keys, floats=True).keys() - {"notch"}
    assert "shallow" not in said("note", depth=5.0, floats=True)
    assert "interference" in said("stop", width=12.0, floats=True), "a panel goes in all the same"


def test_ends_are_named_from_the_outside_face() -> None:
    """Seen from the inside, the board's left end is on the right."""
    assert sides("outside")[:2] == ("left end", "right end")
    assert sides("inside")[:2] == ("right end", "left end")
