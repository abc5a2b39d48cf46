"""One view on paper in true size: its shapes, dimensions with arrows and figures, and words on free ground.

Dimensions follow ISO 129-1 as far as a workshop needs it (from memory): extension lines stand a little off the
shape and pass the dimension line, figures stand above the line and are read from below or from the right, and
arrows point inward where there is room and outward where there is not.
"""

from __future__ import annotations

import math

import numpy as np

from jigcam.drawing.ink import Fill, Ink, InkLine, Words
from jigcam.drawing.model import AngleDimension, Dimension, Label, Point, View
from jigcam.drawing.picture import dimension_line
from jigcam.drawing.placing import Cells
from jigcam.drawing.raster import inside, trace
from jigcam.drawing.roles import PENS, Role, order
from jigcam.drawing.running import ink_running
from jigcam.drawing.text import advance, clean
from jigcam.geometry import Path, disc

ARROW = 3.0
FIGURE = 2.5
"""Height of the figures of dimensions, mm."""
FINEST = 600
"""Squares of the ground along its longer side at most; a square is 1 mm where that is enough."""
MATTERS: frozenset[Role] = frozenset({"gouge", "left", "cut", "waste", "opening", "hole"})
"""Lines by which somebody cuts: no words stand on them where there is another place."""
SMALLEST = 1.8
"""Height of capitals below which words cannot be read, mm: those of 7 pt (common practice, no source)."""
ASIDE = 45.0
"""A figure that finds no place at its dimension line stands so near to it at most, with a thin line to it, mm."""
LONG = 25.0
"""A figure that runs further is not stood upright past the end of its line, mm: it would make its view small."""
UPRIGHT = 0.1
"""A line is upright that leans no more than so far over its length."""
COVERED = 2.0
"""Words rather stand so many times farther off on paper than in a terminal than cover a line: paper has the room."""
OUTWARD = (1.5, 3.0, 5.0, 8.0)
"""How far beyond its arc the figure of an angle may stand, mm, the best place first."""
NUMBER = 2
"""Letters of a number or of a section at most: it stands where it belongs, or beside it without a line to it."""
AROUND = 30.0
"""Ground around the shapes on which words may stand, mm."""


