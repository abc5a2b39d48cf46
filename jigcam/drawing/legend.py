"""What explains a drawing on paper: legend, notes, title block, and the bar that shows whether a print is true.

It stands in a strip along the bottom of the paper, or in a column at its right, whichever needs the smaller paper.
"""

from __future__ import annotations

import math
from itertools import zip_longest

import numpy as np

from jigcam.drawing.ink import Fill, Ink, InkLine, Words
from jigcam.drawing.model import Drawing
from jigcam.drawing.paper import FRAME, MARGIN, Paper
from jigcam.drawing.roles import PENS, Role
from jigcam.drawing.text import advance, clean
from jigcam.geometry import Path, disc
from jigcam.units import INCH, format_length

SMALL = 2.5
TITLE = 4.2
LINE = 5.0
"""From one line of small text to the next, mm."""
TITLE_WIDTH = 112.0
NAMES = 42.0
"""Room for the names of facts in the title block."""
LEGEND_WIDTH = 112.0
"""Least room for the legend in a strip."""
SAMPLE = 16.0
BAR = 14.0
"""Height of the check bar with its words."""


class Foot:
    """Legend, notes, check bar and title block of one drawing."""

    def __init__(self, drawing: Drawing) -> None:
        self.units, self.title = drawing.units, clean(drawing.title)
        self.smaller = drawing.smaller
        self.notes = [clean(note) for note in drawing.notes]
        self.facts = [(clean(name), clean(value)) for name, value in drawing.facts]
        self.legend = drawing.legend

    def height(self, room: float) -> float:
        """Of the strip, on paper with that much room across."""
        return max(self._legend_height(room - TITLE_WIDTH - MARGIN), self.title_height())

    def column_height(self) -> float:
        """Of the column."""
        return self._legend_height(TITLE_WIDTH) + MARGIN + self.title_height()

    def strip(self, paper: Paper, room: float) -> Ink:
        """Everything along the bottom of the paper."""
        ink = Ink()
        self._legend(ink, FRAME + MARGIN, FRAME + MARGIN, room - TITLE_WIDTH - MARGIN)
        self._title_block(ink, paper)
        return ink

    def column(self, paper: Paper) -> Ink:
        """Everything at the right of the paper, the title block in the corner."""
        ink = Ink()
        low = FRAME + self.title_height() + MARGIN
        self._legend(ink, paper.width - FRAME - TITLE_WIDTH, low, TITLE_WIDTH)
        self._title_block(ink, paper)
        return ink

    def _columns(self, room: float) -> tuple[int, int]:
        """Columns and lines of the legend."""
        widest = max((advance(name, SMALL) for _, name, _ in self.legend), default=0.0)
        columns = max(1, int(room // (SAMPLE + 8.0 + widest)))
        return columns, math.ceil(len(self.legend) / columns)

    def _note_lines(self, room: float) -> list[str]:
        return [line for note in self.notes for line in wrapped(note, room)]

    def _legend_height(self, room: float) -> float:
        notes = self._note_lines(room)
        return BAR + LINE * (self._columns(room)[1] + len(notes) + (1 if notes else 0))

    def _legend(self, ink: Ink, left: float, low: float, room: float) -> None:
        """Legend, notes and check bar from the top, in a box whose lower left corner is given."""
        columns, lines = self._columns(room)
        top = low + self._legend_height(room)
        for place, (role, name, filled) in enumerate(self.legend):
            column, row = divmod(place, max(lines, 1))
            x, y = left + column * room / columns, top - (row + 1) * LINE
            sample(ink, role, filled, x, y)
            ink.words.append(Words(x + SAMPLE + 3.0, y, name, SMALL))
        for place, note in enumerate(self._note_lines(room), 2):
            ink.words.append(Words(left, top - (lines + place) * LINE, note, SMALL))
        self._check_bar(ink, left, low)

    def _check_bar(self, ink: Ink, x: float, y: float) -> None:
        """A bar of known length, with a tick at every tenth of it or half inch."""
        inches = self.units == "in"
        length, ticks = (4 * INCH, 8) if inches else (100.0, 10)
        ink.line("stock", (x, y), (x + length, y))
        for tick in range(ticks + 1):
            at = x + length * tick / ticks
            ink.line("dimension", (at, y), (at, y + (3.0 if tick % (2 if inches else 5) == 0 else 1.8)))
        measures = "4 in" if inches else "100 mm"
        says = f"true size if this bar measures {measures}"
        if self.smaller != 1.0:
            says = f"this bar measures {measures} and stands for {format_length(length * self.smaller, self.units)}"
        ink.words.append(Words(x, y + 4.2, says, SMALL))

    def _title_lines(self) -> list[str]:
        return wrapped(self.title, TITLE_WIDTH - 6.0, TITLE)

    def _rows(self, paper: Paper | None = None) -> list[tuple[str, str]]:
        """The title block's lines: what, and what it is. A fact that is long in either takes several."""
        rows = [
            *self.facts,
            ("scale", f"1:{self.smaller:g}, see the bar"),
            ("lengths in", "inches" if self.units == "in" else "millimetres"),
            ("sheet of paper", paper.size(self.units) if paper else ""),
        ]
        columns = (
            (wrapped(name, NAMES - 5.0, SMALL), wrapped(value, TITLE_WIDTH - NAMES - 3.0)) for name, value in rows
        )
        return [line for names, values in columns for line in zip_longest(names, values or [""], fillvalue="")]

    def title_height(self) -> float:
        """Of the title block."""
        return 6.0 + 6.5 * len(self._title_lines()) + LINE * len(self._rows())

    def _title_block(self, ink: Ink, paper: Paper) -> None:
        right, low = paper.width - FRAME, FRAME
        left, high = right - TITLE_WIDTH, FRAME + self.title_height()
        ink.box("stock", left, low, right, high)
        y = high - 1.0
        for line in self._title_lines():
            y -= 6.5
            ink.words.append(Words(left + 3.0, y, line, TITLE, bold=True))
        y -= 2.5
        ink.line("dimension", (left, y), (right, y))
        for name, value in self._rows(paper):
            y -= LINE
            ink.words += [Words(left + 3.0, y, name, SMALL * 0.9), Words(left + NAMES, y, value, SMALL)]


def sample(ink: Ink, role: Role, filled: bool, x: float, y: float) -> None:
    """What a role looks like, in a space `SAMPLE` wide on a line of small text at (x, y)."""
    centre, middle = x + SAMPLE / 2, y + SMALL / 2
    if role in ("zero", "hole"):
        ink.strokes += [InkLine(role, loop) for loop in disc(centre, middle, 1.7).loops]
    if role == "zero":
        ink.line(role, (centre - 2.5, middle), (centre + 2.5, middle))
        ink.line(role, (centre, middle - 2.2), (centre, middle + 2.2))
    elif role == "base":  # a shallow arc: the base is round
        ink.strokes.append(InkLine(role, Path(np.array([[x + SAMPLE, y, 0.25], [x, y, 0.0]]))))
    elif filled and PENS[role].fill != "none":
        box = Path.through([(x, y - 0.6), (x + SAMPLE, y - 0.6), (x + SAMPLE, y + 3.1), (x, y + 3.1)], closed=True)
        ink.fills.append(Fill(role, (box,)))
        ink.strokes.append(InkLine(role, box))
    elif role != "hole":
        ink.line(role, (x, middle), (x + SAMPLE, middle))


def wrapped(text: str, room: float, size: float = SMALL) -> list[str]:
    """The text in lines that fit the room, mm; a word that is too long is broken."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}".strip()
        if line and advance(longer, size) > room:
            lines.append(line)
            line = word
        else:
            line = longer
        while advance(line, size) > room and len(line) > 1:
            cut = next((n for n in range(len(line) - 1, 0, -1) if advance(line[:n], size) <= room), 1)
            lines.append(line[:cut])
            line = line[cut:]
    return [*lines, line] if line else lines
