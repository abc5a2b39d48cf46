"""A drawing as SVG in true size: lines and exact arcs by role, dimensions, legend, title block and a bar to check a
print.

The file's units are millimetres; y is turned over, as SVG counts it downward. The same drawing gives the same bytes.
Source: Scalable Vector Graphics (SVG) 1.1, W3C Recommendation, section 8.3 (paths) and its flags for arcs, from memory.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from html import escape

from jigcam.drawing.ink import InkLine, Words
from jigcam.drawing.model import Drawing
from jigcam.drawing.page import Page, compose
from jigcam.drawing.roles import DASHES, PENS, WIDTHS, Role, order
from jigcam.drawing.text import clean
from jigcam.geometry import Path, arc_of

DIGITS = 4
"""Decimals of a millimetre."""
LONGEST_ARC = 2 * math.pi / 3
FONT = "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif"
CAPITALS = 0.72
"""Height of a capital over the size of the font, in a plain sans-serif (common practice, no source)."""


def files_of(drawings: Mapping[str, Drawing]) -> dict[str, bytes]:
    """A file for each drawing."""
    return {stem: render(drawing).encode() for stem, drawing in drawings.items()}


def render(drawing: Drawing) -> str:
    """The drawing on the smallest standard paper that holds it, as the text of an SVG file."""
    return Writer(compose(drawing)).text()


def number(value: float) -> str:
    """A number of millimetres: at most `DIGITS` decimals, no exponent, never -0."""
    text = f"{value:.{DIGITS}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


class Writer:
    """Writes one page."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def text(self) -> str:
        """The whole file."""
        page = self.page
        wide, high = number(page.paper.width), number(page.paper.height)
        lines = [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" viewBox="0 0 {wide} {high}">',
            f"<title>{_safe(page.title)}</title>",
            f'<rect width="{wide}" height="{high}" fill="#ffffff"/>',
            *self._patterns(),
            *self._fills(),
            *self._strokes(),
            *self._words(),
            "</svg>",
        ]
        return "\n".join(lines) + "\n"

    def path(self, path: Path) -> str:
        """Path data on this page."""
        return path_data(path, self.page.paper.height)

    def _patterns(self) -> list[str]:
        used = {fill.role for fill in self.page.fills if PENS[fill.role].fill not in ("none", "solid")}
        if not used:
            return []
        lines = ["<defs>"]
        for role in sorted(used, key=order):
            pen = PENS[role]
            step, drawn = _PATTERNS[pen.fill]
            lines += [
                f'<pattern id="fill-{role}" width="{step}" height="{step}" patternUnits="userSpaceOnUse">',
                f'<path d="{drawn}" fill="none" stroke="{pen.ink}" stroke-width="0.13" stroke-linecap="square"/>',
                "</pattern>",
            ]
        return [*lines, "</defs>"]

    def _fills(self) -> list[str]:
        lines = []
        for fill in self.page.fills:
            pen = PENS[fill.role]
            paint = pen.ink if pen.fill == "solid" else f"url(#fill-{fill.role})"
            data = " ".join(self.path(loop) for loop in fill.loops)
            lines.append(f'<path class="{fill.role}" d="{data}" fill="{paint}" fill-rule="evenodd"/>')
        return lines

    def _strokes(self) -> list[str]:
        lines = []
        by_role: dict[Role, list[InkLine]] = {}
        for stroke in self.page.strokes:
            by_role.setdefault(stroke.role, []).append(stroke)
        for role in sorted(by_role, key=lambda role: -order(role)):
            pen = PENS[role]
            dashes = DASHES[pen.line]
            broken = f' stroke-dasharray="{" ".join(map(number, dashes))}"' if dashes else ""
            cap = "round" if pen.line == "dotted" else "butt"
            lines.append(
                f'<g class="{role}" fill="none" stroke="{pen.ink}" stroke-width="{number(WIDTHS[pen.weight])}"'
                f'{broken} stroke-linecap="{cap}" stroke-linejoin="round">'
            )
            for stroke in by_role[role]:
                solid = f' fill="{pen.ink}"' if stroke.solid else ""
                lines.append(f'<path d="{self.path(stroke.path)}"{solid}/>')
            lines.append("</g>")
        return lines

    def _words(self) -> list[str]:
        lines = [f'<g font-family="{FONT}" fill="#000000" stroke="none">']
        for words in self.page.words:
            lines.append(self._text(words))
        return [*lines, "</g>"]

    def _text(self, words: Words) -> str:
        """Words on a white ground just their size, so that lines beneath do not spoil them."""
        x, y = number(words.x), number(self.page.paper.height - words.y)
        size = number(words.size / CAPITALS)
        turn = f' transform="rotate({number(-words.angle_deg)} {x} {y})"' if words.angle_deg else ""
        halo = ' stroke="#ffffff" stroke-width="0.9" stroke-linejoin="round" paint-order="stroke"'
        bold = ' font-weight="bold"' if words.bold else ""
        ink = f' fill="{PENS[words.role].ink}"' if words.role != "dimension" else ""
        room = f' textLength="{number(words.room)}" lengthAdjust="spacingAndGlyphs"' if words.room else ""
        return (
            f'<text x="{x}" y="{y}" font-size="{size}" text-anchor="{words.anchor}"{room}{ink}{bold}{halo}{turn}>'
            f"{_safe(words.text)}</text>"
        )


def path_data(path: Path, height: float) -> str:
    """A path with y up, on a page of that height, as SVG path data: lines as L, arcs as A with their radius.

    An arc is never the large one of its two. One that turns anticlockwise seen with y up runs against SVG's
    positive angle, so its sweep flag is 0. Arcs of more than a third of a turn come as two: near half a turn a
    radius and two end points fix the centre so badly that the rounding of the last digit would show (D: by
    √(2·r·ε)).
    """
    x, y = path.start
    parts = [f"M{number(x)} {number(height - y)}"]
    rows = path.segments()
    for place, (x0, y0, x1, y1, bulge) in enumerate(rows):
        end = f"{number(x1)} {number(height - y1)}"
        if bulge:
            cx, cy, r, start, sweep = arc_of((x0, y0), (x1, y1), bulge)
            arc = f"A{number(r)} {number(r)} 0 0 {0 if bulge > 0 else 1} "
            if abs(sweep) > LONGEST_ARC:
                half = start + sweep / 2
                parts.append(f"{arc}{number(cx + r * math.cos(half))} {number(height - cy - r * math.sin(half))}")
            parts.append(arc + end)
        elif not (path.closed and place == len(rows) - 1):
            parts.append(f"L{end}")
    if not len(rows):
        parts.append("h0")
    return "".join(parts) + ("Z" if path.closed else "")


def _safe(text: str) -> str:
    return escape(clean(text), quote=True)


# Side of the repeated square and what is drawn in it, mm.
_PATTERNS = {
    "hatch": ("2.4", "M-0.6 0.6L0.6 -0.6M0 2.4L2.4 0M1.8 3L3 1.8"),
    "hatch-back": ("3", "M-0.75 2.25L0.75 3.75M0 0L3 3M2.25 -0.75L3.75 0.75"),
    "cross": ("2.4", "M0 0L2.4 2.4M0 2.4L2.4 0"),
    "stipple": ("3", "M0.7 0.7h0.01M2.2 2.2h0.01"),
    "level": ("1.8", "M0 0.9H1.8"),
    "upright": ("1.4", "M0.7 0V1.4"),
}
