"""A whole drawing on a sheet: views with their captions, legend, notes, title block and check bar, all in place."""

from __future__ import annotations

from dataclasses import dataclass

from jigcam.drawing.ink import Fill, Ink, Stroke, Words
from jigcam.drawing.model import Drawing, View
from jigcam.drawing.paper import FRAME, Block, Sheet, arrange, sheet_for
from jigcam.drawing.plate import Plate
from jigcam.drawing.roles import PENS, Role
from jigcam.drawing.text import advance, clean
from jigcam.geometry import Path, disc
from jigcam.units import INCH

__all__ = ["Fill", "Page", "Stroke", "Words", "compose"]

CAPTION = 3.5
SMALL = 2.5
LINE = 5.0
"""From one line of small text to the next, mm."""
TITLE_BLOCK = 100.0
FOOT_LEFT = 112.0
SAMPLE = 16.0
MARGIN = 6.0
"""Between the frame and what stands in it."""


@dataclass(frozen=True, slots=True)
class Page:
    """A sheet of paper with all that is drawn on it; mm, y up, origin at its lower left corner."""

    title: str
    sheet: Sheet
    strokes: tuple[Stroke, ...]
    fills: tuple[Fill, ...]
    words: tuple[Words, ...]


def compose(drawing: Drawing) -> Page:
    """The drawing on the smallest standard sheet that holds it in true size."""
    rows = [[_captioned(view, drawing.units) for view in row] for row in drawing.rows if row]
    blocks = [[_block(ink) for ink in row] for row in rows]
    foot = _Foot(drawing)
    wide, high, _ = arrange(blocks, 0.0)
    around = 2 * (FRAME + MARGIN)
    inner = max(wide, FOOT_LEFT + TITLE_BLOCK + MARGIN)
    sheet = sheet_for(inner + around, high + foot.height(inner) + around, drawing.units)
    room = sheet.width - around
    wide, total, places = arrange(blocks, foot.height(room))
    page = Ink()
    left = FRAME + MARGIN + (room - wide) / 2
    spare = sheet.height - around - total
    bottom = FRAME + MARGIN + spare / 2
    for row, line in zip(rows, places, strict=True):
        for ink, (x, y) in zip(row, line, strict=True):
            page.add(ink.moved(left + x, bottom + y))
    page.add(foot.drawn(sheet, room))
    page.box("stock", FRAME, FRAME, sheet.width - FRAME, sheet.height - FRAME)
    return Page(clean(drawing.title), sheet, tuple(page.strokes), tuple(page.fills), tuple(page.words))


def _block(ink: Ink) -> Block:
    x0, y0, x1, y1 = ink.bounds
    return Block(-x0, -y0, x1, y1)


def _captioned(view: View, units: str) -> Ink:
    """A view with its caption and the directions of its axes below it."""
    ink = Plate(view, units).ink
    x0, y0, x1, _ = ink.bounds
    base = y0 - 9.0
    left = x0
    if view.axes:
        left += 20.0
        corner = (x0 + 2.0, base - 3.0)
        ink.line("dimension", (corner[0], corner[1] + 9.0), corner, (corner[0] + 9.0, corner[1]))
        ink.arrow("dimension", (corner[0], corner[1] + 10.0), (0.0, 1.0), 2.5)
        ink.arrow("dimension", (corner[0] + 10.0, corner[1]), (1.0, 0.0), 2.5)
        ink.words.append(Words(corner[0] + 11.0, corner[1] - 0.9, clean(view.axes.x), SMALL))
        ink.words.append(Words(corner[0] + 1.2, corner[1] + 8.0, clean(view.axes.y), SMALL))
    caption = clean(view.caption)
    ink.words.append(Words(left, base, caption, CAPTION, bold=True))
    return ink


