"""Every rule of the proof is broken once, and named with its line."""

from __future__ import annotations

from typing import Literal

import pytest
from support.hand_files import file_of, hand_files, slot_file, slot_loop
from support.hand_targets import target_of

from jigcam.findings import stops
from jigcam.geometry import difference, rectangle, slot
from jigcam.kit import Bit, Nut, load_kit
from jigcam.proof import KeepOut, Proof, Removal, Stock, Target, prove

KIT = load_kit("inch-shop")
MACHINE = KIT.machine
QUARTER = KIT.bit("straight 1/4")
SLOT = slot_file()


def rules(proof: Proof) -> set[str]:
    return {finding.rule for finding in stops(proof.findings)}


def judged(text: str, bit: Bit = QUARTER) -> Proof:
    return prove(text, target_of(SLOT), MACHINE, bit)


def changed(old: str, new: str) -> Proof:
    assert old in SLOT.text
    return judged(SLOT.text.replace(old, new, 1))


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("S16000 M3", "S16000", "spindle-off"),
        ("S16000 M3", "M3", "spindle-off"),
        ("S16000 M3", "S16000 M4", "spindle-direction"),
        ("S16000", "S30000", "spindle-speed"),
        ("S16000", "S4000", "spindle-speed"),
        ("F1000", "F6000", "feed-over"),
        ("F400", "F0", "feed-missing"),
        ("G0 Z5.\nS16000", "S16000", "first-move"),
        ("G0 Z5.\nS16000", "G0 X0. Z5.\nS16000", "first-move"),
        ("G0 Z5.\nM5", "M5", "end-low"),
        ("G0 Z5.\nM5", "M5\nG0 Z5.", "spindle-off"),
        ("G0 Z1.", "G0 Z-2.", "rapid-in-wood"),
        ("G0 X26.0000 Y27.1750\nG0 Z1.", "G0 Z1.\nG0 X26. Y27.175\nG0 X26. Y40.\nG0 Z0.5\nG0 Y27.175", "rapid-low"),
        ("G0 X26.0000 Y27.1750\nG0 Z1.", "G0 X26. Y27.175 Z0.5", "rapid-aslant"),
        ("G21", "G20", "travel"),
        ("Z-6.0000", "Z-13.", "too-deep"),
        ("G90 G94 G54 G61", "G90 G94 G54 G64", "path-mode"),
        ("G90 G94 G54 G61", "G90 G94 G54", "path-mode"),
        ("M30\n", "", "program-end-missing"),
        ("Z-6.0000", "Z-6.06", "gouge"),
        ("Z-6.0000", "Z-5.94", "left"),
        ("X114.0000", "X114.06", "gouge"),
        ("G21\n", "", "units-unstated"),
    ],
)
def test_a_broken_rule(old: str, new: str, rule: str) -> None:
    proof = changed(old, new)
    assert rule in rules(proof), proof.findings
    assert not proof.ok


def test_the_line_is_named() -> None:
    text = SLOT.text.replace("Z-6.0000", "Z-6.2000")
    line = next(k for k, words in enumerate(text.splitlines(), 1) if "Z-6.2000" in words)
    gouges = [f for f in judged(text).findings if f.rule == "gouge"]
    assert f"line {line}," in gouges[0].where
    assert "0.200 mm" in gouges[0].says


def test_that_reading_stopped_is_told_although_most_faults_are_not() -> None:
    proof = judged("Q\n" * 200)
    assert "too-many-faults" in rules(proof)
    assert len(proof.findings) < 60


def test_units_that_were_not_agreed() -> None:
    inch = next(file for file in hand_files() if file.name == "inch groove")
    target = target_of(inch)
    proof = prove(inch.text.replace("G20", "G21"), target, MACHINE, KIT.bit(inch.bit))
    assert {"units", "left"} <= rules(proof)


def test_depth_is_measured_up_and_width_sideways() -> None:
    assert changed("Z-6.0000", "Z-6.0600").gouge_mm == pytest.approx(0.06, abs=1e-6)
    assert changed("Z-6.0000", "Z-5.9000").left_mm == pytest.approx(0.1, abs=1e-3)
    lower = SLOT.text.replace("Y27.1750", "Y27.1000").replace("J2.8250", "J2.8625").replace("J-2.8250", "J-2.8625")
    assert judged(lower).gouge_mm == pytest.approx(0.075, abs=1e-3)


