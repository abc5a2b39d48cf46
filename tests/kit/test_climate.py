"""The climate of job and kit: what it says, what goes before what, and what cannot be."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from support.jobs import job_table, kit_table, write_job

from jigcam.errors import Faults, InputError
from jigcam.job import kit_for
from jigcam.joints import load_job
from jigcam.units import parse_temperature
from jigcam.wood.seasons import Seasons


def seasons(folder: Path, job: Any = None, kit: Any = None) -> Seasons:
    """Of a job and a kit with these climates."""
    own = kit_table() | ({"climate": kit} if kit else {})
    path = write_job(folder, job_table(top={"climate": job} if job else None), own)
    loaded = load_job(path)
    return Seasons.of(loaded, kit_for(loaded))


def test_what_nobody_says_is_a_heated_house(tmp_path: Path) -> None:
    """Table 4-2 of the Wood Handbook, row for 70 °F (from memory): 30, 50 and 65 % are 6.2, 9.2 and 12.0 %."""
    usual = seasons(tmp_path)
    assert (usual.dry, usual.shop, usual.damp) == pytest.approx((6.2, 9.2, 12.0), abs=0.11)


def test_the_job_goes_before_the_kit_key_by_key(tmp_path: Path) -> None:
    kit = {"dry": {"moisture": 7}, "shop": {"moisture": 8}, "damp": {"humidity": 80, "temperature": "70 F"}}
    here = seasons(tmp_path, {"dry": {"moisture": 6.5}}, kit)
    assert (here.dry, here.shop) == (6.5, 8.0)
    assert here.damp == pytest.approx(16.0, abs=0.11)  # Table 4-2, from memory


def test_fahrenheit_and_celsius_are_one_air(tmp_path: Path) -> None:
    damp = [
        seasons(tmp_path / str(n), {"damp": {"humidity": 65, "temperature": said}}).damp
        for n, said in enumerate(("69.8 F", "21 °C", "21 C", 21))
    ]
    assert damp == pytest.approx([damp[0]] * 4)


def test_a_shop_of_which_nothing_is_said_is_within_the_year(tmp_path: Path) -> None:
    assert seasons(tmp_path, {"damp": {"moisture": 8}}).shop == 8.0
    assert seasons(tmp_path, {"dry": {"moisture": 11}}).shop == 11.0


@pytest.mark.parametrize(
    ("climate", "what"),
    [
        ({"dry": {}}, "nothing says how damp it is"),
        ({"dry": {"temperature": "70 F"}}, "nothing says how damp it is"),
        ({"dry": {"moisture": 7, "humidity": 30}}, "is said twice"),
        ({"dry": {"humidity": 30, "temperature": 70}}, "no room is as warm in °C"),
        ({"dry": {"humidity": 30, "temperature": "70 K"}}, "not a temperature"),
        ({"dry": {"moisture": 31}}, "too large to be meant"),
        ({"dry": {"humidity": 0.3}}, "too small to be meant"),
        ({"wet": {"moisture": 12}}, "wet"),
    ],
)
def test_a_climate_that_cannot_be(climate: Any, what: str, tmp_path: Path) -> None:
    with pytest.raises(Faults) as caught:
        seasons(tmp_path, climate)
    assert any(what in str(fault) for fault in caught.value.faults)


def test_a_year_that_is_damper_at_its_dry_end_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        seasons(tmp_path, {"dry": {"moisture": 13}})
    assert "13.0 % and 12.0 %" in caught.value.found


def test_temperatures_are_read_as_people_write_them() -> None:
    assert [parse_temperature(each) for each in ("32 F", "212F", "-40 °F", 0, "21.5 deg C")] == [0, 100, -40, 0, 21.5]
