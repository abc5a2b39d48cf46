"""The renderers: each is one module, and one line here.

A renderer's module has `files_of(drawings)`: from the drawings of a joint by their stems to the files that it makes of
them, stem and bytes. It is imported when it is first asked to draw, so that nothing pays for a renderer that it does
not use.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib import import_module
from typing import Literal

from jigcam.drawing.model import Drawing


@dataclass(frozen=True, slots=True)
class Renderer:
    """A way to show drawings. suffix: of its files; kind: theirs in the manifest; module: in full, with `files_of`."""

    name: str
    suffix: str
    kind: Literal["preview", "drawing"]
    module: str

    def files(self, drawings: Mapping[str, Drawing]) -> Iterator[tuple[str, bytes]]:
        """Name and content of each file. drawings: by stem; the same drawings give the same bytes."""
        for stem, content in import_module(self.module).files_of(drawings).items():
            yield stem + self.suffix, content


RENDERERS: tuple[Renderer, ...] = (
    Renderer("text", ".txt", "preview", "jigcam.drawing.terminal"),
    Renderer("svg", ".svg", "drawing", "jigcam.drawing.svg"),
    Renderer("dxf", ".dxf", "drawing", "jigcam.drawing.dxf"),
)
"""In the order of their files in the manifest."""
