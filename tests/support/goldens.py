"""Drawings against files looked at once by eye; to make them anew: JIGCAM_GOLDEN=write pytest tests/drawing."""

from __future__ import annotations

import os
from pathlib import Path

from jigcam.drawing import Drawing, svg, terminal

FOLDER = Path(__file__).parents[1] / "drawing" / "golden"


def assert_as_ever(name: str, drawing: Drawing) -> None:
    """The same bytes as the golden files of that name, in 80 and 140 columns and as SVG."""
    texts = {f"{width}.txt": terminal.render(drawing, width) for width in (80, 140)}
    texts["svg"] = svg.render(drawing)
    for kind, text in texts.items():
        path = FOLDER / f"{name}.{kind}"
        if os.environ.get("JIGCAM_GOLDEN") == "write":
            path.write_bytes(text.encode("utf-8"))
        assert text == path.read_bytes().decode("utf-8"), path.name
