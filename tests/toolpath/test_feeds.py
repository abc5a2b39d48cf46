"""Feeds and speeds: the tables, the sums, and a reason for everything that was reduced."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.cutting import a_bit
from support.programs import a_machine

from jigcam.kit import load_kit
from jigcam.toolpath.feeds import (
    CUTTING_ENERGY,
    RIM_SPEED,
    RUBS,
    chip_load,
    chip_range,
    choose,
    highest_rpm,
    material_class,
    thinning,
)
from jigcam.units import Unit, Voice

STRONG = a_machine(light=False, max_feed=(20_000.0, 20_000.0, 5_000.0), power=3_000.0)


@pytest.mark.parametrize(
    ("diameter", "kind", "low", "high"),
    [
        (3.2, "hardwood", 0.08, 0.13),
        (6.35, "softwood", 0.28, 0.33),
        (9.5, "mdf", 0.51, 0.58),
        (12.7, "hardwood", 0.48, 0.53),
        (12.7, "mdf", 0.64, 0.69),
    ],
)
def test_chip_loads_of_full_power_routers(diameter: float, kind: str, low: float, high: float) -> None:
    # Common practice, no source.
    assert low <= chip_load(diameter, kind) <= high


@pytest.mark.parametrize(("share", "factor"), [(0.1, 1.67), (0.25, 1.155), (0.5, 1.0), (1.0, 1.0)])
def test_chip_thinning(share: float, factor: float) -> None:
    # Derived: D / (2√(a(D − a))).
    assert thinning(share * 6.35, 6.35) == pytest.approx(factor, abs=0.005)


def test_the_removal_keeps_the_chip_as_thick_as_in_a_full_cut() -> None:
    # The thickest chip of an engagement a < D/2 is f·sin φ with cos φ = 1 − 2a/D; at a = D/2 it is f (textbook).
    diameter, a = 8.0, 1.1
    sine = math.sin(math.acos(1.0 - 2.0 * a / diameter))
    assert thinning(a, diameter) * sine == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("diameter", "most"), [(12.7, 24_000), (25.0, 24_000), (50.0, 18_000), (64.0, 16_000), (89.0, 12_000)]
)
def test_highest_speeds_by_diameter(diameter: float, most: float) -> None:
    # Common practice, no source: a rim speed of about 55 m/s.
    rpm, _ = highest_rpm(a_bit(diameter))
    assert 0.85 * most <= rpm <= most
    assert math.pi * diameter / 1000.0 * rpm / 60.0 <= RIM_SPEED + 1e-9


def test_what_is_marked_on_the_bit_comes_first() -> None:
    assert highest_rpm(a_bit(30.0, max_rpm=9_000))[0] == 9_000


def test_feed_is_chip_times_flutes_times_speed() -> None:
    # F = f·n·z (textbook).
    feeds = choose(a_bit(6.35), "black cherry", STRONG, 6.0)
    assert feeds.feed == pytest.approx(feeds.chip * 2 * feeds.rpm)
    assert 0.23 <= feeds.chip <= 0.28


def test_a_light_machine_takes_half_the_depth_and_small_chips() -> None:
    feeds = choose(a_bit(6.35), "black cherry", a_machine(light=True), 12.0)
    assert feeds.depth_per_pass <= 6.35 / 2
    assert 0.03 <= feeds.chip <= 0.13
    assert any("light machine" in reason for reason in feeds.reasons)


def test_deep_passes_reduce_the_chip() -> None:
    # −25 % at two diameters, −50 % at three (common practice, no source).
    chips = [choose(a_bit(6.35), "mdf", STRONG, depth * 6.35, at_once=True).chip for depth in (1, 2, 3)]
    assert chips[1] / chips[0] == pytest.approx(0.75, abs=0.01)
    assert chips[2] / chips[0] == pytest.approx(0.5, abs=0.01)


@pytest.mark.parametrize("diameter", [3.0, 6.35, 9.5, 12.7, 19.0])
@pytest.mark.parametrize("dial", [None, ((1.0, 8_000.0), (2.0, 12_000.0), (3.0, 18_000.0), (4.0, 24_000.0))])
def test_a_machine_that_is_not_light_does_not_get_its_slowest_spindle(
    diameter: float, dial: tuple[tuple[float, float], ...] | None
) -> None:
    """It was told 8,000 rpm, and that 3577 would be right."""
    # Common practice, no source: a router bit's lowest useful speed is 8,000 to 10,000 rpm.
    feeds = choose(a_bit(diameter), "mdf", a_machine(light=False, power=3000.0, dial=dial), 6.0)
    assert feeds.rpm >= 10_000
    assert not [reason for reason in feeds.reasons if "would be right" in reason]
    low, _ = chip_range(diameter, "mdf")
    if feeds.chip < 0.95 * low:
        assert feeds.rpm <= 12_000
        assert any("smaller chip" in reason for reason in feeds.reasons)


@pytest.mark.parametrize(("fastest", "rpm"), [(250.0, 8_000), (700.0, 10_000)])
def test_a_machine_so_slow_that_the_edge_would_rub_turns_as_slowly_as_is_of_use(fastest: float, rpm: float) -> None:
    machine = a_machine(spindle=(5_000.0, 24_000.0), max_feed=(fastest, fastest, 100.0))
    assert choose(a_bit(6.35), "mdf", machine, 3.0).rpm == rpm


@pytest.mark.parametrize("depth", [1.0, 2.0, 3.0])
def test_the_chip_lies_in_its_range_where_the_machine_is_fast_enough(depth: float) -> None:
    # Common practice, no source: −25 % at two diameters, −50 % at three.
    feeds = choose(a_bit(6.35), "mdf", STRONG, depth * 6.35, at_once=True)
    low, high = (limit * {1.0: 1.0, 2.0: 0.75, 3.0: 0.5}[depth] for limit in (0.33, 0.41))
    assert low <= feeds.chip <= high


def test_power_falls_with_the_speed_unless_the_kit_says_otherwise() -> None:
    # Derived: at the same torque 800 W at 24,000 rpm are 333 W at 10,000.
    machine = a_machine(light=False, power=800.0, max_feed=(4000.0, 4000.0, 1500.0))
    falling = choose(a_bit(12.7), "black cherry", machine, 12.7, at_once=True)
    steady = choose(
        a_bit(12.7), "black cherry", machine.model_copy(update={"full_power_from": 8000.0}), 12.7, at_once=True
    )
    assert falling.rpm == steady.rpm == 10_000
    assert falling.feed == pytest.approx(steady.feed * 10 / 24, rel=0.03)
    needs = CUTTING_ENERGY["hardwood"] * 12.7 * 12.7 * falling.feed / 60.0
    assert 0.75 * 333.0 <= needs <= 333.0
    assert any("333 W at 10000 rpm of its 800 W" in reason for reason in falling.reasons)


def test_a_weak_spindle_takes_more_passes_before_the_edge_rubs() -> None:
    machine = a_machine(light=False, power=200.0)
    at_once = choose(a_bit(12.7), "black cherry", machine, 12.0, at_once=True)
    feeds = choose(a_bit(12.7), "black cherry", machine, 12.0)
    assert at_once.chip < RUBS
    assert feeds.depth_per_pass < 12.0 / 1.5
    assert feeds.chip >= RUBS
    assert any("too weak" in reason for reason in feeds.reasons)


@pytest.mark.parametrize(("units", "other"), [("in", " mm"), ("mm", " in ")])
def test_reasons_speak_in_the_units_of_the_job(units: Unit, other: str) -> None:
    machines = (a_machine(), a_machine(light=False, power=150.0), a_machine(max_feed=(300.0, 300.0, 100.0)))
    for machine in machines:
        for bit in (a_bit(3.0), a_bit(12.7), a_bit(60.0)):
            for reason in choose(bit, "black cherry", machine, 9.0, voice=Voice(units)).reasons:
                assert other not in reason.replace("in one pass", "").replace(" in a minute", ""), reason
                assert not (units == "in" and "m/s" in reason)


def test_a_dial_is_set_to_one_of_its_marks_and_the_mark_is_said() -> None:
    machine = a_machine(dial=((1.0, 10_000.0), (2.0, 13_500.0), (3.0, 17_000.0), (4.0, 21_000.0)))
    feeds = choose(a_bit(6.35), "mdf", machine, 6.0)
    assert (feeds.dial, feeds.rpm) in machine.dial
    assert any(f"Dial at {feeds.dial:g}" in reason for reason in feeds.reasons)


def test_a_weak_spindle_feeds_slower() -> None:
    strong, weak = (choose(a_bit(12.7), "black cherry", a_machine(light=False, power=p), 12.0) for p in (3000, 200))
    assert weak.feed < strong.feed
    assert any("200 W" in reason for reason in weak.reasons)


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("mdf", "mdf"),
        ("birch plywood", "softwood"),
        ("black cherry", "hardwood"),
        ("Sitka spruce", "softwood"),
        ("sitka spruce", "softwood"),
        (None, "hardwood"),
        ("driftwood", "hardwood"),
    ],
)
def test_classes_of_materials(name: str | None, kind: str) -> None:
    assert material_class(name) == kind


@given(
    diameter=st.floats(1.0, 40.0),
    depth=st.floats(0.2, 25.0),
    flutes=st.integers(1, 4),
    light=st.booleans(),
    power=st.floats(100, 3000),
    material=st.sampled_from(["mdf", "black cherry", "Sitka spruce", None]),
    fastest=st.floats(300, 20_000),
)
def test_everything_stays_within_bit_and_machine(
    diameter: float, depth: float, flutes: int, light: bool, power: float, material: str | None, fastest: float
) -> None:
    machine = a_machine(light=light, power=power, max_feed=(fastest, 0.8 * fastest, 0.5 * fastest))
    bit = a_bit(diameter, flutes=flutes)
    feeds = choose(bit, material, machine, depth)
    assert machine.spindle[0] <= feeds.rpm <= machine.spindle[1]
    assert 0.0 < feeds.feed <= 0.8 * fastest
    assert 0.0 <= feeds.plunge <= min(feeds.feed / 3.0, machine.max_feed[2])
    assert feeds.depth_per_pass <= diameter * (0.5 if light else 1.0) + 1e-9
    count = depth / feeds.depth_per_pass
    assert count == pytest.approx(round(count))
    assert math.radians(3) <= feeds.ramp_angle <= math.radians(5)
    assert feeds.rpm >= min(8_000.0, highest_rpm(bit)[0]) - 100.0 or feeds.rpm >= machine.spindle[1]
    if feeds.chip < RUBS - 1e-9:
        assert any("rub" in reason for reason in feeds.reasons)


def test_every_bit_of_the_shipped_kits_can_be_run() -> None:
    for kit in map(load_kit, ("inch-shop", "metric-shop")):
        for bit in kit.bits:
            feeds = choose(bit, kit.sheet.material, kit.machine, min(6.0, bit.cutting_length), voice=kit.voice)
            assert feeds.feed > 0.0
            assert all(reason.endswith(".") for reason in feeds.reasons)


def test_a_kit_says_how_deep_its_machine_goes() -> None:
    stiff, soft = (a_machine(light=True, pass_depth=share) for share in (1.5, 0.25))
    assert choose(a_bit(6.35), "mdf", stiff, 18.0).depth_per_pass == pytest.approx(9.0), "2 passes of at most 9.5"
    feeds = choose(a_bit(6.35), "mdf", soft, 3.0)
    assert feeds.depth_per_pass == pytest.approx(1.5)
    assert any("at most 0.25 diameters (the kit)" in reason for reason in feeds.reasons)
    # The chips of a light machine stay as they are.
    assert choose(a_bit(6.35), "mdf", stiff, 6.0).chip == choose(a_bit(6.35), "mdf", a_machine(light=True), 3.0).chip


def test_a_narrow_cut_may_be_the_deeper_for_the_same_wood_at_once() -> None:
    """Half a diameter at full width on a light machine; 1.5 diameters at the most, however narrow."""
    machine, bit = a_machine(light=True), a_bit(6.0)
    full = choose(bit, "black cherry", machine, 24.0)
    for width in (4.0, 2.5, 1.0):
        narrow = choose(bit, "black cherry", machine, 24.0, width=width)
        assert full.depth_per_pass < narrow.depth_per_pass <= 9.0
        assert narrow.depth_per_pass * width <= 3.0 * 6.0 + 1e-9
        assert any(f"{width:g} mm wide: no more wood at once" in reason for reason in narrow.reasons)
    assert choose(bit, "black cherry", machine, 24.0, width=6.0) == full
