"""Correcting a kit from a test cut: what is written, what is refused, and what stays as it was."""

from __future__ import annotations

import datetime
import os
import stat
from pathlib import Path

import pytest

from jigcam.errors import Faults, InputError, JigcamError, OutputError
from jigcam.kit import Kit, adjusted, load_kit, profiles_folder, write_measured
from jigcam.kit.adjusting import with_measured

INCH = 25.4
DAY = datetime.date(2024, 5, 31)
PAIR = ("straight 1/2", "bushing 3/4")


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    path = tmp_path / "shop.toml"
    path.write_bytes((profiles_folder() / "inch-shop.toml").read_bytes())
    return path


def correct(path: Path, opening: float, width: float, pair: tuple[str, str] = PAIR) -> Kit:
    kit = load_kit(str(path))
    found = adjusted(kit, kit.bit(pair[0]), kit.bushing(pair[1]), opening=opening, width=width, date=DAY)
    return write_measured(path, found.measured, kit.units)


def test_the_true_difference_is_written(shop: Path) -> None:
    before = shop.read_text("utf-8")
    kit = correct(shop, 0.756 * INCH, 0.503 * INCH)
    assert kit == load_kit(str(shop))
    found = kit.measurement(kit.bit(PAIR[0]), kit.bushing(PAIR[1]))
    assert found is not None
    assert found.difference == pytest.approx(0.253 * INCH, abs=1e-6)
    assert found.date == DAY
    after = shop.read_text("utf-8")
    assert after.startswith(before.rstrip("\n"))
    assert 'opening = "0.756 in"\nwidth = "0.503 in"\ndate = 2024-05-31\n' in after


def test_a_later_cut_replaces_the_earlier_one(shop: Path) -> None:
    correct(shop, 0.756 * INCH, 0.503 * INCH)
    shop.write_text(shop.read_text("utf-8") + "# written by hand\n", "utf-8")
    correct(shop, 0.756 * INCH, 0.26 * INCH, ("straight 1/4", "bushing 3/4"))
    kit = correct(shop, 0.75 * INCH, 0.498 * INCH)
    assert [(each.bit, each.width) for each in kit.measured] == [
        ("straight 1/2", pytest.approx(0.498 * INCH)),
        ("straight 1/4", pytest.approx(0.26 * INCH)),
    ]
    assert "# written by hand" in shop.read_text("utf-8")


def test_line_ends_byte_order_mark_and_permissions_are_kept(shop: Path) -> None:
    raw = b"\xef\xbb\xbf" + shop.read_bytes().replace(b"\n", b"\r\n")
    shop.write_bytes(raw)
    shop.chmod(0o640)
    correct(shop, 0.756 * INCH, 0.503 * INCH)
    after = shop.read_bytes()
    assert after.startswith(raw.rstrip())
    assert b"\n" not in after.replace(b"\r\n", b"")
    assert stat.S_IMODE(shop.stat().st_mode) == 0o640
    assert [path.name for path in shop.parent.iterdir()] == ["shop.toml"]


def test_a_list_of_inline_tables_is_kept_as_such() -> None:
    kit = load_kit("inch-shop")
    found = adjusted(kit, kit.bit(PAIR[0]), kit.bushing(PAIR[1]), opening=19.2, width=12.8, date=DAY).measured
    text = with_measured("measured = []  # none yet\n[router]\n", found, "mm")
    assert text.startswith("measured = [{bit")
    assert "[[" not in text


def test_how_far_off_it_was(shop: Path) -> None:
    kit = load_kit(str(shop))
    first = adjusted(kit, kit.bit(PAIR[0]), kit.bushing(PAIR[1]), opening=19.2, width=12.8, date=DAY)
    assert (first.nominal, first.true, first.off) == pytest.approx((6.35, 6.4, 0.05))
    kit = write_measured(shop, first.measured, "mm")
    again = adjusted(kit, kit.bit(PAIR[0]), kit.bushing(PAIR[1]), opening=19.2, width=12.83, date=DAY)
    assert again.off == pytest.approx(-0.03)


