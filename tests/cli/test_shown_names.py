"""Names on the screen, on sheets, in pictures, in comments and in names of files: no character of them acts there."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from support.jobs import Table, job_table, kit_table, write_job
from support.shop import content, jigcam

from jigcam.characters import escaped, laid_out, one_line

# Unicode Standard Annex 9, section 2: marks, embeddings, overrides and isolates; the separators that break a line; the
# controls of ISO/IEC 6429, of which 0x9b opens a sequence by itself.
ACTING = (
    "\x00\x07\x08\x0b\x1b\x7f\x85\x9b\u061c\u200e\u200f\u2028\u2029\u202a\u202d\u202e\u2066\u2069\u200b\ufeff\U000e0041"
)
NAMES = [
    "shelf\u202egnp.exe",
    "a\nrefused: a line of its own",
    "a\r\x1b[2K\x1b[31mred",
    "a\u2028b\u2029c\x85d",
    "\u2067\u202d\x9b2J",
    f"all {ACTING}",
]


def hostile(folder: Path, name: str, **more: Table) -> Path:
    """A job and a kit in which everything that has a name has that one."""
    kit = kit_table()
    kit["kit"] = name
    for tool in (*kit["bits"], *kit["bushings"]):
        tool["name"] = f"{tool['name']} {name}"[:80]
    table = job_table(name=name, board=name, receives="mate " + name, way="template")
    boards = table["boards"]
    table["boards"] = {name: boards["side"], "mate " + name: boards["shelf"]}
    table["job"] = name
    return write_job(folder, {**table, **more}, kit)


def lines(text: str) -> list[str]:
    """Its lines, of characters that print."""
    found = text.split("\n")
    assert [line for line in found if not line.isprintable() or line.startswith("refused: a line")] == []
    return found


@pytest.mark.parametrize("name", NAMES)
def test_in_every_file_of_the_output(tmp_path: Path, name: str) -> None:
    out = tmp_path / "out"
    run = jigcam("make", hostile(tmp_path / "job", name), "-o", out)
    assert run.status == 0, run.err
    lines(run.out + run.err)
    for file, raw in content(out).items():
        assert re.fullmatch(r"[a-z0-9./-]+", file)
        text = raw.decode("ascii" if file.endswith(".nc") else "utf-8")
        assert len(lines(text)) > 1
    manifest = json.loads((out / "manifest.json").read_text("utf-8"))
    assert (manifest["job"], manifest["kit"]) == (name, name), "for programs, names are as they are"


@pytest.mark.parametrize("name", NAMES)
def test_on_the_screen(tmp_path: Path, name: str) -> None:
    job = hostile(tmp_path, name)
    lost = hostile(tmp_path / "lost", name, joints=job_table(name=name, board=name + name)["joints"])
    deep = hostile(
        tmp_path / "deep",
        name,
        joints=job_table(name=name, board=name, depth="27/32", receives=None, width="1/2")["joints"],
    )
    sound: list[list[str | Path]] = [
        ["check", job],
        ["view", job],
        ["kit", tmp_path / "kit.toml"],
        ["bushing", "pairs", job],
        ["bushing", "tolerance", job, "--cuts", "100"],
    ]
    unsound: list[list[str | Path]] = [
        ["check", job, "--joint", name + "?"],
        ["check", lost],
        ["check", deep],
        ["check", tmp_path / f"{name}.toml".replace("\0", "")],
        ["start", name],
        ["view", job, name],
        [name],
    ]
    for words in (*sound, *unsound):
        for flags in ((), ("--json",))[: 2 if words[0] == "kit" or words[-1] in (job, deep, lost) else 1]:
            run = jigcam(*words, *flags)
            assert run.status == (0 if words in sound else 2 if words[-1] != deep else 1), run
            lines(run.out + run.err)


def test_no_name_brings_colours_to_a_terminal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("jigcam.cli.screen.colour_wanted", lambda stream: True)
    for command, file in (("check", hostile(tmp_path, "a\x1b[31mred")), ("kit", tmp_path / "kit.toml")):
        run = jigcam(command, file)
        assert run.status == 0
        assert "\x1b[31mred" not in run.out
        assert "?[31mred" in run.out
    assert "\x1b[3" in jigcam("check", hostile(tmp_path, "a")).out, "our own colours stay"


def test_json_means_the_same_when_it_is_escaped() -> None:
    text = json.dumps({"name": ACTING}, ensure_ascii=False)
    assert json.loads(escaped(text)) == {"name": ACTING}
    assert escaped(text).isprintable()


def test_one_line_keeps_the_number_of_characters() -> None:
    assert one_line("Tür – ½ 棚板 שולחן") == "Tür – ½ 棚板 שולחן"
    assert one_line("a\tb\u00a0c\nd") == "a b c d"
    assert one_line(ACTING).strip("? ") == ""
    assert len(one_line(ACTING)) == len(ACTING)


def test_what_is_laid_out_keeps_its_lines_and_colours() -> None:
    text = "a\tb\n\x1b[31mred\x1b[0m ⣿ ½\n"
    assert laid_out(text) == text
    assert laid_out(ACTING + "\x1b[2J\r").strip("?") == "[2J"
