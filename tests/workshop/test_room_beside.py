"""Where a bit goes down beside a lying board nothing may stand: the sheet says so, as the file's text does it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from support.shop import jigcam

SIDES = {"left end": 0, "right end": 1, "lower edge": 2, "upper edge": 3}


def reaches(text: str, stock: tuple[float, float], shift: float = 0.0) -> list[float]:
    """How far the rim goes beyond the board's sides below its face, in mm, by the words of the file alone.

    shift: how far the board lies at the left of zero.
    """
    (radius,) = {float(each) / 2.0 for each in re.findall(r"diameter ([\d.]+) mm\)", text)}
    x = y = z = 0.0
    beyond = [0.0, 0.0, 0.0, 0.0]
    for line in text.splitlines():
        if line.startswith("(") or "G4 " in line:
            continue
        words = dict(re.findall(r"([XYZ])(-?[\d.]+)", line))
        x, y, z = float(words.get("X", x)), float(words.get("Y", y)), float(words.get("Z", z))
        if z < 0.0:
            at = x + shift
            here = (radius - at, at + radius - stock[0], radius - y, y + radius - stock[1])
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


def clampings(tmp_path: Path, job: str) -> list[tuple[str, list[str]]]:
    """The clampings of a job's only sheet: its words, and the texts of its files."""
    Path("job.toml").write_text(job, "utf-8")
    run = jigcam("make", "job.toml", "-o", "out")
    assert run.status == 0, run.err
    (sheet,) = (tmp_path / "out").rglob("setup-sheet.txt")
    parts = re.split(r"\n(?=\d\. )", sheet.read_text("utf-8"))[1:]
    made = {path.name: path for path in (tmp_path / "out").rglob("*.nc") if "dry-run" not in path.name}
    return [
        (" ".join(part.split()), [p.read_text("utf-8") for n, p in made.items() if f"/{n}" in part]) for part in parts
    ]


@pytest.mark.parametrize("changes", ['tails_setup = "flat"', 'tails_setup = "flat"\ncorners = "relieved"'])
@pytest.mark.parametrize("pins", ["", '\npins_setup = "flat"'])
def test_dovetails_that_lie_flat_keep_free_what_their_files_take(
    changes: str, pins: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Beyond the end and both edges bits go down there in the air, and the sheet said nothing of it."""
    monkeypatch.chdir(tmp_path)
    job = jigcam("start", "through-dovetail", "--units", "mm").out + changes + pins
    flat = [each for each in clampings(tmp_path, job) if "lying flat" in each[0] and each[1]]
    assert len(flat) >= 2
    for words, texts in flat:
        end, face = re.search(r", (left|right) end:", words), re.search(r"The (inside|outside) face up", words)
        stock = re.search(r"stock ([\d.]+) mm x ([\d.]+) mm", words)
        assert end
        assert face
        assert stock
        # A file from the lower right corner has the board at the left of its zero.
        length, width = float(stock[1]), float(stock[2])
        shift = length if "zero lower right corner" in words else 0.0
        taken = [max(each) for each in zip(*(reaches(text, (length, width), shift) for text in texts), strict=True)]
        sentence = re.search(r"Nothing, not even a backer, stands within (.*?): the bit goes down", words)
        assert sentence, words
        told = {name: float(mm) for mm, name in re.findall(r"([\d.]+) mm of the (\w+ \w+)", sentence[1])}
        assert told[f"{end[1]} end"] > 5.0
        left, right = ("left end", "right end") if face[1] == "outside" else ("right end", "left end")
        for name, mm in zip((left, right, "lower edge", "upper edge"), taken, strict=True):
            assert mm - 1e-6 <= told.get(name, 0.0) <= mm + 1.0, (name, words)


@pytest.mark.parametrize("end", ["left", "right"])
@pytest.mark.parametrize("start", ["stopped", "open"])
def test_a_standing_tail_keeps_free_what_its_file_takes(
    end: str, start: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All round but at the edge where the backer is, and with the hand at which each edge is."""
    monkeypatch.chdir(tmp_path)
    job = jigcam("start", "sliding-dovetail", "--units", "mm").out
    job = job.replace('tail_end = "left"', f'tail_end = "{end}"').replace('"stopped"', f'"{start}"')
    if start == "open":
        job = job.replace("[250, 19]", "[250, 0]").replace("= 266 ", "= 285 ")
    ((words, texts),) = [each for each in clampings(tmp_path, job) if "Cut the tail" in each[0]]
    stock = re.search(r"stock ([\d.]+) mm x ([\d.]+) mm", words)
    backer = re.search(r"thick against the (\w+ edge)", words)
    assert stock
    assert backer
    (taken,) = (reaches(text, (float(stock[1]), float(stock[2]))) for text in texts)
    sentence = re.search(r"But for the backer, nothing stands above the vise within (.*?): the bit goes down", words)
    assert sentence, words
    told = {
        name: (float(mm), hand) for mm, name, hand in re.findall(r"([\d.]+) mm of the (\w+ \w+), ([\w ]+)", sentence[1])
    }
    left, right = ("lower edge", "upper edge") if end == "left" else ("upper edge", "lower edge")
    sides = {left: "on your left", right: "on your right", "outside face": "toward you", "inside face": "behind"}
    assert set(told) == set(sides) - {backer[1]}
    for (name, hand), mm in zip(sides.items(), taken, strict=True):
        if name != backer[1]:
            assert mm > 5.0
            assert mm - 1e-6 <= told[name][0] <= mm + 1.0, name
            assert told[name][1] == hand
