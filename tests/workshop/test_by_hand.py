"""By hand: every kind without a machine, kits of hand tools, kinds by other names, sizes that a rule shows."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
from support.jobs import Table, job_table, kit_table, write_job
from support.kinds.rabbet import rabbet_job
from support.shop import jigcam

from jigcam.document.fields import Slope
from jigcam.errors import InputError
from jigcam.joints import design, kind_called, kind_names, load_job
from jigcam.joints.rabbet import Rabbet
from jigcam.joints.rabbet.by_hand import shoulder_line, stop_lines
from jigcam.kit import load_kit
from jigcam.kit.starter import starter_kit
from jigcam.making.by_hand import OFFER
from jigcam.units import Voice, parse_power

HAND: Table = {"kit": "Hand tools", "units": "in"}


def starter_by_hand(kind: str, units: str, folder: Path) -> Path:
    """The starter of a kind, asked for by hand with a kit that has no tool but those of the hand."""
    import tomllib

    table = tomllib.loads(kind_called(kind).starter(units))
    for entry in table["joints"]:
        entry.pop("bit", None)
        entry.pop("bushing", None)
        entry["way"] = "hand"
    return write_job(folder, table, HAND | {"units": units})


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("kind", kind_names())
def test_every_kind_is_made_by_hand_with_a_kit_without_any_machine(kind: str, units: str, tmp_path: Path) -> None:
    run = jigcam("make", starter_by_hand(kind, units, tmp_path), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    assert not list((tmp_path / "out").rglob("*.nc"))
    (sheet,) = (tmp_path / "out").rglob("setup-sheet.txt")
    text = " ".join(sheet.read_text("utf-8").split())
    assert "made by hand, without a file" in text
    assert "1. " in text
    assert list((tmp_path / "out").rglob("*.svg"))
    assert not slips_of(text.partition("Safety")[0], units)


def slips_of(text: str, units: str) -> list[str]:
    """Figures that the shop of those units does not use: of the other one, finer than is said, a 64th as a decimal.

    More than three decimals of an inch, or two of a millimetre, no rule and no calliper of a bench shows (common
    practice); a fraction that stands in brackets behind its decimals is told already.
    """
    number = r"(?<![\w.:/-])\d[\d/-]*(?:\.\d+)?"
    inch = rf"{number} in(?=[\s.,;:)])(?! (?:its|their|place|turn))"
    if units == "mm":
        said = re.findall(rf"{number} mm\b", text)
        return re.findall(inch, text) + [each for each in said if re.search(r"\.\d{3}", each)]
    said = [each.group() for each in re.finditer(inch, text) if text[each.end() : each.end() + 2] != " ("]
    decimals = [each for each in said if "." in each]
    sixty_fourths = [float(each.removesuffix(" in")) * 64.0 for each in decimals]
    slips = re.findall(rf"{number} mm\b", text) + re.findall(r"\d*\.\d{4,} in\b", text)
    return slips + [
        each for each, n in zip(decimals, sixty_fourths, strict=True) if abs(n - round(n)) < 0.5e-3 * 64.0 * 0.5
    ]


def test_slips_of_units_are_found() -> None:
    """Each of these stood on a sheet."""
    assert slips_of("falls 0.0313 in beyond", "in") == ["0.0313 in", "0.0313 in"]
    assert slips_of("with 0.1 mm of room", "in") == ["0.1 mm"]
    assert slips_of("step 4 in its place, 0.002 in, 0.506 in (1/2 plus 0.006)", "in") == []
    assert slips_of("4 in along, 0.050 mm", "mm") == ["4 in", "0.050 mm"]
    assert slips_of("12.35 mm", "mm") == []


@pytest.mark.parametrize(
    ("along", "face", "shoulder"),
    [
        ("lower", "outside", ((0.0, 8.0), (160.0, 8.0))),
        ("upper", "inside", ((0.0, 82.0), (160.0, 82.0))),
        ("left", "outside", ((8.0, 0.0), (8.0, 90.0))),
        ("left", "inside", ((152.0, 0.0), (152.0, 90.0))),
        ("right", "inside", ((8.0, 0.0), (8.0, 90.0))),
    ],
)
def test_the_shoulder_of_a_rabbet_is_marked_where_it_is_drawn(
    along: str, face: str, shoulder: tuple[tuple[float, float], tuple[float, float]], tmp_path: Path
) -> None:
    """Board of 160 by 90 mm, 8 mm wide; the inside face is seen with the right end at the left."""
    job = load_job(write_job(tmp_path, rabbet_job(along=along, face=face, way="hand")))
    it = design(job.joints[-1], job)
    assert isinstance(it, Rabbet)
    for got, wanted in zip(shoulder_line(it), shoulder, strict=True):
        assert got == pytest.approx(wanted)
    assert not list(stop_lines(it))


def test_a_stopped_rabbet_by_hand_has_its_ends_marked_and_is_not_sawn(tmp_path: Path) -> None:
    path = write_job(tmp_path, rabbet_job(from_=20, length=80, way="hand"))
    run = jigcam("make", path, "-o", tmp_path / "out")
    assert run.status == 0, run.err
    (sheet,) = (tmp_path / "out").rglob("setup-sheet.txt")
    text = " ".join(sheet.read_text("utf-8").split())
    assert "start, stopped from 20 mm along, 90 mm up; to 20 mm along, 82 mm up" in text
    assert "finish, stopped from 100 mm along, 90 mm up; to 100 mm along, 82 mm up" in text
    assert "Chop the waste across the grain" in text
    assert "saw it" not in text


def test_a_machine_that_is_not_there_is_said_and_the_hand_offered(tmp_path: Path) -> None:
    kit = kit_table("in")
    del kit["machine"]
    run = jigcam("check", write_job(tmp_path, job_table("in", way="direct"), kit), "--json")
    assert run.status == 1
    (says,) = (each["says"] for each in run.json["findings"] if each["level"] == "stop")
    assert OFFER in says
    assert "has no [machine]" in says


def test_a_template_without_a_machine_is_made_by_hand(tmp_path: Path) -> None:
    kit = kit_table("in")
    del kit["machine"]
    run = jigcam("make", write_job(tmp_path, job_table("in", way="template"), kit), "-o", tmp_path / "out")
    assert run.status == 0, run.err
    assert not list((tmp_path / "out").rglob("*.nc"))
    (path,) = (tmp_path / "out").rglob("setup-sheet.txt")
    sheet = " ".join(path.read_text("utf-8").split())
    # The paper that lies beside it is named, and no test is to be milled by the machine that is not there.
    assert "glue the joined sheets on" in sheet
    assert "bushing test" not in sheet
    assert "jigcam bushing adjust" in sheet
    # Places are rounded one by one; the width that the bushing rides in is not: groove and offset, by design's sum.
    (width,) = re.findall(r"the two long walls are ([\d.]+) in apart all along", sheet)
    (opening,) = re.findall(r"opening ([\d.]+) in\b[^:]*? wide: the groove and two offsets", sheet)
    assert width == opening


@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_starter_kit_loads_as_it_stands(units: str, tmp_path: Path) -> None:
    path = tmp_path / "kit.toml"
    path.write_text(starter_kit("mm" if units == "mm" else "in"), "utf-8")
    kit = load_kit("kit.toml", tmp_path)
    assert kit.units == units
    assert kit.machine is not None
    assert kit.bits
    assert kit.bushings
    assert jigcam("start", "kit", "--units", units).out.startswith("# A kit")


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("dado", "groove"),
        ("Housing", "groove"),
        ("bow-tie", "key"),
        ("Bow tie", "key"),
        ("dovetail", "through-dovetail"),
        ("rebate", "rabbet"),
    ],
)
def test_kinds_by_the_names_of_the_trade(name: str, kind: str) -> None:
    assert kind_called(name) is kind_called(kind)


def test_a_kind_that_is_not_there_names_what_comes_nearest() -> None:
    with pytest.raises(InputError) as caught:
        kind_called("half lap")
    assert "jigcam start groove" in caught.value.mend
    assert all(repr(kind) in caught.value.wanted for kind in kind_names())


def test_a_slope_in_degrees_is_a_slope() -> None:
    from pydantic import TypeAdapter

    slope = TypeAdapter(Slope).validate_python("8 deg", context={"units": "in"})
    assert slope == pytest.approx(math.radians(8.0))


@pytest.mark.parametrize(
    ("text", "watts"), [("800 W", 800.0), (800, 800.0), ("0.8 kW", 800.0), ("2 hp", 2 * 550 * 1.355818)]
)
def test_power_in_watts_and_horsepower(text: str | int, watts: float) -> None:
    """550 ft lbf/s, one of which is 1.355818 W (common tables, from memory)."""
    assert parse_power(text) == pytest.approx(watts, rel=1e-6)


@pytest.mark.parametrize(("mm", "inch", "metric"), [(10.26, "13/32 in", "10.5 mm"), (25.3, "1 in", "25.5 mm")])
def test_marks_are_where_a_rule_has_a_division(mm: float, inch: str, metric: str) -> None:
    assert Voice("in").mark(mm) == inch
    assert Voice("mm").mark(mm) == metric
