"""Kits from files: the shipped ones, and everything that can be wrong with one."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from support.jobs import kit_table, toml

from jigcam.errors import Faults, InputError, JigcamError
from jigcam.kit import Kit, kit_names, load_kit, profiles_folder

KIT = """\
kit = "Test shop"
units = "in"
[router]
collets = ["1/2", "1/4"]
base_radius = "3"
speeds = [10000, 22000]
grip = "3/4"
[sheet]
material = "mdf"
thickness = "1/2"
[machine]
travel = [16, 16, "3-1/4"]
max_feed = [120, 120, "60 in/min"]
acceleration = [10, 10, 8]
spindle = [8000, 24000]
power = 800
arcs = true
tool_change = "file-per-bit"
output_units = "mm"
collets = ["1/4"]
upright = { width = 12, thickness = "1-1/2" }
[[bits]]
name = "straight 3/8"
kind = "straight"
diameter = "3/8"
cutting_length = "1-1/4"
overall_length = "2-7/8"
shank = "1/2"
flutes = 2
[[bits]]
name = "dovetail 1/2 x 8"
kind = "dovetail"
diameter = "1/2"
angle = 8
cutting_length = "13/16"
overall_length = "2-1/4"
shank = "1/4"
flutes = 2
[[bushings]]
name = "bushing 5/8"
outside = "5/8"
inside = "17/32"
collar = "9/32"
"""


def load(tmp_path: Path, text: str) -> Kit:
    path = tmp_path / "kit.toml"
    path.write_text(text, "utf-8")
    return load_kit(path)


def faults_of(tmp_path: Path, text: str) -> list[JigcamError]:
    with pytest.raises(Faults) as caught:
        load(tmp_path, text)
    return list(caught.value.faults)


def test_everything_is_in_mm_and_radians(tmp_path: Path) -> None:
    kit = load(tmp_path, KIT)
    assert (kit.name, kit.units) == ("Test shop", "in")
    assert kit.router.collets == (12.7, 6.35)
    assert kit.router.base_radius == 76.2
    assert kit.sheet.thickness == 12.7
    assert kit.machine.travel == (406.4, 406.4, 82.55)
    assert kit.machine.max_feed == (3048.0, 3048.0, 1524.0)
    assert kit.machine.acceleration == (254.0, 254.0, 203.2)
    assert kit.machine.upright is not None
    assert kit.machine.upright.width == 304.8
    assert kit.bit("dovetail 1/2 x 8").angle == pytest.approx(math.radians(8))
    assert kit.bushing("bushing 5/8").collar == 7.14375
    assert kit.path == tmp_path / "kit.toml"


def test_what_can_be_left_out(tmp_path: Path) -> None:
    kit = load(tmp_path, KIT)
    assert kit.machine.dial is None
    assert kit.machine.omit == ()
    assert kit.machine.keep_out == ()
    assert kit.machine.nut is None
    assert kit.machine.light is True
    assert kit.machine.drilling_cycles is False
    assert kit.bits[0].plunges is False
    assert kit.bits[0].max_rpm is None


def test_what_can_be_added(tmp_path: Path) -> None:
    more = KIT.replace(
        "arcs = true\n",
        """\