class Plate:
    """A view drawn; `ink` holds it in the view's own frame."""

    def __init__(self, view: View, units: str) -> None:
        self.view, self.units = view, units
        self.ink = Ink()
        for item in sorted(view.items, key=lambda item: -order(item.role)):
            if item.filled and PENS[item.role].fill != "none":
                self.ink.fills.append(Fill(item.role, item.paths))
            if item.outlined:
                self.ink.strokes += [InkLine(item.role, path) for path in item.paths]
            if item.role == "plane" and isinstance(item.shape, Path) and item.shape.length > 0:
                # An arrow at the end shows the way the section is looked at.
                ends, ways = item.shape.at([item.shape.length])
                way = float(ways[0, 0]), float(ways[0, 1])
                self.ink.arrow("plane", _along((float(ends[0, 0]), float(ends[0, 1])), way, ARROW / 2), way)
        self._lines: list[tuple[Point, Point]] = []
        for label in view.labels:
            if label.spot == "start" and label.size >= SMALLEST:
                self.ink.words.append(
                    Words(
                        label.x,
                        label.y,
                        clean(label.text),
                        label.size,
                        "start",
                        math.degrees(label.angle),
                        role=label.role,
                        room=label.room,
                    )
                )
        chains = [_whole(stroke.path) for stroke in self.ink.strokes if stroke.role in MATTERS]
        self._matter = np.vstack([np.empty((0, 2)), *(_close(each) for each in chains if len(each) > 1)])
        figures = [self._dimension(dimension) for dimension in view.dimensions]
        chains = [_whole(stroke.path) for stroke in self.ink.strokes if stroke.role == "extension"]
        self._extensions = np.vstack([np.empty((0, 2)), *map(_close, chains)])
        self._aside: list[tuple[str, Point]] = []
        for place, figure in enumerate(figures):
            self._figure(place, *figure)
        for angle in view.angles:
            self._angle(angle)
        for running in view.running:
            ink_running(running, self.ink)
        if view.axes and view.axes.origin:
            self._zero(view.axes.origin)
        x0, y0, x1, y1 = self.ink.bounds
        self._left, self._top = x0 - AROUND, y1 + AROUND
        wide, high = x1 - x0 + 2 * AROUND, y1 - y0 + 2 * AROUND
        self._cell = max(1.0, max(wide, high) / FINEST)
        self._size = (math.ceil(high / self._cell), math.ceil(wide / self._cell))
        self.ground = self._ground()
        for text, target in self._aside:
            self._stands_off(text, target)
        for label in sorted(view.labels, key=lambda label: -label.weight):
            if label.spot != "start":
                self._label(label)

    def _cells(self, points: np.ndarray) -> np.ndarray:
        """Millimetres to squares of the ground, rows downward."""
        return np.column_stack([points[:, 0] - self._left, self._top - points[:, 1]]) / self._cell

    def _ground(self) -> Cells:
        rows, columns = self._size
        lines: np.ndarray = np.zeros((rows, columns))
        taken: np.ndarray = np.zeros((rows, columns), bool)
        for fill in self.ink.fills:
            loops = [self._cells(path.points(0.2)) for path in fill.loops]
            lines[inside(loops, columns, rows)] = 0.01
        for stroke in self.ink.strokes:
            points = stroke.path.points(0.2)
            cells = trace(self._cells(np.vstack([points, points[:1]]) if stroke.path.closed else points) - 0.5)
            cells = cells[((cells >= 0) & (cells < (columns, rows))).all(axis=1)]
            lines[cells[:, 1], cells[:, 0]] = COVERED
            if stroke.role in MATTERS:
                taken[cells[:, 1], cells[:, 0]] = True
        for words in self.ink.words:
            # Squares that words only touch are taken too: engraved words lie between the squares.
            taken |= inside([self._cells(_wider(words.corners, 0.71 * self._cell)) - 0.5], columns, rows)
        ground = Cells(lines)
        ground.taken = taken
        return ground

    def _dimension(self, dimension: Dimension) -> tuple[Point, Point, Point, str, bool, float]:
        """Draws the lines of a dimension; what its figure needs comes back: the line's ends and way, the figure,
        whether its arrows stand between the extension lines, and on which side of it there is no shape, 1 at the
        right."""
        (nx, ny), ends = dimension_line(dimension)
        off = dimension.offset
        a, b = ((x + nx * off, y + ny * off) for x, y in ends)
        away = math.copysign(1.0, nx * off)
        for measured, end in zip((dimension.p0, dimension.p1), (a, b), strict=True):
            self._extension(measured, end)
        length = math.dist(a, b)
        way = ((b[0] - a[0]) / length, (b[1] - a[1]) / length) if length else (1.0, 0.0)
        # Read from below or from the right, also where it leans a little to the left, as upright ones are.
        if way[0] <= -0.5 - 1e-9 or (way[0] < 0.5 - 1e-9 and way[1] < 0):
            a, b, way = b, a, (-way[0], -way[1])
        self._lines.append((a, b))
        inward = length >= 2 * ARROW + 1.0
        if inward:
            self.ink.line("dimension", a, b)
            self.ink.arrow("dimension", a, (-way[0], -way[1]))
            self.ink.arrow("dimension", b, way)
        else:
            beyond = ARROW + 2.0
            self.ink.line("dimension", _along(a, way, -beyond), _along(b, way, beyond))
            self.ink.arrow("dimension", a, way)
            self.ink.arrow("dimension", b, (-way[0], -way[1]))
        return a, b, way, clean(dimension.figure(self.units)), inward, away

    def _figure(self, place: int, a: Point, b: Point, way: Point, figure: str, inward: bool, away: float) -> None:
        """The figure of a dimension from a to b: above the line, or below it, or level beside a short upright one, or
        past one of its ends, whichever is the first to fit and to meet no other words and no other dimension's line, to
        which it would seem to belong. Past an end it rather meets no extension line either, and a long one stands off
        rather than upright."""
        room = advance(figure, FIGURE)
        length = math.dist(a, b)
        angle = math.degrees(math.atan2(way[1], way[0]))
        over, under = 0.9, -0.9 - FIGURE
        past = (0.0 if inward else ARROW) + 2.0
        middle = _along(a, way, length / 2)
        choices: list[tuple[Point, float, Point | None]] = []
        spare = length - room - (2 * ARROW if inward else 0.0)
        if spare >= 0.0:
            places = [middle, *(_along(middle, way, share * spare) for share in (-0.25, 0.25, -0.45, 0.45))]
            choices += [(place, lift, None) for place in places for lift in (over, under)]
        elif room <= length - 1.0:
            choices.append((middle, over, None))
        choices += [
            (_along(b, way, past + room / 2), over, _along(b, way, past + room)),
            (_along(a, way, -past - room / 2), over, _along(a, way, -past - room)),
        ]
        tried: list[tuple[Words, Point | None]] = [
            (Words(x - way[1] * lift, y + way[0] * lift, figure, FIGURE, "middle", angle), end)
            for (x, y), lift, end in choices
        ]
        if not inward and abs(way[0]) < UPRIGHT:  # a short one has its figure level beside it
            level = middle[0] + away * 2.2, middle[1] - FIGURE / 2
            tried.insert(len(tried) - 2, (Words(*level, figure, FIGURE, "start" if away > 0.0 else "end"), None))
        free = [(words, end) for words, end in tried if not self._meets(words, place)]
        found = next(iter(free), None)
        if found is not None and found[1]:
            found = next((each for each in free if not _within(self._extensions, each[0])), found)
        if found is None or (found[1] and abs(way[1]) > abs(way[0]) and room > LONG):
            self._aside.append((figure, middle))
            return
        words, end = found
        if end:
            self.ink.line("dimension", b if math.dist(end, b) < math.dist(end, a) else a, end)
        self.ink.words.append(words)

    def _meets(self, words: Words, own: int) -> bool:
        """Whether these words would run into others, or stand on a dimension line that is not their own."""
        x0, y0, x1, y1 = words.bounds
        for other in self.ink.words:
            u0, v0, u1, v1 = other.bounds
            if x0 < u1 and u0 < x1 and y0 < v1 and v0 < y1:
                return True
        if _within(self._matter, words):
            return True
        for place, (a, b) in enumerate(self._lines):
            shares = np.linspace(0.0, 1.0, 2 + int(math.dist(a, b)))[:, None]
            line = np.array(a) + shares * (np.array(b) - a)
            if place != own and ((line > (x0, y0)) & (line < (x1, y1))).all(axis=1).any():
                return True
        return False

    def _stands_off(self, figure: str, target: Point) -> None:
        """A figure on free ground, level, with a line to the dimension line that it belongs to."""
        cell = self._cell
        room = advance(figure, FIGURE)
        wide, high = math.ceil((room + 1.0) / cell), math.ceil((FIGURE * 1.35 + 0.6) / cell)
        ((x, y),) = self._cells(np.array([target]))
        column, row = self.ground.find(x, y, wide, high, "near", ASIDE / cell, 2.0) or (int(x), int(y))
        self.ground.take(column, row, wide, high)
        left, base = self._left + column * cell + 0.5, self._top - (row + high) * cell + FIGURE * 0.35 + 0.3
        self.ink.words.append(Words(left, base, figure, FIGURE))
        side = left - 0.5 if target[0] < left else left + room + 0.5
        if not left <= target[0] <= left + room:
            self.ink.line("dimension", (side, base + FIGURE / 2), target)
        elif abs(target[1] - base) > FIGURE:
            edge = base - 0.8 if target[1] < base else base + FIGURE + 0.8
            self.ink.line("dimension", (left + room / 2, edge), target)

    def _extension(self, measured: Point, end: Point) -> None:
        length = math.dist(measured, end)
        if length > 1.5:
            way = ((end[0] - measured[0]) / length, (end[1] - measured[1]) / length)
            self.ink.line("extension", _along(measured, way, 1.0), _along(end, way, 1.5))

    def _angle(self, angle: AngleDimension) -> None:
        (x, y), r = angle.apex, angle.radius
        sweep = angle.end - angle.start
        points = [(x + r * math.cos(t), y + r * math.sin(t)) for t in (angle.start, angle.end)]
        half = math.tan(min(sweep, math.pi) / 4)
        arc = Path(np.array([[*points[0], half], [*points[1], 0.0]]))
        self.ink.strokes.append(InkLine("dimension", arc))
        if sweep * r > 2.5 * ARROW:
            lean = ARROW / r / 2  # the head is a chord of the arc
            for point, at, turn in ((points[0], angle.start + lean, -1.0), (points[1], angle.end - lean, 1.0)):
                self.ink.arrow("dimension", point, (-math.sin(at) * turn, math.cos(at) * turn))
        self.ink.line("extension", (x, y), _along((x, y), (math.cos(angle.start), math.sin(angle.start)), r + 2.0))
        text = clean(angle.figure())
        tried = [self._beside_arc(angle, text, off, share) for share in (0.5, 0.25, 0.75, 0.0, 1.0) for off in OUTWARD]
        # Its own arc is what it stands beside.
        strokes = np.vstack([_close(_whole(each.path)) for each in self.ink.strokes if each.path is not arc])
        free = (words for words in tried if not self._meets(words, -1) and not _within(strokes, words))
        if (found := next(free, None)) is not None:
            self.ink.words.append(found)
        else:
            middle = (angle.start + angle.end) / 2
            self._aside.append((text, (x + r * math.cos(middle), y + r * math.sin(middle))))

    def _beside_arc(self, angle: AngleDimension, text: str, off: float, share: float) -> Words:
        """The figure of an angle beyond its arc by so much, at a share of its sweep."""
        at = angle.start + share * (angle.end - angle.start)
        away = angle.radius + off + abs(math.cos(at)) * advance(text, FIGURE) / 2
        x, y = angle.apex[0] + away * math.cos(at), angle.apex[1] + away * math.sin(at)
        return Words(x, y - FIGURE / 2, text, FIGURE, "middle")

    def _zero(self, origin: Point) -> None:
        x, y = origin
        (circle,) = disc(x, y, 2.0).loops
        self.ink.strokes.append(InkLine("zero", circle))
        for sign in (1.0, -1.0):
            corners = [[x, y, 0.0], [x + 2.0 * sign, y, math.tan(math.pi / 8)], [x, y + 2.0 * sign, 0.0]]
            quarter = Path(np.array(corners), closed=True)
            self.ink.strokes.append(InkLine("zero", quarter, solid=True))

    def _label(self, label: Label) -> None:
        text = clean(label.text)
        if not text:
            return
        cell = self._cell
        room = advance(text, label.size)
        wide, high = math.ceil((room + 1.0) / cell), math.ceil((label.size * 1.35 + 0.6) / cell)
        ((x, y),) = self._cells(np.array([(label.x, label.y)]))
        reach = (30.0 if label.pointed else 12.0) / cell
        # An edge is named on either side of it: words that a line would strike on one, or that would have to leave it
        # for the edge opposite, stand on the other.
        place = self.ground.find(x, y, wide, high, label.spot, reach, 1.0, across=not label.pointed, kept=label.kept)
        if place is None or (label.spot == "on" and len(text) > NUMBER and self._strikes(*place, wide, high)):
            place = self.ground.find(x, y, wide, high, "near", 2 * AROUND / cell, 1.0) or place
        if not place:  # nowhere within sight is free: the words are worth more than what they cover
            place = (int(x), int(y))
        column, row = place
        self.ground.take(column, row, wide, high)
        left, base = self._left + column * cell + 0.5, self._top - (row + high) * cell + label.size * 0.35 + 0.3
        self.ink.words.append(Words(left, base, text, label.size, role=label.role))
        near = left - 3.0 <= label.x <= left + room + 3.0 and abs(label.y - base) < label.size * 2.5
        if label.spot == "on":  # words that belong on their place and had to leave it lead back to it
            near = left <= label.x <= left + room and base - 1.0 <= label.y <= base + label.size + 1.0
        box = left, base, left + room, base + label.size
        # Words in the colour of a part say by it what they name.
        alike = label.role != "dimension" or len(text) <= NUMBER
        astray = label.spot == "on" and not alike and self._cut_off((label.x, label.y), box)
        if (label.pointed or astray) and not near:
            centre = base + label.size / 2
            side = left - 0.8 if label.x < left else left + room - 0.2
            if not left <= label.x <= left + room:
                self.ink.line("dimension", (side, centre), (label.x, label.y))
            elif abs(label.y - centre) > label.size * 1.5:
                edge = base - 0.8 if label.y < centre else base + label.size + 0.8
                self.ink.line("dimension", (label.x, edge), (label.x, label.y))

    def _strikes(self, column: int, row: int, wide: int, high: int) -> bool:
        """Whether a line would run through words at that place."""
        return bool((self.ground.ink[row : row + high, column : column + wide] >= COVERED).any())

    def _cut_off(self, target: Point, box: tuple[float, float, float, float]) -> bool:
        """Whether a line runs between words and what they belong to: they then seem to name what is on their side."""
        x0, y0, x1, y1 = box
        nearest = min(max(target[0], x0), x1), min(max(target[1], y0), y1)
        cells = np.floor(self._cells(_close(np.array([nearest, target])))).astype(int)
        rows, columns = self.ground.ink.shape
        within = cells[((cells >= 0) & (cells < (columns, rows))).all(axis=1)]
        return bool((self.ground.ink[within[:, 1], within[:, 0]] >= COVERED).any())


