"""The table of renderers: every one of them, what it makes, and that another is one more line."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest
from support.grooves import groove_job
from support.sample_drawing import sample

import jigcam.drawing
from jigcam.drawing import renderers
from jigcam.drawing.renderers import RENDERERS, Renderer
from jigcam.kit import load_kit


def test_every_module_that_renders_is_one_line_of_the_table() -> None:
    folder = Path(jigcam.drawing.__file__).parent
    able = sorted(f"jigcam.drawing.{path.stem}" for path in folder.glob("*.py") if "def files_of(" in path.read_text())
    assert able == sorted(each.module for each in RENDERERS)
    assert len({each.name for each in RENDERERS}) == len(RENDERERS)


@pytest.mark.parametrize("renderer", RENDERERS, ids=lambda each: each.name)
def test_a_renderer_makes_files_of_bytes_with_its_suffix(renderer: Renderer) -> None:
    made = dict(renderer.files({"plan": sample(), "side": sample()}, "a4"))
    assert made
    assert all(Path(name).suffix == renderer.suffix and raw.endswith(b"\n") for name, raw in made.items())
    assert renderer.printed or b"\r" not in b"".join(made.values())
    assert bool(dict(renderer.files({"plan": sample()}))) is not renderer.printed, "paper is for those who ask for it"


def test_no_renderer_is_imported_before_it_draws() -> None:
    code = (
        "import sys, jigcam.drawing.renderers as r\n"
        "late = {each.module for each in r.RENDERERS} & set(sys.modules)\n"
        "assert not late, late\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)


def test_a_run_without_paper_does_not_load_what_prints() -> None:
    """reportlab was loaded, and nothing was printed."""
    code = (
        "import sys; from jigcam.drawing.renderers import RENDERERS\n"
        "assert [list(each.files({})) for each in RENDERERS if each.printed] == [[]]\n"
        "print('reportlab' in sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout == "False\n"


def test_one_more_line_is_one_more_file_of_every_drawing(monkeypatch: pytest.MonkeyPatch) -> None:
    from jigcam.workshop.build import build_job
    from jigcam.workshop.contents import made_files

    built = build_job(groove_job(way="direct"), load_kit("metric-shop"))
    before = made_files(built)
    points = ModuleType("dots")
    points.files_of = lambda drawings: dict.fromkeys(drawings, b"\x00\xff")  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "dots", points)
    monkeypatch.setattr(renderers, "RENDERERS", (*RENDERERS, Renderer("dots", ".bin", "drawing", "dots")))
    after = made_files(built)
    more = [each for each in after if each not in before]
    assert [each for each in after if each in before] == before
    assert [Path(each.file).stem for each in more] == [Path(f.file).stem for f in before if f.file.endswith(".svg")]
    assert all(each.file.endswith(".bin") and each.content == b"\x00\xff" for each in more)
    assert {each.kind for each in more} == {"drawing"}
