"""Pictures within a page of HTML: each view in a size in which its words are read, its caption below, then what lines
mean. On paper sheets are drawn the same way; a page is as wide as its screen, so the picture shrinks on a small one."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from typing import TYPE_CHECKING

from jigcam.drawing.brief_legend import brief_legend
from jigcam.drawing.ink import Ink, Words
from jigcam.drawing.legend import SAMPLE, sample
from jigcam.drawing.page import Page
from jigcam.drawing.paper import Paper
from jigcam.drawing.sized import fitted
from jigcam.drawing.svg import Writer
from jigcam.drawing.text import advance, clean
from jigcam.making.sheet_pages import is_template

if TYPE_CHECKING:
    from jigcam.drawing.model import Drawing, View

WIDE, HIGH = 125.0, 110.0
"""Of a view at most, mm: words 2.5 mm high are then 8 points of a telephone's 400."""
MINOR, TEMPLATE = 90.0, 150.0
"""Of a detail, and of a template, which has the most figures."""
AROUND = 2.0
LINE = 4.5
SMALL = 2.5


def pictures(drawing: Drawing) -> Iterator[str]:
    """A figure for each view, told to those who do not see it by its title and caption; then the legend."""
    for view in drawing.views:
        yield _figure(drawing, view)
    told = [name for _, name in brief_legend(drawing)]
    if told:
        says = escape(clean("lines: " + ", ".join(told)))
        yield f'<figure class="legend" role="img" aria-label="{says}">{_svg(_legend(drawing), "legend")}</figure>'


def _figure(drawing: Drawing, view: View) -> str:
    high = MINOR if view.minor else HIGH if not is_template(drawing) else TEMPLATE
    _, ink = fitted(view, drawing, WIDE, high)
    says = escape(clean(f"{drawing.title}; {view.caption}"))
    caption = escape(clean(view.caption))
    return (
        f'<figure role="img" aria-label="{says}">{_svg(ink, view.caption)}<figcaption>{caption}</figcaption></figure>'
    )


def _svg(ink: Ink, title: str) -> str:
    """Ink on just so much paper as it takes."""
    x0, y0, x1, y1 = ink.bounds
    moved = ink.moved(AROUND - x0, AROUND - y0)
    paper = Paper("", x1 - x0 + 2 * AROUND, y1 - y0 + 2 * AROUND)
    page = Page(clean(title), paper, tuple(moved.strokes), tuple(moved.fills), tuple(moved.words))
    return Writer(page).text().partition("\n")[2].strip()


def _legend(drawing: Drawing) -> Ink:
    ink, x, y = Ink(), 0.0, 0.0
    filled = {role: full for role, _, full in drawing.legend}
    for role, name in brief_legend(drawing):
        wide = SAMPLE + 3.0 + advance(name, SMALL) + 4.0
        if x and x + wide > WIDE:
            x, y = 0.0, y - LINE
        sample(ink, role, filled[role], x, y)
        ink.words.append(Words(x + SAMPLE + 3.0, y, name, SMALL))
        x += wide
    return ink
