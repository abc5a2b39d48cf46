"""Ranked pairs, tolerance and the little picture, as the bench tells them."""

from __future__ import annotations

import pytest
from support.grooves import groove_job

from jigcam.bench import pairs as bench
from jigcam.bench.cut import the_cut
from jigcam.bench.offset_picture import offset_picture
from jigcam.bench.pairs import pair_lines, pairs_for_cut, pairs_for_width
from jigcam.bench.tolerance import joint_spread, tolerance_lines
from jigcam.errors import InputError, Refused
from jigcam.kit import load_kit
from jigcam.template import Pair, Support, Verdict, pairs, plan_template
from jigcam.template.bare import BareOpening
from jigcam.units import Voice


def test_every_pair_is_judged_and_every_failure_has_a_reason() -> None:
    kit = load_kit("inch-shop")
    result = pairs_for_width(kit, 12.8, 8.0)
    assert len(result.judged) == len(kit.bits) * len(kit.bushings)
    assert all(each.reasons for each in result.judged if not each.ok)
    states = [each.ok for each in result.judged]
    assert states == sorted(states, reverse=True)
    assert {(each.bit.name, each.recess.name, each.plug.name) for each in result.inlay} == {
        ("straight 1/8", "bushing 3/4", "bushing 1/2"),
    }
    # B1 - d1 = B2 - d2: 1/4 in 1/2 and 1/2 in 3/4 share one opening (derived).
    groups = [{(bit.name, bushing.name) for bit, bushing in group} for group in result.sharing]
    assert any({("straight 1/4", "bushing 1/2"), ("straight 1/2", "bushing 3/4")} <= group for group in groups)
    text = "\n".join(pair_lines([result], Voice("in")))
    for each in result.judged:
        assert each.verdict.pair.bit.name in text


def test_a_radius_refuses_bits_that_leave_more() -> None:
    kit = load_kit("metric-shop")
    free, held = pairs_for_width(kit, 12.5, 6.0), pairs_for_width(kit, 12.5, 6.0, 4.0)
    assert any(each.ok and each.corner > 4.0 for each in free.judged)
    assert not any(each.ok and each.corner > 4.0 for each in held.judged)
    assert any("inside corners" in reason for each in held.judged for reason in each.reasons)


def test_the_best_pair_is_the_one_that_the_plan_takes() -> None:
    job, kit = groove_job(), load_kit("metric-shop")
    result = pairs_for_cut(the_cut(job), kit, Voice("mm"))
    best = result.judged[0]
    plan = plan_template(the_cut(job).cut, kit, voice=Voice("mm"))
    assert (best.verdict.pair.bit, best.verdict.pair.bushing) == (plan.bit, plan.bushing)
    assert best.base == plan.support
    entry = result.as_dict()["pairs"][0]
    assert entry["opening_mm"] == pytest.approx(the_cut(job).cut.width + 2.0 * plan.offset)
    assert entry["base"]["fraction"] == pytest.approx(plan.support.fraction, abs=1e-4)


@pytest.mark.parametrize("sizes", [(0.0, 6.0, None), (12.0, -1.0, None), (12.0, 6.0, float("nan"))])
def test_sizes_that_are_none(sizes: tuple[float, float, float | None]) -> None:
    with pytest.raises(InputError, match="no size"):
        pairs_for_width(load_kit("inch-shop"), *sizes)


def test_tolerance_of_a_joint() -> None:
    job, kit = groove_job(), load_kit("metric-shop")
    result = joint_spread(the_cut(job), kit, given={"stock": 0.3}, cuts=20_000)
    facts = result.as_dict()
    assert facts["attack_first"] == "stock"
    assert facts["limits_mm"]["stock"] == pytest.approx(0.3)
    assert facts["sources"]["stock"] == "given"
    assert sum(facts["fits"].values()) == pytest.approx(1.0, abs=1e-4)
    text = "\n".join(tolerance_lines(result, Voice("mm")))
    assert "attack first: stock" in text
    assert "from memory" in text
    held = joint_spread(the_cut(job), kit, turns=False, cuts=1000)
    assert held.spread.width.worst < result.spread.width.worst


