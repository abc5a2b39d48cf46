"""What stands on a page, as whoever holds the paper sees it: words with the room of their letters, and lines.

`Watched` is handed to a leaf in place of reportlab's canvas. It keeps what is drawn, each in mm on the paper, whatever
turned, moved and shrunk it on its way; so one judge reads every kind of page, whoever drew it.
"""

# ruff: noqa: N802, N815 - the names are those of reportlab, whose canvas it stands in for
from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from reportlab.pdfbase import pdfmetrics

from jigcam.drawing.ink import Words
from jigcam.drawing.leaf import Leaf
from jigcam.drawing.pdf_ink import CAPITALS, typeface
from jigcam.drawing.text import advance

LEAST = 6.0
"""The least size of letters, pt of a typeface (1/72 in)."""
MARGIN = 25.4 / 4
"""What home printers leave free of ink round a page at most, mm: 1/4 in (common practice, no source)."""
POINT = 25.4 / 72
DESCENT = 0.22
"""How far letters hang below the base line, over their size in points (those of the typeface, from memory)."""
TOUCH = 0.15
"""Letters may come so near to each other's room, mm: no letter fills its room to the corner."""


@dataclass(frozen=True)
class Said:
    """Words as they stand on paper. corners: (4, 2), of their letters from base line to capitals, from the lower left.
    size: of the typeface, pt. ground: whether they are part of the thing drawn, with lines of their own about them.
    """

    text: str
    corners: np.ndarray
    size: float
    ground: bool = False

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """x0, y0, x1, y1, with what hangs below the line."""
        (a, b, _, d), hang = self.corners, DESCENT * self.size * POINT
        down = (a - d) / max(float(np.hypot(*(a - d))), 1e-9) * hang
        points = np.vstack([self.corners, a + down, b + down])
        (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
        return float(x0), float(y0), float(x1), float(y1)


def on_drawing(words: Iterable[Words]) -> list[Said]:
    """Words of a drawing's ink, in true size."""
    found = []
    for each in words:
        wide = each.room or advance(each.text, each.size)
        left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[each.anchor]
        turn = _turned(math.radians(each.angle_deg)) @ [[1, 0, 0], [0, 1, 0], [0, 0, 1]]
        turn[:2, 2] = each.x, each.y
        found.append(Said(each.text, _box(left, wide, each.size, turn), each.size / CAPITALS / POINT, bool(each.room)))
    return found


class Watched:
    """In place of reportlab's canvas. `said`: all words that can be seen, in the order in which they were drawn."""

    def __init__(self) -> None:
        typeface()
        self.said: list[Said] = []
        self._at = np.eye(3)
        self._clip: np.ndarray | None = None
        self._kept: list[tuple[np.ndarray, np.ndarray | None]] = []
        self._font, self._size = "Vera", 1.0

    def saveState(self) -> None:
        self._kept.append((self._at, self._clip))

    def restoreState(self) -> None:
        self._at, self._clip = self._kept.pop()

    def translate(self, x: float, y: float) -> None:
        self._at = self._at @ [[1.0, 0.0, x], [0.0, 1.0, y], [0.0, 0.0, 1.0]]

    def scale(self, x: float, y: float) -> None:
        self._at = self._at @ np.diag([x, y, 1.0])

    def rotate(self, degrees: float) -> None:
        self._at = self._at @ _turned(math.radians(degrees))

    def setFont(self, name: str, size: float) -> None:
        self._font, self._size = name, size

    def drawString(self, x: float, y: float, text: str) -> None:
        self._say(x, y, text, self._font, self._size)

    def drawRightString(self, x: float, y: float, text: str) -> None:
        self._say(x - pdfmetrics.stringWidth(text, self._font, self._size), y, text, self._font, self._size)

    def beginText(self, x: float, y: float) -> _Text:
        return _Text(x, y)

    def drawText(self, text: _Text) -> None:
        self._say(text.x, text.y, text.text, text.font, text.size, text.share)

    def beginPath(self) -> _Outline:
        return _Outline()

    def clipPath(self, outline: _Outline, **how: object) -> None:
        points = self._placed(np.array(outline.points))
        x0, y0 = points.min(axis=0)
        x1, y1 = points.max(axis=0)
        if self._clip is not None:
            u0, v0, u1, v1 = self._clip
            x0, y0, x1, y1 = max(x0, u0), max(y0, v0), min(x1, u1), min(y1, v1)
        self._clip = np.array([x0, y0, x1, y1])

    def _quiet(self, *what: object, **how: object) -> None:
        """Lines, fillings and colours: no words."""

    line = rect = circle = drawPath = _quiet
    setDash = setLineWidth = setStrokeGray = setFillGray = setStrokeColor = setFillColor = setFillAlpha = _quiet

    def _placed(self, points: np.ndarray) -> np.ndarray:
        placed: np.ndarray = points @ self._at[:2, :2].T + self._at[:2, 2]
        return placed

    def _say(self, x: float, y: float, text: str, font: str, size: float, share: float = 1.0) -> None:
        if not text.strip():
            return
        lead = pdfmetrics.stringWidth(text[: len(text) - len(text.lstrip())], font, size) * share
        wide = pdfmetrics.stringWidth(text.strip(), font, size) * share
        at = self._at @ [[1.0, 0.0, x + lead], [0.0, 1.0, y], [0.0, 0.0, 1.0]]
        corners = _box(0.0, wide, CAPITALS * size, at)
        if self._clip is not None:
            x0, y0, x1, y1 = self._clip
            low, high = corners.min(axis=0), corners.max(axis=0)
            if (high <= (x0, y0)).any() or (low >= (x1, y1)).any():
                return
            corners = np.clip(corners, (x0, y0), (x1, y1))
        self.said.append(Said(text.strip(), corners, size * math.sqrt(abs(np.linalg.det(at[:2, :2]))) / POINT))


class _Text:
    """A line of words in the making."""

    def __init__(self, x: float, y: float) -> None:
        self.x, self.y, self.text, self.font, self.size, self.share = x, y, "", "Vera", 1.0, 1.0

    def setFont(self, name: str, size: float) -> None:
        self.font, self.size = name, size

    def setHorizScale(self, percent: float) -> None:
        self.share = percent / 100.0

    def setFillColor(self, colour: str) -> None:
        """Black or not, words are words."""

    def textOut(self, text: str) -> None:
        self.text = text


class _Outline:
    """A path in the making: its corners and handles."""

    def __init__(self) -> None:
        self.points: list[tuple[float, float]] = []

    def moveTo(self, x: float, y: float) -> None:
        self.points.append((x, y))

    lineTo = moveTo

    def curveTo(self, *numbers: float) -> None:
        self.points += zip(numbers[::2], numbers[1::2], strict=True)

    def rect(self, x: float, y: float, wide: float, high: float) -> None:
        self.points += [(x, y), (x + wide, y + high)]

    def close(self) -> None:
        """Back to where it began."""


def seen(leaf: Leaf) -> list[Said]:
    """All words on a page."""
    watched = Watched()
    leaf.draw(watched)  # type: ignore[arg-type]
    return watched.said


def overlaps(said: Sequence[Said]) -> Iterator[tuple[str, str]]:
    """Words whose letters run into each other's."""
    boxes = np.array([each.bounds for each in said]).reshape(-1, 4)
    for place, one in enumerate(said):
        others = boxes[:place]
        x0, y0, x1, y1 = boxes[place]
        near = (others[:, 0] < x1) & (x0 < others[:, 2]) & (others[:, 1] < y1) & (y0 < others[:, 3])
        for other in np.flatnonzero(near):
            if not _apart(one.corners, said[other].corners):
                yield said[other].text, one.text


def too_small(said: Iterable[Said]) -> list[tuple[str, float]]:
    """Words smaller than `LEAST`."""
    return [(each.text, round(each.size, 2)) for each in said if each.size < LEAST - 0.01]


def beyond(said: Iterable[Said], wide: float, high: float) -> list[str]:
    """Words that stand, with a letter at least, where printers may leave a page of that size free."""
    low = MARGIN - 0.01
    return [
        each.text
        for each in said
        for x0, y0, x1, y1 in [each.bounds]
        if x0 < low or y0 < low or x1 > wide - low or y1 > high - low
    ]


def _turned(angle: float) -> np.ndarray:
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def _box(left: float, wide: float, high: float, at: np.ndarray) -> np.ndarray:
    """Corners of letters whose base line begins at (left, 0) in a frame."""
    corners = np.array([(left, 0.0), (left + wide, 0.0), (left + wide, high), (left, high)])
    placed: np.ndarray = corners @ at[:2, :2].T + at[:2, 2]
    return placed


def _apart(one: np.ndarray, other: np.ndarray) -> bool:
    """Two rectangles are apart where a side of one parts them (separating axes)."""
    for table in (one, other):
        for axis in (table[1] - table[0], table[3] - table[0]):
            long = float(np.hypot(*axis))
            if long < 1e-9:
                continue
            a, b = one @ axis / long, other @ axis / long
            if a.max() <= b.min() + TOUCH or b.max() <= a.min() + TOUCH:
                return True
    return False
