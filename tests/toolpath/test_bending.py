"""How far a bit bends, against the closed form of a plain rod and against the beam integrated along its length."""

from __future__ import annotations

import math

import numpy as np
import pytest
from support.cutting import a_bit
from support.programs import a_machine

from jigcam.kit import load_kit
from jigcam.toolpath import choose
from jigcam.toolpath.bending import CARBIDE, CORE, HELD, gives, push
from jigcam.units import Voice

MACHINE = a_machine()


def test_a_bit_whose_core_is_as_thick_as_its_shank_bends_like_a_rod() -> None:
    bit = a_bit(10.0).model_copy(update={"shank": 8.0, "cutting_length": 25.0, "overall_length": 70.0})
    # F·L³/3EI with I = π·d⁴/64: 50 mm free, 8 mm thick.
    assert gives(bit, MACHINE) == pytest.approx(50.0**3 / (3.0 * CARBIDE * math.pi * 8.0**4 / 64.0))


@pytest.mark.parametrize("material", [None, "high-speed steel"])
def test_a_stepped_bit_bends_as_its_curvature_adds_up(material: str | None) -> None:
    """The moment a distance x from the tip is F·x, and the tip goes aside by the sum of F·x²/EI over the length."""
    bit = a_bit(6.0).model_copy(
        update={"shank": 8.0, "cutting_length": 22.0, "overall_length": 60.0, "material": material}
    )
    edges = (np.arange(400_000) + 0.5) * (60.0 - HELD) / 400_000
    thick = np.where(edges < 22.0, CORE * 6.0, 8.0)
    modulus = 210e3 if material else 600e3
    summed = float((edges**2 / (modulus * np.pi * thick**4 / 64.0)).sum() * (60.0 - HELD) / 400_000)
    assert gives(bit, MACHINE) == pytest.approx(summed, rel=1e-5)


def test_force_at_the_rim_is_power_over_its_speed() -> None:
    # 60,000 mm³/min at 0.06 J/mm³ are 60 W; the rim of 10 mm at 18,000 rpm goes at 9.42 m/s.
    power, force = push(60_000.0, 0.06, 10.0, 18_000.0)
    assert (power, force) == (pytest.approx(60.0), pytest.approx(60.0 / (math.pi * 0.010 * 300.0)))


@pytest.mark.parametrize(("shop", "units"), [("inch-shop", "in"), ("metric-shop", "mm")])
def test_feeds_say_what_a_full_cut_asks_of_spindle_and_bit(shop: str, units: str) -> None:
    kit = load_kit(shop)
    bit = next(bit for bit in kit.bits if bit.kind == "straight" and 6.0 <= bit.diameter < 7.0)
    feeds = choose(bit, "mdf", kit.the_machine, 10.0, voice=Voice(units))
    (says,) = [reason for reason in feeds.reasons if "fullest cut takes" in reason]
    power, force = push(feeds.depth_per_pass * bit.diameter * feeds.feed, 0.045, bit.diameter, feeds.rpm)
    # A horsepower is 745.7 W, a pound of force 4.448 N; an inch shop is told no others.
    asked = (
        (f"{power / 745.7:.2f} hp", f"{force / 4.448:.1f} lb")
        if units == "in"
        else (f"{power:.0f} W", f"{force:.0f} N")
    )
    bent = Voice(units).length(force * gives(bit, kit.the_machine), 4 if units == "in" else 3)
    assert f"takes {asked[0]} and pushes the bit aside by {asked[1]}: its tip bends by {bent} " in says