def _along(point: Point, way: Point, by: float) -> Point:
    return point[0] + way[0] * by, point[1] + way[1] * by


def _whole(path: Path) -> np.ndarray:
    """Points along a path, (n, 2); of a closed one the first is the last again."""
    points = path.points(0.2)
    return np.vstack([points, points[:1]]) if path.closed else points


def _close(chain: np.ndarray) -> np.ndarray:
    """Points at most half a millimetre from each other along a chain of points, (n, 2)."""
    parts = np.maximum(np.ceil(np.hypot(*np.diff(chain, axis=0).T) / 0.5).astype(int), 1)
    at = np.concatenate([k + np.arange(n) / n for k, n in enumerate(parts)])
    whole = np.arange(len(chain))
    return np.column_stack([np.interp(at, whole, chain[:, axis]) for axis in (0, 1)])


def _wider(corners: np.ndarray, by: float) -> np.ndarray:
    """The corners of a rectangle that is wider and higher by so much on each side, mm."""
    a, b, c, d = corners
    u, v = (way / np.hypot(*way) * by for way in (b - a, d - a))
    return np.array([a - u - v, b + u - v, c + u + v, d - u + v])


def _within(points: np.ndarray, words: Words) -> bool:
    """Whether one of the points lies in the room of words, which may stand at an angle."""
    a, b, _, d = words.corners
    across, up = b - a, d - a
    off = points - a
    u, v = off @ across / (across @ across), off @ up / (up @ up)
    return bool(((u > 0.0) & (u < 1.0) & (v > 0.0) & (v < 1.0)).any())
