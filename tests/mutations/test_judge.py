"""The judge on small files: what it was once wrong about."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from mutations.cases import Case, hand_cases
from mutations.judge import Judge, Shop, Tabs
from mutations.mutate import mutants
from mutations.reading import Broken, parse, reparse

SHOP = Shop(
    stock=(0.0, 0.0, 100.0, 60.0, 12.0),
    radius=lambda h: 3.0,
    diameter=6.0,
    flutes=2,
    plunges=True,
    travel=(1000.0, 1000.0, 100.0),
    max_feed=(9000.0, 9000.0, 9000.0),
    spindle=(8000.0, 24000.0),
)
SAWN = """G21 G90 G17 G61
G0 Z5
X10 Y20
M3 S16000
G1 Z-12 F500
X42 F1500
X45 Z-9
X55
X58 Z-12
X90
G0 Z5
M5
M30
"""
"""A kerf along the lower edge of a sheet whose edge is y = 23, with a tab whose middle is 48 ≤ x ≤ 52."""
ENDS = ((42.0, 22.0, 48.0, 23.0), (52.0, 22.0, 58.0, 23.0))
SHEET = replace(SHOP, free=((0.0, 0.0, 100.0, 22.0),), tabs=Tabs(-9.0, ((48.0, 12.0, 52.0, 23.0),), ENDS))


def test_a_ramp_that_falls_early_bites_into_the_middle_of_a_tab_though_waste_lies_round_it() -> None:
    changed = SAWN.replace("X55\nX58", "X54\nX58")
    all_waste = replace(SHEET, tabs=Tabs(-9.0, (), ((42.0, 22.0, 58.0, 23.0),)))
    assert Judge(SAWN, SHEET).verdict(changed) == ("harmful", "the cut differs at z -9.6000")
    assert Judge(SAWN, all_waste).verdict(changed) == ("harmless", "")


def test_the_sloped_ends_of_a_tab_are_waste_only_below_its_top() -> None:
    judge = Judge(SAWN, SHEET)
    assert judge.verdict(SAWN.replace("X42 F1500", "X43 F1500"))[0] == "harmless"
    assert judge.verdict(SAWN.replace("Z-9\n", "Z-8.8\n"))[0] == "harmful"


def test_a_rapid_across_near_the_stock_from_an_unknown_place_is_unsafe() -> None:
    changed = SAWN.replace("X10 Y20\n", "").replace("M3 S16000\n", "M3 S16000\nZ0.5\nX10 Y20\n")
    assert Judge(SAWN, SHOP).verdict(changed) == ("harmful", "line 5: crosses near the stock from an unknown place")


def test_a_ridge_on_the_foot_of_an_engraved_line_is_seen_though_its_sides_are_cut() -> None:
    pointed = replace(SHOP, radius=lambda h: min(3.0, h * math.tan(math.radians(30.0))))
    head, down = "G21 G90 G17 G61\nG0 Z5\nX10 Y20\nM3 S16000\n", "G1 Z-0.4 F500\n"
    text = head + down + "X30 F1500\nG0 Z5\nX50\n" + down + "{}\nG0 Z5\nM5\nM30\n"
    judge = Judge(text.format("X30 F1500"), pointed)
    assert judge.verdict(text.format("X30.06 F1500"))[0] == "open"
    assert judge.verdict(text.format("X30.2 F1500"))[0] == "harmful"


@pytest.mark.parametrize(("feed", "verdict"), [(1500, "harmless"), (2000, "open"), (3000, "harmful")])
def test_power_is_judged_by_volume_and_leaves_room_for_estimates(feed: int, verdict: str) -> None:
    # A slot 6 mm wide and 12 mm deep at 1500 mm/min: 1800 mm³/s, which take 144 W at 0.08 J/mm³.
    judge = Judge(SAWN, replace(SHOP, power=200.0))
    assert judge.verdict(SAWN.replace("F1500", f"F{feed}.0"))[0] == verdict


@pytest.mark.parametrize("case", [case for case in hand_cases() if case.name in ("slot", "marks", "inch groove")])
def test_reading_only_what_changed_is_reading_it_all(case: Case) -> None:
    original = parse(case.text)
    for mutant in mutants(case.text):
        try:
            whole = [(m.key, m.rapid, m.feed, m.spindle, m.rpm) for m in parse(mutant.text).moves]
        except Broken as why:
            with pytest.raises(Broken, match=re.escape(str(why))):
                reparse(mutant.text, original)
            continue
        change = reparse(mutant.text, original)
        assert repr([(m.key, m.rapid, m.feed, m.spindle, m.rpm) for m in change.moves]) == repr(whole)
        assert change.moves[: change.before] == original.moves[: change.before]
        assert change.after == 0 or change.moves[-change.after :] == original.moves[-change.after :]


# ---- with what, from where, and what the person is told


@pytest.mark.parametrize(
    ("added", "verdict"),
    [
        *((words, "harmful") for words in ("G55", "G92 X0", "G10 L2 P1 X1", "T1", "M6", "T2 M6", "M60", "G43 H1")),
        *((words, "harmful") for words in ("M0", "M1", "(MSG, put in the big bit)", "(zero: at the back)")),
        *((words, "harmless") for words in ("G49", "(checked on Tuesday)", "G4 P3", "M5\nM0\nM3")),
        ("(a remark on the weather)", "open"),
    ],
)
def test_words_added_above_the_wood(added: str, verdict: str) -> None:
    assert Judge(SAWN, SHOP).verdict(SAWN.replace("G1 Z-12 F500", f"{added}\nG1 Z-12 F500"))[0] == verdict


@pytest.mark.parametrize(
    ("added", "verdict"),
    [("G4 P0.5", "harmless"), ("G4 P2", "harmful"), ("G4 P0.7\nG4 P0.7", "harmful"), ("M5\nM0\nM3", "harmful")],
)
def test_standing_in_the_wood(added: str, verdict: str) -> None:
    assert Judge(SAWN, SHOP).verdict(SAWN.replace("X45 Z-9\n", f"{added}\nX45 Z-9\n"))[0] == verdict


def test_block_delete_is_read_both_ways() -> None:
    judge = Judge(SAWN, SHOP)
    assert judge.verdict(SAWN.replace("X90\n", "/X90\n"))[0] == "harmful"
    assert judge.verdict(SAWN.replace("X90\n", "X90\n/X95\n"))[0] == "harmful"
    assert judge.verdict(SAWN.replace("X90\n", "/X90\nX90\n"))[0] == "harmless"


def test_percent_alone_ends_with_a_turning_spindle() -> None:
    judge, body = Judge(SAWN, SHOP), SAWN.removesuffix("M5\nM30\n")
    assert judge.verdict(f"%\n{body}%\n") == ("harmful", "broken: line 13: the file ends and the spindle turns on")
    assert judge.verdict(f"%\n{body}M5\n%\n")[0] == "harmless"


@pytest.mark.parametrize(("feed", "verdict"), [(2000, "harmless"), (3000, "open"), (4500, "harmful")])
def test_a_light_machine_takes_half_the_wood(feed: int, verdict: str) -> None:
    # Half a diameter at 0.13 mm a tooth is a full cut, and 1.5 of it the limit: 6 mm deep with 6 mm of bit are two at
    # 4160 mm/min, so 1.5 at 3120; both answers stand within a factor of 1.25.
    flat = "G21 G90 G17 G61\nG0 Z5\nX10 Y20\nM3 S16000\nG1 Z-6 F200\nX90 F{}\nG0 Z5\nM5\nM30\n"
    judge = Judge(flat.format(500), replace(SHOP, light=True))
    assert judge.verdict(flat.format(feed))[0] == verdict
