"""The fit that the manifest tells for every kind of joint, and what it becomes when a file is changed by hand."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from math import atan, cos, sqrt
from pathlib import Path
from typing import Any

import pytest
from support.jobs import job_table, write_job
from support.shop import jigcam

from jigcam.joints import kind as kind_named

BOARDS = {
    "side": {"length": 300, "width": 90, "thickness": 20},
    "top": {"length": 700, "width": 90, "thickness": 16},
}
CORNER = {
    "name": "corner",
    "kind": "through-dovetail",
    "tails": "side",
    "tails_end": "right",
    "pins": "top",
    "pins_end": "left",
}
EVEN = {"count": 2, "pin": 10, "half_pin": 7, "slope": "1:8"}
THIN = {
    "side": {"length": 300, "width": 45, "thickness": 12},
    "top": {"length": 500, "width": 45, "thickness": 8},
}
"""Thinner boards take fewer terraces, and so less time to prove."""
MEASURED = [[7.0, 37.5, 9.4, 35.9], [46.0, 82.4, 48.1, 79.5]]
SLOPE = atan(1 / 8)


def corner(boards: dict[str, Any] = BOARDS, **keys: Any) -> dict[str, Any]:
    return {
        "job": "Sheet-music cabinet",
        "units": "mm",
        "kit": "metric-shop",
        "boards": boards,
        "joints": [{**CORNER, **keys}],
    }


def a_job(folder: Path, kind: str) -> Path:
    if kind == "key":
        folder.mkdir(parents=True)
        (folder / "job.toml").write_text(kind_named("key").starter("mm"), "utf-8")
        return folder / "job.toml"
    table = {
        "groove by template": lambda: job_table("mm", way="template", angle=0, length=100),
        "groove cut directly": lambda: job_table("mm", way="direct", angle=0, length=100),
        "dovetail upright": lambda: corner(**EVEN, tails_setup="upright", pins_setup="upright"),
        # No bit's slope is near enough for such a scallop: terraces.
        "dovetail flat": lambda: corner(
            THIN, **EVEN | {"count": 1}, tails_setup="flat", pins_setup="flat", scallop=0.015
        ),
        "dovetail measured": lambda: corner(measured=MEASURED),
    }[kind]()
    return write_job(folder, table)


KINDS = (
    "groove by template",
    "groove cut directly",
    "key",
    "dovetail upright",
    "dovetail flat",
    "dovetail measured",
)
Made = Callable[[str], Path]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """Makes the job of a kind once; its folder."""
    folder = tmp_path_factory.mktemp("fits")

    def of(kind: str) -> Path:
        place = folder / kind.replace(" ", "-")
        if not place.exists():
            run = jigcam("make", a_job(place, kind), "-o", place / "out")
            assert run.status == 0, run.err
        return place

    return of


@pytest.mark.parametrize("kind", KINDS)
def test_the_manifest_tells_least_median_most_and_where(kind: str, made: Made) -> None:
    manifest = json.loads((made(kind) / "out" / "manifest.json").read_text("utf-8"))
    fit = manifest["proof"][0]["fit"]
    told = [fit, *fit.get("corners", ()), *(each for c in fit.get("corners", ()) for each in c["contacts"])]
    for each in told:
        assert each["least_mm"] <= each["median_mm"] <= each["most_mm"]
        assert len(each["where"]) == (3 if "corners" in fit else 2)
        assert all(isinstance(value, int | float) for value in each["where"])
    drawn = {"key": 0.0, **dict.fromkeys(KINDS[:2], 0.075)}.get(kind, 0.05)  # a groove's is shared by both sides
    terraces = 0.015 if kind == "dovetail flat" else 0.002  # steps up a slope are left standing as wood
    assert fit["least_mm"] == pytest.approx(drawn, abs=terraces)
    if "corners" not in fit and kind != "key":
        x, y = fit["where"]
        assert 100.0 <= x <= 200.0
        assert y == pytest.approx(38.0)


def changed(made: Path, name: str, change: Callable[[str], str], folder: Path) -> tuple[dict[str, Any], dict[str, Any]]:
    """`prove --json` of one file as made and as changed."""
    file = next((made / "out").rglob(name))
    text = file.read_text("ascii")
    other = folder / name
    other.write_text(change(text), "ascii")
    assert other.read_text("ascii") != text
    runs = [jigcam("prove", each, "--job", made / "job.toml", "--json") for each in (file, other)]
    assert [run.status for run in runs] == [0, 1]
    return runs[0].json, runs[1].json


def finishing(text: str, change: Callable[[str], str]) -> str:
    """The text with what finishes the opening changed, and nothing else of it."""
    begin = text.index("(finish the opening")
    end = text.index("G0 Z", begin)
    return text[:begin] + change(text[begin:end]) + text[end:]


@pytest.mark.parametrize("by", [0.1, -0.1])
def test_a_wall_of_the_opening_moved_shows_whole_in_the_room_of_the_mate(by: float, made: Made, tmp_path: Path) -> None:
    """The bushing follows the wall, so the groove is as much wider or narrower; the mate's best seat shares it."""

    def wider(lines: str) -> str:
        wall = max(float(y) for y in re.findall(r"Y(\d+\.\d+)", lines))
        moved = lines.replace(f"Y{wall:.4f}", f"Y{wall + by:.4f}")
        half = max(float(j) for j in re.findall(r"G3 X\S+ Y\S+ I0\.0000 J(\d+\.\d+)", lines))  # of the round ends
        return re.sub(rf"J(-?){half:.4f}", rf"J\g<1>{half + by / 2.0:.4f}", moved)

    before, after = changed(made("groove by template"), "template.nc", lambda text: finishing(text, wider), tmp_path)
    was, fit = before["fit"], after["fit"]
    assert fit["total_mm"] - was["total_mm"] == pytest.approx(by, abs=0.001)
    for key in ("least_mm", "median_mm", "most_mm"):
        assert fit[key] - was[key] == pytest.approx(by / 2.0, abs=0.001)
    assert fit["shift_mm"] == pytest.approx(by / 2.0, abs=0.001)
    assert after["gouge_mm" if by > 0.0 else "left_mm"] == pytest.approx(abs(by), abs=0.002)


