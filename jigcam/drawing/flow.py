"""Pages that are filled from the top: titles, sentences with boxes to tick, named values, figures, tables, pictures.

What finds no room goes on the next page; a heading never stands alone at a foot. Lengths in mm on the paper.
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from functools import partial

from reportlab.pdfgen.canvas import Canvas

from jigcam.drawing.ink import Ink
from jigcam.drawing.leaf import Draw, Leaf
from jigcam.drawing.model import Drawing, View
from jigcam.drawing.paper import Paper
from jigcam.drawing.pdf_ink import BOLD, FONT, put_ink, say, typeface, width_of, wrapped
from jigcam.drawing.roles import DASHES, PENS, WIDTHS, Role
from jigcam.drawing.sized import fitted, scale_words
from jigcam.drawing.text import plain

LEFT, RIGHT, TOP, BOTTOM = 16.0, 12.0, 12.0, 14.0
"""Margins; the left one is wide enough to be punched."""
BODY = 2.7
"""Height of the capitals of what is read in the hand."""
STEP = 3.0
"""Of what is done step by step, the sheet lying on the bench."""
FIGURE = 4.3
"""Of numbers that are set: to be read at arm's length. At 700 mm a two-hundredth of the way would be 3.5 (common
practice, no source)."""
LEADING = 1.75
"""From base line to base line over the height of capitals."""
CAPTION = 12.0
"""Room for a caption of two lines below a view."""
SIDE = 8.0
"""Between views beside each other."""
COLUMNS = 100
"""Characters of such a line at most: longer ones go on below."""
SMALLEST = 2.3
"""Height of the capitals in a table at least."""
MONO = "Courier"
"""For columns of words that stand as they are."""


class Flow:
    """Pages in the making. running: said small at the head of each page."""

    def __init__(self, paper: Paper, running: str) -> None:
        typeface()
        self.paper, self.running = paper, running
        self.wide = paper.width - LEFT - RIGHT
        self._pages: list[list[Draw]] = []
        self._marks: dict[int, str] = {}
        self.y = 0.0
        self._open()

    @property
    def high(self) -> float:
        """Of an empty page."""
        return self.paper.height - TOP - 6.0 - BOTTOM

    @property
    def left(self) -> float:
        """Room that is left on the page."""
        return self.y - BOTTOM

    @property
    def leaves(self) -> list[Leaf]:
        """The pages as they are."""
        return [
            Leaf(self.paper, partial(self._draw, page), self._marks.get(place, ""))
            for place, page in enumerate(self._pages)
        ]

    def _draw(self, page: Sequence[Draw], canvas: Canvas) -> None:
        say(canvas, LEFT, self.paper.height - TOP, self.running, 2.0, grey=0.35)
        for draw in page:
            draw(canvas)

    def _open(self) -> None:
        self._pages.append([])
        self.y = self.paper.height - TOP - 6.0

    def page(self) -> None:
        """The next page, unless this one is empty."""
        if self._pages[-1]:
            self._open()

    def need(self, high: float) -> None:
        """The next page where less than that is left."""
        if self.left < high:
            self.page()

    def skip(self, by: float) -> None:
        """Room left free."""
        self.y -= by

    def mark(self, name: str) -> None:
        """The part that begins on this page, for whoever looks for it."""
        self._marks.setdefault(len(self._pages) - 1, name)

    def _put(self, draw: Draw) -> None:
        self._pages[-1].append(draw)

    def _say(self, x: float, text: str, size: float, *, bold: bool = False, grey: float = 0.0) -> None:
        y = self.y
        self._put(lambda canvas: say(canvas, x, y, text, size, bold=bold, grey=grey))

    def title(self, text: str) -> None:
        """Of a page, large."""
        self._wrapped(LEFT, text, 5.0, self.wide, bold=True)
        self.y -= 2.0

    def heading(self, text: str, *, size: float = 3.6, keep: float = 16.0) -> None:
        """Over what follows. keep: room that has to be left below it."""
        self.need(size * LEADING + 4.0 + keep)
        self.y -= 3.0
        self._wrapped(LEFT, text, size, self.wide, bold=True)
        self.y -= 1.0

    def words(self, text: str, *, size: float = BODY, indent: float = 0.0, bold: bool = False) -> None:
        """A sentence as it stands."""
        self._wrapped(LEFT + indent, text, size, self.wide - indent, bold=bold)
        self.y -= 0.4 * size

    def points(self, sentences: Sequence[str], *, boxes: bool = False, size: float | None = None) -> None:
        """A sentence each; those that begin with blanks belong to the one before. boxes: to be ticked when done."""
        size = size or (STEP if boxes else BODY)
        for sentence in sentences:
            deeper = sentence.startswith("  ")
            indent = (6.5 if boxes else 4.0) + (5.0 if deeper else 0.0)
            lines = wrapped(sentence.strip(), self.wide - indent, size)
            self.need(min(len(lines), 4) * size * LEADING)
            y = self.y - size
            if boxes and not deeper:
                self._put(partial(_box, LEFT, y - 0.25 * size, 1.4 * size))
            else:
                self._put(partial(_dot, LEFT + indent - 2.5, y + 0.4 * size, 0.22 * size))
            self._lines(LEFT + indent, lines, size)
            self.y -= 0.6 * size

    def rows(self, rows: Sequence[tuple[str, str]], *, size: float = BODY, indent: float = 0.0) -> None:
        """Named values; a name that comes again is said once."""
        if not rows:
            return
        column = min(max(width_of(name, size, BOLD) for name, _ in rows) + 4.0, 0.4 * self.wide)
        before = ""
        for name, value in rows:
            lines = wrapped(value, self.wide - indent - column, size)
            self.need(min(len(lines), 4) * size * LEADING)
            if name != before:
                self.y -= size
                self._say(LEFT + indent, name, size, bold=True)
                self.y += size
            before = name
            self._lines(LEFT + indent + column, lines, size)
            self.y -= 0.35 * size

    def grid(self, head: Sequence[str], rows: Sequence[Sequence[str]], *, left: int = 1, size: float = BODY) -> None:
        """A table; where it would be wider than the page a little smaller, and then its widest columns in lines.

        left: columns that stand flush left.
        """
        widths = [max(width_of(row[k], size, BOLD) for row in (head, *rows)) for k in range(len(head))]
        gap = 4.0
        room = self.wide - gap * (len(head) - 1)
        shrink = max(min(1.0, room / sum(widths)), SMALLEST / size)
        size, widths = size * shrink, [each * shrink for each in widths]
        while sum(widths) > room + 1e-6:  # the widest give way, down to the next one, together
            most = max(widths)
            widest = [k for k, each in enumerate(widths) if each > most - 1e-6]
            below = max([each for each in widths if each < most - 1e-6], default=0.0)
            step = min(most - below, (sum(widths) - room) / len(widest))
            widths = [each - step if k in widest else each for k, each in enumerate(widths)]
        for place, row in enumerate((head, *rows)):
            font = BOLD if place == 0 else FONT
            cells = [wrapped(text, wide + 0.5, size, font) for text, wide in zip(row, widths, strict=True)]
            tall = max(map(len, cells))
            self.need(size * LEADING * (tall + (2 if place == 0 else 0)))
            top, x = self.y, LEFT
            for k, (lines, wide) in enumerate(zip(cells, widths, strict=True)):
                self.y = top
                for line in lines:
                    self.y -= size
                    self._say(x + (0.0 if k < left else wide - width_of(line, size, font)), line, size, bold=place == 0)
                    self.y -= size * (LEADING - 1.0)
                x += wide + gap
            self.y = top - tall * size * LEADING
            if place == 0:
                self._put(partial(_rule, LEFT, self.y + 0.25 * size, x - gap - LEFT))
                self.y -= 0.4 * size
        self.y -= 1.5

    def lines(self, lines: Sequence[str], *, size: float = 2.2) -> None:
        """Lines that stand under each other in columns, as they are; smaller where one is wider than the page."""
        plain_lines = [plain_columns(line) for line in lines]
        told = [part for line in plain_lines for part in textwrap.wrap(line, COLUMNS, subsequent_indent="    ") or [""]]
        longest = max((len(line) for line in told), default=1) or 1
        size = min(size, self.wide / (0.6 * longest) * 0.62)
        for line in told:
            self.need(size * LEADING)
            self.y -= size
            y = self.y
            self._put(partial(_mono, LEFT, y, line, size))
            self.y -= size * (LEADING - 1.0)

    def figures(self, figures: Sequence[tuple[str, str]]) -> None:
        """Numbers to be set, large, each in a frame under its name; as many beside each other as find room."""
        pad, high = 2.5, FIGURE + 8.0
        cards = []
        for name, value in figures:
            size = FIGURE
            while size > 3.5 and width_of(value, size, BOLD) + 2 * pad > self.wide:
                size -= 0.25
            parts = wrapped(value, self.wide - 2 * pad, size, BOLD)
            wide = max(*(width_of(part, size, BOLD) for part in parts), width_of(name, 2.2)) + 2 * pad
            cards.append((name, parts, size, wide, high + (len(parts) - 1) * size * 1.5))
        x = LEFT
        row = 0.0
        for name, parts, size, wide, tall in cards:
            if x > LEFT and x + wide > LEFT + self.wide:
                self.y -= row + 2.0
                x, row = LEFT, 0.0
            if x == LEFT:
                self.need(tall + 2.0)
            self._put(partial(_card, x, self.y, wide, tall, name, parts, size))
            x += wide + 2.0
            row = max(row, tall)
        if figures:
            self.y -= row + 3.0

    def picture(
        self, drawing: Drawing, high: float, *, scales: Sequence[float] = (), least: float = 58.0, legend: bool = True
    ) -> None:
        """The views of a drawing one after the other, beside each other where they find room, then what lines mean.

        high: of each view at most. scales: those that may be taken, descending, and are told; none for any, the true
        size at the most. least: of a view's height, for which the next page is taken otherwise. legend: whether what
        lines mean is told.
        """

        def tall() -> float:
            """What a view may be high here; to scale, as much as anywhere."""
            free = self.left - CAPTION
            return high if scales or free < least else min(high, free)

        beside: list[tuple[View, float, Ink]] = []
        taken = 0.0
        for view in drawing.views:
            wide = self.wide if not view.minor else 0.45 * self.wide
            scale, ink = fitted(view, drawing, wide, tall(), scales)
            x0, _, x1, _ = ink.bounds
            if beside and taken + SIDE + x1 - x0 > self.wide:
                self._beside(beside, told=bool(scales))
                beside, taken = [], 0.0
                scale, ink = fitted(view, drawing, wide, tall(), scales)
                x0, _, x1, _ = ink.bounds
            beside.append((view, scale, ink))
            taken += x1 - x0 + (SIDE if taken else 0.0)
        if beside:
            self._beside(beside, told=bool(scales))
        if legend:
            self._legend(drawing)

    def _beside(self, views: Sequence[tuple[View, float, Ink]], *, told: bool) -> None:
        """Views on one line, each over its caption."""
        tall = max(ink.bounds[3] - ink.bounds[1] for _, _, ink in views)
        free = self.wide - sum(ink.bounds[2] - ink.bounds[0] for _, _, ink in views)
        gap = free / (len(views) + 1)
        self.need(tall + CAPTION)
        x, base = LEFT, self.y - tall
        for view, scale, ink in views:
            x += gap
            x0, _, x1, y1 = ink.bounds
            self._put(partial(_picture, ink, x - x0, self.y - y1))
            says = f"{view.caption}  ({scale_words(scale)})" if told else view.caption
            room = x1 - x0 + gap
            lines = wrapped(says, max(room, 60.0 if len(views) > 1 else self.wide), 2.4, BOLD)
            wide = max(width_of(line, 2.4, BOLD) for line in lines)
            left = min(max(x + (x1 - x0 - wide) / 2.0, LEFT), LEFT + self.wide - wide)
            for place, line in enumerate(lines[:2]):
                self._put(partial(_caption, left, base - 4.0 - 4.0 * place, line))
            x += x1 - x0
        self.y = base - CAPTION

    def _legend(self, drawing: Drawing) -> None:
        size, x = 2.0, LEFT
        self.y -= size
        for role, name, _ in drawing.legend:
            if role == "zero":
                name = "zero, a circle with two black quarters"
            wide = 12.0 + width_of(name, size) + 5.0
            if x > LEFT and x + wide > LEFT + self.wide:
                x, self.y = LEFT, self.y - size * LEADING
            if role != "zero":
                self._put(partial(_sample, x, self.y + 0.4 * size, role))
            self._say(x + (12.0 if role != "zero" else 0.0), name, size, grey=0.2)
            x += wide
        self.y -= size * LEADING

    def _wrapped(self, x: float, text: str, size: float, room: float, *, bold: bool = False) -> None:
        lines = wrapped(text, room, size, BOLD if bold else FONT)
        self._lines(x, lines, size, bold=bold)

    def _lines(self, x: float, lines: Sequence[str], size: float, *, bold: bool = False) -> None:
        for line in lines:
            self.need(size * LEADING)
            self.y -= size
            self._say(x, line, size, bold=bold)
            self.y -= size * (LEADING - 1.0)


def plain_columns(text: str) -> str:
    """The text in ASCII with its blanks kept."""
    lead = len(text) - len(text.lstrip(" "))
    return " " * lead + "".join(c if c.isascii() else plain(c) for c in text.lstrip(" "))


def _box(x: float, y: float, side: float, canvas: Canvas) -> None:
    canvas.setDash()
    canvas.setStrokeGray(0.0)
    canvas.setLineWidth(0.3)
    canvas.rect(x, y, side, side, stroke=1, fill=0)


def _dot(x: float, y: float, radius: float, canvas: Canvas) -> None:
    canvas.setFillGray(0.2)
    canvas.circle(x, y, radius, stroke=0, fill=1)


def _rule(x: float, y: float, wide: float, canvas: Canvas) -> None:
    canvas.setDash()
    canvas.setStrokeGray(0.4)
    canvas.setLineWidth(0.2)
    canvas.line(x, y, x + wide, y)


def _mono(x: float, y: float, line: str, size: float, canvas: Canvas) -> None:
    canvas.setFont(MONO, size / 0.62)
    canvas.setFillGray(0.0)
    canvas.drawString(x, y, line)


def _card(
    x: float, top: float, wide: float, high: float, name: str, parts: Sequence[str], size: float, canvas: Canvas
) -> None:
    canvas.setDash()
    canvas.setStrokeGray(0.0)
    canvas.setLineWidth(0.35)
    canvas.rect(x, top - high, wide, high, stroke=1, fill=0)
    say(canvas, x + 2.5, top - 4.0, name, 2.2, grey=0.25)
    for place, part in enumerate(parts):
        say(canvas, x + 2.5, top - 5.8 - size - place * size * 1.5, part, size, bold=True)


def _caption(x: float, y: float, line: str, canvas: Canvas) -> None:
    say(canvas, x, y, line, 2.4, bold=True)


def _picture(ink: Ink, x: float, y: float, canvas: Canvas) -> None:
    canvas.saveState()
    canvas.translate(x, y)
    put_ink(canvas, ink)
    canvas.restoreState()


def _sample(x: float, y: float, role: Role, canvas: Canvas) -> None:
    pen = PENS[role]
    canvas.setStrokeColor(pen.ink)
    canvas.setLineWidth(WIDTHS[pen.weight])
    canvas.setDash(list(DASHES[pen.line]))
    canvas.line(x, y, x + 10.0, y)
