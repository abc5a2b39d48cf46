"""Profiles of bits as the proof holds them, and strokes with heights."""

from __future__ import annotations

import numpy as np
import pytest

from jigcam.gcode import read
from jigcam.kit import Bit, load_kit
from jigcam.proof.envelope import Envelope
from jigcam.proof.travel import travel_of

KIT = load_kit("inch-shop")


@pytest.mark.parametrize("bit", KIT.bits, ids=lambda bit: bit.name)
def test_the_profile_is_that_of_the_bit(bit: Bit) -> None:
    envelope = Envelope(bit)
    heights = np.random.default_rng(1).uniform(0.0, bit.overall_length, 3000)
    assert np.abs(envelope.radius(heights) - bit.radius_at(heights)).max() < 5e-4
    assert np.isneginf(envelope.radius(np.array([-1e-6]))).all()


@pytest.mark.parametrize("bit", KIT.bits, ids=lambda bit: bit.name)
def test_extremes_over_a_span(bit: Bit) -> None:
    envelope = Envelope(bit)
    rng = np.random.default_rng(2)
    low = rng.uniform(0.0, bit.overall_length, 50)
    high = np.minimum(low + rng.uniform(0.0, 20.0, 50), bit.overall_length)
    least, most = envelope.extremes(low, high)
    for k in range(50):
        radii = bit.radius_at(np.linspace(low[k], high[k], 4001))
        assert least[k] <= radii.min() + 5e-4
        assert most[k] >= radii.max() - 5e-4
        assert most[k] <= bit.radius_at(np.linspace(max(0, low[k] - 0.01), high[k] + 0.01, 4001)).max() + 5e-4


def test_the_nut_sits_on_the_shank() -> None:
    bit = KIT.bit("straight 1/4")
    envelope = Envelope(bit, (20.0, 50.0))
    assert envelope.radius(np.array([49.9, 50.1])) == pytest.approx([bit.shank / 2, 10.0])
    assert envelope.widens_to(5.0)
    assert not Envelope(KIT.bit("dovetail 1/2 x 8")).widens_to(5.0)


HEAD = "G17 G21 G90 G94 G61\nG0 Z5\nX0 Y0\nS1000 M3\nF100\n"


def test_full_circles_and_helices_are_split() -> None:
    travel = travel_of(read(HEAD + "G1 Z0\nG3 X0 Y0 I5 J0 Z-2\nM30\n").motions)
    turns = travel.take(np.flatnonzero(travel.strokes.arc))
    assert len(turns) == 2
    assert turns.z1[0] == pytest.approx(-1.0)
    assert turns.strokes.b[0] == pytest.approx([10.0, 0.0])
    assert turns.strokes.length.sum() == pytest.approx(10 * np.pi)


def test_an_upright_arc_becomes_chords() -> None:
    travel = travel_of(read(HEAD + "G1 Z0\nG18 G3 X10 Z0 I5 K0\nM30\n").motions)
    last = travel.take(np.flatnonzero(travel.motion == travel.motion.max()))
    points = np.concatenate([last.strokes.a[:, 0], last.strokes.b[-1:, 0]])
    heights = np.concatenate([last.z0, last.z1[-1:]])
    assert np.hypot(points - 5.0, heights) == pytest.approx(np.full(len(points), 5.0), abs=1e-9)
    middles = (points[1:] + points[:-1]) / 2, (heights[1:] + heights[:-1]) / 2
    assert np.hypot(middles[0] - 5.0, middles[1]).min() > 5.0 - 6e-4


def test_below_cuts_strokes_at_a_height() -> None:
    travel = travel_of(read(HEAD + "G1 Z1\nX10 Z-1\nX20\nX30 Z3\nM30\n").motions)
    below = travel.below(0.0)
    assert below.strokes.a[:, 0] == pytest.approx([5.0, 10.0, 20.0])
    assert below.strokes.b[:, 0] == pytest.approx([10.0, 20.0, 22.5])
    assert below.z0[0] == 0.0
    assert below.z1[-1] == 0.0


def test_height_along_a_helix() -> None:
    travel = travel_of(read(HEAD + "G1 Z0\nG3 X10 Y0 I5 J0 Z-2\nM30\n").motions)
    index = np.flatnonzero(travel.strokes.arc)
    shares = np.linspace(0, 1, 9)
    points = travel.strokes.at(shares, np.full(9, index[0]))
    assert travel.height_at(np.full(9, index[0]), points) == pytest.approx(-2.0 * shares, abs=1e-9)


def test_sloping_strokes_of_a_profiled_bit_come_in_small_steps() -> None:
    bit = KIT.bit("dovetail 1/2 x 8")
    travel = travel_of(read(HEAD + "G1 Z-2\nX30 Z-5\nM30\n").motions)
    pieces, least, most = travel.pieces(Envelope(bit), -1.0)
    moving = pieces.strokes.length > 0
    assert (most - least)[moving].max() <= 6e-4
    # A plunge counts as its widest disc.
    assert (least == most)[~moving].all()


def test_a_nut_just_above_the_edges_makes_no_cone_of_the_bit() -> None:
    # Issue 12: a bit that reaches no further out of its collet than its edges are long was taken for a cone.
    bit = KIT.bit("straight 1/4").model_copy(update={"shank": 12.7})
    envelope = Envelope(bit, (20.0, bit.cutting_length))
    assert envelope.straight_to >= bit.cutting_length
    heights = np.linspace(0.0, bit.cutting_length - 1e-3, 50)
    assert envelope.radius(heights) == pytest.approx(np.full(50, bit.diameter / 2.0), abs=1e-9)
    assert envelope.radius(np.array([bit.cutting_length + 1e-3]))[0] == pytest.approx(10.0)


@pytest.mark.parametrize("bit", KIT.bits, ids=lambda bit: bit.name)
def test_below_the_nut_every_bit_is_what_it_is(bit: Bit) -> None:
    envelope = Envelope(bit, (22.0, bit.cutting_length))
    heights = np.random.default_rng(3).uniform(0.0, bit.cutting_length - 1e-3, 500)
    assert np.abs(envelope.radius(heights) - bit.radius_at(heights)).max() < 5e-4
