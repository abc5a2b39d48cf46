"""A whole drawing on paper: views with their captions, legend, notes, title block and check bar, all in place."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from jigcam.drawing.axes_arms import arms_below
from jigcam.drawing.ink import Fill, Ink, InkLine, Words
from jigcam.drawing.legend import LEGEND_WIDTH, TITLE_WIDTH, Foot
from jigcam.drawing.model import Drawing, View
from jigcam.drawing.paper import FRAME, GAP, MARGIN, Extent, Paper, arrange, extent_of, paper_for
from jigcam.drawing.plate import Plate
from jigcam.drawing.roles import order
from jigcam.drawing.text import clean

CAPTION = 3.5
"""Height of the capitals of a caption, mm."""
SMALL = 2.5
"""Height of the capitals of small text, mm."""
MARGINS = 2 * (FRAME + MARGIN)
"""What frame and margins take of the paper, in all, mm."""


@dataclass(frozen=True, slots=True)
class Page:
    """Paper with all that is drawn on it; mm, y up, origin at its lower left corner."""

    title: str
    paper: Paper
    strokes: tuple[InkLine, ...]
    fills: tuple[Fill, ...]
    words: tuple[Words, ...]


def compose(drawing: Drawing) -> Page:
    """The drawing on the smallest standard paper that holds it in its scale, which is true size as a rule.

    Legend and title block stand in a strip below the views, or in a column beside them, minor views above them.
    """
    rows = drawing.on_paper.rows
    drawn = [[(view, captioned(view, drawing.units)) for view in row] for row in rows if row]
    main = [row for row in ([ink for view, ink in row if not view.minor] for row in drawn) if row]
    minor = [ink for row in drawn for view, ink in row if view.minor]
    legend = Foot(drawing)
    layouts = [
        _PageLayout([[ink for _, ink in row] for row in drawn], legend),
        _PageLayout(main, legend, minor, column=True),
    ]
    best = min(layouts, key=lambda layout: layout.paper.width * layout.paper.height)
    page = best.drawn()
    paper = best.paper
    page.box("stock", FRAME, FRAME, paper.width - FRAME, paper.height - FRAME)
    return Page(clean(drawing.title), paper, tuple(page.strokes), tuple(page.fills), tuple(page.words))


class _PageLayout:
    """One way to lay out a page, with the paper that it takes."""

    def __init__(
        self, rows: list[list[Ink]], legend: Foot, aside: list[Ink] | None = None, *, column: bool = False
    ) -> None:
        self.rows, self.legend, self.aside, self.in_column = rows, legend, aside or [], column
        self.wide, self.high, self.places = arrange([[_block(ink) for ink in row] for row in rows])
        if column:
            self.column = max([TITLE_WIDTH, *(_block(ink).width for ink in self.aside)])
            tall = sum(_block(ink).height + GAP for ink in self.aside) + legend.column_height()
            self.paper = paper_for(
                self.wide + GAP + self.column + MARGINS, max(self.high, tall) + MARGINS, legend.units
            )
        else:
            inner = max(self.wide, LEGEND_WIDTH + TITLE_WIDTH + MARGIN)
            self.paper = paper_for(inner + MARGINS, self.high + GAP + legend.height(inner) + MARGINS, legend.units)

    def drawn(self) -> Ink:
        """Everything in its place: the views in the middle of the field that legend and title block leave."""
        paper, page = self.paper, Ink()
        field, room = paper.width - MARGINS, paper.height - MARGINS
        low = FRAME + MARGIN
        if self.in_column:
            field -= self.column + GAP
            page.add(self.legend.column(paper))
            left, top = paper.width - FRAME - MARGIN - self.column, paper.height - FRAME - MARGIN
            for ink in self.aside:
                block = _block(ink)
                page.add(ink.moved(left + (self.column - block.width) / 2 + block.left, top - block.up))
                top -= block.height + GAP
        else:
            foot = self.legend.height(field)
            page.add(self.legend.strip(paper, field))
            low, room = low + foot + GAP, room - foot - GAP
        dx, dy = FRAME + MARGIN + (field - self.wide) / 2, low + (room - self.high) / 2
        for row, line in zip(self.rows, self.places, strict=True):
            for ink, (x, y) in zip(row, line, strict=True):
                page.add(ink.moved(dx + x, dy + y))
        return page


def laid_out(drawing: Drawing, minor: bool | None = None) -> Ink:
    """Views with their captions beside and below each other, in the frame of the first one, as on paper, mm; no foot.

    minor: only details, or only what is none; None for all.
    """
    rows = drawing.on_paper.rows
    chosen = [[view for view in row if minor is None or view.minor is minor] for row in rows]
    inks = [[captioned(view, drawing.units) for view in row] for row in chosen if row]
    whole = Ink()
    if not inks:
        return whole
    _, _, places = arrange([[_block(ink) for ink in row] for row in inks])
    x0, y0 = places[0][0]
    for row, line in zip(inks, places, strict=True):
        for ink, (x, y) in zip(row, line, strict=True):
            whole.add(ink.moved(x - x0, y - y0))
    whole.fills.sort(key=lambda fill: -order(fill.role))
    return whole


def _block(ink: Ink) -> Extent:
    return extent_of(ink.bounds)


@lru_cache(maxsize=64)
def captioned(view: View, units: str) -> Ink:
    """A view in its own frame, with its caption and the directions of its axes below it. Not to be changed: it is
    kept for the next renderer that asks for the same view."""
    ink = Plate(view, units).ink
    left, y0, _, _ = ink.bounds
    base = y0 - 9.0
    if view.axes:
        left += 20.0
        ink.add(arms_below(view.axes, ink))
    caption = clean(view.caption)
    if caption:
        ink.words.append(Words(left, base, caption, CAPTION, bold=True))
    return ink
