"""A drawing as DXF for other drawing programs: model space in true size, a layer for each role, arcs as bulges.

Model space is in the drawing's units, which `$INSUNITS` names. The first view keeps its own frame, so that its zero is
the file's zero; the others stand beside and below it as on paper. Every outline is one closed LWPOLYLINE. Words and
dimensions are lines and text, as on paper at full scale. The same drawing gives the same bytes.

Source: DXF Reference, group codes of LWPOLYLINE (42 is the bulge, tan of a quarter of the arc's angle) and the header
variable $INSUNITS (1 inches, 4 millimetres), from memory.
"""

from __future__ import annotations

from collections.abc import Mapping

from jigcam.drawing.dxf_file import DxfFile, Vertices
from jigcam.drawing.ink import Fill, Ink, InkLine, Words
from jigcam.drawing.model import Drawing
from jigcam.drawing.page import laid_out
from jigcam.drawing.roles import DASHES, PENS, WIDTHS, Role, Tone
from jigcam.drawing.text import clean
from jigcam.geometry import Path
from jigcam.units import INCH

INSUNITS = {"in": 1, "mm": 4}
DIGITS = 8
"""Decimals kept: a hundredth of a nanometre, so that rounding noise of a sum does not reach the bytes."""
FILLINGS: dict[str, tuple[tuple[float, float], ...]] = {
    "hatch": ((45.0, 1.7),),
    "hatch-back": ((135.0, 2.1),),
    "cross": ((45.0, 1.7), (135.0, 1.7)),
    "stipple": ((0.0, 3.0),),
    "level": ((0.0, 1.8),),
    "upright": ((90.0, 1.4),),
}
"""Angle (degrees) and distance (mm on paper) of the lines of each filling."""
COLOURS: dict[Tone, int] = {
    "plain": 7,
    "strong": 7,
    "faint": 8,
    "cut": 6,
    "edge": 4,
    "tool": 3,
    "doubt": 1,
    "fault": 1,
}
"""Tones in the numbered colours of DXF: 7 is black on white and white on black, 8 grey, 1 to 6 the pure ones (from
memory); they are seen on either ground, as our inks for paper are not."""
_ALIGN = {"start": 0, "middle": 1, "end": 2}
"""Which part of a text stands at its place: group code 72."""


def files_of(drawings: Mapping[str, Drawing]) -> dict[str, bytes]:
    """A file for each drawing."""
    return {stem: render(drawing) for stem, drawing in drawings.items()}


def render(drawing: Drawing) -> bytes:
    """The drawing as the bytes of a DXF file (UTF-8)."""
    return _Writer(drawing).content()


class _Writer:
    def __init__(self, drawing: Drawing) -> None:
        # What paper shows smaller is in true size here too, its words and dashes as much larger.
        self.scale = (1 / INCH if drawing.units == "in" else 1.0) * drawing.smaller
        self.file = DxfFile(INSUNITS[drawing.units], metric=drawing.units != "in")
        self._add(_noted(drawing))

    def content(self) -> bytes:
        """The file."""
        return self.file.text().encode()

    def _add(self, ink: Ink) -> None:
        for fill in ink.fills:
            self._fill(fill)
        for stroke in ink.strokes:
            self._stroke(stroke)
        for words in ink.words:
            self._words(words)

    def _layer(self, role: Role, part: str = "") -> str:
        """The layer of a role, or of a part of it, made when it is first asked for."""
        name = f"{role} {part}".strip()
        if name not in self.file.layers:
            pen = PENS[role]
            line = self._linetype(role) if not part else "CONTINUOUS"
            colour = COLOURS["faint" if part == "filling" else pen.tone]
            self.file.add_layer(name, colour, line, round(100 * WIDTHS[pen.weight]), pen.name)
        return name

    def _linetype(self, role: Role) -> str:
        """The kind of line of a role."""
        kind = PENS[role].line
        dashes = DASHES[kind]
        if not dashes:
            return "CONTINUOUS"
        if kind not in self.file.linetypes:
            signed = [length * self.scale * (1 if place % 2 == 0 else -1) for place, length in enumerate(dashes)]
            self.file.add_linetype(kind, signed)
        return kind

    def _points(self, path: Path) -> Vertices:
        """x, y and bulge of each vertex that a segment of some length leaves, and the end of an open path."""
        rows = [(x, y, bulge) for x, y, _, _, bulge in path.segments()]
        if rows and not path.closed:
            rows.append((*path.end, 0.0))
        return [(self._n(x * self.scale), self._n(y * self.scale), float(bulge)) for x, y, bulge in rows]

    @staticmethod
    def _n(value: float) -> float:
        return round(float(value), DIGITS) + 0.0

    def _stroke(self, stroke: InkLine) -> None:
        points = self._points(stroke.path)
        layer = self._layer(stroke.role)
        if stroke.solid and len(points) == 3:
            self.file.add_solid(layer, points)
        elif points:
            self.file.add_polyline(layer, points, closed=stroke.path.closed)

    def _fill(self, fill: Fill) -> None:
        loops = [points for loop in fill.loops if len(points := self._points(loop)) > 1]
        if not loops:
            return
        kind = PENS[fill.role].fill
        lines = [(angle, self._step(angle, apart)) for angle, apart in FILLINGS.get(kind, ())]
        self.file.add_hatch(self._layer(fill.role, "filling"), loops, kind.upper() if lines else "SOLID", lines)

    def _step(self, angle: float, apart: float) -> tuple[float, float]:
        """From one line of a filling to the next."""
        x, y = {0.0: (0, 1), 45.0: (-1, 1), 90.0: (-1, 0), 135.0: (-1, -1)}[angle]
        length = apart * self.scale / (2**0.5 if x and y else 1)
        return x * length, y * length

    def _words(self, words: Words) -> None:
        self.file.add_text(
            self._layer(words.role, "" if words.role == "dimension" else "words"),
            (self._n(words.x * self.scale), self._n(words.y * self.scale)),
            words.text.replace("%%", "% %"),  # two of them begin a code
            words.size * self.scale,
            words.angle_deg,
            _ALIGN[words.anchor],
        )


def _noted(drawing: Drawing) -> Ink:
    """All views in the frame of the first; title, facts and notes below them."""
    whole = laid_out(drawing)
    left, base, _, _ = whole.bounds
    lines = [drawing.title, *(f"{name}: {value}" for name, value in drawing.facts), *drawing.notes]
    for place, text in enumerate(map(clean, lines)):
        whole.words.append(Words(left, base - 12.0 - 5.0 * place, text, 3.5 if place == 0 else 2.5, bold=place == 0))
    return whole
