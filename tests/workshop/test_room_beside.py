"""Where a bit goes down beside a lying board nothing may stand: the sheet says so, as the file's text does it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from support.shop import jigcam

SIDES = {"left end": 0, "right end": 1, "lower edge": 2, "upper edge": 3}


def reaches(text: str, stock: tuple[float, float]) -> list[float]:
    """How far the rim goes beyond the board's sides below its face, in mm, by the words of the file alone."""
    (radius,) = {float(each) / 2.0 for each in re.findall(r"diameter ([\d.]+) mm\)", text)}
    x = y = z = 0.0
    beyond = [0.0, 0.0, 0.0, 0.0]
    for line in text.splitlines():
        if line.startswith("(") or "G4 " in line:
            continue
        words = dict(re.findall(r"([XYZ])(-?[\d.]+)", line))
        x, y, z = float(words.get("X", x)), float(words.get("Y", y)), float(words.get("Z", z))
        if z < 0.0:
            here = (radius - x, x + radius - stock[0], radius - y, y + radius - stock[1])
            beyond = [max(pair) for pair in zip(beyond, here, strict=True)]
    return beyond


@pytest.mark.parametrize(
    ("kind", "changes"),
    [
        ("sliding-dovetail", {}),
        ("sliding-dovetail", {'"stopped"': '"open"'}),
        (
            "groove",
            {
                '"template"': '"direct"',
                'start     = "stopped"': 'start     = "open"',
                "opposite_hand = true": "opposite_hand = false",
            },
            True,
        ),
        ("rabbet", {}),
    ],
)
def test_the_sheet_keeps_free_what_the_file_takes(
    kind: str, changes: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A backer was asked for just where the dovetail bit goes 9.5 mm straight down at the feed of a move in air."""
    monkeypatch.chdir(tmp_path)
    job = jigcam("start", kind, "--units", "mm").out
    for old, new in changes.items():
        assert old in job
        job = job.replace(old, new)
    Path("job.toml").write_text(job, "utf-8")
    run = jigcam("make", "job.toml")
    assert run.status == 0, run.err
    (sheet,) = Path("out").rglob("setup-sheet.txt")
    said = " ".join(sheet.read_text("utf-8").split())
    step = said.split("lying flat", 1)[1].split("stock ", 1)
    stock = re.match(r"([\d.]+) mm x ([\d.]+) mm", step[1])
    assert stock
    texts = [path.read_text("utf-8") for path in Path("out").rglob("*.nc") if "dry-run" not in path.name]
    flat = [text for text in texts if "setup: flat" in text]
    size = float(stock[1]), float(stock[2])
    taken = [max(each) for each in zip(*(reaches(text, size) for text in flat), strict=True)]
    told = dict.fromkeys(SIDES, 0.0)
    sentence = re.search(r"Nothing, not even a backer, stands within (.*?): the bit goes down", step[0])
    for told_mm, name in re.findall(r"([\d.]+) mm of the (\w+ \w+)", sentence[1] if sentence else ""):
        told[name] = float(told_mm)
    assert max(taken) > 5.0
    assert "flush against" not in step[0]
    for name, number in SIDES.items():
        # All are cut from the inside, from where the board's right end is at the left.
        seen = number ^ 1 if number < 2 else number
        assert taken[seen] - 1e-6 <= told[name] <= taken[seen] + 1.0, name
