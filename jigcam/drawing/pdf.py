"""Drawings as PDF in true size on home paper: a page that shows the whole with the map of its sheets, then the sheets.
What is drawn smaller than it is has that page alone, without a map.

Everything is drawn in vectors; arcs are Béziers of an eighth of a turn at most, which differ from the arc by less than
4e-6 of its radius (D). The same drawing gives the same bytes. Letters are those of the typeface that comes with
reportlab, embedded; signs that it does not have are spelled in ASCII.
"""

from __future__ import annotations

import io
import math
from collections.abc import Mapping
from functools import lru_cache

from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import FILL_EVEN_ODD, Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from jigcam.drawing.ink import Fill, Ink, InkLine, Words
from jigcam.drawing.model import Drawing
from jigcam.drawing.page import laid_out
from jigcam.drawing.paper import HOME, HomePaper, Paper
from jigcam.drawing.roles import DASHES, PENS, WIDTHS, order
from jigcam.drawing.text import clean, plain
from jigcam.drawing.tiles import EDGE, FOOT, OVERLAP, Tile, Tiling, field_of, tiling
from jigcam.geometry import Path, arc_of

FONT, BOLD = "Vera", "VeraBd"
CAPITALS = 0.73
"""Height of a capital over the size of that typeface."""
SHORTEST_ARC = math.pi / 4
LINES = {"hatch": (45.0, 1.7), "hatch-back": (135.0, 2.1), "level": (0.0, 1.8), "upright": (90.0, 1.4)}
"""Angle (degrees) and distance (mm) of the lines of a filling; the others are drawn as a light tint."""
TINT = 0.88
TEXT = 3.2
"""Height of the capitals of sentences, mm."""
LINE = 5.6


def files_of(drawings: Mapping[str, Drawing], paper: HomePaper) -> dict[str, bytes]:
    """A file for each drawing."""
    return {stem: render(drawing, paper) for stem, drawing in drawings.items()}


def render(drawing: Drawing, paper: HomePaper) -> bytes:
    """The drawing as the bytes of a PDF file."""
    out = io.BytesIO()
    ink = laid_out(drawing, minor=False)
    cut_up = tiling(ink, HOME[paper])
    _typeface()
    canvas = Canvas(out, invariant=1, pageCompression=1, initialFontName=FONT)
    canvas.setTitle(_letters(drawing.title))
    canvas.setCreator("jigcam")
    _first_page(canvas, drawing, ink, cut_up, HOME[paper])
    for tile in cut_up.printed if drawing.smaller == 1.0 else ():
        _tile(canvas, drawing, ink, cut_up, tile)
    canvas.save()
    return out.getvalue()


@lru_cache(maxsize=1)
def _typeface() -> frozenset[int]:
    """The characters of the typeface, which is made known."""
    faces = [TTFont(name, f"{name}.ttf") for name in (FONT, BOLD)]
    for face in faces:
        pdfmetrics.registerFont(face)
    return frozenset.intersection(*(frozenset(face.face.charToGlyph) for face in faces))


def _letters(text: str) -> str:
    known = _typeface()
    return "".join(c if ord(c) in known else plain(c) for c in clean(text))


def _page(canvas: Canvas, paper: Paper) -> None:
    """A new page, on which all is in mm from the lower left corner."""
    canvas.setPageSize((paper.width * mm, paper.height * mm))
    canvas.scale(mm, mm)


def _say(
    canvas: Canvas, x: float, y: float, text: str, size: float = TEXT, *, bold: bool = False, grey: float = 0.0
) -> None:
    canvas.setFont(BOLD if bold else FONT, size / CAPITALS)
    canvas.setFillGray(grey)
    canvas.drawString(x, y, _letters(text))


