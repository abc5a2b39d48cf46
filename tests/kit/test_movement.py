"""Moisture and movement, against the Wood Handbook (USDA Forest Products Laboratory, FPL-GTR-190 / -282)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigcam.errors import InputError
from jigcam.kit import change, common_names, equilibrium_moisture, materials, wood, woods


@pytest.mark.parametrize(
    ("humidity", "printed"),
    # Table 4-2, row for 70 °F (from memory), recomputed by Eq. 4-5.
    [(0.30, 6.2), (0.50, 9.2), (0.65, 12.0), (0.80, 16.0)],
)
def test_moisture_in_equilibrium(humidity: float, printed: float) -> None:
    # The printed row agrees with its own formula within its last digit.
    assert equilibrium_moisture(humidity, 21.1) == pytest.approx(printed, abs=0.11)


@given(st.floats(0, 0.98), st.floats(0.001, 0.02), st.floats(-10, 60))
def test_damper_air_makes_damper_wood(humidity: float, more: float, temperature: float) -> None:
    assert equilibrium_moisture(humidity + more, temperature) > equilibrium_moisture(humidity, temperature) >= 0


@pytest.mark.parametrize(
    ("humidity", "temperature", "mend"),
    [(65.0, 20.0, "0.65?"), (-0.1, 20.0, ""), (float("nan"), 20.0, ""), (0.5, 500.0, ""), (0.5, float("nan"), "")],
)
def test_air_that_cannot_be(humidity: float, temperature: float, mend: str) -> None:
    with pytest.raises(InputError) as caught:
        equilibrium_moisture(humidity, temperature)
    assert caught.value.mend == mend


def test_the_worked_change_of_the_handbook() -> None:
    # Eq. 13-2: white fir (species and moistures from memory), C_T 0.00245, 232 mm at 8 %, at 11 %: 233.7 mm.
    assert change(232.0, 0.00245, 8.0, 11.0) == pytest.approx(1.7, abs=0.05)
    assert 232.0 + change(232.0, 0.00245, 8.0, 11.0) == pytest.approx(233.7, abs=0.05)


@pytest.mark.parametrize(
    ("name", "radial", "tangential"),
    [  # Table 13-5
        ("white oak", 0.00180, 0.00365),
        ("black cherry", 0.00126, 0.00248),
        ("black walnut", 0.00190, 0.00274),
        ("sugar maple", 0.00165, 0.00353),
        ("American beech", 0.00190, 0.00431),
        ("eastern white pine", 0.00071, 0.00212),
        ("teak", 0.00101, 0.00186),
    ],
)
def test_coefficients(name: str, radial: float, tangential: float) -> None:
    each = wood(name)
    assert (each.radial, each.tangential) == (radial, tangential)
    assert each.across("quarter") == each.through("flat") == radial
    assert each.across("flat") == each.through("quarter") == tangential
    assert radial < each.across("rift") < tangential


@pytest.mark.parametrize(
    ("name", "shrinkage"),
    # Table 4-3 (from memory): tangential shrinkage in %, green to oven-dry.
    [("black cherry", 7.1), ("black walnut", 7.8), ("sugar maple", 9.9), ("red alder", 7.3)],
)
def test_coefficients_follow_from_shrinkage(name: str, shrinkage: float) -> None:
    # C = 1 / (3000 / S − 20), derived: shrinkage in proportion from 30 % to 0, size taken at 10 %.
    assert wood(name).tangential == pytest.approx(1 / (3000 / shrinkage - 20), abs=2e-5)


def test_all_woods_move_more_along_the_rings() -> None:
    assert len(woods()) == 33
    assert all(0 < each.radial < each.tangential < 0.005 for each in woods().values())
    assert not wood("Sitka spruce").hard
    assert wood("BLACK CHERRY").name == "black cherry"


def test_a_wood_that_is_not_there_names_the_nearest() -> None:
    with pytest.raises(InputError) as caught:
        wood("black chery")
    assert caught.value.mend == "did you mean 'black cherry'?"


@pytest.mark.parametrize(
    ("name", "radial", "tangential"),
    # DIN 68100 (from memory), % of size per % of moisture.
    [
        ("European oak", 0.16, 0.36),
        ("European beech", 0.20, 0.41),
        ("European maple", 0.15, 0.26),
        ("European walnut", 0.18, 0.29),
        ("European spruce", 0.19, 0.39),
        ("European larch", 0.14, 0.30),
    ],
)
def test_european_woods(name: str, radial: float, tangential: float) -> None:
    assert (wood(name).radial * 100, wood(name).tangential * 100) == pytest.approx((radial, tangential))


@pytest.mark.parametrize(
    ("name", "choice"),
    [
        ("oak", "'white oak', 'red oak' or 'European oak'"),
        ("Walnut", "'black walnut' or 'European walnut'"),
        ("sycamore", "'American sycamore' or 'European maple'"),
        ("hard maple", "'sugar maple'"),
        ("tulipwood", "'yellow-poplar'"),
    ],
)
def test_a_common_name_leads_to_a_choice(name: str, choice: str) -> None:
    with pytest.raises(InputError) as caught:
        wood(name)
    assert caught.value.mend == f"did you mean {choice}?"


def test_common_names_stand_for_woods_of_the_table() -> None:
    for name, meant in common_names().items():
        assert name not in woods()
        assert set(meant) <= set(woods())


def test_sheet_goods() -> None:
    assert materials()["mdf"].movement == 0.0003
    assert materials()["plywood"].movement == 0.0002
    assert materials()["mdf"].cuts_like == "mdf"
