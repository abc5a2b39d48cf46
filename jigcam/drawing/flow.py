"""Pages that are filled from the top: titles, sentences with boxes to tick, named values, figures, tables, pictures.

What finds no room goes on the next page; a heading never stands alone at a foot. What is *settled* closes up a little
where that saves a page, and no page of it holds a few lines alone. Lengths in mm on the paper.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence
from functools import partial

from reportlab.pdfgen.canvas import Canvas

from jigcam.drawing.brief_legend import legend_lines
from jigcam.drawing.flow_settling import settled
from jigcam.drawing.flow_strokes import box, caption, card, cards, dot, mono, picture, rule, sample
from jigcam.drawing.leaf import Draw, Leaf
from jigcam.drawing.model import Drawing, View
from jigcam.drawing.page_view import NARROW, PageView, page_view
from jigcam.drawing.paper import Paper
from jigcam.drawing.pdf_ink import BOLD, FONT, say, typeface, width_of, wrapped
from jigcam.drawing.roles import Role
from jigcam.drawing.table_columns import columns_in
from jigcam.drawing.text import plain
from jigcam.units.setting import Known

LEFT, RIGHT, TOP, BOTTOM = 16.0, 12.0, 12.0, 14.0
"""Margins; the left one is wide enough to be punched."""
HEAD = 6.0
"""Of the line at the head of a page."""
CLOSEST = 0.75
"""Lines close up no more than so far."""
REMNANT = 0.25
"""A page that holds less is all but empty."""
TOGETHER = 8
"""Lines of a sentence that stay on one page."""
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
COLUMNS = 118
"""Characters of such a line at most: longer ones go on below."""
LEGEND = 2.0
"""Of the words of a legend."""
SMALLEST = 2.1
"""Height of the capitals in a table at least."""


class Flow:
    """Pages in the making. running: said small at the head of each page.

    tight: the share of their height that pictures and the room between lines have, lines 1 at the most; letters keep
    their size. foot: left free at the foot of a page beside its margin, mm.
    """

    def __init__(self, paper: Paper, running: str, *, tight: float = 1.0, foot: float = 0.0) -> None:
        typeface()
        self.paper, self.running = paper, running
        self.tight, self.foot = tight, foot
        self.leading = 1.0 + (LEADING - 1.0) * min(max(tight, CLOSEST), 1.0)
        self.wide = paper.width - LEFT - RIGHT
        self._pages: list[list[Draw]] = []
        self._marks: dict[int, str] = {}
        self._ends: list[float] = []
        self._began = 1
        self._named: set[tuple[int, Role]] = set()
        self.y = 0.0
        self._open()

    @property
    def high(self) -> float:
        """Of an empty page, with what is left free at its foot."""
        return self.paper.height - TOP - HEAD - BOTTOM

    @property
    def left(self) -> float:
        """Room that is left on the page."""
        return self.y - BOTTOM - self.foot

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
        if self._pages:
            self._ends.append(self.y)
        self._pages.append([])
        self.y = self.paper.height - TOP - HEAD

    def page(self) -> None:
        """The next page, unless this one is empty."""
        if self._pages[-1]:
            self._open()

    def need(self, high: float) -> None:
        """The next page where less than that is left."""
        if self.left < high:
            self.page()

    def settle(self, fill: Callable[[Flow], None], *, looser: bool = False) -> None:
        """What `fill` writes, on as few pages as it takes with pictures no less than `TIGHTEST` of their height, and
        none of them all but empty where that can be.

        fill: called several times, each time with a flow that stands where this one does. looser: whether pictures may
        be higher than they ask to be, where that takes no page more.
        """
        self._take(settled(partial(self._tried, fill), self.pages, looser=looser))

    def choose(self, ways: Sequence[Callable[[Flow], None]]) -> None:
        """The one of several ways to go on that takes fewest pages; the first where that is equal."""
        self._take(min((self._tried(way, self.tight) for way in ways), key=lambda each: each.pages))

    def _take(self, best: Flow) -> None:
        """All of it as there."""
        self._pages, self._marks, self._ends, self._named = best._pages, best._marks, best._ends, best._named
        self.y = best.y

    @property
    def pages(self) -> int:
        """How many there are."""
        return len(self._pages)

    def _tried(self, fill: Callable[[Flow], None], tight: float, foot: float = 0.0) -> Flow:
        """A flow that goes on from here, filled."""
        trial = Flow(self.paper, self.running, tight=tight, foot=foot)
        trial._pages = [*self._pages[:-1], [*self._pages[-1]]]
        trial._marks, trial._ends, trial._named = {**self._marks}, [*self._ends], {*self._named}
        trial._began, trial.y = self.pages, self.y
        fill(trial)
        return trial

    @property
    def remnants(self) -> int:
        """Pages after the one it began on that hold less than `REMNANT` of what they could."""
        top = self.paper.height - TOP - HEAD
        return sum(top - end < REMNANT * self.high for end in [*self._ends, self.y][self._began :])

    @property
    def cost(self) -> float:
        """By which ways to fill pages are compared: a page more costs more than any closing up."""
        return len(self._pages) + 0.5 * self.remnants + 0.4 * (1.0 - self.tight) + 1e-4 * self.foot

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

    def heading(self, text: str, *, size: float = 3.6, keep: float = 44.0) -> None:
        """Over what follows. keep: room that has to be left below it."""
        self.need(size * self.leading + 4.0 + keep)
        self.y -= 3.0
        self._wrapped(LEFT, text, size, self.wide, bold=True)
        self.y -= 1.0

    def words(self, text: str, *, size: float = BODY, indent: float = 0.0, bold: bool = False) -> None:
        """A sentence as it stands."""
        self._wrapped(LEFT + indent, text, size, self.wide - indent, bold=bold)
        self.y -= 0.4 * size

    def points(self, sentences: Sequence[str], *, boxes: bool = False, size: float | None = None) -> None:
        """A sentence each; those that begin with blanks belong to the one before. boxes: what is to be done has one."""
        size = size or (STEP if boxes else BODY)
        for sentence in sentences:
            deeper = sentence.startswith("  ")
            indent = (6.5 if boxes else 4.0) + (5.0 if deeper else 0.0)
            lines = wrapped(sentence.strip(), self.wide - indent, size)
            self.need(min(len(lines), TOGETHER) * size * self.leading)
            y = self.y - size
            if boxes and not deeper and not isinstance(sentence, Known):
                self._put(partial(box, LEFT, y - 0.25 * size, 1.4 * size))
            else:
                self._put(partial(dot, LEFT + indent - 2.5, y + 0.4 * size, 0.22 * size))
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
            self.need(min(len(lines), 4) * size * self.leading)
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
        gap = 4.0
        widths = [max(width_of(row[k], size, BOLD) for row in (head, *rows)) for k in range(len(head))]
        room = self.wide - gap * (len(head) - 1)
        size, widths = columns_in(widths, room, size, SMALLEST)
        for place, row in enumerate((head, *rows)):
            font = BOLD if place == 0 else FONT
            cells = [wrapped(text, wide + 0.5, size, font) for text, wide in zip(row, widths, strict=True)]
            tall = max(map(len, cells))
            self.need(size * self.leading * (tall + (2 if place == 0 else 0)))
            top, x = self.y, LEFT
            for k, (lines, wide) in enumerate(zip(cells, widths, strict=True)):
                self.y = top
                for line in lines:
                    self.y -= size
                    self._say(x + (0.0 if k < left else wide - width_of(line, size, font)), line, size, bold=place == 0)
                    self.y -= size * (self.leading - 1.0)
                x += wide + gap
            self.y = top - tall * size * self.leading
            if place == 0:
                self._put(partial(rule, LEFT, self.y + 0.25 * size, x - gap - LEFT))
                self.y -= 0.4 * size
        self.y -= 1.5

    def lines(self, lines: Sequence[str], *, size: float = 2.2) -> None:
        """Lines that stand under each other in columns, as they are; smaller where one is wider than the page."""
        plain_lines = [plain_columns(line) for line in lines]
        told = [part for line in plain_lines for part in textwrap.wrap(line, COLUMNS, subsequent_indent="    ") or [""]]
        longest = max((len(line) for line in told), default=1) or 1
        size = min(size, self.wide / (0.6 * longest) * 0.62)
        for line in told:
            self.need(size * self.leading)
            self.y -= size
            y = self.y
            self._put(partial(mono, LEFT, y, line, size))
            self.y -= size * (self.leading - 1.0)

    def figures(self, figures: Sequence[tuple[str, str]]) -> None:
        """Numbers to be set, large, each in a frame under its name; as many beside each other as find room."""
        x = LEFT
        row = 0.0
        for name, parts, size, wide, tall in cards(figures, FIGURE, self.wide):
            if x > LEFT and x + wide > LEFT + self.wide:
                self.y -= row + 2.0
                x, row = LEFT, 0.0
            if x == LEFT:
                self.need(tall + 2.0)
            self._put(partial(card, x, self.y, wide, tall, name, parts, size))
            x += wide + 2.0
            row = max(row, tall)
        if figures:
            self.y -= row + 3.0

    def picture(
        self,
        drawing: Drawing,
        high: float,
        *,
        scales: Sequence[float] | Callable[[View], Sequence[float]] = (),
        least: float = 58.0,
        legend: bool = True,
        across: int = 1,
        ticked: bool = False,
    ) -> float:
        """The views of a drawing one after the other, beside each other where they find room, then what lines mean.

        high: of each view at most, where pages are not closed up. scales: those that may be taken, of all views or of
        each, descending, and are told; none for any, the true size at the most. least: of a view's height, for which
        the next page is taken otherwise. legend: whether what lines mean is told. across: so many find room beside each
        other. ticked: each has a box to tick. The scale of the first view comes back.
        """
        most = high if scales else max(high * self.tight, min(high, least))
        under = self._legend_height(drawing) if legend else 0.0

        def tall() -> float:
            """What a view may be high here; to scale, as much as anywhere."""
            free = self.left - CAPTION - under
            return most if scales or free < min(least, most) else min(most, free)

        beside: list[PageView] = []
        first = 0.0
        mated = [view for row in drawing.rows if any(each.minor for each in row) for view in row]
        share = (self.wide - (across - 1) * SIDE) / across
        for view in drawing.views:
            # Closed up, details find room beside what they belong to.
            less = 1.0 if scales else 0.45 if view.minor else min(self.tight, 1.0) if view in mated else 1.0
            wide = share if across > 1 else less * self.wide
            may = scales(view) if callable(scales) else scales
            one = page_view(view, drawing, wide, tall(), may, least=share if across > 1 else NARROW)
            if beside and sum(each.wide + SIDE for each in beside) + one.wide > self.wide + 0.01:
                self._beside(beside, ticked=ticked)
                beside = []
                one = page_view(view, drawing, wide, tall(), may, least=share if across > 1 else NARROW)
            beside.append(one)
            first = first or one.scale
        if beside:
            self._beside(beside, under=under, ticked=ticked)
        if legend:
            self._legend(drawing)
        return first

    def _beside(self, views: Sequence[PageView], *, under: float = 0.0, ticked: bool = False) -> None:
        """Views on one line, each over its caption. under: room that is kept below them."""
        tall = max(each.high for each in views)
        gap = (self.wide - sum(each.wide for each in views)) / (len(views) + 1)
        told = [each.caption(self.wide if len(views) == 1 else each.wide + gap - 4.0, ticked) for each in views]
        below = CAPTION + 4.0 * max(0, *(len(lines) - 2 for lines in told))
        self.need(min(tall + below + under, self.high - self.foot))
        x, base = LEFT, self.y - tall
        for each, lines in zip(views, told, strict=True):
            x += gap
            x0, _, x1, y1 = each.ink.bounds
            free = each.wide - (x1 - x0)
            self._put(partial(picture, each.ink, x + free / 2.0 - x0, self.y - y1))
            wide = max(width_of(line, 2.4, BOLD) for line in lines)
            left = min(max(x + (each.wide - wide) / 2.0, LEFT + 5.0 * ticked), LEFT + self.wide - wide)
            for place, line in enumerate(lines):
                self._put(partial(caption, left, base - 4.0 - 4.0 * place, line))
            if ticked:
                self._put(partial(box, left - 5.0, base - 4.6, 3.6))
            x += each.wide
        self.y = base - below

    def _legend(self, drawing: Drawing) -> None:
        """What lines mean that no word in the picture says, once a page."""
        lines = self._legend_lines(drawing)
        self.y -= LEGEND if lines else 0.0
        for line in lines:
            for role, name, x in line:
                self._named.add((len(self._pages), role))
                if role != "zero":
                    self._put(partial(sample, x, self.y + 0.4 * LEGEND, role))
                self._say(x + (12.0 if role != "zero" else 0.0), name, LEGEND, grey=0.2)
            self.y -= LEGEND * self.leading

    def _legend_height(self, drawing: Drawing) -> float:
        return LEGEND * (1.0 + self.leading * len(self._legend_lines(drawing)))

    def _legend_lines(self, drawing: Drawing) -> list[list[tuple[Role, str, float]]]:
        told = {role for page, role in self._named if page == self.pages}
        return legend_lines(drawing, told, LEGEND, LEFT, self.wide)

    def _wrapped(self, x: float, text: str, size: float, room: float, *, bold: bool = False) -> None:
        lines = wrapped(text, room, size, BOLD if bold else FONT)
        self._lines(x, lines, size, bold=bold)

    def _lines(self, x: float, lines: Sequence[str], size: float, *, bold: bool = False) -> None:
        for line in lines:
            self.need(size * self.leading)
            self.y -= size
            self._say(x, line, size, bold=bold)
            self.y -= size * (self.leading - 1.0)


def plain_columns(text: str) -> str:
    """The text in ASCII with its blanks kept."""
    lead = len(text) - len(text.lstrip(" "))
    return " " * lead + "".join(c if c.isascii() else plain(c) for c in text.lstrip(" "))
