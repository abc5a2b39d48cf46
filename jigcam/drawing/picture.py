"""One view as a terminal's picture: at what scale it fits, its shapes, its dimensions and its words.

A millimetre on paper, by which dimensions stand off, is `STAND_OFF` dots here whatever the scale of the shapes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from jigcam.drawing.canvas import ACROSS, DOWN, Canvas
from jigcam.drawing.model import AngleDimension, Dimension, Item, Label, Point, Spot, View
from jigcam.drawing.placing import Cells
from jigcam.drawing.roles import PENS, order
from jigcam.drawing.running import Running
from jigcam.drawing.running_picture import BESIDE, aside, below, room_beside, rows_needed, short
from jigcam.drawing.text import clean, columns, fit, plain

STAND_OFF = 0.75
MARGIN = 3
"""Dots kept free around everything."""
LARGEST = 12.0
"""Dots a millimetre at most."""
KEYS = "abcdefghijklmnopqrstuvwxyz"


@dataclass(frozen=True, slots=True)
class Viewport:
    """From millimetres in the view to dots of its picture: dots per mm, and where the view's origin lies."""

    scale: float
    left: float
    top: float

    def dots(self, points: object) -> np.ndarray:
        """(n, 2) mm → (n, 2) dots."""
        table = np.asarray(points, float).reshape(-1, 2)
        return np.column_stack([self.left + table[:, 0] * self.scale, self.top - table[:, 1] * self.scale])

    def dot(self, point: Point) -> Point:
        """One point."""
        ((x, y),) = self.dots([point])
        return float(x), float(y)


def dimension_line(dimension: Dimension) -> tuple[Point, tuple[Point, Point]]:
    """The way from the shape to the dimension line (unit vector, y up), and the two points that are measured."""
    if dimension.along == "x":
        return (0.0, 1.0), (dimension.p0, (dimension.p1[0], dimension.p0[1]))
    if dimension.along == "y":
        return (-1.0, 0.0), (dimension.p0, (dimension.p0[0], dimension.p1[1]))
    ux, uy = dimension.direction
    return (-uy, ux), (dimension.p0, dimension.p1)


def _stand_off(dimension: Dimension, units: str) -> float:
    """How far the dimension line is from the shape, dots; an upright one leaves room for its figure, which is level."""
    off = dimension.offset * STAND_OFF
    if dimension.along != "y":
        return off
    return off + math.copysign(columns(clean(dimension.figure(units))) * ACROSS / 2, off)


def _reaches(view: View, units: str, generous: bool, wide: int) -> np.ndarray:
    """What the picture has to hold: rows x, y (mm) and how far beyond them in dots to the left, right, up and down."""
    x0, y0, x1, y1 = view.bounds
    rows = [(x0, y0, 0.0, 0.0, 0.0, 0.0), (x1, y1, 0.0, 0.0, 0.0, 0.0)]
    for dimension in view.dimensions:
        (nx, ny), ends = dimension_line(dimension)
        off = _stand_off(dimension, units)
        half = columns(dimension.figure(units)) * ACROSS / 2 + 2 if dimension.along == "y" else 2.0
        for x, y in ends:
            dx, dy = nx * off, ny * off
            rows.append((x, y, half - dx, half + dx, 2 + dy, 2 - dy))
    rows += _running_reaches(view, wide)
    if generous:
        for label in view.labels:
            room = columns(clean(label.text)) * ACROSS + 4.0
            reach = {
                "left": (room, 0, 0, 0),
                "right": (0, room, 0, 0),
                "above": (room / 2, room / 2, 6, 0),
                "below": (room / 2, room / 2, 0, 6),
            }.get(label.spot, (0, 0, 0, 0))
            rows.append((label.x, label.y, *reach))
    return np.array(rows, float)


def shapes_of(view: View) -> tuple[float, float, float, float]:
    """x0, y0, x1, y1 of the shapes alone, mm; of everything where there are none."""
    boxes = [path.bounds for item in view.items for path in item.paths]
    if not boxes:
        return view.bounds
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def _running_reaches(view: View, wide: int) -> list[tuple[float, float, float, float, float, float]]:
    """What figures of running dimensions need around the shapes."""
    x0, y0, x1, y1 = shapes_of(view)
    rows = []
    for running in view.running:
        deep, beside = (rows_needed(running, wide) + 2) * DOWN, room_beside(running) * ACROSS
        side = max(columns(short(text)) for _, _, text in running.marks) * ACROSS / 2
        if running.along == "x":
            down = running.offset < 0.0
            up, low = (0.0, deep) if down else (deep, 0.0)
            rows += [(x, y0 if down else y1, side, side, up, low) for x in (x0, x1)]
        else:
            right = running.offset > 0.0
            rows.append((x1 if right else x0, y0, 0.0 if right else beside, beside if right else 0.0, 4.0, 4.0))
    return rows


