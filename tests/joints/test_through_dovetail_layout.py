"""Layouts: the widths of tails and pins, their slopes, and what clearance does to them."""

from __future__ import annotations

from math import atan, atan2, cos, degrees, hypot, radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.dovetails import even_layouts, layouts, lengths

from jigcam.dovetails import Layout, even_layout, tail_width
from jigcam.dovetails.judging import describe_slope

INCH = 25.4


# Slopes of dovetails and their angles to two decimals: common practice, no source, for which to use; the angles are
# atan(1/n), recomputed here as arctangents of the ratios.
@pytest.mark.parametrize(("n", "angle_deg"), [(4, 14.04), (5, 11.31), (6, 9.46), (7, 8.13), (8, 7.13)])
def test_slope_table(n: int, angle_deg: float) -> None:
    layout = even_layout(300.0, 20.0, 4, 10.0, 8.0, atan(1 / n))
    assert all(degrees(slope) == pytest.approx(angle_deg, abs=0.005) for slope in layout.slopes)
    tail = layout.tails[0]
    assert tail.end_width - tail.base_width == pytest.approx(2 * 20.0 / n)
    assert describe_slope(atan(1 / n)) == f"1:{n} ({angle_deg:.2f} deg)"


# Slopes of common dovetail bits (derived from 1/tan of their angle).
@pytest.mark.parametrize(("angle_deg", "shown"), [(7, "1:8.14"), (8, "1:7.12"), (9, "1:6.31"), (14, "1:4.01")])
def test_slopes_of_bits(angle_deg: float, shown: str) -> None:
    assert describe_slope(radians(angle_deg)).startswith(shown + " ")


def test_the_carcase() -> None:
    """Six tails in 11-1/4 in: all pins first, the rest is tails (common practice, no source)."""
    tail = tail_width(11.25 * INCH, 6, 5 / 16 * INCH, 1 / 4 * INCH)
    assert tail == pytest.approx((1 + 17 / 32) * INCH)
    layout = even_layout(11.25 * INCH, 13 / 16 * INCH, 6, 5 / 16 * INCH, 1 / 4 * INCH, atan(1 / 8))
    assert layout.tails[0].base_width == pytest.approx((1 + 17 / 32 - 13 / 64) * INCH)
    assert layout.spaces[1].end_width == pytest.approx(5 / 16 * INCH)
    assert layout.spaces[1].base_width == pytest.approx((5 / 16 + 13 / 64) * INCH)


@given(st.integers(1, 12), lengths(2, 20), lengths(2, 20), lengths(8, 40))
def test_all_tails_pins_and_half_pins_sum_to_the_width(count: int, pin: float, half_pin: float, tail: float) -> None:
    width = count * tail + (count - 1) * pin + 2 * half_pin
    assert tail_width(width, count, pin, half_pin) == pytest.approx(tail)


@given(layouts(), st.floats(0.0, 1.0))
def test_tails_and_spaces_fill_the_width_at_every_depth(layout: Layout, share: float) -> None:
    strips = (*layout.tails, *layout.spaces)
    assert sum(strip.width_at(share) for strip in strips) == pytest.approx(layout.width)
    assert len(layout.spaces) == len(layout.tails) + 1
    assert [space.half for space in layout.spaces] == [k in (0, len(layout.tails)) for k in range(len(layout.spaces))]


@given(layouts(), st.floats(0.0, 0.2), st.floats(0.0, 1.0))
def test_clearance_is_square_to_every_flank_and_comes_from_the_pins(
    layout: Layout, clearance: float, share: float
) -> None:
    for tail, below, above in zip(layout.tails, layout.pins(clearance), layout.pins(clearance)[1:], strict=False):
        for flank, pin in ((tail.lower, below.upper), (tail.upper, above.lower)):
            # Distance of a point of the pin's side from the line of the tail's flank.
            rise = (flank.base - flank.end) / layout.length
            distance = abs(pin.at(share) - flank.at(share)) / hypot(1.0, rise)
            assert distance == pytest.approx(clearance, abs=1e-9)
    assert layout.pins(clearance)[0].lower.at(share) == 0.0
    assert layout.pins(clearance)[-1].upper.at(share) == layout.width


@given(layouts(), st.floats(0.0, 0.2))
def test_sockets_are_what_pins_leave(layout: Layout, clearance: float) -> None:
    pins = layout.pins(clearance)
    for socket, below, above in zip(layout.sockets(clearance), pins, pins[1:], strict=False):
        assert (socket.lower.end, socket.lower.base) == pytest.approx((below.upper.end, below.upper.base))
        assert (socket.upper.end, socket.upper.base) == pytest.approx((above.lower.end, above.lower.base))


@given(even_layouts(), st.integers(4, 12))
def test_another_slope_keeps_the_widths_at_the_end(layout: Layout, n: int) -> None:
    other = layout.sloped(atan(1 / n))
    assert [tail.end_width for tail in other.tails] == pytest.approx([tail.end_width for tail in layout.tails])
    assert all(slope == pytest.approx(atan(1 / n)) for slope in other.slopes)


@given(even_layouts())
def test_an_even_layout_is_its_own_mirror_image(layout: Layout) -> None:
    for tail, mirrored in zip(layout.tails, reversed(layout.tails), strict=True):
        assert tail.lower.end == pytest.approx(layout.width - mirrored.upper.end)
        assert tail.lower.base == pytest.approx(layout.width - mirrored.upper.base)


def test_a_flank_moves_square_to_itself() -> None:
    layout = even_layout(100.0, 20.0, 2, 10.0, 10.0, radians(14))
    flank = layout.tails[0].lower
    moved = flank.shifted(0.5, 20.0)
    assert moved.end - flank.end == pytest.approx(0.5 / cos(radians(14)))
    assert moved.lean(20.0) == pytest.approx(atan2(20.0 * tan(radians(14)), 20.0))
    edge = layout.spaces[0].lower
    assert edge.shifted(3.0, 20.0) is edge
