"""The shipped examples, byte for byte as they were last looked at; tests/golden/README.md says how to renew them."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.goldens import assert_files_as_ever
from support.shop import content, jigcam

EXAMPLES = Path(__file__).resolve().parents[2] / "examples" / "music-cabinet"
NAMES = ("tilted-shelf", "tilted-shelf-metric", "tilted-shelf-direct")


def kept(files: dict[str, bytes]) -> dict[str, bytes]:
    """Those of an output folder that are kept."""
    return {name: raw for name, raw in files.items() if name.endswith((".nc", ".svg", "preview.txt"))}


@pytest.mark.parametrize("name", NAMES)
def test_example_is_as_it_was(name: str, tmp_path: Path) -> None:
    run = jigcam("make", EXAMPLES / f"{name}.toml", "-o", tmp_path / "out")
    assert run.status == 0, run.err
    assert_files_as_ever(name, kept(content(tmp_path / "out")))
