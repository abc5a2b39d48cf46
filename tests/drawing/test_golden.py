"""Golden files, looked at once by eye; to make them anew after a change: JIGCAM_GOLDEN=write pytest tests/drawing."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from support.sample_drawing import sample
from support.scenes import groove_scene, program_scene, section_scene, template_scene

from jigcam.drawing import svg, terminal

GOLDEN = Path(__file__).parent / "golden"
SCENES = {
    "sample": sample,
    "groove": groove_scene,
    "template": template_scene,
    "section": section_scene,
    "program": program_scene,
}
KINDS = {
    "svg": svg.render,
    "80.txt": lambda drawing: terminal.render(drawing, 80),
    "140.txt": lambda drawing: terminal.render(drawing, 140),
    "60.ascii.txt": lambda drawing: terminal.render(drawing, 60, unicode=False),
    "80.colour.txt": lambda drawing: terminal.render(drawing, 80, colour=True),
}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", SCENES)
def test_the_same_bytes_as_ever(name: str, kind: str) -> None:
    text = KINDS[kind](SCENES[name]())
    path = GOLDEN / f"{name}.{kind}"
    if os.environ.get("JIGCAM_GOLDEN") == "write":
        path.write_bytes(text.encode("utf-8"))
    assert text == path.read_bytes().decode("utf-8")
