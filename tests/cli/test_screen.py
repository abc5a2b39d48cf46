"""What a person sees on a real terminal: fine pictures, the owner's colours, nothing wider than the screen."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from support.jobs import job_table, write_job
from support.kinds.sliding_dovetail import sliding_job
from support.pseudo_terminal import SGR, Screen, on_terminal
from support.shop import jigcam

from jigcam.drawing.roles import PENS, TONES
from jigcam.drawing.text import columns

EXAMPLES = Path(__file__).parents[2] / "examples" / "music-cabinet"
GROUNDS = {"dark": {"COLORFGBG": "15;0"}, "light": {"COLORFGBG": "0;15"}, "unknown": {}}
SIXTEEN = {*range(30, 38), *range(90, 98)}
WEIGHTS = {0, 1, 2}

# WCAG 2 contrast of the sixteen as terminals set them out: the original text screens, xterm and the Tango palette (all
# from memory). Colours under 1.9 on black or on white are lost there.
PALETTES = {
    "screens": {31: 0xAA0000, 32: 0x00AA00, 33: 0xAA5500, 34: 0x0000AA, 35: 0xAA00AA, 36: 0x00AAAA, 37: 0xAAAAAA},
    "xterm": {31: 0xCD0000, 32: 0x00CD00, 33: 0xCDCD00, 34: 0x0000EE, 35: 0xCD00CD, 36: 0x00CDCD, 37: 0xE5E5E5},
    "Tango": {31: 0xCC0000, 32: 0x4E9A06, 33: 0xC4A000, 34: 0x3465A4, 35: 0x75507B, 36: 0x06989A, 37: 0xD3D7CF},
}
READABLE = 1.9


def contrast(one: int, other: int) -> float:
    """WCAG 2.1, definition of contrast ratio, of two colours as 0xRRGGBB."""

    def luminance(colour: int) -> float:
        parts = [(colour >> shift & 0xFF) / 255 for shift in (16, 8, 0)]
        red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def lost(ink: int) -> bool:
    """Whether a colour cannot be read on a black or on a white ground of one of the palettes."""
    return any(
        ink not in each or contrast(each[ink], ground) < READABLE
        for each in PALETTES.values()
        for ground in (0, 0xFFFFFF)
    )


def assert_fits(screen: Screen, wide: int) -> None:
    assert screen.status == 0, screen.err
    assert screen.lines
    # A word that is wider than the screen, as a path may be, stays whole.
    assert [line for line in screen.lines if columns(line) > wide and len(line.split()) > 1] == []
    assert "\x1b" not in "\n".join(screen.lines)


@pytest.fixture(scope="module")
def quick(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job that takes no time."""
    return write_job(tmp_path_factory.mktemp("job"), job_table("mm", length=60, name="Türe 1"))


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("wide", [80, 140])
def test_the_picture_on_a_terminal_is_fine_and_in_the_owners_colours(wide: int, ground: str, quick: Path) -> None:
    """It was ASCII: the progress bar stood before stdout and hid its encoding."""
    screen = on_terminal("view", quick, columns=wide, **GROUNDS[ground])
    assert_fits(screen, wide)
    fine = [c for c in screen.out if "⠀" < c <= "⣿"]
    assert len(fine) > 200
    assert "├" in screen.out
    assert "Türe" in screen.out
    inks = screen.inks - WEIGHTS
    assert inks
    assert inks <= SIXTEEN
    assert not [ink for ink in inks if lost(ink)]


def test_every_tone_can_be_read_on_black_and_on_white() -> None:
    for tone, asked in TONES.items():
        inks = {int(each) for each in asked.split(";") if each} - WEIGHTS
        assert inks <= SIXTEEN, tone
        assert not [ink for ink in inks if lost(ink)], tone
    assert {pen.tone for pen in PENS.values()} <= set(TONES)
    assert lost(33)  # yellow, on white
    assert lost(34)  # blue, on black
    assert lost(37)


def test_no_colour_and_no_fine_picture_where_they_are_not_wanted(quick: Path) -> None:
    grey = on_terminal("view", quick, columns=80, NO_COLOR="1")
    assert SGR.search(grey.out) is None
    assert any("⠀" < c <= "⣿" for c in grey.out)
    plain = on_terminal("view", quick, columns=80, PYTHONIOENCODING="ascii")
    assert plain.out.isascii()
    assert_fits(plain, 80)
    piped = subprocess.run([sys.executable, "-m", "jigcam", "view", quick], capture_output=True, check=True)
    assert b"\x1b" not in piped.stdout


COMMANDS = {
    "nothing": [],
    "kits": ["kit"],
    "a kit": ["kit", "inch-shop"],
    "pairs": ["bushing", "pairs", EXAMPLES / "tilted-shelf.toml"],
    "tolerance": ["bushing", "tolerance", EXAMPLES / "tilted-shelf.toml", "--cuts", "1000"],
    "offset": ["bushing", "offset", "--bit", "1/2in", "--bushing", "3/4in", "--cut", "4in"],
    "movement": ["movement", "--wood", "black cherry", "--width", "10in"],
    "next": ["next", "divider.toml", "--gap", "0.3mm"],
    "check": ["check", "job.toml"],
    "why": ["check", "job.toml", "--why"],
    "make": ["make", "job.toml", "-o", "out"],
    "corners": ["view", EXAMPLES / "carcase.toml"],
}


@pytest.mark.parametrize("wide", [80, 140])
@pytest.mark.parametrize("what", COMMANDS)
def test_no_line_is_wider_than_the_terminal(what: str, wide: int, quick: Path, tmp_path: Path) -> None:
    write_job(tmp_path, sliding_job(tail_way="router-table")).replace(tmp_path / "divider.toml")
    shutil.copy(quick, tmp_path / "job.toml")
    screen = on_terminal(*COMMANDS[what], columns=wide, folder=tmp_path)
    assert_fits(screen, wide)
    inks = screen.inks - WEIGHTS - {39}
    assert inks <= SIXTEEN
    assert not [ink for ink in inks if lost(ink)]


def test_errors_and_refusals_fit_the_terminal(tmp_path: Path) -> None:
    job = job_table("mm", depth=24)
    job["joints"] = [{**job["joints"][0], "name": f"shelf number {n}"} for n in range(6)]
    write_job(tmp_path, job)
    for words, status in (
        (["check", "job.toml"], 1),
        (["kit", "inch-shp"], 2),
        (["check", "job.toml", "--joint", "x"], 2),
    ):
        screen = on_terminal(*words, columns=80, folder=tmp_path)
        assert screen.status == status
        told = SGR.sub("", screen.err).splitlines()
        # The bar of a slow command may still have moved the cursor.
        assert [line for line in told if columns(line) > 80 and "\x1b" not in line] == []
        assert any(line.startswith(("refused: ", "error: ")) for line in told)


def test_a_folded_table_has_the_first_column_in_each_part() -> None:
    names = [
        line.split("  ")[1] for line in jigcam("kit", "inch-shop").out.splitlines() if line.startswith("  straight")
    ]
    screen = on_terminal("kit", "inch-shop", columns=80)
    wide = on_terminal("kit", "inch-shop", columns=140)
    for name in set(names):
        assert sum(line.startswith(f"  {name}") for line in screen.lines) == 2, name
        assert sum(line.startswith(f"  {name}") for line in wide.lines) == 1, name
