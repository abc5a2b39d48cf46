"""What a page of a flow is drawn with: boxes to tick, rules, cards of figures, pictures; mm from its lower left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reportlab.pdfgen.canvas import Canvas

from jigcam.drawing.ink import Ink
from jigcam.drawing.pdf_ink import BOLD, put_ink, say, width_of, wrapped
from jigcam.drawing.roles import DASHES, PENS, WIDTHS, Role

MONO = "Courier"
"""For columns of words that stand as they are."""


def box(x: float, y: float, side: float, canvas: Canvas) -> None:
    """A box to tick."""
    canvas.setDash()
    canvas.setStrokeGray(0.0)
    canvas.setLineWidth(0.3)
    canvas.rect(x, y, side, side, stroke=1, fill=0)


def dot(x: float, y: float, radius: float, canvas: Canvas) -> None:
    """Before a sentence."""
    canvas.setFillGray(0.2)
    canvas.circle(x, y, radius, stroke=0, fill=1)


def rule(x: float, y: float, wide: float, canvas: Canvas) -> None:
    """Below the head of a table."""
    canvas.setDash()
    canvas.setStrokeGray(0.4)
    canvas.setLineWidth(0.2)
    canvas.line(x, y, x + wide, y)


def mono(x: float, y: float, line: str, size: float, canvas: Canvas) -> None:
    """A line of columns."""
    canvas.setFont(MONO, size / 0.62)
    canvas.setFillGray(0.0)
    canvas.drawString(x, y, line)


def cards(
    figures: Sequence[tuple[str, str]], size: float, room: float
) -> Iterator[tuple[str, list[str], float, float, float]]:
    """For each figure its name, its lines, the height of their capitals, and the width and height of its frame, mm.

    size: of the capitals, where they find room; else down to 3.5 mm, and then on several lines.
    """
    pad, high = 2.5, size + 8.0
    for name, value in figures:
        least = size
        while least > 3.5 and width_of(value, least, BOLD) + 2 * pad > room:
            least -= 0.25
        parts = wrapped(value, room - 2 * pad, least, BOLD)
        wide = max(*(width_of(part, least, BOLD) for part in parts), width_of(name, 2.2)) + 2 * pad
        yield name, parts, least, wide, high + (len(parts) - 1) * least * 1.5


def card(
    x: float, top: float, wide: float, high: float, name: str, parts: Sequence[str], size: float, canvas: Canvas
) -> None:
    """A value in a frame under its name."""
    canvas.setDash()
    canvas.setStrokeGray(0.0)
    canvas.setLineWidth(0.35)
    canvas.rect(x, top - high, wide, high, stroke=1, fill=0)
    say(canvas, x + 2.5, top - 4.0, name, 2.2, grey=0.25)
    for place, part in enumerate(parts):
        say(canvas, x + 2.5, top - 5.8 - size - place * size * 1.5, part, size, bold=True)


def caption(x: float, y: float, line: str, canvas: Canvas) -> None:
    """A line below a picture."""
    say(canvas, x, y, line, 2.4, bold=True)


def picture(ink: Ink, x: float, y: float, canvas: Canvas) -> None:
    """Ink with its origin at a point."""
    canvas.saveState()
    canvas.translate(x, y)
    put_ink(canvas, ink)
    canvas.restoreState()


def sample(x: float, y: float, role: Role, canvas: Canvas) -> None:
    """A short line of a role, for the legend."""
    pen = PENS[role]
    canvas.setStrokeColor(pen.ink)
    canvas.setLineWidth(WIDTHS[pen.weight])
    canvas.setDash(list(DASHES[pen.line]))
    canvas.line(x, y, x + 10.0, y)