def test_keep_out_holds_up_to_its_height() -> None:
    target = target_of(SLOT)
    near = KeepOut(118.0, 45.0, 140.0, 60.0, 4.0, "clamp")
    touching = KeepOut(110.0, 35.0, 140.0, 60.0, 4.0, "clamp")
    low = KeepOut(110.0, 35.0, 140.0, 60.0, -7.0, "clamp")
    for keep_out, refused in ((near, False), (touching, True), (low, False)):
        held = Target(target.stock, target.removals, keep_outs=(keep_out,), units="mm")
        assert ("keep-out" in rules(prove(SLOT.text, held, MACHINE, QUARTER))) is refused


def test_a_plunge_of_a_bit_that_cannot() -> None:
    blunt = QUARTER.model_copy(update={"plunges": False})
    assert judged(SLOT.text, blunt).ok
    straight_down = SLOT.text.replace("G1 Z0. F400", "G1 Z-2. F400")
    assert "plunge" in rules(judged(straight_down, blunt))
    # The same descent where the wood has gone is none.
    again = SLOT.text.replace("G0 Z5.\nM5", "G0 Z5.\nG1 Z-6. F400\nG0 Z5.\nM5")
    assert judged(again, blunt).ok


def test_rapids_over_ground_already_cut() -> None:
    inside = "G0 Z-3.\nG0 X60. Y27.175\nG0 X60. Y30.\nG0 Z5.\nM5"
    assert changed("G0 Z5.\nM5", inside).ok
    assert "rapid-in-wood" in rules(changed("G0 Z5.\nM5", inside.replace("Y30.", "Y36.")))
    # The same rapid before the slot was cut.
    early = SLOT.text.replace("G1 Z0. F400", "G0 Z-1.\nG0 Z1.\nG1 Z0. F400")
    assert "rapid-in-wood" in rules(judged(early))


def test_a_shank_in_wood() -> None:
    short = QUARTER.model_copy(update={"cutting_length": 2.0})
    # Passes of 3 mm with 2 mm of edge: the shank rubs in the wood above it.
    assert "shank-in-wood" in rules(judged(SLOT.text, short))
    enough = QUARTER.model_copy(update={"cutting_length": 3.5})
    # With 3.5 mm the second pass works below what the first has opened; the slender shank has room.
    assert judged(SLOT.text, enough).ok
    thick = QUARTER.model_copy(update={"cutting_length": 3.5, "shank": 12.7})
    assert "shank-in-wood" in rules(judged(SLOT.text, thick))


def test_a_shank_of_the_same_width_follows_its_edges_down() -> None:
    flush = QUARTER.model_copy(update={"cutting_length": 3.5, "shank": QUARTER.diameter})
    # The passes above took the wood with the edges, on the very same way.
    assert judged(SLOT.text, flush).ok
    # Edges too short for a pass leave wood between those of one pass and of the next.
    short = flush.model_copy(update={"cutting_length": 2.0})
    assert "shank-in-wood" in rules(judged(SLOT.text, short))


def dovetail_lines(*after: str) -> str:
    return file_of("G0 X-20. Y40.", "G0 Z1.", "G1 Z-8. F400", "X120. F800", *after or ("X-20.",))


def dovetail_target() -> Target:
    bit = KIT.bit("dovetail 1/2 x 8")

    def section(z: float):
        half = float(bit.radius_at([z + 8.0])[0])
        return slot((-60.0, 40.0), (120.0 + half, 40.0), 2.0 * half)

    return Target(Stock.of_size(200.0, 80.0, 25.0), (Removal("socket", section, (0.0, -8.0), prismatic=False),))


def test_a_dovetail_leaves_by_the_way_it_came() -> None:
    bit = KIT.bit("dovetail 1/2 x 8")
    assert prove(dovetail_lines(), dovetail_target(), MACHINE, bit).ok
    lifted = prove(dovetail_lines("G0 Z5."), dovetail_target(), MACHINE, bit)
    assert {"gouge", "rapid-in-wood"} <= rules(lifted)
    # Half a millimetre up inside the slot widens its neck by 0.5 · tan 8° on each side.
    raised = prove(dovetail_lines("Z-7.5", "X-20."), dovetail_target(), MACHINE, bit)
    assert raised.gouge_mm == pytest.approx(0.5 * 0.14054, abs=0.002)


