"""`jigcam bushing …` from the command line: the standard examples, what is refused, and the way round to a new job."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from support.jobs import kit_table, toml

from jigcam.cli import main
from jigcam.kit import profiles_folder

INCH = 25.4
EXAMPLE = Path(__file__).parents[2] / "examples" / "music-cabinet" / "tilted-shelf.toml"


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["bushing", *words])


def facts(*words: str) -> Any:
    result = run(*words, "--json")
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


@pytest.mark.parametrize(
    ("bushing", "bit", "offset", "cut", "opening"),
    [
        # Worked openings for a cut of 4 x 1.5 in or 100 x 40 mm: standard examples (derived).
        ("3/4in", "1/2in", INCH / 8, ("4in", "1.5in"), (4.25 * INCH, 1.75 * INCH)),
        ("1in", "1/2in", INCH / 4, ("4in", "1.5in"), (4.5 * INCH, 2 * INCH)),
        ("5/8in", "1/2in", INCH / 16, ("4in", "1.5in"), (4.125 * INCH, 1.625 * INCH)),
        ("30mm", "10mm", 10.0, ("100mm", "40mm"), (120.0, 60.0)),
        ("30mm", "12.7mm", 8.65, ("100mm", "40mm"), (117.3, 57.3)),
        ("17mm", "10mm", 3.5, ("100mm", "40mm"), (107.0, 47.0)),
        # The classic mistake adds one offset: 5 x 7 in with B 1/2 and d 3/8 needs 5 1/8 x 7 1/8 in.
        ("1/2in", "3/8in", INCH / 16, ("5in", "7in"), (5.125 * INCH, 7.125 * INCH)),
    ],
)
def test_standard_openings(
    bushing: str, bit: str, offset: float, cut: tuple[str, str], opening: tuple[float, float]
) -> None:
    for size, wanted in zip(cut, opening, strict=True):
        found = facts("offset", "--bit", bit, "--bushing", bushing, "--cut", size)
        assert found["offset_mm"] == pytest.approx(offset, abs=1e-6)
        assert found["opening_mm"] == pytest.approx(wanted, abs=1e-6)
        back = facts("offset", "--bit", bit, "--bushing", bushing, "--opening", f"{wanted}mm")
        assert back["cut_mm"] == pytest.approx(found["cut_mm"], abs=1e-6)
        assert back["least_radius_mm"] > 0


def test_corners_and_patterns() -> None:
    # In an opening, cut radius = max(d/2, R - o); around a pattern, a sharp corner leaves the part rounded at o.
    assert facts("offset", "--bit", "10mm", "--bushing", "30mm", "--radius", "17mm")["least_radius_mm"] == 7.0
    assert facts("offset", "--bit", "10mm", "--bushing", "30mm", "--radius", "12mm")["least_radius_mm"] == 5.0
    part = facts("offset", "--bit", "10mm", "--bushing", "17mm", "--cut", "40mm", "--pattern")
    assert part["opening_mm"] == pytest.approx(33.0)
    assert part["feed"] == "anticlockwise"
    assert facts("offset", "--bit", "10mm", "--bushing", "17mm")["feed"] == "clockwise"


@pytest.mark.parametrize(
    "words",
    [
        ("offset", "--bit", "3/4in", "--bushing", "1/2in"),
        ("offset", "--bit", "10", "--bushing", "17mm"),
        ("offset", "--bit", "10mm", "--bushing", "17mm", "--cut", "5mm"),
        ("offset", "--bit", "10mm", "--bushing", "17mm", "--cut", "6mm", "--pattern"),
        ("offset", "--bit", "10mm", "--bushing", "17mm", "--cut", "40mm", "--opening", "47mm"),
        ("offset", "--bit", "10mm", "--bushing", "17mm", "--radius", "3mm", "--pattern"),
        ("pairs",),
        ("pairs", str(EXAMPLE), "--cut", "12mm"),
        ("pairs", str(EXAMPLE), "--depth", "12mm"),
        ("pairs", "--cut", "12mm", "--joint", "tilted shelf"),
        ("pairs", "--cut", "-1mm"),
        ("pairs", str(EXAMPLE), "--joint", "tilted self"),
        ("tolerance", str(EXAMPLE), "--cuts", "0"),
        ("tolerance", str(EXAMPLE), "--bit", "1in"),
        ("test", str(EXAMPLE)),
        ("adjust", "inch-shop", "--pair", "straight 1/2", "--opening", "0.75in", "--measured", "0.5in"),
        ("adjust", "inch-shop", "--pair", "straight 1/3,bushing 3/4", "--opening", "0.75in", "--measured", "0.5in"),
        ("adjust", "inch-shop", "--pair", "straight 1/2,bushing 3/4", "--opening", "0.75in", "--measured", "0.5in"),
        ("adjust", "nowhere.toml", "--pair", "straight 1/2,bushing 3/4", "--opening", "0.75in", "--measured", "0.5in"),
    ],
)
def test_wrong_usage(words: tuple[str, ...]) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert result.stderr
    assert "Traceback" not in result.output


def test_pairs_of_a_job_and_of_a_width() -> None:
    (cut,) = facts("pairs", str(EXAMPLE))["cuts"]
    best = cut["pairs"][0]
    assert (best["bit"], best["bushing"], best["ok"]) == ("straight 1/2", "bushing 3/4", True)
    assert best["base"]["fraction"] > 0.5
    assert all(each["reasons"] for each in cut["pairs"] if not each["ok"])
    assert cut["recess_and_plug"] == [{"bit": "straight 1/8", "recess": "bushing 3/4", "plug": "bushing 1/2"}]
    assert cut["sharing_one_opening"]
    (wide,) = facts("pairs", "--cut", "12.2mm", "--depth", "6mm", "--kit", "metric-shop")["cuts"]
    assert wide["kit"] == "Metric shop"
    assert "refused" in run("pairs", "--cut", "12.2mm").stdout


def test_tolerance_is_the_same_for_the_same_seed() -> None:
    one, same, other = (facts("tolerance", str(EXAMPLE), "--cuts", "2000", "--seed", s) for s in ("5", "5", "6"))
    assert one == same != other
    assert one["joints"][0]["attack_first"]


def test_tolerance_takes_the_axes_as_they_were_measured(tmp_path: Path) -> None:
    kit = tmp_path / "my-shop.toml"
    kit.write_text(toml(kit_table("in", router={"eccentricity": "0.08 mm"})), "utf-8")
    words = ("tolerance", str(EXAMPLE), "--cuts", "1000", "--kit")
    assumed, known = (facts(*words, each)["joints"][0] for each in ("inch-shop", str(kit)))
    assert assumed["limits_mm"]["concentricity"] == pytest.approx(0.1)
    assert known["limits_mm"]["concentricity"] == pytest.approx(0.08)
    assert known["sources"]["concentricity"] == "measured: [router] eccentricity of the kit"
    # Known for certain it weighs more than a limit that is a little larger: 0.08²/2 to 0.1²/6 (derived).
    assert known["place"]["u_mm"] ** 2 - assumed["place"]["u_mm"] ** 2 == pytest.approx(
        0.5 * (0.08**2 / 2.0 - 0.1**2 / 6.0), abs=2e-6
    )
    limit = facts(*words, str(kit), "--concentricity", "0.1mm")["joints"][0]
    assert limit["place"] == assumed["place"]
    assert limit["sources"]["concentricity"] == "given"
    assert "measured: [router] eccentricity" in run(*words, str(kit)).stdout


def test_help_names_every_command() -> None:
    text = run("--help").stdout
    for name in ("offset", "pairs", "tolerance", "test", "adjust"):
        assert name in text
        assert run(name, "--help").exit_code == 0


def test_from_the_test_cut_to_the_next_job(tmp_path: Path) -> None:
    kit = tmp_path / "my-shop.toml"
    kit.write_bytes((profiles_folder() / "inch-shop.toml").read_bytes())
    words = ("adjust", str(kit), "--pair", "straight 1/2,bushing 3/4", "--opening", "0.756in", "--measured", "0.503in")
    dry = facts(*words, "--date", "2024-05-31", "--dry")
    assert dry["written"] is False
    assert "measured" not in kit.read_text("utf-8").replace("# measured", "").replace("measure what", "")
    done = facts(*words, "--date", "2024-05-31")
    assert done["true_difference_mm"] == pytest.approx(0.253 * INCH)
    assert done["off_mm"] == pytest.approx(0.003 * INCH, abs=1e-6)
    (cut,) = facts("pairs", str(EXAMPLE), "--kit", str(kit))["cuts"]
    best = cut["pairs"][0]
    assert best["measured"] is True
    assert best["opening_mm"] == pytest.approx((0.506 + 0.253) * INCH, abs=1e-6)
    assert facts("tolerance", str(EXAMPLE), "--kit", str(kit), "--cuts", "1000")["joints"][0]["measured"] is True
    slip = run(*words[:4], "--opening", "0.756mm", "--measured", "0.503mm")
    assert slip.exit_code == 2
    assert "25.4" in slip.stderr


def test_the_bit_as_measured_says_which_of_the_two_is_off(tmp_path: Path) -> None:
    kit = tmp_path / "my-shop.toml"
    kit.write_bytes((profiles_folder() / "inch-shop.toml").read_bytes())
    words = ("adjust", str(kit), "--pair", "straight 1/2,bushing 3/4", "--opening", "0.75in", "--measured", "0.504in")
    plain = run(*words, "--dry").stdout
    assert "play is reckoned with a bit of 0.5040 in and a bushing of 0.7500 in" in plain
    assert "--bit-diameter" in plain
    known = run(*words, "--bit-diameter", "0.5in").stdout
    assert "play is reckoned with a bit of 0.5000 in and a bushing of 0.7460 in" in known
    assert "--bit-diameter" not in known
    done = facts(*words, "--bit-diameter", "0.502in")
    assert done["bit_diameter_mm"] == pytest.approx(0.502 * INCH)
    (cut,) = facts("pairs", str(EXAMPLE), "--kit", str(kit))["cuts"]
    best = next(each for each in cut["pairs"] if each["measured"])
    assert best["play_mm"] == pytest.approx((0.506 - 0.502) * INCH, abs=1e-5)
    wrong = run(*words, "--bit-diameter", "0.6in")
    assert wrong.exit_code == 2
    assert "no diameter of straight 1/2" in wrong.stderr