def _extent(reaches: np.ndarray, scale: float) -> tuple[float, float, float, float]:
    x, y = reaches[:, 0] * scale, reaches[:, 1] * scale
    return (
        float((x - reaches[:, 2]).min()),
        float((x + reaches[:, 3]).max()),
        float((y - reaches[:, 5]).min()),
        float((y + reaches[:, 4]).max()),
    )


def _largest(reaches: np.ndarray, wide: float, high: float) -> float:
    """The largest scale that fits in that many dots, 0 if none does."""
    low, high_scale = 1e-9, LARGEST
    for _ in range(60):
        middle = math.sqrt(low * high_scale)
        x0, x1, y0, y1 = _extent(reaches, middle)
        if x1 - x0 <= wide and y1 - y0 <= high:
            low = middle
        else:
            high_scale = middle
    return low if low > 2e-9 else 0.0


def frame_for(view: View, units: str, width: int, height: int) -> tuple[Viewport, int, int]:
    """The largest scale at which the view fits in so many characters, with the columns and rows that it then takes.

    Room for words is kept where that does not make the picture much smaller.
    """
    wide, high = width * ACROSS - 2 * MARGIN, height * DOWN - 2 * MARGIN
    generous, plain = _reaches(view, units, True, width), _reaches(view, units, False, width)
    bare = plain[:2]
    choices = [(_largest(reaches, wide, high), reaches) for reaches in (generous, plain, bare)]
    best = choices[2][0] or 1e-9
    scale, reaches = next(((s, r) for s, r in choices[:2] if s >= 0.5 * best), choices[2])
    scale = scale or 1e-9
    x0, x1, y0, y1 = _extent(reaches, scale)
    frame = Viewport(scale, MARGIN - x0, MARGIN + y1)
    taken = math.ceil((x1 - x0 + 2 * MARGIN) / ACROSS), math.ceil((y1 - y0 + 2 * MARGIN) / DOWN)
    return frame, max(1, min(width, taken[0])), max(1, min(height, taken[1]))


