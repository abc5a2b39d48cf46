"""What is engraved on the upper face of a sheet, so that it can be read and laid without the drawing.

Two kinds: *strokes* (lines of one pass) and *texts* (to be written with a single-stroke alphabet). All in mm. What has
to show on both faces is a hole (see `screws`).
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from jigcam.geometry import apply
from jigcam.values import dataclass

ALPHABET = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 .,:/-+")
"""The letters that a text may hold."""
ADVANCE = 0.8
"""Width of a letter over its height, the space after it included, at most."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line to engrave, from point to point. says: what it marks."""

    points: tuple[tuple[float, float], ...]
    says: str


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text. x, y: left end of its baseline; height: of a capital; angle: of the baseline, rad."""

    string: str
    x: float
    y: float
    height: float
    angle: float = 0.0

    @property
    def width(self) -> float:
        """Room that it is given along the baseline."""
        return text_width(self.string, self.height)


Mark = Stroke | Text


def plain(text: str) -> str:
    """`text` reduced to `ALPHABET`: capitals without accents, everything else a space, runs of spaces made one."""
    bare = unicodedata.normalize("NFKD", text).upper()
    kept = "".join(c if c in ALPHABET else "" if unicodedata.combining(c) else " " for c in bare)
    return " ".join(kept.split())


def text_width(string: str, height: float) -> float:
    """Room (mm) for a text of that height."""
    return ADVANCE * height * len(string)


def moved(marks: Iterable[Mark], matrix: npt.ArrayLike) -> tuple[Mark, ...]:
    """The marks moved by a 2×3 matrix that neither turns nor mirrors: texts keep their angle."""

    def point(x: float, y: float) -> tuple[float, float]:
        px, py = apply(matrix, np.array([[x, y]]))[0]
        return float(px), float(py)

    out: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Stroke):
            out.append(replace(mark, points=tuple(point(*p) for p in mark.points)))
        else:
            x, y = point(mark.x, mark.y)
            out.append(replace(mark, x=x, y=y))
    return tuple(out)
