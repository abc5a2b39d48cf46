"""The title block at the foot of a page: what is drawn, of which piece, how large, of what, and which sheet it is.

Fields after ISO 7200, the sign of the projection after ISO 5456-2, both from memory: a cone, cut off, whose small end
is at the left. Seen from the left it is two circles: in first angle at its right, in third angle at its left. mm on the
page.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from reportlab.pdfgen.canvas import Canvas

from jigcam.drawing.paper import Paper
from jigcam.drawing.pdf_ink import BOLD, FONT, say, width_of, wrapped

HIGH = 19.0
LOW = 12.0
"""Its lower edge, above the lower edge of the paper."""
NAME = 1.8
"""Height of the capitals of the names of fields: those of 7 pt, the least that is read (common practice, no source)."""
VALUE = 2.3
SIGN = 22.0
"""Width of the field with the sign of the projection."""
Angle = Literal["first", "third"]
Fields = Sequence[Sequence[tuple[str, str]]]
"""Columns of fields, from the left: name and value, two below each other."""


def title_block(canvas: Canvas, paper: Paper, left: float, right: float, fields: Fields, angle: Angle) -> None:
    """Draws it. left, right: margins of the page. angle: the projection by which views would be arranged."""
    x0, x1, top = left, paper.width - right, LOW + HIGH
    _frame(canvas, x0, LOW, x1 - x0)
    needs = [max(_need(*field) for field in column) + 4.0 for column in fields]
    spare = x1 - x0 - SIGN - sum(needs)
    if spare < 0.0:  # the widest give way: their values go on a second line
        needs = [need + spare * need**2 / sum(each**2 for each in needs) for need in needs]
    else:
        needs[0] += spare
    x = x0
    for column, wide in zip(fields, needs, strict=True):
        for place, (name, value) in enumerate(column):
            y = top - place * HIGH / 2.0
            say(canvas, x + 1.5, y - 3.0, name, NAME, grey=0.25)
            font = BOLD if (x, place) == (x0, 0) else FONT
            lines = wrapped(value, wide - 3.0, VALUE, font)[:2]
            size = VALUE if len(lines) == 1 else NAME
            for number, line in enumerate(lines):
                say(canvas, x + 1.5, y - 7.0 - number * 2.2, line, size, bold=font == BOLD)
        x += wide
        canvas.line(x, LOW, x, top)
    canvas.line(x0, LOW + HIGH / 2.0, x, LOW + HIGH / 2.0)
    say(canvas, x + 1.5, top - 3.0, f"{angle} angle", NAME, grey=0.25)
    _sign(canvas, x + SIGN / 2.0, LOW + 0.4 * HIGH, angle)


def _need(name: str, value: str) -> float:
    return max(width_of(name, NAME), width_of(value, VALUE, BOLD))


def _frame(canvas: Canvas, x: float, y: float, wide: float) -> None:
    canvas.setDash()
    canvas.setStrokeGray(0.0)
    canvas.setLineWidth(0.5)
    canvas.rect(x, y, wide, HIGH, stroke=1, fill=0)
    canvas.setLineWidth(0.25)


def _sign(canvas: Canvas, x: float, y: float, angle: Angle) -> None:
    """In the middle of its field."""
    large, small, long = 3.0, 1.5, 6.0
    side = 1.0 if angle == "first" else -1.0
    circles, cone = x + side * 5.0, x - side * 5.0 - long / 2.0
    canvas.setLineWidth(0.35)
    canvas.circle(circles, y, large, stroke=1, fill=0)
    canvas.circle(circles, y, small, stroke=1, fill=0)
    outline = canvas.beginPath()
    outline.moveTo(cone, y - small)
    outline.lineTo(cone, y + small)
    outline.lineTo(cone + long, y + large)
    outline.lineTo(cone + long, y - large)
    outline.close()
    canvas.drawPath(outline, stroke=1, fill=0)
    canvas.setLineWidth(0.18)
    canvas.setDash([1.2, 0.5, 0.3, 0.5])
    canvas.line(x - 9.5, y, x + 9.5, y)
    canvas.line(circles, y - large - 0.8, circles, y + large + 0.8)
    canvas.setDash()