class Picture:
    """A view drawn at its scale. After that `canvas` holds it, and `keys` the words that found no room in it."""

    def __init__(self, view: View, units: str, frame: Viewport, wide: int, high: int, unicode: bool) -> None:
        self.view, self.units, self.frame, self.unicode = view, units, frame, unicode
        self.say = clean if unicode else plain
        self.shapes = shapes_of(view)
        self.canvas = Canvas(wide, high)
        self.keys: list[tuple[str, str]] = []
        self._line_ends: set[tuple[int, int]] = set()
        for item in sorted(view.items, key=lambda item: -order(item.role)):
            self._item(item)
        self.ground = Cells(self.canvas.ink, DOWN / ACROSS)
        for dimension in view.dimensions:
            self._dimension(dimension)
        for running in view.running:
            self._running(running)
        self.ground.ink = np.maximum(self.ground.ink, self.canvas.ink)
        for angle in view.angles:
            self._angle(angle)
        if view.axes and view.axes.origin:
            self._zero(view.axes.origin)
        for label in sorted(view.labels, key=lambda label: -label.weight):
            self._label(label)

    def _item(self, item: Item) -> None:
        tol = 0.25 / self.frame.scale
        chains = [self.frame.dots(path.points(tol)) for path in item.paths]
        if item.filled:
            self.canvas.area(chains, item.role, PENS[item.role].fill)
        for path, chain in zip(item.paths, chains, strict=True) if item.outlined else ():
            self.canvas.line(np.vstack([chain, chain[:1]]) if path.closed else chain, item.role)

    def _dimension(self, dimension: Dimension) -> None:
        (nx, ny), ends = dimension_line(dimension)
        off = _stand_off(dimension, self.units)
        a, b = (self.frame.dots([end])[0] + (nx * off, -ny * off) for end in ends)
        measured = self.frame.dots([dimension.p0, dimension.p1])
        figure = self.say(dimension.figure(self.units))
        if dimension.along == "points":
            self._leaning(a, b, measured, figure, (nx * off, -ny * off))
        elif dimension.along == "x":
            self._level(a, b, measured, figure, -1 if off > 0 else 1)
        else:
            self._upright(a, b, measured, figure, -1 if off > 0 else 1)

    def _running(self, running: Running) -> None:
        """Figures at their marks, with a line to each; those without room in the list below."""
        upright = running.along == "x"
        dots = [(self.frame.dot(running.point(at, reach)), self.say(short(text))) for at, reach, text in running.marks]
        x0, y0, x1, y1 = (v * self.frame.scale for v in self.shapes)
        out = 1 if (running.offset < 0.0) == upright else -1
        if upright:
            edge = self.frame.top - (y0 if out > 0 else y1)
            first = int(edge // DOWN) + 2 * out
            placed = below([(int(x // ACROSS), text) for (x, _), text in dots], first, out, self.ground)
        else:
            edge = self.frame.left + (x1 if out > 0 else x0)
            first = int(edge // ACROSS) + BESIDE * out
            down = sorted(dots, key=lambda each: each[0][1])
            placed = aside([(int(y // DOWN), text) for (_, y), text in down], first, out, self.ground)
        lost = []
        for one in placed:
            if isinstance(one, str):
                lost.append(one)
                continue
            self.canvas.write(one.column, one.row, one.figure, "dimension")
            if upright:
                for row in range(first - out, one.row, out):
                    if not self.ground.taken[row, one.at]:
                        self.canvas.write(one.at, row, "│" if self.unicode else "|", "extension")
            else:
                near = first - out * 2 if out > 0 else first + 1
                self.canvas.write(near, one.row, "─" if self.unicode else "-", "extension")
        if lost:
            self.keys.append(("-", f"from the same origin: {', '.join(lost)}"))

    def _extension(self, start: np.ndarray, end: np.ndarray) -> None:
        way = end - start
        length = float(np.hypot(*way))
        if length > 3:
            self.canvas.line(np.array([start + way * (2 / length), end]), "extension")

    def _level(self, a: np.ndarray, b: np.ndarray, measured: np.ndarray, figure: str, out: int) -> None:
        left, right = sorted((int(a[0] // ACROSS), int(b[0] // ACROSS)))
        row, span, room = int(a[1] // DOWN), right - left + 1, columns(figure)
        while 0 <= row < self.canvas.rows and not self._open(left, row, span, 1):
            row += out
        if not self._open(left, row, span, 1):
            self._keyed(float(a[0] + b[0]) / 2, float(a[1]), figure)
            return
        for point, end in zip(measured, (a, b), strict=True):
            self._extension(point, np.array([end[0], row * DOWN + DOWN / 2]))
        first, line, last = "├─┤" if self.unicode else "|-|"
        bar = first + line * (span - 2) + last if span > 1 else first
        inside = span >= room + 4
        if inside:
            before = (span - room - 4) // 2
            bar = f"{first}{line * before} {figure} {line * (span - room - 4 - before)}{last}"
        self.canvas.write(left, row, bar, "dimension")
        self._ends([(left, row), (right, row)], "┼" if self.unicode else "+")
        self.ground.take(left, row, span)
        if not inside:
            sides: tuple[Spot, ...] = ("right", "left", "above" if out < 0 else "below")
            self._beside((left + right + 1) / 2, row + 0.5, figure, sides, span / 2)

    def _upright(self, a: np.ndarray, b: np.ndarray, measured: np.ndarray, figure: str, out: int) -> None:
        top, bottom = sorted((int(a[1] // DOWN), int(b[1] // DOWN)))
        column, span = int(a[0] // ACROSS), bottom - top + 1
        while 0 <= column < self.canvas.columns and not self._open(column, top, 1, span):
            column += out
        if not self._open(column, top, 1, span):
            self._keyed(float(a[0]), float(a[1] + b[1]) / 2, figure)
            return
        for point, end in zip(measured, (a, b), strict=True):
            self._extension(point, np.array([column * ACROSS + 0.5, end[1]]))
        first, line, last = "┬│┴" if self.unicode else "-|-"
        for row in range(top, bottom + 1):
            mark = first if row == top and span > 1 else last if row == bottom and span > 1 else line
            self.canvas.write(column, row, mark, "dimension")
        self._ends([(column, top), (column, bottom)], "┼" if self.unicode else "+")
        self.ground.take(column, top, 1, span)
        left = column - columns(figure) // 2
        middle = (top + bottom) // 2
        across = self.ground.taken.copy()
        self.ground.taken[top : bottom + 1, column] = False
        if span >= 3 and self.ground.is_free(left, middle, columns(figure)):
            self.ground.taken = across
            self.canvas.write(left, middle, figure, "dimension")
            self.ground.take(left - 1, middle, columns(figure) + 2)
            return
        self.ground.taken = across
        sides: tuple[Spot, ...] = (
            ("left", "right", "above", "below") if out < 0 else ("right", "left", "above", "below")
        )
        self._beside(column + 0.5, middle + 0.5, figure, sides, 0.5)

    def _open(self, column: int, row: int, wide: int, high: int) -> bool:
        """Whether a dimension line may lie there: on free ground, its ends also on those of another."""
        taken = self.ground.taken
        for end in self._line_ends:
            taken[end[1], end[0]] = False
        free = self.ground.is_free(column, row, wide, high)
        for end in self._line_ends:
            taken[end[1], end[0]] = True
        ends = {(column, row), (column + wide - 1, row + high - 1)}
        across = {(x, y) for x, y in self._line_ends if column <= x < column + wide and row <= y < row + high}
        return free and across <= ends

    def _ends(self, ends: list[tuple[int, int]], shared: str) -> None:
        """Remembers where a dimension line ends, and marks the ends that it shares with another."""
        for column, row in ends:
            if (column, row) in self._line_ends:
                self.canvas.write(column, row, shared, "dimension")
        self._line_ends.update(ends)

    def _leaning(self, a: np.ndarray, b: np.ndarray, measured: np.ndarray, figure: str, off: Point) -> None:
        for point, end in zip(measured, (a, b), strict=True):
            self._extension(point, end)
        self.canvas.line(np.array([a, b]), "dimension")
        way = (b - a) / (float(np.hypot(*(b - a))) or 1.0)
        for end in (a, b):  # a short stroke across, where paper has an arrow
            across = np.array([-way[1], way[0]]) * 2
            self.canvas.line(np.array([end - across, end + across]), "dimension")
        self.ground.ink = np.maximum(self.ground.ink, self.canvas.ink)
        middle = (a + b) / 2
        level = abs(off[0]) < abs(off[1])
        spots: tuple[Spot, ...] = (
            (("above", "below") if off[1] < 0 else ("below", "above"))
            if level
            else (("left", "right") if off[0] < 0 else ("right", "left"))
        )
        self._beside(middle[0] / ACROSS, middle[1] / DOWN, figure, spots, 0.5)

    def _beside(self, x: float, y: float, figure: str, spots: tuple[Spot, ...], gap: float) -> None:
        """A figure next to its dimension line: on the first of the sides that is free, or in the list below."""
        room = columns(figure)
        for reach in (2.0, 8.0):
            for spot in spots:
                place = self.ground.find(x, y, room, 1, spot, reach, gap + 0.5)
                if place:
                    self.canvas.write(*place, figure, "dimension")
                    self.ground.take(place[0] - 1, place[1], room + 2)
                    return
        self._keyed(x * ACROSS, y * DOWN, figure)

    def _angle(self, angle: AngleDimension) -> None:
        radius = max(angle.radius * self.frame.scale, 10.0)
        centre = np.array(self.frame.dot(angle.apex))
        turn = np.linspace(angle.start, angle.end, 48)
        arc = centre + radius * np.column_stack([np.cos(turn), -np.sin(turn)])
        self.canvas.line(arc, "dimension")
        self.canvas.line(np.array([centre, centre + (arc[0] - centre) * 1.25]), "extension")
        self.ground.ink = np.maximum(self.ground.ink, self.canvas.ink)
        x, y = arc[len(arc) // 2] / (ACROSS, DOWN)
        self._beside(float(x), float(y), self.say(angle.figure()), ("right", "left", "above", "below"), 0.5)

    def _zero(self, origin: Point) -> None:
        x, y = self.frame.dot(origin)
        column, row = int(x // ACROSS), int(y // DOWN)
        self.canvas.write(column, row, "⊕" if self.unicode else "O", "zero")
        self.ground.take(column, row, 1)

    def _label(self, label: Label) -> None:
        text = self.say(label.text)
        if not text:
            return
        dot = np.array(self.frame.dot((label.x, label.y)))
        x, y = dot / (ACROSS, DOWN)
        room = columns(text)
        reach = 14.0 if label.pointed else 6.0
        place = self.ground.find(x, y, room, 1, label.spot, reach) or self.ground.find(x, y, room, 1, "near", reach)
        if not place:
            self._keyed(float(dot[0]), float(dot[1]), text)
            return
        column, row = place
        self.canvas.write(column, row, text, label.role)
        self.ground.take(column - 1, row, room + 2)
        if label.pointed:
            nearest = np.array([min(max(x, column - 0.25), column + room + 0.25), min(max(y, row), row + 1.0)])
            if np.hypot(*((nearest - (x, y)) * (1.0, 2.0))) > 1.5:
                self.canvas.line(np.array([nearest * (ACROSS, DOWN), dot]), "dimension")
                self.ground.ink = np.maximum(self.ground.ink, self.canvas.ink)

    def _keyed(self, x: float, y: float, text: str) -> None:
        """Words without room get a letter in the picture and a line below it."""
        if len(self.keys) >= len(KEYS):
            self.keys.append(("-", text))
            return
        key = KEYS[len(self.keys)]
        place = self.ground.find(x / ACROSS, y / DOWN, 1, 1, "near", 8.0, 0.5)
        if place:
            self.canvas.write(*place, key, "dimension")
            self.ground.take(*place, 1)
        self.keys.append((key if place else "-", fit(text, 200)))