def test_a_sheet_without_tabs_comes_loose() -> None:
    sheet = next(file for file in hand_files() if file.name == "sheet")
    target, bit = target_of(sheet), KIT.bit(sheet.bit)
    kept = prove(sheet.text, target, MACHINE, bit)
    assert "comes-loose" not in {f.rule for f in kept.findings}
    cut_free = sheet.text.replace("Z-9.7", "Z-13.")
    proof = prove(cut_free, target, MACHINE, bit)
    loose = [f for f in proof.findings if f.rule == "comes-loose"]
    assert len(loose) == 1
    # The last cut through is the one that frees it: the end of the round.
    line = cut_free.splitlines()[int(loose[0].where.split(",")[0].removeprefix("line ")) - 1]
    assert line.startswith("X11.8250")
    screwed = Target(target.stock, target.removals, held=((30.0, 60.0), (5.0, 5.0)), spoil=0.5)
    assert "comes-loose" not in {f.rule for f in prove(cut_free, screwed, MACHINE, bit).findings}


def test_cutting_near_a_loose_piece() -> None:
    lines = [
        "G0 X30. Y40.",
        "G0 Z1.",
        "G1 Z-12.8 F200",
        "G1 X70. F800",
        "Y60.",
        "X30.",
        "Y40.",
        "G0 Z5.",
        "G0 X50. Y50.",
        "G0 Z1.",
        "G1 Z-3. F200",
        "G0 Z5.",
    ]
    ring = difference(rectangle(26.825, 36.825, 73.175, 63.175), rectangle(33.175, 43.175, 66.825, 56.825))
    target = Target(Stock.of_size(120.0, 100.0, 12.7), (Removal.prism("ring", ring, 12.7),), spoil=0.5)
    proof = prove(file_of(*lines), target, MACHINE, QUARTER)
    assert "cuts-loose-piece" in rules(proof)


def test_loads_of_a_slot() -> None:
    # A slot one bit wide, 3 deep: width D, depth 3, so D · 3 · F mm³/min; 1000 / (16000 · 2) mm per tooth.
    text = file_of("G0 X30. Y30.", "G0 Z1.", "G1 Z-3. F200", "X120. F1000")
    drawn = Removal.prism("slot", slot((26.825, 30), (123.175, 30), 6.35), 3.0)
    target = Target(Stock.of_size(150.0, 60.0, 12.7), (drawn,))
    worst = prove(text, target, MACHINE, QUARTER).loads
    assert worst["chip_load_mm"]["value"] == pytest.approx(1000 / (16000 * 2), abs=1e-4)
    assert worst["depth_mm"]["value"] == pytest.approx(3.0)
    assert worst["width_mm"]["value"] == pytest.approx(6.35, rel=0.15)
    assert worst["removal_mm3_min"]["value"] == pytest.approx(6.35 * 3 * 1000, rel=0.2)
    assert worst["rim_speed_m_s"]["value"] == pytest.approx(3.14159 * 6.35e-3 * 16000 / 60, rel=1e-4)
    assert worst["climb_share"] == pytest.approx(0.5, abs=0.05)


@pytest.mark.parametrize(("way", "share"), [("anticlockwise", 1.0), ("clockwise", 0.0)])
def test_climb_inside_an_opening_is_anticlockwise(way: str, share: float) -> None:
    # An inner slot takes 6.35 of the width and has no direction; a round takes 1.6 more on each side, on one hand.
    round_ = ["Y28.4", "X110.", "Y31.6", "X40."] if way == "anticlockwise" else ["Y31.6", "X110.", "Y28.4", "X40."]
    text = file_of("G0 X40. Y30.", "G0 Z1.", "G1 Z-3. F200", "X110. F1000", "X40.", *round_)
    free = Removal.prism("slot", rectangle(30, 20, 120, 40), 3.0, needed=slot((60, 30), (90, 30), 6.0))
    target = Target(Stock.of_size(150.0, 60.0, 12.7), (free,))
    assert prove(text, target, MACHINE, QUARTER).loads["climb_share"] == pytest.approx(share, abs=0.08)


def test_several_passes_of_a_slot_loop_are_proved_without_a_remark() -> None:
    text = file_of("G0 X26. Y27.175", "G0 Z1.", "G1 Z0. F400", *slot_loop(6.0, 3.175, 20.0, 120.0, 30.0, -6.0))
    proof = judged(text)
    assert proof.ok
    assert proof.as_dict()["left_mm"] <= 0.001


