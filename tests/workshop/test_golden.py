"""The shipped examples, byte for byte as they were last looked at; tests/golden/README.md says how to renew them."""

from __future__ import annotations

import os
import shutil
from itertools import zip_longest
from pathlib import Path

import pytest
from support.shop import content, jigcam

import jigcam as package

GOLDEN = Path(__file__).resolve().parents[1] / "golden"
EXAMPLES = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet"
NAMES = ("tilted-shelf", "tilted-shelf-metric", "tilted-shelf-direct")
WRITE = os.environ.get("JIGCAM_GOLDEN") == "write"


def kept(files: dict[str, bytes]) -> dict[str, bytes]:
    """Those of an output folder that are kept, without the version."""
    version = f"jigcam {package.__version__}".encode()
    return {
        name: raw.replace(version, b"jigcam VERSION")
        for name, raw in files.items()
        if name.endswith((".nc", ".svg", "preview.txt"))
    }


@pytest.mark.parametrize("name", NAMES)
def test_example_is_as_it_was(name: str, tmp_path: Path) -> None:
    run = jigcam("make", EXAMPLES / f"{name}.toml", "-o", tmp_path / "out")
    assert run.status == 0, run.err
    made = kept(content(tmp_path / "out"))
    folder = GOLDEN / name
    if WRITE:
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
