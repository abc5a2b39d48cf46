"""The renderers: each is one module, and one line here.

A renderer's module has `files_of(drawings)`: from the drawings of a joint by their stems to the files that it makes of
them, stem and bytes; one that prints on home paper is told which, and is asked only where somebody wants paper. It is
imported when it is first asked to draw, so that nothing pays for a renderer that it does not use.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from importlib import import_module
from typing import Literal

from jigcam.drawing.model import Drawing
from jigcam.drawing.paper import HomePaper
from jigcam.values import dataclass


@dataclass(frozen=True, slots=True)
class Renderer:
    """A way to show drawings. suffix: of its files; kind: theirs in the manifest; module: in full, with `files_of`.

    printed: on home paper, for those who ask for it.
    """

    name: str
    suffix: str
    kind: Literal["preview", "drawing"]
    module: str
    printed: bool = False

    def files(self, drawings: Mapping[str, Drawing], paper: HomePaper | None = None) -> Iterator[tuple[str, bytes]]:
        """Name and content of each file. drawings: by stem; the same drawings give the same bytes."""
        if self.printed and paper is None:
            return
        render = import_module(self.module).files_of
        for stem, content in (render(drawings, paper) if self.printed else render(drawings)).items():
            yield stem + self.suffix, content


RENDERERS: tuple[Renderer, ...] = (
    Renderer("text", ".txt", "preview", "jigcam.drawing.terminal"),
    Renderer("svg", ".svg", "drawing", "jigcam.drawing.svg"),
    Renderer("dxf", ".dxf", "drawing", "jigcam.drawing.dxf"),
    Renderer("pdf", ".pdf", "drawing", "jigcam.drawing.pdf", printed=True),
)
"""In the order of their files in the manifest."""