def test_a_groove_one_bit_wide_that_stops_short_is_no_corner() -> None:
    inch = next(file for file in hand_files() if file.name == "inch groove")
    lines = inch.text.splitlines()
    last = max(k for k, line in enumerate(lines) if line.startswith("X2.5"))
    lines[last] = "X2.46 F60."
    proof = prove("\n".join(lines) + "\n", target_of(inch), MACHINE, KIT.bit(inch.bit))
    assert proof.left_mm == pytest.approx(0.04 * 25.4, abs=0.005)
    assert not proof.left_for_chisel


def test_a_drawing_too_narrow_for_the_bit_is_no_corner() -> None:
    target = Target(Stock.of_size(150.0, 60.0, 12.7), (Removal.prism("slot", slot((20, 30), (120, 30), 6.0), 3.0),))
    proof = prove(file_of("G0 X60. Y5.", "G0 Z1.", "G1 Z-3. F200", "X61. F900"), target, MACHINE, QUARTER)
    assert {"left", "gouge"} <= rules(proof)


def test_the_collet_nut_meets_the_wood() -> None:
    nut = MACHINE.model_copy(update={"nut": Nut(diameter=20.0, length=15.0)})
    assert prove(SLOT.text, target_of(SLOT), nut, QUARTER).ok
    # 20 mm of bit, 15 of them in the nut: it is 5 mm above the tip, and the slot is 6 deep.
    stubby = QUARTER.model_copy(update={"cutting_length": 4.0, "overall_length": 20.0})
    refused = rules(prove(SLOT.text, target_of(SLOT), nut, stubby))
    assert {"gouge", "shank-in-wood"} <= refused
    clamp = KeepOut(110.0, 42.0, 140.0, 60.0, 6.0, "clamp")
    held = Target(target_of(SLOT).stock, target_of(SLOT).removals, keep_outs=(clamp,), units="mm")
    bare = MACHINE.model_copy(update={"nut": None})
    assert "keep-out" not in rules(prove(SLOT.text, held, bare, stubby))
    assert "keep-out" in rules(prove(SLOT.text, held, nut, stubby))


def test_a_quick_step_after_a_slow_slot_is_not_counted_at_the_slots_width() -> None:
    body = ("G0 X20. Y30.", "G0 Z1.", "G1 Z-6. F400", "X120. F500", "{}", "G0 Z5.", "M5", "M30")
    slow, quick = (judged(file_of("G0 Z5.", "S16000 M3", *body).format(step)) for step in ("X120.5", "X120.5 F3000"))
    assert quick.loads["removal_mm3_min"]["value"] < 1.2 * slow.loads["removal_mm3_min"]["value"]


def test_a_pointed_bit_near_the_face_over_its_own_groove_is_as_low_as_elsewhere() -> None:
    file = next(file for file in hand_files() if file.name == "marks")
    bit, target = KIT.bit(file.bit), target_of(file)
    assert "rapid-low" not in rules(prove(file.text, target, MACHINE, bit))
    back = file.text.replace("X40. Y25. F800\nG0 Z1.\n", "X40. Y25. F800\nG0 Z0.5\nG0 X10. Y10.\nG0 Z1.\n", 1)
    assert back != file.text
    assert "rapid-low" in rules(prove(back, target, MACHINE, bit))


def test_a_bit_held_up_to_its_edges_cuts_as_it_is() -> None:
    # Issue 12: the nut turned such a bit into a cone, and sound files were refused for gouges that nobody cuts.
    held = QUARTER.model_copy(update={"cutting_length": 25.4, "overall_length": 40.0, "shank": 12.7})
    nut = MACHINE.model_copy(update={"nut": Nut(diameter=22.0, length=19.0)})
    proof = prove(SLOT.text, target_of(SLOT), nut, held)
    assert proof.ok, proof.findings
    assert proof.gouge_mm <= 0.001


@pytest.mark.parametrize(("units", "says"), [("mm", "cuts 0.200 mm into"), ("in", "cuts 0.0079 in into")])
def test_findings_speak_in_the_units_of_the_job(units: Literal["mm", "in"], says: str) -> None:
    text = SLOT.text.replace("Z-6.0000", "Z-6.2000")
    findings = [f for f in prove(text, target_of(SLOT), MACHINE, QUARTER, units=units).findings if f.rule == "gouge"]
    assert says in findings[0].says
    assert findings[0].where.endswith(f" {units}")
    other = {"mm": " in", "in": " mm"}[units]
    assert not [f for f in findings if other in f.says.replace(" into", "") or other in f.where]