arcs = false
omit = ["G61"]
dial = [[1, 10000], [2.5, 13500]]
nut = { diameter = "3/4", length = "5/8" }
light = false
drilling_cycles = true
keep_out = [{ from = [-1, "1/2"], size = [2, 1], height = "3/4", what = "cam clamp", setup = "flat" }]
""",
    )
    machine = load(tmp_path, more).machine
    assert machine.omit == ("G61",)
    assert machine.dial == ((1.0, 10000.0), (2.5, 13500.0))
    assert machine.keep_out[0].start == (-25.4, 12.7)
    assert machine.keep_out[0].height == pytest.approx(19.05)
    assert machine.keep_out[0].what == "cam clamp"
    assert machine.nut is not None
    assert machine.nut.length == pytest.approx(15.875)


def test_what_router_and_machine_can_hold(tmp_path: Path) -> None:
    kit = load(tmp_path, KIT)
    thick, thin = kit.bits
    assert kit.router.takes(thick)
    assert kit.router.takes(thin)
    assert not kit.machine.takes(thick)
    assert kit.machine.takes(thin)


@pytest.mark.parametrize(
    ("old", "new", "key", "what"),
    [
        ('kit = "Test shop"', "kit = 4", "kit", "not a name"),
        ('units = "in"', 'units = "inch"', "units", 'units cannot be "inch"'),
        ("grip =", "grips =", "router.grips", "the key grips is not known"),
        ("= [10000, 22000]", "= [22000, 10000]", "router.speeds", "the lowest speed is above the highest"),
        ("speeds = [10000, 22000]", "speeds = [10000]", "router.speeds", "not such a list"),
        ("speeds = [10000, 22000]", 'speeds = ["fast", 1]', "router.speeds[1]", "not a number"),
        ('base_radius = "3"', "base_radius = nan", "router.base_radius", "not a usable number"),
        ('material = "mdf"', 'material = "mdff"', "sheet.material", "there is no sheet material called 'mdff'"),
        ('thickness = "1/2"', "thickness = -0.5", "sheet.thickness", "a thickness cannot be negative"),
        ('thickness = "1/2"', "thickness = inf", "sheet.thickness", "not a usable number"),
        ('thickness = "1/2"', "thickness = 12", "sheet.thickness", "a thickness too large to be meant"),
        ('travel = [16, 16, "3-1/4"]', "travel = [16, 16]", "machine.travel", "not such a list"),
        ('travel = [16, 16, "3-1/4"]', "travel = [16, 0, 3]", "machine.travel[2]", "a size cannot be zero"),
        ("[120, 120,", "[120, -1,", "machine.max_feed[2]", "a feed per minute cannot be negative"),
        ("power = 800", "power = true", "machine.power", "not a number"),
        ("power = 800\n", "", "machine.power", "power is missing"),
        ("arcs = true", 'arcs = "yes"', "machine.arcs", "neither true nor false"),
        ('"file-per-bit"', '"file per bit"', "machine.tool_change", 'tool_change cannot be "file per bit"'),
        ("arcs = true", 'omit = ["G90"]', "machine.omit[1]", "a word that cannot be left out"),
        ("arcs = true", "dial = [[1, 10000], [2, 9000]]", "machine.dial[2]", "the dial does not rise"),
        ("arcs = true", "dial = [[1, 5000]]", "machine.dial[1]", "the dial leaves the speeds of the spindle"),
        ("arcs = true", "dial = []", "machine.dial", "the dial has no marks"),
        ("arcs = true", "dial = [1]", "machine.dial[1]", "not such a list"),
        ("upright = {", "uprigt = {", "machine.uprigt", "the key uprigt is not known"),
        ("width = 12,", "width = 1200,", "machine.upright.width", "a size too large to be meant"),
        ('kind = "straight"', 'kind = "strait"', "bits[1].kind", 'kind cannot be "strait"'),
        ('diameter = "3/8"', 'diameter = "3/0"', "bits[1].diameter", "a fraction over nothing"),
        ('_length = "1-1/4"', "_length = 3", "bits[1].cutting_length", "the cutting length leaves no shank"),
        ("flutes = 2\n[[bits]]", "flutes = 2.5\n[[bits]]", "bits[1].flutes", "not a whole number"),
        ("angle = 8", "angle = 18", "bits[2].angle", "the flanks meet below the top of the cutting length"),
        ("angle = 8\n", "", "bits[2].angle", "a dovetail bit needs the angle of its flank from the axis"),
        ("angle = 8", "angle = 90", "bits[2].angle", "an angle of the flank too large to be meant"),
        ('name = "dovetail 1/2 x 8"', 'name = "straight 3/8"', "bits[2].name", "two bits have the same name"),
        ('inside = "17/32"', 'inside = "5/8"', "bushings[1].inside", "the bushing has no wall"),
        ('inside = "17/32"', 'inside = "0.605"', "bushings[1].inside", "the wall of the bushing is too thin to be one"),
        ("arcs = true", "spin_up = -1", "machine.spin_up", "a time in seconds cannot be negative"),
        ("arcs = true", "full_power_from = 0", "machine.full_power_from", "a speed in rpm cannot be zero"),
        ("arcs = true", 'measures_bits = "no"', "machine.measures_bits", "neither true nor false"),
        ("arcs = true", "change_at = [0, 0]", "machine.change_at", "not such a list"),
        (
            "arcs = true",
            "change_at = [0, -2, 0]",
            "machine.change_at",
            "the place to change bits is not clear of the stock",
        ),
        ("grip =", "base_plate = -1\ngrip =", "router.base_plate", "a thickness of the base plate cannot be negative"),
        ('collar = "9/32"', "collar = 0", "bushings[1].collar", "the length of a collar cannot be zero"),
        ('shank = "1/2"', 'shank = "3/8"', "bits[1].shank", "no collet takes this shank"),
    ],
)
def test_each_fault_is_told_by_line_and_key(tmp_path: Path, old: str, new: str, key: str, what: str) -> None:
    assert old in KIT
    text = KIT.replace(old, new, 1)
    (fault, *others) = faults_of(tmp_path, text)
    assert not others
    assert fault.what == what
    place, _, told = fault.where.partition(": ")
    assert told == key
    if new:
        assert place == f"{tmp_path / 'kit.toml'}:{KIT[: KIT.index(old)].count(chr(10)) + 1}"
    assert fault.found
    assert fault.wanted


def test_what_a_machine_does_with_its_bits_and_its_spindle(tmp_path: Path) -> None:
    keys = 'spin_up = 8\nfull_power_from = 12000\nchange_at = ["-1", 6, "2-1/2"]\ntool_change = "pause"'
    machine = load(tmp_path, KIT.replace('tool_change = "file-per-bit"', keys)).machine
    assert machine.change_at == pytest.approx((-25.4, 6 * 25.4, 63.5))
    assert machine.seconds_to(24_000) == machine.seconds_to(8000) == 8
    assert (machine.power_at(24_000), machine.power_at(12_000), machine.power_at(9000)) == (800, 800, 600)


def test_what_a_kit_leaves_out_is_as_usual(tmp_path: Path) -> None:
    machine = load(tmp_path, KIT).machine
    # Common practice, no source: 6 s to 24,000 rpm. Derived: 800 W at 24,000 are 267 W at 8,000 at the same torque.
    assert (machine.seconds_to(24_000), machine.seconds_to(8000)) == (6, 2)
    assert machine.power_at(8000) == pytest.approx(266.7, abs=0.05)
    assert machine.change_at is None
    assert not machine.measures_bits


def test_the_usual_wall_of_a_bushing_is_enough() -> None:
    # Inside about 3/32 in less than outside (common practice, no source): a wall of 3/64 in.
    for kit in map(load_kit, kit_names()):
        for bushing in kit.bushings:
            assert (bushing.outside - bushing.inside) / 2.0 >= 1.0


def test_the_nearest_is_named(tmp_path: Path) -> None:
    text = KIT.replace("grip =", "grips =").replace('"mdf"', '"mdff"').replace('"straight"', '"strait"')
    assert [fault.mend for fault in faults_of(tmp_path, text)] == [
        "did you mean grip?",
        "did you mean 'mdf'?",
        'did you mean "straight"?',
    ]


def test_a_kit_without_bits(tmp_path: Path) -> None:
    (fault,) = faults_of(tmp_path, "bits = []\n" + KIT[: KIT.index("[[bits]]")])
    assert fault.what == "the kit has no bits"


def test_an_empty_file_is_told_what_it_lacks(tmp_path: Path) -> None:
    assert [fault.what for fault in faults_of(tmp_path, "")] == [f"{key} is missing" for key in ("kit", "units")]


def test_bits_and_bushings_by_name(tmp_path: Path) -> None:
    kit = load(tmp_path, KIT)
    with pytest.raises(InputError) as caught:
        kit.bit("straight 3/4")
    assert caught.value.mend == "did you mean 'straight 3/8'?"
    with pytest.raises(InputError) as caught:
        kit.bushing("bushing 5-8")
    assert caught.value.mend == "did you mean 'bushing 5/8'?"


def test_kits_by_name_and_by_path(tmp_path: Path) -> None:
    load(tmp_path, KIT)
    assert load_kit("kit.toml", tmp_path).name == "Test shop"
    assert load_kit("inch-shop", tmp_path).name == "Inch shop"
    with pytest.raises(InputError) as caught:
        load_kit("inch-shp")
    assert caught.value.mend == "did you mean 'inch-shop'?"
    assert caught.value.wanted.endswith("or the path of a kit file")
    with pytest.raises(InputError) as caught:
        load_kit("sub/other.toml", tmp_path)
    assert caught.value.where == str(tmp_path / "sub/other.toml")


def test_the_tables_are_no_kits() -> None:
    assert kit_names() == ("inch-shop", "metric-shop")
    assert (profiles_folder() / "woods.toml").is_file()


@pytest.mark.parametrize("name", ["inch-shop", "metric-shop"])
class TestShippedKits:
    def test_there_is_a_bit_of_every_kind(self, name: str) -> None:
        kit = load_kit(name)
        assert {bit.kind for bit in kit.bits} == {"straight", "dovetail", "ball", "vee", "round-over"}

    def test_a_small_bit_reaches_through_the_sheet_on_the_machine(self, name: str) -> None:
        kit = load_kit(name)
        assert any(
            bit.kind == "straight"
            and bit.diameter < 7
            and bit.plunges
            and kit.machine.takes(bit)
            and bit.cutting_length > kit.sheet.thickness + 1
            for bit in kit.bits
        )

    def test_collars_are_shorter_than_the_sheet(self, name: str) -> None:
        kit = load_kit(name)
        # At least 1 mm: common practice, no source.
        assert all(bushing.collar <= kit.sheet.thickness - 1 for bushing in kit.bushings)

    def test_bushings_have_walls_as_they_are_sold(self, name: str) -> None:
        # Inside about 3/32 in (2.4 mm) less than outside: common practice, no source.
        assert all(2.0 <= bushing.outside - bushing.inside <= 3.0 for bushing in load_kit(name).bushings)


def test_half_inch_bit_and_three_quarter_bushing_go_together() -> None:
    kit = load_kit("inch-shop")
    bit, bushing = kit.bit("straight 1/2"), kit.bushing("bushing 3/4")
    assert bushing.outside - bit.diameter == pytest.approx(6.35)
    # At least 0.8 mm all round for chips: common practice, no source.
    assert bushing.inside - bit.diameter >= 1.6


def test_the_whole_angle_of_a_vee_bit_is_told(tmp_path: Path) -> None:
    """A label says 60 for flanks of 30° each; edges 7/16 in high on 1/2 in are those of 30° (derived)."""
    bit = {"name": "vee 60", "kind": "vee", "diameter": "1/2", "cutting_length": "7/16", "overall_length": 2}
    table = kit_table("in")
    for angle, fine in ((30, True), (60, False)):
        table["bits"] = [{**bit, "shank": "1/4", "flutes": 2, "angle": angle}]
        (tmp_path / "kit.toml").write_text(toml(table), "utf-8")
        if fine:
            assert load_kit(tmp_path / "kit.toml").bits[0].name == "vee 60"
            continue
        with pytest.raises(Faults) as caught:
            load_kit(tmp_path / "kit.toml")
        (fault,) = caught.value.faults
        assert fault.mend == "did you mean 30?"
