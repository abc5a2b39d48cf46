"""Pairs of bit and bushing: the order of choice, and the one reason why each misfit is one."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from jigcam.kit import Bit, Bushing, Kit, Measured, load_kit
from jigcam.template import Need, Pair, judge, rank_pairs
from jigcam.template.advice import refusal
from jigcam.template.pairs import LITTLE_PLAY
from jigcam.units import Voice

IN = 25.4
GROOVE = Need(width=0.506 * IN, depth=5 / 16 * IN, voice=Voice("in"))


@pytest.fixture(scope="module")
def kit() -> Kit:
    return load_kit("inch-shop")


def changed(kit: Kit, *, bit: dict[str, Any] | None = None, bushing: dict[str, Any] | None = None, **need: Any) -> Any:
    """The verdict on the half-inch bit in the three-quarter bushing with something changed; lengths in inches."""

    def mm(values: dict[str, Any] | None) -> dict[str, Any]:
        return {key: value * IN if isinstance(value, float) else value for key, value in (values or {}).items()}

    one = kit.bit("straight 1/2").model_copy(update=mm(bit))
    other = kit.bushing("bushing 3/4").model_copy(update=mm(bushing))
    wanted = {"width": 0.506, "depth": 5 / 16} | need
    return judge(Pair(one, other), kit, Need(**mm(wanted), voice=Voice("in")), "shelf")


def test_the_half_inch_bit_goes_in_the_three_quarter_bushing(kit: Kit) -> None:
    best = rank_pairs(kit, GROOVE)[0]
    assert (best.pair.bit.name, best.pair.bushing.name) == ("straight 1/2", "bushing 3/4")
    assert best.opening / IN == pytest.approx(0.756)
    assert best.play / IN == pytest.approx(0.006)
    assert best.chip_room / IN == pytest.approx((21 / 32 - 1 / 2) / 2)
    assert best.corner_radius / IN == pytest.approx(1 / 4)
    assert best.laps == 1
    assert best.ok
    assert not best.reasons


@pytest.mark.parametrize(
    ("change", "level", "rule", "part"),
    [
        ({"width": 0.49}, "stop", "bit-too-wide", "at most 0.488 in"),
        ({"width": 0.5}, "stop", "bushing-binds", "0 in of play"),
        ({"width": 0.501}, "caution", "bushing-binds", "widen the groove (its clearance) by 0.001 in"),
        ({"bit": {"shank": 11 / 16}}, "stop", "no-collet", "11/16 in shank"),
        ({"bushing": {"inside": 0.5}}, "stop", "bit-does-not-pass", "cutter of straight 1/2 does not pass"),
        ({"bushing": {"inside": 0.53}}, "caution", "tight-bushing", "0.015 in all round"),
        ({"bushing": {"collar": 0.5}}, "stop", "collar-too-long", "at least 0.539 in"),
        ({"bushing": {"collar": 0.48}}, "caution", "collar-near-work", "0.039 in shorter"),
        (
            {"bit": {"overall_length": 1.5}},
            "stop",
            "bit-too-short",
            "flange take the rest of its length; take a longer bit or a thinner sheet, 13/32 in",
        ),
        ({"bit": {"overall_length": 1.95}}, "caution", "bit-just-reaches", "0.044 in further"),
        ({"bit": {"cutting_length": 0.3}}, "stop", "edges-too-short", "0.3 in, and the groove is 5/16 in deep"),
        ({"bit": {"kind": "ball"}}, "stop", "bit-kind", "a ball bit"),
        ({"bit": {"diameter": 0.2}}, "caution", "slender-bit", "4.1 times"),
    ],
)
def test_one_message_for_each_fault(kit: Kit, change: dict[str, Any], level: str, rule: str, part: str) -> None:
    verdict = changed(kit, **change)
    found = [(finding.level, finding.rule) for finding in verdict.findings]
    if rule == "no-collet":  # a shank that wide does not pass the bushing either
        found = found[:1]
    assert found == [(level, rule)]
    assert part in verdict.findings[0].says
    assert verdict.findings[0].where == "shelf"
    assert verdict.ok is (level != "stop")


def test_no_fault_at_the_very_limits(kit: Kit) -> None:
    assert not changed(kit, width=0.5 + LITTLE_PLAY / IN).findings
    assert not changed(kit, bushing={"inside": 0.5 + 1.6 / IN}).findings
    assert not changed(kit, bushing={"collar": 0.5 - 1 / IN}).findings
    assert not changed(kit, bit={"cutting_length": 5 / 16}).findings


def test_a_shank_wider_than_its_cutter_has_to_pass_as_well(kit: Kit) -> None:
    verdict = judge(Pair(kit.bit("straight 3/8"), kit.bushing("bushing 1/2")), kit, GROOVE)
    assert [finding.rule for finding in verdict.findings] == ["bit-does-not-pass"]
    assert "shank" in verdict.reasons[0]


def test_every_pair_is_judged_and_the_refused_come_last(kit: Kit) -> None:
    verdicts = rank_pairs(kit, GROOVE)
    assert len(verdicts) == len(kit.bits) * len(kit.bushings)
    oks = [verdict.ok for verdict in verdicts]
    assert oks == sorted(oks, reverse=True)
    assert all(verdict.reasons for verdict in verdicts if not verdict.ok)
    fit = [verdict for verdict in verdicts if verdict.ok]
    assert [len(v.findings) for v in fit] == sorted(len(v.findings) for v in fit)


def test_square_ends_take_the_widest_bit_that_fits_as_the_chisel_comes_anyway(kit: Kit) -> None:
    """They took the smallest, whose corners went to the chisel all the same, and two laps."""
    half = rank_pairs(kit, Need(0.506 * IN, 8.0, corners=True))[0]
    assert half.pair.bit.name == "straight 1/2"
    assert half.laps == 1
    for width in (0.506, 1.0):
        ranked = [rank_pairs(kit, Need(width * IN, 8.0, corners=corners)) for corners in (False, True)]
        assert [str(each.pair) for each in ranked[0]] == [str(each.pair) for each in ranked[1]]


def test_only_what_the_job_names(kit: Kit) -> None:
    bushing = kit.bushing("bushing 5/8")
    verdicts = rank_pairs(kit, GROOVE, bushings=[bushing])
    assert {verdict.pair.bushing for verdict in verdicts} == {bushing}


def test_the_order_does_not_depend_on_the_order_of_the_kit(kit: Kit) -> None:
    other = kit.model_copy(update={"bits": kit.bits[::-1], "bushings": kit.bushings[::-1]})
    assert [str(v.pair) for v in rank_pairs(kit, GROOVE)] == [str(v.pair) for v in rank_pairs(other, GROOVE)]


@pytest.mark.parametrize(("diameter", "level"), [(None, "caution"), (12.79, "caution"), (12.70, ""), (12.66, "")])
def test_an_oversize_bit_has_no_play_where_it_binds(kit: Kit, diameter: float | None, level: str) -> None:
    """A test cut came out 0.09 mm wider than sold, in a cut 0.1 mm wider than the bit: all of that went to the bushing,
    and 0.1 mm of play was promised."""
    day = datetime.date(2024, 5, 31)
    cut = Measured(bit="straight 1/2", bushing="bushing 3/4", opening=19.05, width=12.79, date=day, diameter=diameter)
    shop = kit.model_copy(update={"measured": (cut,)})
    pair = Pair.of(shop.bit("straight 1/2"), shop.bushing("bushing 3/4"), shop)
    verdict = judge(pair, shop, Need(12.8, 8.0))
    assert verdict.play == pytest.approx(12.8 - (12.79 if diameter is None else diameter))
    assert pair.difference == pytest.approx(19.05 - 12.79)
    found = [finding for finding in verdict.findings if finding.rule == "bushing-binds"]
    assert [finding.level for finding in found] == ([level] if level else [])
    assert ("measure the bit" in " ".join(finding.says for finding in found)) is (diameter is None)
    # Named by the job or chosen, and looked up again: always the same sizes.
    assert Pair.of(pair.bit, pair.bushing, shop) == pair


def test_the_nearest_of_a_deep_cut_is_the_one_that_lacks_least(kit: Kit) -> None:
    """All are too short: the shortest of them was named as the nearest, and why was said of its width alone."""
    verdicts = rank_pairs(kit, Need(0.506 * IN, 60.0, voice=Voice("in")))
    assert not any(verdict.ok for verdict in verdicts)
    (stop,) = refusal("shelf", verdicts, verdicts, named=False)
    assert stop.rule == "no-pair"
    best = min((v for v in verdicts if v.pair.bit.kind == "straight"), key=lambda v: v.lacking)
    assert best.pair.bit.name == "straight 1/2"
    assert f"the nearest is {best.pair}" in stop.says
    assert "is missing" in stop.says
    assert "cutting edges of 1-1/4 in" in stop.says
    wide = judge(Pair(kit.bit("straight 1/8"), kit.bushing("bushing 3/4")), kit, Need(0.506 * IN, 60.0))
    assert wide.lacking > best.lacking


def test_a_pair_says_its_offset() -> None:
    bit = Bit(name="b", kind="straight", diameter=10.0, cutting_length=25.0, overall_length=70.0, shank=8.0)
    pair = Pair(bit, Bushing(name="g", outside=17.0, inside=14.0, collar=8.0))
    assert (pair.offset, pair.difference, str(pair)) == (3.5, 7.0, "b in g")
