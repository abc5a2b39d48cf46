"""What every PDF page is drawn with: the typeface, sentences, ink, the bars that check a print. mm on the paper.

Arcs are Béziers of an eighth of a turn at most, which differ from the arc by less than 4e-6 of its radius. Letters are
those of the typeface that comes with reportlab, embedded; signs that it does not have are spelled in ASCII.
"""

from __future__ import annotations

import math
from functools import lru_cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import FILL_EVEN_ODD, Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from jigcam.drawing.ink import Fill, Ink, InkLine, Words
from jigcam.drawing.roles import DASHES, PENS, WIDTHS, order
from jigcam.drawing.text import advance, clean, plain
from jigcam.drawing.tiles import EDGE
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


@lru_cache(maxsize=1)
def typeface() -> frozenset[int]:
    """The characters of the typeface, which is made known."""
    faces = [TTFont(name, f"{name}.ttf") for name in (FONT, BOLD)]
    for face in faces:
        pdfmetrics.registerFont(face)
    return frozenset.intersection(*(frozenset(face.face.charToGlyph) for face in faces))


def letters(text: str) -> str:
    """The text in characters that the typeface has."""
    known = typeface()
    return "".join(c if ord(c) in known else plain(c) for c in clean(text))


def say(
    canvas: Canvas, x: float, y: float, text: str, size: float = TEXT, *, bold: bool = False, grey: float = 0.0
) -> None:
    canvas.setFont(BOLD if bold else FONT, size / CAPITALS)
    canvas.setFillGray(grey)
    canvas.drawString(x, y, letters(text))


def wrapped(text: str, room: float, size: float = TEXT, font: str = FONT) -> list[str]:
    """A sentence in lines of that many mm, its capitals `size` high."""
    lines, line = [], ""
    for word in letters(text).split(" "):
        longer = f"{line} {word}".strip()
        if line and pdfmetrics.stringWidth(longer, font, size / CAPITALS) > room:
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line]


def check_bars(canvas: Canvas) -> None:
    """100 mm and 4 in, to be measured on the print."""
    canvas.setDash()
    canvas.setStrokeGray(0.0)
    canvas.setLineWidth(0.25)
    for y, length, words in ((EDGE + 7.0, 100.0, "100 mm"), (EDGE + 1.0, 101.6, "4 in")):
        canvas.line(EDGE, y, EDGE + length, y)
        for x in (EDGE, EDGE + length):
            canvas.line(x, y - 1.5, x, y + 1.5)
        say(canvas, EDGE + 40.0, y + 0.8, words, 2.5)


def put_ink(canvas: Canvas, ink: Ink, thinner: float = 1.0) -> None:
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
    """Words on a white ground a little larger than the letters; these run no wider than the place that was kept."""
    text, size = letters(words.text), words.size / CAPITALS
    font = BOLD if words.bold else FONT
    natural = pdfmetrics.stringWidth(text, font, size)
    wide = words.room or min(natural, advance(words.text, words.size) * (1.08 if words.bold else 1.0))
    canvas.saveState()
    canvas.translate(words.x, words.y)
    canvas.rotate(words.angle_deg)
    left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[words.anchor]
    if not words.room:
        canvas.setFillGray(1.0)
        canvas.rect(left - 0.4, -0.25 * words.size, wide + 0.8, 1.35 * words.size, stroke=0, fill=1)
    line = canvas.beginText(left, 0.0)
    line.setFont(font, size)
    if natural and wide != natural:
        line.setHorizScale(100.0 * wide / natural)
    canvas.setFillColor(PENS[words.role].ink if words.role != "dimension" else "#000000")
    line.textOut(text)
    canvas.drawText(line)
    canvas.restoreState()


def say_right(canvas: Canvas, x: float, y: float, text: str, size: float = TEXT) -> None:
    """Words that end at x."""
    canvas.setFont(FONT, size / CAPITALS)
    canvas.setFillGray(0.0)
    canvas.drawRightString(x, y, letters(text))


def width_of(text: str, size: float, font: str = FONT) -> float:
    """How wide words run, capitals `size` high, mm."""
    typeface()
    return float(pdfmetrics.stringWidth(letters(text), font, size / CAPITALS))
