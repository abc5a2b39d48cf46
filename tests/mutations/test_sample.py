"""A seeded sample of the mutants in every run of the tests; the full run is a command of its own (see `run`)."""

from __future__ import annotations

import pytest
from mutations.cases import example_cases, hand_cases, kind_cases, starter_cases
from mutations.judge import Judge
from mutations.mutate import mutants
from mutations.run import judge_all


def test_the_judge_finds_no_harm_in_the_files_themselves() -> None:
    for case in (*hand_cases(), *example_cases()):
        assert Judge(case.text, case.shop).verdict(case.text) == ("harmless", ""), case.name
        assert case.stopped(case.text) == "", case.name


def test_a_sample_of_the_hand_written_files() -> None:
    tally = judge_all(hand_cases(), every=70, seed=5)
    print(tally.table())
    assert tally.size > 100
    assert not tally.missed
    assert not tally.false


def test_a_sample_of_the_shipped_examples() -> None:
    tally = judge_all(example_cases(), every=4000, seed=6)
    print(tally.table())
    assert tally.size > 40
    assert not tally.missed
    assert not tally.false


def test_a_sample_of_a_sheet_that_several_joints_share() -> None:
    tally = judge_all(example_cases(("shelf-and-strip",)), every=3000, seed=9)
    print(tally.table())
    assert tally.size > 10
    assert not tally.missed
    assert not tally.false


def test_a_sample_of_a_dovetail_bit_in_the_end_of_a_board() -> None:
    cases = [case for case in example_cases(("carcase",)) if case.bit.undercuts][:1]
    tally = judge_all(cases, every=240, seed=7)
    print(tally.table())
    assert tally.size > 5
    assert not tally.missed
    assert not tally.false


def test_a_sample_of_the_starter_of_every_kind_of_joint() -> None:
    for case in starter_cases():
        tally = judge_all([case], every=max(1, len(list(mutants(case.text))) // 12), seed=8)
        print(tally.table())
        assert tally.size > 4, case.name
        assert not tally.missed
        assert not tally.false


@pytest.mark.parametrize(
    ("name", "count"), [("mortise", 7), ("half-blind-dovetail", 8), ("finger-joint", 8), ("sliding-dovetail", 6)]
)
def test_a_sample_of_the_files_of_a_kind(name: str, count: int) -> None:
    """count: of each of its files; a sheet that mortises share is among them."""
    for case in kind_cases(name):
        tally = judge_all([case], every=len(list(mutants(case.text))) // count, seed=12)
        print(tally.table())
        assert tally.size > 3, case.name
        assert not tally.missed
        assert not tally.false


def test_comments_are_changed_where_there_are_some() -> None:
    case = example_cases(("tilted-shelf-direct",))[0]
    kinds = {mutant.kind for mutant in mutants(case.text)}
    assert {"comment dropped", "number in a comment", "word in a comment"} <= kinds


def test_a_sample_of_words_that_people_obey() -> None:
    case = example_cases(("tilted-shelf-direct",))[0]
    judge, chosen = Judge(case.text, case.shop), [m for m in mutants(case.text) if m.line < 12 and "omment" in m.kind]
    verdicts = {mutant.says: (judge.verdict(mutant.text)[0], case.stopped(mutant.text)) for mutant in chosen[::2]}
    assert len(verdicts) > 8
    assert not [says for says, (verdict, stopped) in verdicts.items() if verdict == "harmful" and not stopped]
    assert not [says for says, (verdict, stopped) in verdicts.items() if verdict == "harmless" and stopped]


def test_mutants_are_of_every_kind() -> None:
    kinds = {mutant.kind for case in hand_cases() for mutant in mutants(case.text)}
    wanted = {
        "X +0.06 mm",
        "Z -10 mm",
        "Y sign",
        "G0 to G1",
        "G3 to G2",
        "G21 to G20",
        "G90 to G91",
        "I and J swapped",
        "M3 dropped",
        "M3 to M4",
        "S × 10",
        "F × 0.1",
        "line dropped",
        "line doubled",
        "lines swapped",
        "end cut off",
        "digit lost in X",
        "lines dropped",
        "operation dropped",
        "operations swapped",
        "block delete",
        "% for M5 and M30",
        *("G55 added", "G92 X0 added", "G10 L2 P1 X1 Y1 added", "M6 added", "T2 added", "M0 added", "M5 added"),
        *("G43 H1 added", "G4 P30 added", "(MSG, PUT IN THE 8 MM BIT) added"),
    }
    assert wanted <= kinds
