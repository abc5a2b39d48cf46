"""What the README tells people to type, typed in one folder from top to bottom."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from support.shop import jigcam

README = Path(__file__).parents[1] / "README.md"


def first_hour() -> list[str]:
    """The command lines of the section, without what is said beside them."""
    text = README.read_text("utf-8").split("## The first hour")[1].split("\n## ")[0]
    blocks = re.findall(r"```sh\n(.*?)```", text, re.DOTALL)
    return [re.sub(r"\s+#.*", "", line) for block in blocks for line in block.splitlines()]


@pytest.mark.skipif(not README.is_file(), reason="the README comes with the sources")
def test_the_first_hour_can_be_typed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    lines = first_hour()
    assert len(lines) >= 15
    for line in lines:
        program, *arguments = shlex.split(line)
        assert program == "jigcam"
        if arguments[:2] == ["make", "by-hand.toml"]:
            # What the line above says to write.
            job = Path("by-hand.toml")
            job.write_text(job.read_text("utf-8").replace("[[joints]]\n", '[[joints]]\nway = "hand"\n', 1), "utf-8")
        run = jigcam(*arguments)
        assert run.status == 0, (line, run.err)
    made = {path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("setup-sheet.txt")}
    assert {"out/tilted-shelf/setup-sheet.txt"} <= made
    assert len(made) == 6, "shelf, corner, coupon, the corner by hand, and the case's groove and corners"
    assert {"case/shelf/setup-sheet.txt", "case/corners/setup-sheet.txt"} <= made
    assert "measured" in Path("my-kit.toml").read_text()


@pytest.mark.skipif(not README.is_file(), reason="the README comes with the sources")
def test_the_picture_is_the_one_that_the_program_draws() -> None:
    """The lines of the golden file, which another test keeps equal to what is drawn; and its link leads somewhere."""
    text = README.read_text("utf-8")
    shown = re.search(r"```text\n(.*?)\n```", text, re.DOTALL)
    golden = README.parent / "tests" / "golden" / "tilted-shelf" / "tilted-shelf"
    assert shown
    drawn = "\n".join(line.rstrip() for line in (golden / "preview.txt").read_text("utf-8").splitlines())
    assert shown[1] in drawn
    assert all((README.parent / link).is_file() for link in re.findall(r"\]\((tests/[^)]+)\)", text))
