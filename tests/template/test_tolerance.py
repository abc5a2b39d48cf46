"""The spread of a groove: the three methods against each other, and against what is known of single sources."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.kit import Accuracy
from jigcam.kit.accuracy import MARKS
from jigcam.template.tolerance import CURES, Errors, simulate, tolerance

LIMITS = st.builds(Accuracy, **{key: st.floats(0.0, 0.5) for key in Accuracy.model_fields})
ERRORS = st.builds(Errors, LIMITS, st.booleans(), st.booleans(), st.booleans())
NOTHING = dict.fromkeys(Accuracy.model_fields, 0.0)


@given(ERRORS, st.floats(0.0, 1.0))
def test_the_three_methods_agree(errors: Errors, clearance: float) -> None:
    result = tolerance(errors, clearance, most=0.25, cuts=20_000)
    made = simulate(errors, clearance, 20_000)
    middles = {"width": 0.0, "place": 0.0, "clearance": clearance}
    for name, middle in middles.items():
        squares, cuts = getattr(result, name), result.simulated[name]
        values = getattr(made, name)
        assert np.abs(values - middle).max() <= squares.worst + 1e-9
        # No even error spreads further than a/√3, and none that is U-shaped further than a/√2.
        assert squares.uncertainty <= squares.worst / math.sqrt(2.0 if errors.axes_measured else 3.0) + 1e-12
        assert cuts.deviation == pytest.approx(squares.uncertainty, rel=0.04, abs=1e-9)
        assert cuts.mean == pytest.approx(middle, abs=5.0 * squares.uncertainty / math.sqrt(20_000) + 1e-9)
    assert result.fits.tight + result.fits.right + result.fits.loose == pytest.approx(1.0)


def test_the_worst_case_is_reached() -> None:
    """A million cuts with few sources come near to what nothing can exceed."""
    errors = Errors(Accuracy(**{**NOTHING, "bit": 0.05, "bushing": 0.05}))
    made = simulate(errors, 0.1, 1_000_000)
    assert np.abs(made.width).max() == pytest.approx(0.1, abs=1e-3)
    assert tolerance(errors, 0.1, most=0.25, cuts=1).width.worst == pytest.approx(0.1)


@pytest.mark.parametrize(("turns", "width", "place"), [(True, 0.2, 0.1), (False, 0.0, 0.1)])
def test_axes_apart(turns: bool, width: float, place: float) -> None:
    # An error e of the axes shifts by e where the router is held, and can widen by up to 2e where it turns (derived).
    result = tolerance(Errors(Accuracy(**{**NOTHING, "concentricity": 0.1}), turns), 0.1, most=0.25)
    assert result.width.worst == pytest.approx(width)
    assert result.place.worst == pytest.approx(place)


@pytest.mark.parametrize(
    ("known", "turns", "width", "place"),
    [
        (True, True, 1.0, 0.5),
        (True, False, 0.0, 0.5**0.5),
        (False, True, 3.0**-0.5, 12.0**-0.5),
    ],
)
def test_axes_that_were_measured_spread_more_than_a_limit_of_them(
    known: bool, turns: bool, width: float, place: float
) -> None:
    """e·cos φ with φ even over the turn has the variance e²/2, with e even up to E only E²/6 (derived); the former is
    the arc sine distribution of JCGM 101:2008, 6.4.6 (from memory), of which half lies beyond e/√2."""
    errors = Errors(Accuracy(**{**NOTHING, "concentricity": 0.1}), turns, axes_measured=known)
    result = tolerance(errors, 0.1, most=0.25)
    assert result.width.uncertainty == pytest.approx(0.1 * width)
    assert result.place.uncertainty == pytest.approx(0.1 * place)
    assert result.simulated["width"].deviation == pytest.approx(0.1 * width, rel=0.02)
    assert result.simulated["place"].deviation == pytest.approx(0.1 * place, rel=0.02)
    assert ("eccentricity" in result.as_dict()["sources"]["concentricity"]) is known
    if known and not turns:
        place_of = np.abs(simulate(errors, 0.1).place)
        assert np.mean(place_of > 0.1 * 0.5**0.5) == pytest.approx(0.5, abs=0.01)
        assert place_of.max() <= 0.1 + 1e-12


def test_a_test_cut_takes_bit_and_bushing_out() -> None:
    nominal = tolerance(Errors(Accuracy(), turns=False), 0.15, most=0.25)
    measured = tolerance(Errors(Accuracy(), turns=False, measured=True), 0.15, most=0.25)
    assert measured.width.uncertainty < nominal.width.uncertainty
    assert not {"bit", "bushing"} & set(measured.clearance.shares())
    assert measured.fits.right > nominal.fits.right


def test_shares_of_fits_by_hand() -> None:
    """One even source of ± 0.1 about a clearance of 0.05: a quarter of it lies under nothing, none over 0.25."""
    result = tolerance(Errors(Accuracy(**{**NOTHING, "stock": 0.1})), 0.05, most=0.25)
    assert result.fits.tight == pytest.approx(0.25, abs=0.005)
    assert result.fits.loose == 0.0
    assert result.first == "stock"


def test_the_same_seed_gives_the_same_cuts() -> None:
    one, same, other = (tolerance(Errors(Accuracy()), 0.15, most=0.25, cuts=5000, seed=s) for s in (3, 3, 4))
    assert one.simulated == same.simulated
    assert one.simulated != other.simulated
    assert one.as_dict() == same.as_dict()


def test_every_source_has_a_cure_and_every_default_a_mark() -> None:
    terms = [
        term.name
        for m in (True, False)
        for term in (*Errors(Accuracy(), True, m).clearance_terms(), *Errors(Accuracy(), True, m).place_terms())
    ]
    assert set(terms) == set(CURES)
    assert set(MARKS) == set(Accuracy.model_fields)
    assert Accuracy(bit=0.02).source("bit") == "given"
    assert "from memory" in Accuracy().source("bit")
