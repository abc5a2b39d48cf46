"""Motions of the plane."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.errors import InputError
from jigcam.geometry import apply, compose, identity, invert, mirror_x, mirror_y, rotation, translation

numbers = st.floats(-1000.0, 1000.0)
motions = st.one_of(
    st.builds(translation, numbers, numbers),
    st.builds(rotation, st.floats(-10.0, 10.0)),
    st.builds(mirror_x, numbers),
    st.builds(mirror_y, numbers),
)
POINTS = np.array([(0.0, 0.0), (1.0, 0.0), (-3.0, 5.5)])


def test_each_motion_does_what_it_says() -> None:
    assert apply(translation(2.0, -1.0), (5.0, 5.0)).tolist() == [7.0, 4.0]
    assert apply(rotation(math.pi / 2), (1.0, 0.0)).tolist() == [0.0, 1.0]
    assert apply(mirror_x(22.0), (4.0, 1.5)).tolist() == [18.0, 1.5]
    assert apply(mirror_y(10.0), (4.0, 1.5)).tolist() == [4.0, 8.5]
    assert apply(identity(), POINTS).tolist() == POINTS.tolist()


@pytest.mark.parametrize("quarters", range(-5, 6))
def test_quarter_turns_are_exact(quarters: int) -> None:
    turned = apply(rotation(quarters * math.pi / 2), POINTS)
    assert np.isin(np.abs(turned), np.abs(POINTS)).all()


@given(motions, motions)
def test_composition_does_the_first_and_then_the_second(first: np.ndarray, second: np.ndarray) -> None:
    both = apply(compose(first, second), POINTS)
    assert both == pytest.approx(apply(second, apply(first, POINTS)), abs=1e-9)


@given(motions, motions)
def test_the_inverse_undoes(first: np.ndarray, second: np.ndarray) -> None:
    motion = compose(first, second)
    assert apply(invert(motion), apply(motion, POINTS)) == pytest.approx(POINTS, abs=1e-9)


def test_what_is_no_motion_is_refused() -> None:
    with pytest.raises(InputError, match="flattens"):
        invert([[1.0, 1.0, 0.0], [1.0, 1.0, 0.0]])
    with pytest.raises(InputError, match="2×3"):
        apply([[1.0, 0.0], [0.0, 1.0]], POINTS)
    with pytest.raises(InputError, match="2×3"):
        apply([[1.0, 0.0, math.nan], [0.0, 1.0, 0.0]], POINTS)
