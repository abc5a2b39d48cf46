"""How much wood a bit may have before it at once; the numbers are those of the shop's handbooks, by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from support.hand_files import file_of, slot_file
from support.hand_targets import target_of

from jigcam.findings import stops
from jigcam.geometry import slot
from jigcam.kit import Bit, Machine, load_kit
from jigcam.proof import Proof, Removal, Stock, Target, prove
from jigcam.proof.engagement import compliance
from jigcam.proof.envelope import Envelope

KIT = load_kit("metric-shop")
SIX = KIT.bit("straight 6")
LIGHT = KIT.machine
STIFF = LIGHT.model_copy(update={"light": False, "power": 3000.0})


def slotted(depth: float, feed: float, machine: Machine, passes: int = 1, bit: Bit = SIX, rpm: int = 16000) -> Proof:
    """A slot as wide as the bit, so deep in so many passes, each entered straight down."""
    lines = ["G0 X30. Y30.", "G0 Z1."]
    for k in range(1, passes + 1):
        lines += [f"G1 Z{-depth * k / passes:.4f} F150", f"X{120 if k % 2 else 30}. F{feed}"]
    r = bit.radius
    drawn = Removal.prism("slot", slot((30 - r, 30), (120 + r, 30), 2 * r), depth)
    return prove(file_of(*lines, rpm=rpm), Target(Stock.of_size(150.0, 60.0, 25.0), (drawn,)), machine, bit)


def rules(proof: Proof) -> set[str]:
    return {finding.rule for finding in stops(proof.findings)}


def test_three_diameters_deep_at_full_width_and_full_feed_is_a_stop() -> None:
    # 0.08 mm a tooth: 2560 mm/min at 16000 rpm and two flutes.
    assert "engagement" in rules(slotted(18.0, 2560, LIGHT))
    # The table for stiff machines ends at 0.41 mm a tooth for 6.35 mm, so a quarter of a millimetre counts as full.
    assert "engagement" in rules(slotted(18.0, 8000, STIFF.model_copy(update={"max_feed": (9000.0,) * 3})))


def test_the_same_slot_in_passes_is_none() -> None:
    proof = slotted(18.0, 2560, LIGHT, passes=6)
    assert "engagement" not in {finding.rule for finding in proof.findings}


def test_deeper_than_three_full_cuts_no_feed_is_slow_enough() -> None:
    # Half a diameter is a full cut on a light machine: nobody goes 10 mm deep at once with 6 mm of bit there.
    assert "engagement" in rules(slotted(10.0, 200, LIGHT))
    assert "engagement" not in rules(slotted(8.0, 200, LIGHT))
    assert "engagement" not in rules(slotted(10.0, 200, STIFF))


def test_a_machine_whose_kit_says_that_it_goes_deeper_bears_more() -> None:
    deeper, shallower = (LIGHT.model_copy(update={"pass_depth": share}) for share in (1.0, 0.25))
    assert "engagement" not in rules(slotted(10.0, 200, deeper))
    assert "engagement" in rules(slotted(6.0, 200, shallower))


def test_depth_width_and_chip_are_traded_for_each_other() -> None:
    # 1.5 · 0.5 · 36 mm² at 0.13 mm a tooth is the limit of a light machine: 6 mm deep at 0.117 and not at 0.068.
    quick, slow = (slotted(6.0, feed, LIGHT.model_copy(update={"max_feed": (5000.0,) * 3})) for feed in (3744, 2176))
    share = quick.loads["engagement"]["value"] / slow.loads["engagement"]["value"]
    assert share == pytest.approx(3744 / 2176, rel=0.01)
    assert slow.loads["engagement"]["value"] == pytest.approx(0.068 / 0.13 / 1.5 * 2.0, rel=0.1)


def test_a_finishing_pass_of_the_full_depth_is_a_small_cut() -> None:
    # 0.3 mm wide and 12 deep beside an open slot: 3.6 mm² of the 18 that are a full cut.
    lines = ["G0 X30. Y30.", "G0 Z1.", "G1 Z0. F400"]
    for k in range(1, 5):
        lines += [f"X120. Z{-3.0 * k:.1f} F2000", "X30.", "X120.", "X30."]
    lines += ["Y30.3", "X120."]
    free = Removal.prism("slot", slot((20, 30), (130, 30), 8.0), 12.0, needed=slot((30, 30), (120, 30), 6.0))
    proof = prove(file_of(*lines), Target(Stock.of_size(150.0, 60.0, 25.0), (free,)), LIGHT, SIX)
    assert "engagement" not in {finding.rule for finding in proof.findings}


def test_roughing_passes_deleted_leave_too_much_for_the_last_one() -> None:
    file = slot_file()
    deeper = file.text.replace("Z-6.0000", "Z-12.0000").replace("Z-3.0000", "Z-6.0000").replace("F1000", "F3000")
    lines = deeper.split("\n")
    first = next(k for k, line in enumerate(lines) if "Z-6.0000" in line)
    last = next(k for k, line in enumerate(lines) if "Z-12.0000" in line)
    shop = load_kit("inch-shop")
    target = target_of(file)
    whole = Target(target.stock, (Removal.prism("slot", target.may(-1.0), 12.0),), units="mm")
    bare = "\n".join([*lines[:first], *lines[last:]])
    assert "engagement" in rules(prove(bare, whole, shop.machine, shop.bit(file.bit)))


def test_what_files_before_have_cleared_is_no_load() -> None:
    deep = slotted(18.0, 2560, LIGHT)
    drawn = Removal.prism("slot", slot((27, 30), (123, 30), 6.0), 18.0)
    cleared = Removal.prism("cleared", slot((20, 30), (130, 30), 5.0), 17.0)
    lines = ["G0 X30. Y30.", "G0 Z1.", "G1 Z0. F400", "X120. Z-18. F2560", "X30.", "X120.", "X30."]
    target = Target(Stock.of_size(150.0, 60.0, 25.0), (drawn,), gone=(cleared,))
    proof = prove(file_of(*lines), target, LIGHT, SIX)
    assert proof.loads["engagement"]["value"] < deep.loads["engagement"]["value"] / 2.0


def test_a_bit_bends_as_a_cantilever() -> None:
    # A plain rod of 6 mm, 40 mm out of the collet, without flutes to weaken it: δ = F·L³/(3·E·I), I = π·d⁴/64.
    rod = SIX.model_copy(update={"cutting_length": 1e-6, "overall_length": 60.0, "shank": 6.0})
    bare = LIGHT.model_copy(update={"nut": None})
    expected = 40.0**3 / (3.0 * 600e3 * math.pi * 6.0**4 / 64.0)
    assert compliance(Envelope(rod), bare) == pytest.approx(expected, rel=1e-3)
    soft = rod.model_copy(update={"material": "high-speed steel"})
    assert compliance(Envelope(soft), bare) == pytest.approx(expected * 600.0 / 210.0, rel=1e-3)


def test_a_long_thin_bit_bends_more_than_a_wall_may_be_off() -> None:
    thin = SIX.model_copy(update={"name": "long", "diameter": 3.0, "cutting_length": 30.0, "overall_length": 70.0})
    proof = slotted(4.0, 1500, STIFF, bit=thin)
    assert "bit-bends" in {finding.rule for finding in proof.findings}
    assert "bit-bends" not in {finding.rule for finding in slotted(4.0, 1500, STIFF).findings}
    assert np.isfinite(proof.loads["bend_mm"]["value"])