@pytest.mark.parametrize(
    "keys", [{"cuts": 0}, {"cuts": 10**9}, {"most": 0.0}, {"given": {"bit": -1.0}}, {"given": {"bit": float("nan")}}]
)
def test_tolerances_that_cannot_be(keys: dict) -> None:
    with pytest.raises(InputError):
        joint_spread(the_cut(groove_job()), load_kit("metric-shop"), **keys)


@pytest.mark.parametrize("pattern", [False, True])
@pytest.mark.parametrize("cut", [None, 12.7, 13.0, 40.0, 2000.0])
@pytest.mark.parametrize(("bit", "bushing"), [(12.7, 15.875), (3.0, 40.0), (10.0, 30.0)])
def test_the_picture_is_plain_and_fits_a_terminal(bit: float, bushing: float, cut: float | None, pattern: bool) -> None:
    if cut is not None and cut < bit:
        cut = bit
    lines = offset_picture(bit, bushing, cut, pattern=pattern, voice=Voice("mm"))
    assert all(line.isascii() and len(line) <= 80 and line == line.rstrip() for line in lines)
    assert "offset" in lines[-1]


def test_the_picture_of_a_groove_lines_up() -> None:
    lines = offset_picture(10.0, 30.0, 40.0, pattern=False, voice=Voice("mm"))
    ruler, sheet, wood = lines[0], lines[1], lines[3]
    assert ruler.index("<") == sheet.index("|")
    assert ruler.rindex(">") + 1 == sheet.rindex("  sheet") - 8
    assert lines[6].index("<") == wood.index("|")


def test_the_kit_is_ranked_once_and_not_again_for_each_pair(monkeypatch: pytest.MonkeyPatch) -> None:
    """The oracle is each pair's own plan, which ranks the kit for itself."""
    each, kit, voice = the_cut(groove_job()), load_kit("metric-shop"), Voice("mm")
    judged = []

    def counted(pair: Pair, *arguments: object) -> Verdict:
        judged.append(pair)
        return judge(pair, *arguments)

    judge = pairs.judge
    monkeypatch.setattr(pairs, "judge", counted)
    found = pairs_for_cut(each, kit, voice).judged
    good = [one for one in found if one.verdict.ok]
    assert good
    assert len(judged) == len(found)
    for one in good:
        pair = one.verdict.pair
        bushing = kit.bushing(pair.bushing.name)
        if not one.more:
            assert one.base == plan_template(each.cut, kit, bit=pair.bit, bushing=bushing, voice=voice).support
        else:
            with pytest.raises(Refused):
                plan_template(each.cut, kit, bit=pair.bit, bushing=bushing, voice=voice)


def test_of_a_large_kit_the_best_pairs_are_laid_on_the_board_and_the_rest_is_counted(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The oracle is the list of the whole kit, of which these are the first."""
    each, kit, voice = the_cut(groove_job()), load_kit("metric-shop"), Voice("mm")
    whole = pairs_for_cut(each, kit, voice)
    working = [one for one in whole.judged if one.ok]
    laid: list[str] = []
    rests = bench.rests

    def counted(opening: BareOpening, *arguments: object) -> Support:
        laid.append(str(opening.verdict.pair))
        return rests(opening, *arguments)

    monkeypatch.setattr(bench, "rests", counted)
    monkeypatch.setattr(bench, "MOST_SHOWN", 2)
    some = pairs_for_cut(each, kit, voice)
    refused = [str(one.verdict.pair) for one in whole.judged if one.more]
    assert len(working) > 4
    assert [pair for pair in laid if pair not in refused] == [str(one.verdict.pair) for one in working[:2]]
    kept = [one for one in some.judged if one.ok]
    assert [one.base for one in kept[:2]] == [one.base for one in working[:2]]
    assert not any(one.base for one in kept[2:])
    text = "\n".join(pair_lines([some], voice))
    assert f"and {len(kept) - 2} more work by their sums" in text
    assert len(some.as_dict()["pairs"]) == len(whole.judged)