def _first_page(canvas: Canvas, drawing: Drawing, ink: Ink, cut_up: Tiling, paper: Paper) -> None:
    """The whole, made smaller, with the map of the sheets; how they are joined; facts and notes."""
    _page(canvas, paper)
    room, top = paper.width - 2 * EDGE, paper.height - EDGE
    _say(canvas, EDGE, top - 6.0, drawing.title, 5.0, bold=True)
    lines = [line for text in _sentences(drawing, cut_up) for line in _wrapped(text, room)]
    bottom = EDGE + FOOT + LINE * len(lines) + 6.0
    high = max(top - 14.0 - bottom, 40.0)
    details = laid_out(drawing, minor=True)
    split = 0.58 * room if details.strokes else room
    if drawing.smaller == 1.0:
        _map(canvas, ink, cut_up, (EDGE, top - 14.0 - high, split, high))
    else:
        canvas.saveState()
        _fitted(canvas, ink, (EDGE, top - 14.0 - high, split, high), ink.bounds)
        canvas.restoreState()
    if details.strokes:
        canvas.saveState()
        _fitted(canvas, details, (EDGE + split + 6.0, top - 14.0 - high, room - split - 6.0, high), details.bounds)
        canvas.restoreState()
    y = top - 14.0 - high - LINE - 2.0
    for line in lines:
        if y < EDGE + FOOT:
            _bars(canvas)
            canvas.showPage()
            _page(canvas, paper)
            y = top - LINE
        _say(canvas, EDGE, y, line)
        y -= LINE
    _bars(canvas)
    canvas.showPage()


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


def _wrapped(text: str, room: float) -> list[str]:
    """A sentence in lines of that many mm."""
    lines, line = [], ""
    for word in _letters(text).split(" "):
        longer = f"{line} {word}".strip()
        if line and pdfmetrics.stringWidth(longer, FONT, TEXT / CAPITALS) > room:
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line]


def _map(canvas: Canvas, ink: Ink, cut_up: Tiling, box: tuple[float, float, float, float]) -> None:
    """The whole in a box (x, y, width, height), with the borders and names of the sheets; those not printed in grey."""
    first, last = cut_up.tiles[0], cut_up.tiles[-1]
    canvas.saveState()
    scale = _fitted(
        canvas, Ink(ink.strokes, ink.fills, []), box, (first.x, last.y, last.x + last.wide, first.y + first.high)
    )
    for tile in cut_up.tiles:
        canvas.setDash()
        canvas.setLineWidth(0.3 / scale)
        canvas.setStrokeGray(0.35)
        if not tile.printed:
            canvas.setFillGray(0.75, alpha=0.5)
            canvas.rect(tile.x, tile.y, tile.wide, tile.high, stroke=0, fill=1)
            canvas.setFillAlpha(1.0)
        canvas.rect(tile.x, tile.y, tile.wide, tile.high, stroke=1, fill=0)
        _say(canvas, tile.x + 3 / scale, tile.y + tile.high - 8 / scale, tile.name, 5.0 / scale, bold=True, grey=0.25)
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
    _ink(canvas, ink, thinner=scale)
    return scale


def _tile(canvas: Canvas, drawing: Drawing, ink: Ink, cut_up: Tiling, tile: Tile) -> None:
    """One sheet in true size."""
    paper = cut_up.paper
    _page(canvas, paper)
    x0, y0, x1, y1 = tile.window
    wide, high = field_of(paper)
    canvas.saveState()
    canvas.translate(EDGE - x0, EDGE + FOOT - y0)
    window = canvas.beginPath()
    window.rect(x0, y0, wide, high)
    canvas.clipPath(window, stroke=0, fill=0)
    _ink(canvas, ink)
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
    _bars(canvas)
    _say(canvas, EDGE + 110.0, EDGE + 7.0, f"Sheet {tile.name}", 5.0, bold=True)
    where = ", ".join(each.name for each in cut_up.neighbours(tile))
    words = drawing.title + (f", beside {where}" if where else "")
    for place, line in enumerate(_wrapped(words, 1.25 * (paper.width - 2 * EDGE - 110.0))[:2]):
        _say(canvas, EDGE + 110.0, EDGE + 2.6 - 3.8 * place, line, 2.5)
    canvas.showPage()


def _bars(canvas: Canvas) -> None:
    """100 mm and 4 in, to be measured on the print."""
    canvas.setDash()
    canvas.setStrokeGray(0.0)
    canvas.setLineWidth(0.25)
    for y, length, words in ((EDGE + 7.0, 100.0, "100 mm"), (EDGE + 1.0, 101.6, "4 in")):
        canvas.line(EDGE, y, EDGE + length, y)
        for x in (EDGE, EDGE + length):
            canvas.line(x, y - 1.5, x, y + 1.5)
        _say(canvas, EDGE + 40.0, y + 0.8, words, 2.5)


