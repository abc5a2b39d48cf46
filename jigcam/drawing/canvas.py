"""A terminal's picture: dots two by four in each character, with words on top.

Frame: dots (column, row) from the upper left corner, rows downward; a dot is as wide as it is high where a character is
twice as high as it is wide. A character's colour is that of the topmost role that has a dot in it.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

import numpy as np

from jigcam.drawing.raster import dashed, inside, trace
from jigcam.drawing.roles import DOT_DASHES, PENS, TONES, Fill, Role, Tone, order
from jigcam.drawing.text import cells, clean

ACROSS, DOWN = 2, 4
"""Dots in a character."""
NARROW = 14
"""Mean width in dots below which a hatched strip has no room for a centreline."""

# Unicode 15, chapter 21.1 (from memory): U+2800 plus a bit for each dot, numbered down the left column, then the right
# one, with the bottom pair last.
_BITS = np.array([[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]])

# What plain characters look like as dots, two by four; the nearest look stands in where dots cannot be shown.
_LOOKS = {
    "'": "10 00 00 00",
    "`": "01 00 00 00",
    "^": "11 00 00 00",
    ".": "00 00 00 10",
    ",": "00 00 00 01",
    "_": "00 00 00 11",
    "-": "00 11 00 00",
    "~": "00 00 11 00",
    ":": "10 00 00 10",
    ";": "01 00 00 01",
    "|": "10 10 10 10",
    "!": "01 01 01 01",
    "/": "01 01 10 10",
    "\\": "10 10 01 01",
    "=": "11 00 11 00",
    "+": "10 11 10 10",
    "T": "11 10 10 10",
    "L": "10 10 10 11",
    "J": "01 01 01 11",
    "7": "11 01 01 01",
    "#": "11 11 11 11",
    "*": "00 11 11 00",
    '"': "11 11 00 00",
    "o": "00 00 11 11",
    "<": "01 10 10 01",
    ">": "10 01 01 10",
    "{": "01 11 01 01",
    "%": "10 01 10 01",
}
_STAND_IN = {"~": "-", "`": "'", ",": ".", ";": ":", "!": "|", "{": "+"}


@cache
def _plain_characters() -> list[str]:
    """The plain character nearest in look to each of the 256 patterns of dots."""
    looks = {c: np.array([[int(d) for d in row] for row in look.split()]) for c, look in _LOOKS.items()}
    table = [" "]
    for mask in range(1, 256):
        cost = {
            c: round(float(np.abs(_blurred((mask & _BITS) > 0) - _blurred(look)).sum()), 6) for c, look in looks.items()
        }
        best = min(cost, key=lambda c: (cost[c], c))
        table.append(_STAND_IN.get(best, best))
    return table


def _blurred(dots: np.ndarray) -> np.ndarray:
    """Each dot also a little above and below itself, so that a near miss up or down is a near miss."""
    padded = np.pad(dots.astype(float), ((1, 1), (0, 0)))
    return dots + 0.4 * padded[2:] + 0.4 * padded[:-2]


class Canvas:
    """A picture of that many character columns and rows, to be drawn on and then read out as lines of text.

    Hatching keeps one dot clear of every line, but in narrow strips, and one character clear of words, so that both
    can be read through it.
    """

    def __init__(self, columns: int, rows: int) -> None:
        self.columns, self.rows = columns, rows
        self._lines = np.zeros((rows * DOWN, columns * ACROSS), bool)
        self._fills = np.zeros_like(self._lines)
        self._narrow = np.zeros_like(self._lines)
        self._tones = np.full((rows, columns), -1, int)
        self._fill_tones = np.full((rows, columns), -1, int)
        self._words: list[list[str | None]] = [[None] * columns for _ in range(rows)]

    @property
    def dots(self) -> np.ndarray:
        """Which dots are seen, (rows × 4, columns × 2) bool."""
        near: np.ndarray = np.pad(self._lines, 1)
        near = near[:-2] | near[1:-1] | near[2:]
        near = near[:, :-2] | near[:, 1:-1] | near[:, 2:]
        words: np.ndarray = np.pad(
            np.array([[word is not None for word in row] for row in self._words]), ((0, 0), (1, 1))
        )
        words = words[:, :-2] | words[:, 1:-1] | words[:, 2:]
        clear = (~near | self._narrow) & ~words.repeat(DOWN, axis=0).repeat(ACROSS, axis=1)
        return np.asarray(self._lines | (self._fills & clear))

    @property
    def ink(self) -> np.ndarray:
        """Which characters hold dots of a line, (rows, columns) bool."""
        ink: np.ndarray = np.any(self._lines.reshape(self.rows, DOWN, self.columns, ACROSS), axis=(1, 3))
        return ink

    def line(self, points: np.ndarray, role: Role) -> None:
        """A polyline, (n, 2) dots, with the role's kind of line. Dots off the picture are not drawn, and
        centrelines only where they do not drown a narrow hatched strip."""
        dots = dashed(trace(points), DOT_DASHES[PENS[role].line])
        if role == "centreline":
            within = np.clip(dots, 0, np.array(self._narrow.shape[::-1]) - 1)
            clear = dots[~self._narrow[within[:, 1], within[:, 0]]]
            dots = clear if len(clear) else dots[:1]
        self._put(dots, self._lines, self._tones, role)
        if PENS[role].weight == "heavy":
            self._put(dots + np.array([1, 0]), self._lines, self._tones, role)
            self._put(dots + np.array([0, 1]), self._lines, self._tones, role)

    def area(self, loops: list[np.ndarray], role: Role, fill: Fill) -> None:
        """The inside of outlines, (n, 2) dots each, with the pattern."""
        if fill == "none":
            return
        height, width = self._fills.shape
        within = inside(loops, width, height)
        round_about = sum(float(np.hypot(*np.diff(np.vstack([loop, loop[:1]]), axis=0).T).sum()) for loop in loops)
        if 2.0 * within.sum() < NARROW * round_about:
            self._narrow |= within
        rows, columns = np.nonzero(within)
        drawn = _drawn(columns, rows, fill)
        dots = np.column_stack([columns[drawn], rows[drawn]])
        if fill == "solid":
            self._put(dots, self._lines, self._tones, role)
        else:
            self._put(dots, self._fills, self._fill_tones, role)

    def _put(self, dots: np.ndarray, layer: np.ndarray, tones: np.ndarray, role: Role) -> None:
        height, width = layer.shape
        dots = dots[((dots >= 0) & (dots < (width, height))).all(axis=1)]
        columns, rows = dots[:, 0], dots[:, 1]
        layer[rows, columns] = True
        here = np.zeros(tones.shape, bool)
        here[rows // DOWN, columns // ACROSS] = True
        rank = order(role)
        tones[here & ((tones < 0) | (tones > rank))] = rank

    def write(self, column: int, row: int, text: str, role: Role) -> None:
        """Words from that character on, over everything; what does not fit the picture is cut off."""
        if not 0 <= row < self.rows:
            return
        for place, character in enumerate(cells(clean(text)), column):
            if 0 <= place < self.columns and not (character and place + 1 == self.columns and len(character) > 1):
                self._words[row][place] = character
                self._tones[row, place] = order(role)

    def lines(self, *, colour: bool, unicode: bool) -> list[str]:
        """The picture, a string a row, without blanks at the end."""
        tones = np.where(self._tones < 0, self._fill_tones, self._tones)
        masks = (self.dots.reshape(self.rows, DOWN, self.columns, ACROSS) * _BITS[None, :, None, :]).sum(axis=(1, 3))
        looks = [" "] + [chr(0x2800 + mask) for mask in range(1, 256)] if unicode else _plain_characters()
        roles = list(PENS)
        result = []
        for row in range(self.rows):
            row_cells = [
                (word if word is not None else looks[mask], tone)
                for word, mask, tone in zip(self._words[row], masks[row], tones[row], strict=True)
            ]
            while row_cells and row_cells[-1][0] == " ":
                row_cells.pop()
            if colour:
                result.append(
                    _coloured((text, PENS[roles[tone]].tone if tone >= 0 else "plain") for text, tone in row_cells)
                )
            else:
                result.append("".join(text for text, _ in row_cells))
        return result


def _drawn(x: np.ndarray, y: np.ndarray, fill: Fill) -> np.ndarray:
    """(k,) which of the dots at x, y a pattern draws."""
    drawn: np.ndarray
    match fill:
        case "hatch":
            drawn = (x + y) % 5 == 0
        case "hatch-back":
            drawn = (x - y) % 5 == 0
        case "cross":
            drawn = ((x + y) % 6 == 0) | ((x - y) % 6 == 0)
        case "stipple":
            drawn = (y % 4 == 1) & ((x + y // 4 * 2) % 4 == 0)
        case "level":
            drawn = y % 3 == 0
        case "upright":
            drawn = x % 3 == 0
        case _:
            drawn = np.ones_like(x, bool)
    return drawn


def paint(text: str, tone: Tone) -> str:
    """The text in a tone of the terminal."""
    return f"\x1b[{TONES[tone]}m{text}\x1b[0m" if text and TONES[tone] else text


def _coloured(row: Iterable[tuple[str, Tone]]) -> str:
    runs: list[tuple[str, Tone]] = []
    for text, tone in row:
        same = runs and (runs[-1][1] == tone or text == " ")
        if same:
            runs[-1] = (runs[-1][0] + text, runs[-1][1])
        else:
            runs.append((text, tone))
    return "".join(paint(text, tone) for text, tone in runs)