@pytest.mark.parametrize(
    ("opening", "width", "slip"),
    [
        (0.75, 0.5, "measured in inches and given in mm"),
        (19.05, 0.5, "the groove was measured in inches"),
        (19.05 * INCH, 12.7 * INCH, "measured in mm and given in inches"),
        (12.7, 19.05, "exchanged"),
        (19.05, 19.05, "measure again"),
        (19.05, 19.05 - 3.175, "one offset"),
        (19.05, 19.05 - 4.7625, "straight 1/4 in bushing 7/16"),
        (19.05, 8.0, "straight 1/8 in bushing|measure again"),
        (30.0, 15.0, "measure again|would cut"),
    ],
)
def test_measurements_that_cannot_be(shop: Path, opening: float, width: float, slip: str) -> None:
    import re

    before = shop.read_bytes()
    with pytest.raises(InputError) as caught:
        correct(shop, opening, width)
    assert re.search(slip, caught.value.mend)
    assert caught.value.found
    assert caught.value.wanted
    assert shop.read_bytes() == before


@pytest.mark.parametrize("sizes", [(-1.0, 12.7), (0.0, 12.7), (float("nan"), 12.7), (19.05, float("inf")), (2e3, 1e3)])
def test_sizes_that_are_none(shop: Path, sizes: tuple[float, float]) -> None:
    with pytest.raises(InputError, match="no size"):
        correct(shop, *sizes)


def test_a_millimetre_off_is_the_limit(shop: Path) -> None:
    assert correct(shop, 19.05, 19.05 - 7.349).measured
    with pytest.raises(InputError, match="too far off"):
        correct(shop, 21.0, 21.0 - 7.36)


def test_a_shipped_kit_is_not_written_to() -> None:
    path = profiles_folder() / "inch-shop.toml"
    before = path.read_bytes()
    with pytest.raises(InputError) as caught:
        correct(path, 19.05, 12.7)
    assert "copy it" in caught.value.mend
    assert path.read_bytes() == before


def test_a_link_to_a_shipped_kit_is_not_written_to(tmp_path: Path) -> None:
    link = tmp_path / "mine.toml"
    link.symlink_to(profiles_folder() / "inch-shop.toml")
    with pytest.raises(InputError, match="not written to"):
        correct(link, 19.05, 12.7)


@pytest.mark.skipif(os.geteuid() == 0, reason="root writes everywhere")
def test_a_folder_that_is_not_writable(shop: Path) -> None:
    before = shop.read_bytes()
    shop.parent.chmod(0o500)
    try:
        with pytest.raises(OutputError, match="as it was"):
            correct(shop, 19.05, 12.7)
    finally:
        shop.parent.chmod(0o700)
    assert shop.read_bytes() == before