def _ink(canvas: Canvas, ink: Ink, thinner: float = 1.0) -> None:
    """Fillings, lines and words in the frame of the canvas. thinner: the scale of a picture made smaller, whose
    fillings keep their distance of lines."""
    for fill in ink.fills:
        _fill(canvas, fill, thinner)
    for stroke in sorted(ink.strokes, key=lambda each: -order(each.role)):
        _stroke(canvas, stroke)
    for words in ink.words:
        _words(canvas, words)


def _stroke(canvas: Canvas, stroke: InkLine) -> None:
    pen = PENS[stroke.role]
    canvas.setStrokeColor(pen.ink)
    canvas.setFillColor(pen.ink)
    canvas.setLineWidth(WIDTHS[pen.weight])
    canvas.setDash(list(DASHES[pen.line]))
    canvas.drawPath(_outline(canvas, (stroke.path,)), stroke=1, fill=int(stroke.solid))


def _fill(canvas: Canvas, fill: Fill, thinner: float) -> None:
    pen = PENS[fill.role]
    if pen.fill == "solid":
        canvas.setFillColor(pen.ink)
    if pen.fill not in LINES:
        if pen.fill != "solid":
            canvas.setFillGray(TINT)
        canvas.drawPath(_outline(canvas, fill.loops), stroke=0, fill=1, fillMode=FILL_EVEN_ODD)
        return
    angle, apart = LINES[pen.fill]
    boxes = [loop.bounds for loop in fill.loops]
    x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
    x1, y1 = max(b[2] for b in boxes), max(b[3] for b in boxes)
    canvas.saveState()
    canvas.clipPath(_outline(canvas, fill.loops), stroke=0, fill=0, fillMode=FILL_EVEN_ODD)
    canvas.setStrokeColor(pen.ink)
    canvas.setLineWidth(0.13)
    canvas.setDash()
    reach = math.hypot(x1 - x0, y1 - y0) / 2
    canvas.translate((x0 + x1) / 2, (y0 + y1) / 2)
    canvas.rotate(angle)
    step = apart / max(thinner, 0.25)
    for place in range(-math.ceil(reach / step), math.ceil(reach / step) + 1):
        canvas.line(-reach, place * step, reach, place * step)
    canvas.restoreState()


def _outline(canvas: Canvas, paths: tuple[Path, ...]) -> PDFPathObject:
    """Paths as one path of the canvas."""
    outline = canvas.beginPath()
    for path in paths:
        outline.moveTo(*path.start)
        for x0, y0, x1, y1, bulge in path.segments().tolist():
            if not bulge:
                outline.lineTo(x1, y1)
                continue
            cx, cy, r, start, sweep = arc_of((x0, y0), (x1, y1), bulge)
            pieces = math.ceil(abs(sweep) / SHORTEST_ARC)
            turn = sweep / pieces
            pull = 4 / 3 * math.tan(turn / 4) * r  # of the handles of a Bézier that meets an arc at its middle
            for piece in range(pieces):
                a, b = start + piece * turn, start + (piece + 1) * turn
                outline.curveTo(
                    cx + r * math.cos(a) - pull * math.sin(a),
                    cy + r * math.sin(a) + pull * math.cos(a),
                    cx + r * math.cos(b) + pull * math.sin(b),
                    cy + r * math.sin(b) - pull * math.cos(b),
                    cx + r * math.cos(b),
                    cy + r * math.sin(b),
                )
        if path.closed:
            outline.close()
    return outline


def _words(canvas: Canvas, words: Words) -> None:
    """Words on a white ground a little larger than the letters."""
    text, size = _letters(words.text), words.size / CAPITALS
    font = BOLD if words.bold else FONT
    natural = pdfmetrics.stringWidth(text, font, size)
    wide = words.room or natural
    canvas.saveState()
    canvas.translate(words.x, words.y)
    canvas.rotate(words.angle_deg)
    left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[words.anchor]
    if not words.room:
        canvas.setFillGray(1.0)
        canvas.rect(left - 0.4, -0.25 * words.size, wide + 0.8, 1.35 * words.size, stroke=0, fill=1)
    line = canvas.beginText(left, 0.0)
    line.setFont(font, size)
    if words.room and natural:
        line.setHorizScale(100.0 * wide / natural)
    canvas.setFillColor(PENS[words.role].ink if words.role != "dimension" else "#000000")
    line.textOut(text)
    canvas.drawText(line)
    canvas.restoreState()
