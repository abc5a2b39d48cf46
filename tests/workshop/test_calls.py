"""The package's face in Python: few names, typed, and the same bytes as the command line."""

from __future__ import annotations

import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import get_type_hints

import pytest
from click.testing import CliRunner

import jigcam
from jigcam.cli import main
from jigcam.joints import kind

README = Path(__file__).parents[2] / "README.md"


@pytest.fixture(scope="module")
def rabbet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("job") / "rabbet.toml"
    path.write_text(kind("rabbet").starter("in"))
    return path


@pytest.fixture(scope="module")
def made(rabbet: Path) -> jigcam.Made:
    return jigcam.make(jigcam.load_job(rabbet))


def test_every_name_is_there_and_says_what_it_is() -> None:
    assert {"load_job", "load_kit", "make", "prove"} <= set(jigcam.__all__) <= set(dir(jigcam))
    assert all(getattr(jigcam, name).__doc__ for name in jigcam.__all__)
    with pytest.raises(AttributeError, match="no attribute 'mill'"):
        jigcam.mill  # noqa: B018


def test_import_alone_is_light() -> None:
    code = "import sys, jigcam; print(sorted({'numpy', 'shapely', 'pydantic', 'click'} & set(sys.modules)))"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout.strip() == "[]"


def test_calls_are_typed() -> None:
    for call in (jigcam.make, jigcam.prove, jigcam.load_job, jigcam.load_kit):
        names = {**vars(sys.modules[call.__module__]), "HomePaper": str, "Progress": object, "Path": Path}
        names |= {"Job": object, "Kit": object}
        assert "return" in get_type_hints(call, names), call


def test_same_bytes_as_the_command_line(rabbet: Path, made: jigcam.Made, tmp_path: Path) -> None:
    result = CliRunner().invoke(main, ["make", str(rabbet), "-o", str(tmp_path / "out")])
    assert result.exit_code == 0, result.output
    written = {p.relative_to(tmp_path / "out").as_posix(): p.read_bytes() for p in (tmp_path / "out").rglob("*.*")}
    assert written == dict(made.files)


def test_files_are_written_where_a_folder_is_given_and_prove_themselves(rabbet: Path, tmp_path: Path) -> None:
    made = jigcam.make(str(rabbet), jigcam.load_kit("metric-shop"), tmp_path / "out")
    assert made.folder == tmp_path / "out"
    assert made.manifest["kit"] == jigcam.load_kit("metric-shop").name
    file = next(entry["file"] for entry in made.manifest["files"] if entry["kind"] == "gcode")
    path = tmp_path / "out" / file
    assert path.read_text() == made.text(file)
    assert jigcam.prove(path, rabbet, "metric-shop").proved
    path.write_text(made.text(file).replace("Z-", "Z-2"))
    deeper = jigcam.prove(path, rabbet, "metric-shop")
    assert not deeper.proved
    assert "stop" in {finding.level for finding in deeper.findings}


def test_nothing_is_written_for_a_kit_that_lacks_the_bit(rabbet: Path, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(rabbet.read_text() + 'bit = "straight 99"\n')
    with pytest.raises(jigcam.JigcamError, match="straight 99"):
        jigcam.make(job, jigcam.load_kit("inch-shop"), tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_a_notebook_shows_a_drawing(made: jigcam.Made) -> None:
    assert made.drawings
    for stem, drawing in made.drawings.items():
        assert drawing._repr_svg_().encode() == made.files[f"{stem}.svg"]
        assert ET.fromstring(drawing._repr_svg_()).tag == "{http://www.w3.org/2000/svg}svg"


def test_findings_and_drawings_are_those_of_the_manifest(made: jigcam.Made) -> None:
    told = made.manifest["findings"]
    assert [finding.as_dict() for finding in made.findings] == told


@pytest.mark.skipif(not README.is_file(), reason="the README comes with the sources")
def test_what_the_readme_shows_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    code = re.search(r"```python\n(.*?)```", README.read_text("utf-8"), re.DOTALL)
    assert code
    monkeypatch.chdir(tmp_path)
    Path("shelf.toml").write_text(kind("groove").starter("in"))
    shown: list[str] = []
    exec(compile(code[1], "README.md", "exec"), {"print": lambda *words: shown.append(" ".join(map(str, words)))})
    assert shown[-1] == "True"
    assert any("tilted shelf" in text for text in shown)
