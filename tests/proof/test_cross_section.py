"""How much is gone at a height, and how deep a file cuts, against areas and depths in plain numbers."""

from __future__ import annotations

import math

import pytest
from support.hand_files import file_of, slot_file

from jigcam.gcode import read
from jigcam.kit import load_kit
from jigcam.proof import Stock, Target, VirtualCut
from jigcam.proof.cross_section import MANY

KIT = load_kit("inch-shop")


def cut_of(text: str, bit: str = "straight 1/4", stock: tuple[float, float, float] = (150.0, 60.0, 12.7)) -> VirtualCut:
    return VirtualCut.of(read(text), Target(Stock.of_size(*stock)), KIT.the_machine, KIT.bit(bit))


def test_a_slot_has_its_area_above_its_floor_and_none_below() -> None:
    cut = cut_of(slot_file().text)
    assert cut.depth == 6.0
    slot = cut.at(-5.999)
    assert slot is not None
    # 100 long over its round ends and 12 wide.
    assert slot.area == pytest.approx(88.0 * 12.0 + math.pi * 36.0, abs=1e-3)
    assert slot.edge == pytest.approx(2.0 * 88.0 + 12.0 * math.pi, abs=1e-3)
    below = cut.at(-6.001)
    assert below is not None
    assert below.area == 0.0


def test_beside_the_stock_nothing_counts_and_the_depth_ends_with_it() -> None:
    cut = cut_of(file_of("G0 X-20 Y30", "G0 Z-14", "G1 X170 F900"))
    assert cut.depth == 12.7
    through = cut.at(-12.0)
    assert through is not None
    assert through.area == pytest.approx(150.0 * 6.35, abs=1e-6)


def test_a_bit_that_is_wider_at_its_tip_takes_more_below() -> None:
    bit = next(each for each in KIT.bits if each.undercuts)
    text = file_of("G0 X-20 Y30", f"G0 Z-{bit.cutting_length / 2}", "G1 X170 F900")
    cut = cut_of(text, bit.name)
    depth = bit.cutting_length / 2
    for height in (0.25 * depth, 0.75 * depth):
        section = cut.at(-depth + height)
        assert section is not None
        assert section.area == pytest.approx(150.0 * 2.0 * (bit.radius - height * math.tan(bit.angle)), rel=1e-3)


def test_what_too_many_strokes_clear_is_not_said() -> None:
    ways = [f"G1 X{10 + 100 * (k % 2)} Y{10 + 0.005 * k:.3f}" for k in range(MANY + 1)]
    assert cut_of(file_of("G0 X10 Y10", "G1 Z-2 F300", "F900", *ways)).at(-1.5) is None
