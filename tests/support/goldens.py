"""Goldens: drawings and files, looked at once by eye; JIGCAM_GOLDEN=write in the environment makes them anew."""

from __future__ import annotations

import os
import shutil
from collections.abc import Mapping
from itertools import zip_longest
from pathlib import Path

from support.shop import content

import jigcam as package
from jigcam.drawing import Drawing, svg, terminal

FOLDER = Path(__file__).parents[1] / "drawing" / "golden"
FILES = Path(__file__).parents[1] / "golden"


def assert_as_ever(name: str, drawing: Drawing) -> None:
    """The same bytes as the golden files of that name, in 80 and 140 columns and as SVG."""
    texts = {f"{width}.txt": terminal.render(drawing, width) for width in (80, 140)}
    texts["svg"] = svg.render(drawing)
    for kind, text in texts.items():
        path = FOLDER / f"{name}.{kind}"
        if os.environ.get("JIGCAM_GOLDEN") == "write":
            path.write_bytes(text.encode("utf-8"))
        assert text == path.read_bytes().decode("utf-8"), path.name


def assert_files_as_ever(name: str, files: Mapping[str, bytes]) -> None:
    """The same files as those kept in the golden folder of that name, byte for byte, the version apart."""
    version = f"jigcam {package.__version__}".encode()
    made = {file: raw.replace(version, b"jigcam VERSION") for file, raw in files.items()}
    folder = FILES / name
    if os.environ.get("JIGCAM_GOLDEN") == "write":
        shutil.rmtree(folder, ignore_errors=True)
        for file, raw in made.items():
            (folder / file).parent.mkdir(parents=True, exist_ok=True)
            (folder / file).write_bytes(raw)
    expected = content(folder)
    assert sorted(made) == sorted(expected)
    for file, raw in made.items():
        pairs = zip_longest(raw.decode().splitlines(), expected[file].decode().splitlines())
        different = [(number, *pair) for number, pair in enumerate(pairs, 1) if pair[0] != pair[1]]
        assert not different, f"{file}, {len(different)} lines differ, the first: {different[0]}"
        assert raw == expected[file]