class _Foot:
    """What stands at the bottom of the sheet: legend, notes and check bar on the left, the title block on the right."""

    def __init__(self, drawing: Drawing) -> None:
        self.drawing = drawing
        self.facts = [(clean(name), clean(value)) for name, value in drawing.facts]
        self.legend = drawing.legend

    def _lines(self, room: float) -> tuple[int, int, list[str]]:
        """Columns and lines of the legend, and the notes wrapped to the room left of the title block."""
        wide = room - TITLE_BLOCK - MARGIN
        names = [advance(name, SMALL) for _, name, _ in self.legend]
        columns = max(1, int(wide // (SAMPLE + 8.0 + max(names, default=0.0))))
        lines = -(-len(self.legend) // columns) if self.legend else 0
        notes = [line for note in self.drawing.notes for line in _wrapped(clean(note), wide)]
        return columns, lines, notes

    def height(self, room: float) -> float:
        """How high all of it is on a sheet with that much room across."""
        _, lines, notes = self._lines(room)
        left = 14.0 + LINE * (lines + len(notes)) + (LINE if notes else 0.0)
        return max(left, self._title_height(room))

    def _title_lines(self) -> list[str]:
        return _wrapped(clean(self.drawing.title), TITLE_BLOCK - 6.0, CAPTION * 1.2)

    def _title_height(self, _: float) -> float:
        return 6.0 + 6.5 * len(self._title_lines()) + LINE * (sum(map(len, self._fact_lines())) + 3)

    def _fact_lines(self) -> list[list[str]]:
        return [_wrapped(value, TITLE_BLOCK - 44.0) for _, value in self.facts]

    def drawn(self, sheet: Sheet, room: float) -> Ink:
        """All of it, in its place on the sheet."""
        ink = Ink()
        left, low = FRAME + MARGIN, FRAME + MARGIN
        columns, lines, notes = self._lines(room)
        self._check_bar(ink, left, low)
        y = low + 14.0 + LINE * (lines + len(notes)) + (LINE if notes else 0.0) - LINE
        wide = (room - TITLE_BLOCK - MARGIN) / columns
        for place, (role, name, filled) in enumerate(self.legend):
            column, row = divmod(place, lines)
            _sample(ink, role, filled, left + column * wide, y - row * LINE)
            ink.words.append(Words(left + column * wide + SAMPLE + 3.0, y - row * LINE, name, SMALL))
        y -= LINE * lines + (LINE if notes else 0.0) - LINE
        for place, note in enumerate(notes, 1):
            ink.words.append(Words(left, y - place * LINE, note, SMALL))
        self._title_block(ink, sheet)
        return ink

    def _title_block(self, ink: Ink, sheet: Sheet) -> None:
        right, low = sheet.width - FRAME, FRAME
        left, high = right - TITLE_BLOCK, FRAME + self._title_height(0.0)
        ink.box("stock", left, low, right, high)
        y = high - 1.0
        for line in self._title_lines():
            y -= 6.5
            ink.words.append(Words(left + 3.0, y, line, CAPTION * 1.2, bold=True))
        y -= 2.5
        ink.line("dimension", (left, y), (right, y))
        rows = [*zip((name for name, _ in self.facts), self._fact_lines(), strict=True),
                ("scale", ["1:1, see the bar"]),
                ("lengths in", ["inches" if self.drawing.units == "in" else "millimetres"]),
                ("sheet of paper", [sheet.size(self.drawing.units)])]
        for name, values in rows:
            for place, value in enumerate(values):
                y -= LINE
                if place == 0:
                    ink.words.append(Words(left + 3.0, y, name, SMALL * 0.9))
                ink.words.append(Words(left + 40.0, y, value, SMALL))

    def _check_bar(self, ink: Ink, x: float, y: float) -> None:
        """A bar of known length, with a tick at every tenth or half inch."""
        inches = self.drawing.units == "in"
        length, ticks = (4 * INCH, 8) if inches else (100.0, 10)
        ink.line("stock", (x, y), (x + length, y))
        for tick in range(ticks + 1):
            at = x + length * tick / ticks
            long = tick % (2 if inches else 5) == 0
            ink.line("dimension", (at, y), (at, y + (3.0 if long else 1.8)))
        name = "4 in" if inches else "100 mm"
        ink.words.append(Words(x, y + 4.2, f"true size if this bar measures {name}", SMALL))


def _sample(ink: Ink, role: Role, filled: bool, x: float, y: float) -> None:
    """A piece of a role's line, or a small filled box, for the legend."""
    middle = y + SMALL / 2
    if role == "zero":
        circle, = disc(x + SAMPLE / 2, middle, 1.6).loops
        ink.strokes.append(Stroke(role, circle))
        ink.line(role, (x + SAMPLE / 2 - 2.4, middle), (x + SAMPLE / 2 + 2.4, middle))
        ink.line(role, (x + SAMPLE / 2, middle - 2.4), (x + SAMPLE / 2, middle + 2.4))
    elif filled and PENS[role].fill != "none":
        box = Path.through([(x, y - 0.6), (x + SAMPLE, y - 0.6), (x + SAMPLE, y + 3.1), (x, y + 3.1)], closed=True)
        ink.fills.append(Fill(role, (box,)))
        ink.strokes.append(Stroke(role, box))
    else:
        ink.line(role, (x, middle), (x + SAMPLE, middle))


def _wrapped(text: str, room: float, size: float = SMALL) -> list[str]:
    """The text in lines that fit the room, mm."""
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
