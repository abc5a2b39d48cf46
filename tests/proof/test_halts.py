"""What a person meets where the machine stands: stops, changes by hand, dwells, the end; and a moved zero."""

from __future__ import annotations

import pytest
from support.hand_files import slot_file
from support.hand_targets import target_of
from support.programs import a_machine

from jigcam.findings import stops
from jigcam.kit import load_kit
from jigcam.proof import Proof, prove
from jigcam.proof.halts import BURNS

KIT = load_kit("inch-shop")
SLOT = slot_file()
LIFT = "G0 Z5.\nM5"
"""The last lift and the end of the hand-written slot; before it the tool is in the wood."""
DEEP = "G3 X26.0000 Y27.1750 I0. J-2.8250\nG0 Z5.\nM5"


def judged(text: str, machine: object = KIT.machine) -> Proof:
    return prove(text, target_of(SLOT), machine, KIT.bit(SLOT.bit))  # type: ignore[arg-type]


def rules(text: str) -> set[str]:
    return {finding.rule for finding in stops(judged(text).findings)}


def added(words: str, before: str = "G0 X26.0000") -> str:
    assert before in SLOT.text
    return SLOT.text.replace(before, f"{words}\n{before}", 1)


@pytest.mark.parametrize("stop", ["M0", "M1", "M60"])
def test_nothing_turns_while_a_person_is_asked_to_come_near(stop: str) -> None:
    assert "stop-turning" in rules(added(stop))
    assert "stop-turning" in rules(added(f"{stop}\nM5\nM3"))  # the M5 too late
    assert "stop-turning" not in rules(added(f"M5\n{stop}\nM3"))
    # At the end as well, where no motion follows.
    assert "stop-turning" in rules(SLOT.text.replace("M5\n", f"{stop}\nM5\n"))


def test_a_stop_of_a_cycle_is_a_stop_too() -> None:
    words = "G98 G88 X60. Y30. Z-2. R1. P0.1 F200\nG80"
    assert "stop-turning" not in rules(added(words))  # G88 stops the spindle itself


def test_a_change_by_hand_wants_a_standing_spindle() -> None:
    text = added("T1 M6\nG0 Z5.\nM3")
    by_hand, by_itself = (judged(text, KIT.machine.model_copy(update={"tool_change": way})) for way in WAYS)
    assert "stop-turning" in {finding.rule for finding in stops(by_hand.findings)}
    assert "stop-turning" not in {finding.rule for finding in by_itself.findings}
    assert "tool-change-spindle" in {finding.rule for finding in by_itself.findings}


WAYS = ("pause", "automatic")


def test_no_other_piece_comes_under_the_tool() -> None:
    assert "pallet-change" in rules(added("M5\nM60\nM3"))


def test_a_stop_in_the_wood() -> None:
    assert "pause-in-stock" in rules(SLOT.text.replace(LIFT, f"M5\nM0\nM3\n{LIFT}"))


def test_a_change_by_hand_with_the_tool_low() -> None:
    paused = a_machine(tool_change="pause")
    low = added("G0 Z0.5\nM5\nM0\nG0 Z5.\nM3")
    assert "tool-change-low" in {finding.rule for finding in stops(judged(low, paused).findings)}


@pytest.mark.parametrize(
    ("dwells", "level"),
    [("G4 P0.3", "caution"), (f"G4 P{BURNS + 0.1}", "stop"), ("G4 P0.4\nG4 P0.4\nG4 P0.4", "stop")],
)
def test_a_dwell_in_the_wood_burns_it(dwells: str, level: str) -> None:
    proof = judged(SLOT.text.replace(LIFT, f"{dwells}\n{LIFT}"))
    assert [finding.level for finding in proof.findings if finding.rule == "pause-in-stock"] == [level]


def test_a_dwell_above_the_wood_burns_nothing() -> None:
    assert judged(added("G4 P60")).ok


def test_a_percent_sign_stops_no_spindle() -> None:
    body = SLOT.text.removesuffix("M5\nM30\n")
    assert "end-turning" in rules(f"%\n{body}%\n")
    assert judged(f"%\n{body}M5\n%\n").ok
    assert judged(f"%\n{body}M30\n%\n").ok


@pytest.mark.parametrize(
    "words",
    [
        *("G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"),
        *("G92 X0", "G92 Z0", "G92.1", "G92.2", "G92.3"),
        *("G10 L2 P1 X1", "G10 L2 P2 Z1", "G28", "G30", "G53 G0 Z0"),
    ],
)
@pytest.mark.parametrize("before", ["G17", "G0 Z5.", "G0 X26.0000", "G1 Z0.", "M5"])
def test_zero_stays_where_it_was_set(words: str, before: str) -> None:
    assert rules(added(words, before)) & {"other-zero", "zero-moved", "position-unknown"}, words


def test_many_remarks_hide_none_that_stops() -> None:
    crowd = "\n".join(["/(no matter)", "/G0 Z5."] * 60)
    assert "zero-moved" in rules(added(f"{crowd}\nG92 X0"))


# ---- block delete


@pytest.mark.parametrize("words", ["G0 Z5.", "S16000 M3", "Z-6.0000", "G61", "M30", "J2.8250"])
def test_a_line_that_matters_may_not_be_switched_off(words: str) -> None:
    lines = SLOT.text.split("\n")
    place = max(k for k, text in enumerate(lines) if words in text)
    lines[place] = "/" + lines[place]
    proof = judged("\n".join(lines))
    where = [finding.where for finding in stops(proof.findings)]
    assert where
    assert all(each.startswith("block delete on, ") for each in where)


def test_a_line_that_only_the_switch_leaves_out_has_to_be_harmless_as_well() -> None:
    proof = judged(added("/G1 Z-9. F100"))
    assert stops(proof.findings)
    assert judged(added("/(a remark)\n/G0 Z5.")).ok