def test_a_wall_of_a_keys_opening_moved_moves_recess_and_key_alike(made: Made, tmp_path: Path) -> None:
    """Both come from the one opening: the recess is too long by as much, and the key still fills it."""

    def longer(lines: str) -> str:
        return re.sub(r"Y(1\d\d\.\d+)", lambda word: f"Y{float(word[1]) - 0.1:.4f}", lines)

    before, after = changed(made("key"), "template.nc", lambda text: finishing(text, longer), tmp_path)
    assert after["gouge_mm"] == pytest.approx(0.1, abs=0.002)
    for key in ("least_mm", "median_mm", "most_mm"):
        assert after["fit"][key] == pytest.approx(before["fit"][key], abs=0.002)


def test_a_dent_in_a_keys_opening_keeps_the_key_out(made: Made, tmp_path: Path) -> None:
    """A bushing of radius R goes into a dent 2h wide by R − √(R² − h²) (the sagitta). The key's outline lies (B₂ + d)/2
    from the wall and so follows it as a circle of 7 mm would, the recess as B₁/2 = 8.5 mm: the key is too large there
    by the difference (derived)."""
    cutter, deep, flat = 3.0, 0.5, 1.5

    def dented(lines: str) -> str:
        x, y = re.findall(r"G3 X(\S+) Y(\S+)", lines)[0]  # where the lead-in meets the end wall; +X from there
        a, low = float(x) + 4.0, float(y) - deep
        dent = f"X{a:.4f}\nY{low:.4f}\nX{a + flat:.4f}\nY{y}\n"
        return lines.replace("G1 X", f"G1 {dent}X", 1)

    def sagitta(radius: float) -> float:
        h = flat / 2.0 + sqrt(cutter**2 - (cutter - deep) ** 2)
        return radius - sqrt(radius**2 - h**2)

    before, after = changed(made("key"), "template.nc", lambda text: finishing(text, dented), tmp_path)
    tighter = sagitta(7.0) - sagitta(8.5)
    assert tighter > 0.07
    assert after["fit"]["least_mm"] - before["fit"]["least_mm"] == pytest.approx(-tighter, abs=0.002)
    assert after["fit"]["most_mm"] < 0.02
    assert (before["fit"]["seats"], after["fit"]["seats"]) == (True, False)
    assert "key-and-recess" in {finding["rule"] for finding in after["findings"]}


@pytest.mark.parametrize(("kind", "row"), [("dovetail upright", 0), ("dovetail flat", 1), ("dovetail measured", 0)])
def test_pins_moved_along_the_width_shift_the_gaps_at_their_flanks(
    kind: str, row: int, made: Made, tmp_path: Path
) -> None:
    """Pins that lie e further up leave e · cos α less at the lower flanks of the tails, and as much more at the upper
    ones (derived). row: of the file's placement that tells the way along the width."""
    folder = made(kind)
    facts = json.loads((folder / "out" / "manifest.json").read_text("utf-8"))
    name = next(each["file"] for each in facts["files"] if re.search(r"\d-top-left-pins\.nc$", each["file"]))
    sense = next(each["placement"] for each in facts["files"] if each["file"] == name)[row][row]
    up = 0.1 * sense

    def moved(text: str) -> str:
        word = re.compile(rf"^([^(].*)?{'XY'[row]}(-?\d+\.\d+)", re.MULTILINE)
        return word.sub(lambda m: f"{m[1] or ''}{'XY'[row]}{float(m[2]) + 0.1:.4f}", text)

    before, after = changed(folder, Path(name).name, moved, tmp_path)
    was, found = (
        {each["contact"]: each for each in proof["fit"]["corners"][0]["contacts"]} for proof in (before, after)
    )
    for contact, each in found.items():
        way = {"lower flank": -1.0, "upper flank": 1.0}.get(contact.split(", ")[1], 0.0)
        for key in ("least_mm", "median_mm", "most_mm"):
            assert each[key] - was[contact][key] == pytest.approx(way * up * cos(SLOPE), abs=0.001), contact
    assert "does-not-fit" in {finding["rule"] for finding in after["findings"]}
    assert after["fit"]["least_mm"] == min(each["least_mm"] for each in found.values() if each["kind"] == "flank")