def test_a_failed_replacement_leaves_the_kit(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = shop.read_bytes()

    def full(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(OutputError, match="as it was"):
        correct(shop, 19.05, 12.7)
    assert shop.read_bytes() == before
    assert [path.name for path in shop.parent.iterdir()] == ["shop.toml"]


def test_the_diameter_of_the_bit_is_written_and_decides(shop: Path) -> None:
    kit = load_kit(str(shop))
    bit, bushing = kit.bit(PAIR[0]), kit.bushing(PAIR[1])
    found = adjusted(kit, bit, bushing, opening=19.2, width=12.9, date=DAY, diameter=12.62).measured
    kit = write_measured(shop, found, kit.units)
    assert 'diameter = "0.49685 in"' in shop.read_text("utf-8")
    assert kit.as_measured(bit).diameter == pytest.approx(12.62, abs=1e-4)
    tools = kit.measured[0].tools(bit, bushing)
    assert (tools[0].diameter, tools[1].outside) == pytest.approx((12.62, 18.92), abs=1e-4)
    # Measured again without it, it is forgotten, and the bit is what is off.
    again = adjusted(kit, bit, bushing, opening=19.2, width=12.9, date=DAY).measured
    kit = write_measured(shop, again, kit.units)
    assert "diameter" not in shop.read_text("utf-8").partition("[[measured]]")[2]
    assert kit.measured[0].tools(bit, bushing)[0].diameter == pytest.approx(12.75, abs=1e-4)


@pytest.mark.parametrize(
    ("width", "bit", "bushing"),
    [
        (12.70, 12.70, 19.05),  # as sold: 19.05 - 12.70 is 6.35
        (12.80, 12.80, 19.05),  # a difference too small by 0.1: the bit may be that much larger
        (12.60, 12.70, 19.15),  # too large: the bushing may be
        (13.10, 12.90, 18.85),  # no bit is 0.4 larger than sold: the bushing has the rest
    ],
)
def test_of_what_a_test_cut_may_mean_the_case_with_the_least_play_is_taken(
    shop: Path, width: float, bit: float, bushing: float
) -> None:
    """An oversize bit was said to have play where it binds: a cut of width W leaves its bushing W - d (derived)."""
    kit = load_kit(str(shop))
    found = adjusted(kit, kit.bit(PAIR[0]), kit.bushing(PAIR[1]), opening=19.05, width=width, date=DAY).measured
    tools = found.tools(kit.bit(PAIR[0]), kit.bushing(PAIR[1]))
    assert (tools[0].diameter, tools[1].outside) == pytest.approx((bit, bushing))
    assert tools[1].outside - tools[0].diameter == pytest.approx(19.05 - width)


@pytest.mark.parametrize(("diameter", "says"), [(14.0, "12.7 mm|1/2 in"), (13.4, "no groove narrower than itself")])
def test_diameters_that_cannot_be(shop: Path, diameter: float, says: str) -> None:
    import re

    kit = load_kit(str(shop))
    with pytest.raises(InputError, match="no diameter of straight 1/2") as caught:
        adjusted(kit, *(kit.bit(PAIR[0]), kit.bushing(PAIR[1])), opening=19.2, width=12.9, date=DAY, diameter=diameter)
    assert re.search(says, caught.value.wanted)
    assert "--bit-diameter" in caught.value.where


MEASURED = '[[measured]]\nbit = "{bit}"\nbushing = "{bushing}"\nopening = {t}\nwidth = {w}\ndate = {date}\n'


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"bit": "straight 5/8"}, "no bit called"),
        ({"bushing": "bushing 9"}, "no bushing called"),
        ({"w": 0.75}, "wider than its opening"),
        ({"w": 0.6}, "too far off"),
        ({"date": '"yesterday"'}, "not a date"),
        ({"w": '"half"'}, "not a number"),
        ({"date": '2024-05-31\ndiameter = "0.56"'}, "no diameter of straight 1/2"),
    ],
)
def test_measurements_in_a_file_are_checked(shop: Path, change: dict[str, object], says: str) -> None:
    keys = {"bit": PAIR[0], "bushing": PAIR[1], "t": 0.75, "w": 0.5, "date": "2024-05-31", **change}
    shop.write_text(shop.read_text("utf-8") + MEASURED.format(**keys), "utf-8")
    with pytest.raises(JigcamError) as caught:
        load_kit(str(shop))
    assert says in str(caught.value)
    assert "measured[1]" in str(caught.value)


def test_a_pair_is_measured_once(shop: Path) -> None:
    keys = {"bit": PAIR[0], "bushing": PAIR[1], "t": 0.75, "w": 0.5, "date": "2024-05-31"}
    shop.write_text(shop.read_text("utf-8") + 2 * MEASURED.format(**keys), "utf-8")
    with pytest.raises(Faults) as caught:
        load_kit(str(shop))
    assert "twice" in str(caught.value)


def test_tolerances_of_the_kit(shop: Path) -> None:
    shop.write_text(shop.read_text("utf-8") + '[tolerances]\nbit = "0.001"\nstock = "0.2 mm"\n', "utf-8")
    found = load_kit(str(shop)).accuracy
    assert (found.bit, found.stock, found.bushing) == pytest.approx((0.0254, 0.2, 0.05))
    assert (found.source("bit"), found.source("bushing")) == ("given", "common practice, no source")
    shop.write_text(shop.read_text("utf-8").replace("stock =", "stok ="), "utf-8")
    with pytest.raises(Faults) as caught:
        load_kit(str(shop))
    assert "stock" in str(caught.value)
