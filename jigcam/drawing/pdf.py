"""Drawings as PDF in true size on home paper: a page that shows the whole with the map of its sheets, then the sheets.
What is drawn smaller than it is has that page alone, without a map.

Everything is drawn in vectors; arcs are Béziers of an eighth of a turn at most, which differ from the arc by less than
4e-6 of its radius (D). The same drawing gives the same bytes. Letters are those of the typeface that comes with
reportlab, embedded; signs that it does not have are spelled in ASCII.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial

from reportlab.pdfgen.canvas import Canvas

from jigcam.drawing.ink import Ink
from jigcam.drawing.leaf import Leaf, bound
from jigcam.drawing.model import Drawing
from jigcam.drawing.page import laid_out
from jigcam.drawing.page_view import CAPITALS, page_view
from jigcam.drawing.paper import HOME, HomePaper, Paper
from jigcam.drawing.pdf_ink import BOLD, FONT, check_bars, put_ink, say, typeface, width_of, wrapped
from jigcam.drawing.roles import Role
from jigcam.drawing.tiles import EDGE, FOOT, OVERLAP, Tile, Tiling, field_of, tiling

SENTENCE, LINE = 2.6, 4.5
"""Height of the capitals of the sentences of the first page, and from base line to base line, mm."""
ASIDE = 0.46
"""The share of the width that details have beside the whole."""
CAPTION = 11.0
"""Room for a caption below a detail, mm."""
MACHINE: frozenset[Role] = frozenset({"tab", "blank", "ride", "path-cut", "path-rapid"})
"""What a machine needs of a template, and no one who saws it."""


@dataclass(frozen=True, slots=True)
class SheetFoot:
    """What each sheet says of itself. of: added to its name. caption: of what it shows. says: how it is used."""

    of: str
    caption: str
    says: str


def files_of(drawings: Mapping[str, Drawing], paper: HomePaper) -> dict[str, bytes]:
    """A file for each drawing."""
    return {stem: render(drawing, paper) for stem, drawing in drawings.items()}


def render(drawing: Drawing, paper: HomePaper) -> bytes:
    """The drawing as the bytes of a PDF file."""
    return bound(leaves(drawing, paper), drawing.title)


def by_hand(drawing: Drawing) -> Drawing:
    """A template as it is cut by hand from paper: without what the machine alone needs, its blank, its zero, tabs, and
    where the centre of a bushing goes. Any other drawing as it is."""
    if not any(item.role == "opening" for item in drawing.items):
        return drawing
    rows = tuple(
        tuple(replace(view, items=tuple(i for i in view.items if i.role not in MACHINE), axes=None) for view in row)
        for row in drawing.rows
    )
    return replace(drawing, rows=rows)


def leaves(drawing: Drawing, paper: HomePaper, told: SheetFoot | None = None) -> list[Leaf]:
    """Its pages: the whole with the map of the sheets, then the sheets. told: what these say besides."""
    typeface()
    drawing = by_hand(drawing)
    ink = laid_out(drawing, minor=False)
    cut_up = tiling(ink, HOME[paper])
    first = _first_pages(drawing, ink, cut_up, HOME[paper])
    printed = cut_up.printed if drawing.smaller == 1.0 else ()
    return [*first, *(Leaf(cut_up.paper, partial(_tile, drawing, ink, cut_up, tile, told)) for tile in printed)]


def _first_pages(drawing: Drawing, ink: Ink, cut_up: Tiling, paper: Paper) -> list[Leaf]:
    """The whole, made smaller, with the map of the sheets; how they are joined; facts and notes."""
    room, top = paper.width - 2 * EDGE, paper.height - EDGE
    lines = [line for text in _sentences(drawing, cut_up) for line in wrapped(text, room, SENTENCE)]
    bottom = EDGE + FOOT + LINE * len(lines) + 6.0
    high = max(top - 14.0 - bottom, 40.0)
    y = top - 14.0 - high - LINE - 2.0
    said: list[list[tuple[float, str]]] = [[]]
    for line in lines:
        if y < EDGE + FOOT:
            said.append([])
            y = top - LINE
        said[-1].append((y, line))
        y -= LINE

    def page(place: int, canvas: Canvas) -> None:
        if place == 0:
            _whole(canvas, drawing, ink, cut_up, (EDGE, top - 14.0 - high, room, high))
        for at, line in said[place]:
            say(canvas, EDGE, at, line, SENTENCE)
        check_bars(canvas)

    return [Leaf(paper, partial(page, place)) for place in range(len(said))]


def _whole(canvas: Canvas, drawing: Drawing, ink: Ink, cut_up: Tiling, box: tuple[float, float, float, float]) -> None:
    """Title, map and details, in and above a box (x, y, width, height)."""
    x, y, room, high = box
    say(canvas, x, y + high + 8.0, drawing.title, 5.0, bold=True)
    details = [view for view in drawing.views if view.minor]
    split = (1.0 - ASIDE) * room if details else room
    if drawing.smaller == 1.0:
        _map(canvas, ink, cut_up, (x, y, split, high))
    else:
        canvas.saveState()
        _fitted(canvas, ink, (x, y, split, high), ink.bounds)
        canvas.restoreState()
    left, wide, top = x + split + 6.0, room - split - 6.0, y + high
    for view in details:
        one = page_view(view, drawing, wide, high / len(details) - CAPTION, (), least=wide)
        x0, _, x1, y1 = one.ink.bounds
        canvas.saveState()
        canvas.translate(left + (wide - x1 + x0) / 2 - x0, top - y1)
        put_ink(canvas, one.ink)
        canvas.restoreState()
        top -= one.high
        for place, line in enumerate(one.caption(wide, ticked=False)):
            say(canvas, left, top - 4.0 - 4.0 * place, line, CAPITALS, bold=True)
        top -= CAPTION


def _sentences(drawing: Drawing, cut_up: Tiling) -> list[str]:
    """What the first page says."""
    if drawing.smaller != 1.0:
        scale = f"Scale 1:{drawing.smaller:g} at the most; the bars below are in true size."
        return [scale, *(f"{name}: {value}" for name, value in drawing.facts), *drawing.notes]
    names = ", ".join(tile.name for tile in cut_up.printed)
    count = len(cut_up.printed)
    left_out = [tile.name for tile in cut_up.tiles if not tile.printed]
    said = [f"True size on {count} {'sheets' if count > 1 else 'sheet'} of {cut_up.paper.name}: {names}."]
    if left_out:
        said.append(f"Nothing is to be cut on {', '.join(left_out)}; these are not printed.")
    said.append("Print at 100 %, without fitting to the page, and measure both bars at the foot of each sheet.")
    if count > 1:
        said.append(
            "Trim each sheet along the fine lines at its right and lower side, lay cross on cross, tape them together."
        )
    if any(item.role == "opening" for item in drawing.items):
        said += [
            "As a template: glue the joined paper to the sheet, saw inside the heavy line of the opening, and work up "
            "to its middle with rasp and file. The bushing copies every dent: try it all round before the router runs.",
            "Holes, edges and words to copy are drawn with it; the side with the paper is up for the hand as drawn.",
        ]
    said += [f"{name}: {value}" for name, value in drawing.facts]
    said += drawing.notes
    return said


def _map(canvas: Canvas, ink: Ink, cut_up: Tiling, box: tuple[float, float, float, float]) -> None:
    """The whole in a box (x, y, width, height), with the borders and names of the sheets; those not printed in grey."""
    first, last = cut_up.tiles[0], cut_up.tiles[-1]
    lines = Ink(ink.strokes, ink.fills, [])
    x0, y0, x1, y1 = lines.bounds  # dimensions may reach beyond the sheets
    whole = min(first.x, x0), min(last.y, y0), max(last.x + last.wide, x1), max(first.y + first.high, y1)
    canvas.saveState()
    scale = _fitted(canvas, lines, box, whole)
    for tile in cut_up.tiles:
        canvas.setDash()
        canvas.setLineWidth(0.3 / scale)
        canvas.setStrokeGray(0.35)
        if not tile.printed:
            canvas.setFillGray(0.75, alpha=0.5)
            canvas.rect(tile.x, tile.y, tile.wide, tile.high, stroke=0, fill=1)
            canvas.setFillAlpha(1.0)
        canvas.rect(tile.x, tile.y, tile.wide, tile.high, stroke=1, fill=0)
        say(canvas, tile.x + 3 / scale, tile.y + tile.high - 8 / scale, tile.name, 5.0 / scale, bold=True, grey=0.25)
    canvas.restoreState()


def _fitted(
    canvas: Canvas, ink: Ink, box: tuple[float, float, float, float], bounds: tuple[float, float, float, float]
) -> float:
    """Ink within a box (x, y, width, height), in the middle at its top and no larger than true size; the canvas is left
    in the frame of the ink, and the scale comes back."""
    x, y, wide, high = box
    left, low, right, up = bounds
    scale = min(wide / (right - left), high / (up - low), 1.0)
    canvas.translate(x + (wide - scale * (right - left)) / 2 - scale * left, y + high - scale * up)
    canvas.scale(scale, scale)
    put_ink(canvas, ink, thinner=scale)
    return scale


def _tile(drawing: Drawing, ink: Ink, cut_up: Tiling, tile: Tile, told: SheetFoot | None, canvas: Canvas) -> None:
    """One sheet in true size."""
    paper = cut_up.paper
    x0, y0, x1, y1 = tile.window
    wide, high = field_of(paper)
    canvas.saveState()
    canvas.translate(EDGE - x0, EDGE + FOOT - y0)
    window = canvas.beginPath()
    window.rect(x0, y0, wide, high)
    canvas.clipPath(window, stroke=0, fill=0)
    put_ink(canvas, ink)
    canvas.restoreState()
    canvas.saveState()
    canvas.translate(EDGE - x0, EDGE + FOOT - y0)
    canvas.setDash()
    canvas.setStrokeGray(0.55)
    canvas.setLineWidth(0.15)
    for u in (tile.x, tile.x + tile.wide):
        canvas.line(u, y0, u, y1)
    for v in (tile.y, tile.y + tile.high):
        canvas.line(x0, v, x1, v)
    canvas.setStrokeGray(0.0)
    canvas.setLineWidth(0.25)
    arm = OVERLAP / 2
    for u in (tile.x, tile.x + tile.wide):
        for v in (tile.y, tile.y + tile.high):
            canvas.line(u - arm, v, u + arm, v)
            canvas.line(u, v - arm, u, v + arm)
            canvas.circle(u, v, 2.0)
    canvas.restoreState()
    check_bars(canvas)
    room = paper.width - 2 * EDGE
    name = f"Sheet {tile.name}" + (f" of {told.of}" if told else "")
    say(canvas, EDGE + 110.0, EDGE + 7.0, name, _within(room - 110.0, name, 4.2 if told else 5.0, BOLD), bold=True)
    if told and told.says:
        say(canvas, EDGE, EDGE + 13.0, told.says, _within(room, told.says, 2.5, FONT))
    where = ", ".join(f"{name} {side}" for side, name in cut_up.beside(tile))
    words = (f"{told.caption}; " if told else "") + drawing.title + (f": {where}" if where else "")
    for place, line in enumerate(wrapped(words, 1.25 * (paper.width - 2 * EDGE - 110.0))[:2]):
        say(canvas, EDGE + 110.0, EDGE + 2.6 - 3.8 * place, line, 2.5)


def _within(room: float, text: str, size: float, font: str) -> float:
    """The height of the capitals, this or less, with which words keep within so many mm."""
    return min(size, size * room / width_of(text, size, font))
