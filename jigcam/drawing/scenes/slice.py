"""A section through what a file cuts: the wood that is left, the drawing, and where they differ.

The cut is that of the text: at many heights, what the strokes of its motions clear along the plane. The plane is
upright and square to the stock; places along it are told by *t*, the file's X or Y.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

import numpy as np

from jigcam.drawing.model import Axes, Dimension, Drawing, Item, Label, Point, View
from jigcam.drawing.roles import Role
from jigcam.drawing.scenes.board import break_line
from jigcam.geometry import Path, Region, difference, intersection, offset, polygon, rectangle, union
from jigcam.units import format_length

if TYPE_CHECKING:
    from jigcam.proof import Target
    from jigcam.proof.report import Place
    from jigcam.proof.strokes import Strokes
    from jigcam.proof.sweeps import Work

Margin = Callable[[float], np.ndarray]
"""For a height: how far inside something each of the points along the plane is, mm; negative outside."""
Along = Literal["X", "Y"]
Span = tuple[float, float]

STEP = 0.1
"""Between points along the plane, mm; between them the margin is taken to be straight."""
INSET = 2.0 * STEP
"""A fault at the stock's side is looked at this far within it, mm: on its very side there is no inside to be seen."""
MOST_POINTS = 3000
MOST_HEIGHTS = 120
BESIDE = 1e-3
"""How far above and below a floor the section is taken, mm."""
SEEN = 0.02
"""What is thinner than twice this is no fault that can be drawn, mm."""
AROUND = 12.0
"""What is shown beside the work, mm."""
DEEP = 40.0
"""Stock thicker than this stands on its end; what is shown beside a fault no longer grows with it, mm."""
SLANT = math.radians(0.2)
"""A plane this far from square to a wall crosses it aslant: a cut looks wider in it by less than a hundredth of 1 %."""
SAME = 1e-3
"""Sines of angles that differ by less are of walls that run alike."""
LETTER = "S"


@dataclass(frozen=True, slots=True)
class Plane:
    """An upright plane through (x, y), running along X or Y; shown from t0 to t1."""

    along: Along
    x: float
    y: float
    t0: float
    t1: float

    @property
    def points(self) -> np.ndarray:
        """(n, 2) points along it, evenly spaced."""
        count = int(np.clip(np.ceil((self.t1 - self.t0) / STEP), 2, MOST_POINTS)) + 1
        t = np.linspace(self.t0, self.t1, count)
        return np.column_stack([t, np.full(count, self.y)] if self.along == "X" else [np.full(count, self.x), t])

    def at(self, t: float) -> Point:
        """The place seen from above."""
        return (t, self.y) if self.along == "X" else (self.x, t)


@dataclass(frozen=True, slots=True)
class Slice:
    """What the plane shows, as regions of (t, z). cut: cleared by the text; must, may: what has to and what may go;
    gouge, left: where they differ by more than can be overlooked."""

    plane: Plane
    stock: Region
    cut: Region
    must: Region
    gouge: Region
    left: Region


def look(works: Mapping[int, Work], target: Target, gouges: Sequence[Place], lefts: Sequence[Place]) -> Slice:
    """The slice that shows most plainly what a file does: through the worst gouge, without one through the worst wood
    left, else across the middle of the largest removal. Of the planes along X and Y, the one that shows the smaller
    face of a fault goes across it."""
    faults: tuple[tuple[Sequence[Place], Callable[[Slice], Region]], ...] = (
        (gouges, lambda cut: cut.gouge),
        (lefts, lambda cut: cut.left),
    )
    for places, fault in faults:
        if places:
            both = [slice_of(works, target, plane) for plane in _planes_through(places[0], target)]
            shown = [cut for cut in both if not fault(cut).is_empty]
            return min(shown, key=lambda cut: fault(cut).area) if shown else both[0]
    return slice_of(works, target, _across_the_largest(target))


def _planes_through(place: Place, target: Target) -> tuple[Plane, Plane]:
    """Along X and along Y."""
    stock = target.stock
    x = float(np.clip(place.x, stock.x0 + INSET, stock.x1 - INSET))
    y = float(np.clip(place.y, stock.y0 + INSET, stock.y1 - INSET))
    reach = 2.0 * stock.thickness + AROUND if stock.thickness < DEEP else 2.0 * DEEP
    return (_plane("X", x, y, (x - reach, x + reach), target), _plane("Y", x, y, (y - reach, y + reach), target))


def _across_the_largest(target: Target) -> Plane:
    """Across the middle of the largest removal; of the longest stroke where there are only marks."""
    parts = [part for layer in target.layers for part in target.must((layer.low + layer.high) / 2.0).parts]
    if parts:
        x0, y0, x1, y1 = max(parts, key=lambda part: part.area).bounds
        x, y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
        if x1 - x0 <= y1 - y0:
            return _plane("X", x, y, (x0 - AROUND, x1 + AROUND), target)
        return _plane("Y", x, y, (y0 - AROUND, y1 + AROUND), target)
    if target.marks:
        strokes = max((mark.strokes for mark in target.marks), key=lambda each: float(each.length.max(initial=0.0)))
        row = int(strokes.length.argmax())
        ((x, y),) = strokes.at(np.array([0.5]), np.array([row])).tolist()
        dx, dy = strokes.b[row] - strokes.a[row]
        along: Along = "Y" if abs(dx) > abs(dy) else "X"
        middle = y if along == "Y" else x
        return _plane(along, x, y, (middle - AROUND, middle + AROUND), target)
    stock = target.stock
    return _plane("X", (stock.x0 + stock.x1) / 2.0, (stock.y0 + stock.y1) / 2.0, (stock.x0, stock.x1), target)


def _plane(along: Along, x: float, y: float, shown: Span, target: Target) -> Plane:
    """Shown as far as the stock reaches."""
    first, last = _reach(along, target)
    return Plane(along, x, y, max(shown[0], first), min(shown[1], last))


def _reach(along: Along, target: Target) -> Span:
    """From where to where the stock reaches that way."""
    return (target.stock.x0, target.stock.x1) if along == "X" else (target.stock.y0, target.stock.y1)


def slice_of(works: Mapping[int, Work], target: Target, plane: Plane) -> Slice:
    """What a file's works leave along the plane, compared with the target."""
    points = plane.points
    t = points[:, 0 if plane.along == "X" else 1]
    cutting = [_swept(work.take(np.flatnonzero(work.cuts)), points) for work in works.values()]
    moving = [_swept(work, points) for work in works.values()]
    low = _low(works.values(), target)
    stock = rectangle(plane.t0, low, plane.t1, 0.0)

    def region(margins: Iterable[Margin], heights: Sequence[float]) -> Region:
        every = list(margins)
        return intersection(_traced(t, lambda z: np.max([margin(z) for margin in every], axis=0), heights), stock)

    def may(z: float) -> np.ndarray:
        marks = [mark.width / 2.0 - _nearest(mark.strokes, points) for mark in target.marks_at(z)]
        margin: np.ndarray = np.max([_within(target.may(z), points), *marks], axis=0)
        return margin

    heights = _heights(works.values(), target, low)
    if not works:
        cutting = moving = [lambda z: np.full(len(t), -np.inf)]
    cut, touched = region(cutting, heights), region(moving, heights)
    allowed = region([may], heights)
    must = region([lambda z: _within(target.must(z), points)], heights)
    return Slice(plane, stock, cut, must, _faults(difference(touched, allowed)), _faults(difference(must, cut)))


def slice_view(cut: Slice, target: Target, units: str, role: Role = "stock") -> View:
    """The section, the stock's top up. role: what the stock is, a board or a sheet."""
    plane, stock = cut.plane, target.stock
    low = cut.stock.bounds[1]
    deeper = low > -stock.thickness + SEEN
    wood = difference(cut.stock, union(cut.cut, cut.gouge))
    first, last = _reach(plane.along, target)
    broken = [t for t, goes_on in ((plane.t0, plane.t0 > first), (plane.t1, plane.t1 < last)) if goes_on]
    items = [Item(role, wood, True, outlined=False), *_edges(wood, broken, low if deeper else None, role)]
    items += [Item("break", break_line((t, low), (t, 0.0), min(3.0, 0.1 * stock.thickness))) for t in broken]
    if deeper:
        items.append(Item("break", break_line((plane.t0, low), (plane.t1, low), 2.0)))
    if not cut.must.is_empty:
        items.append(Item("target", cut.must))
    items += [Item("gouge", part, True) for part in cut.gouge.parts]
    items += [Item("left", part, True) for part in cut.left.parts]
    dimensions = [] if deeper else [Dimension((plane.t0, low), (plane.t0, 0.0), 8.0, along="y")]
    if not cut.cut.is_empty:
        x0, y0, x1, _ = max(cut.cut.parts, key=lambda part: part.area).bounds
        dimensions.append(Dimension((x0, 0.0), (x1, 0.0), 8.0, along="x"))
        if y0 > low + SEEN:
            dimensions.append(Dimension((plane.t1, y0), (plane.t1, 0.0), -8.0, along="y"))
    labels = []
    for role, region in (("gouge", cut.gouge), ("left", cut.left)):
        if not region.is_empty:
            x0, y0, x1, y1 = max(region.parts, key=lambda part: part.area).bounds
            words = "cut too far" if role == "gouge" else "left standing"
            labels.append(Label((x0 + x1) / 2.0, (y0 + y1) / 2.0, words, "near", True, weight=3))
    wide, aslant = _aslant(cut, target)
    skew = ", aslant to its walls" if aslant else ""
    skew += f", {format_length(wide, units)} square across" if aslant and wide else ""
    where = f"Y {format_length(plane.y, units)}" if plane.along == "X" else f"X {format_length(plane.x, units)}"
    return View(
        f"section {LETTER}–{LETTER} at {where}{skew}, as the file cuts it",
        tuple(items),
        tuple(labels),
        tuple(dimensions),
        axes=Axes(plane.along, "Z"),
    )


def _aslant(cut: Slice, target: Target) -> tuple[float | None, bool]:
    """The width of the widest cut square across its walls (mm), where they run alike; and whether the plane crosses
    them aslant."""
    if cut.cut.is_empty:
        return None, False
    x0, y0, x1, _ = max(cut.cut.parts, key=lambda part: part.area).bounds
    plane, axis = cut.plane, int(cut.plane.along == "Y")
    level = plane.x if axis else plane.y
    found = []
    for loop in target.must(y0 / 2.0).loops:
        rows = loop.as_segments()
        for start, end, bulge in zip(rows.start, rows.end, rows.bulge, strict=True):
            ways = [end.real - start.real, end.imag - start.imag]
            low, high = ((each.real, each.imag)[1 - axis] - level for each in (start, end))
            if bulge == 0.0 and low * high < 0.0:
                at = (start.real, start.imag)[axis] + ways[axis] * low / (low - high)
                if x0 - AROUND / 2.0 <= at <= x1 + AROUND / 2.0:
                    found.append(abs(ways[1 - axis]) / math.hypot(*ways))
    alike = bool(found) and max(found) - min(found) < SAME
    return (x1 - x0) * found[0] if alike else None, bool(found) and min(found) < math.cos(SLANT)


def with_slice(drawing: Drawing, cut: Slice, target: Target, role: Role = "stock") -> Drawing:
    """A drawing of a file from above with the plane marked in it, and the section below. role: of the stock."""
    above, *rest = drawing.views
    plane = cut.plane
    look = (0.0, 4.0) if plane.along == "X" else (-4.0, 0.0)
    items, labels = list(above.items), list(above.labels)
    for end, sign in ((plane.t0, -1.0), (plane.t1, 1.0)):
        inner, outer = plane.at(end), plane.at(end + sign * 6.0)
        tip = outer[0] + look[0], outer[1] + look[1]
        items.append(Item("plane", Path.through([inner, outer, tip])))
        labels.append(Label(*plane.at(end + sign * 9.0), LETTER, "on", weight=6, size=3.5))
    marked = replace(above, items=tuple(items), labels=tuple(labels))
    return replace(drawing, rows=((marked, *rest), (slice_view(cut, target, drawing.units, role),)))


def _low(works: Iterable[Work], target: Target) -> float:
    """How deep the stock is shown: its bottom, unless that lies far below all that is cut or has to be."""
    bottom = -target.stock.thickness
    cuts = [float(work.travel.lowest.min()) for work in works if len(work.travel)]
    deep = min([0.0, *cuts, *(removal.levels[-1] for removal in target.removals)])
    shown = deep - max(AROUND, -0.5 * deep)
    return shown if shown - bottom > AROUND else bottom


def _heights(works: Iterable[Work], target: Target, low: float) -> list[float]:
    """Where the section is taken down to `low`: beside every floor, at every corner of a bit's profile, and evenly
    between."""
    turns = {z for layer in target.layers for z in (layer.low, layer.high)}
    for work in works:
        tips = np.unique(np.round(np.concatenate([work.travel.z0, work.travel.z1]), 3))
        tips = tips[(tips > low) & (tips < 0.0)]
        turns |= {float(tip + corner) for tip in tips[:MOST_HEIGHTS] for corner in (0.0, *work.envelope.corners)}
    inside = sorted({round(z, 4) for z in turns if low < z < 0.0})
    inside = inside[:: max(1, len(inside) // MOST_HEIGHTS)]
    beside = [z + side for z in inside for side in (BESIDE, -BESIDE)]
    even = np.linspace(low, 0.0, 25)[1:-1]
    return sorted({low + BESIDE, -BESIDE, *beside, *(float(z) for z in even)}, reverse=True)


def _swept(work: Work, points: np.ndarray) -> Margin:
    """How deep each point lies within what a work sweeps at a height. A sloping stroke counts with the height that its
    tip has at its place nearest to the point."""
    strokes, reach = work.travel.strokes, work.envelope.largest
    (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
    boxes = strokes.boxes
    near = np.flatnonzero(
        (boxes[:, 0] <= x1 + reach)
        & (boxes[:, 2] >= x0 - reach)
        & (boxes[:, 1] <= y1 + reach)
        & (boxes[:, 3] >= y0 - reach)
        & (work.travel.lowest < 0.0)
    )
    tips: dict[float, np.ndarray] = {}
    sloping: list[tuple[np.ndarray, np.ndarray]] = []
    for row in near:
        index = np.full(len(points), row)
        gap, foot = strokes.foot(points, index)
        if work.travel.z0[row] == work.travel.z1[row] or strokes.length[row] == 0.0:
            tip = round(float(work.travel.lowest[row]), 4)
            tips[tip] = np.minimum(tips.get(tip, np.inf), gap)
        else:
            sloping.append((gap, work.travel.height_at(index, foot)))

    def margin(z: float) -> np.ndarray:
        best = np.full(len(points), -np.inf)
        for tip, gap in tips.items():
            if tip <= z:
                best = np.maximum(best, float(work.envelope.radius(np.array([z - tip]))[0]) - gap)
        for gap, height in sloping:
            best = np.maximum(best, work.envelope.radius(z - height) - gap)
        return best

    return margin


def _nearest(strokes: Strokes, points: np.ndarray) -> np.ndarray:
    """How far each point is from the nearest of some strokes, mm."""
    gaps = [strokes.distance(points, np.full(len(points), row)) for row in range(len(strokes))]
    return np.min(gaps, axis=0) if gaps else np.full(len(points), np.inf)


def _within(region: Region, points: np.ndarray) -> np.ndarray:
    return np.full(len(points), -np.inf) if region.is_empty else region.signed_distance(points)


def _traced(t: np.ndarray, margin: Margin, heights: Sequence[float]) -> Region:
    """The region of (t, z) in which the margin is positive, between heights that descend."""
    rows = [(z, list(_spans(t, margin(z)))) for z in heights]
    pieces: list[Region] = []
    for (high, above), (low, below) in pairwise(rows):
        if len(above) == len(below):
            pieces += [_quad(high, low, a, b) for a, b in zip(above, below, strict=True)]
        else:  # something begins or ends in between
            middle = (high + low) / 2.0
            pieces += [_quad(high, middle, a, a) for a in above] + [_quad(middle, low, b, b) for b in below]
    return union(*pieces)


def _quad(high: float, low: float, above: Span, below: Span) -> Region:
    return polygon([(below[0], low), (below[1], low), (above[1], high), (above[0], high)])


def _spans(t: np.ndarray, margin: np.ndarray) -> Iterator[Span]:
    """Where a margin is positive, its ends taken on the straight line between points."""
    inside = margin > 0.0
    edges = np.flatnonzero(inside[1:] != inside[:-1])
    with np.errstate(invalid="ignore"):
        share = margin[edges] / (margin[edges] - margin[edges + 1])
    cross = t[edges] + np.clip(np.nan_to_num(share, nan=0.5), 0.0, 1.0) * (t[edges + 1] - t[edges])
    ends = [*([t[0]] if inside[0] else []), *cross, *([t[-1]] if inside[-1] else [])]
    for a, b in zip(ends[::2], ends[1::2], strict=True):
        if b - a > 1e-6:
            yield float(a), float(b)


def _faults(region: Region) -> Region:
    """The parts that are thick enough to be seen, and no rounding of the tracing."""
    parts = [part for part in region.parts if not offset(part, -SEEN).is_empty]
    return union(*parts) if parts else Region.empty()


def _edges(wood: Region, broken: Sequence[float], low: float | None, role: Role) -> list[Item]:
    """The outline of the wood, but not where it is broken off: at places along the plane, and at the height `low`."""
    items = []
    for loop in wood.loops:
        points = [(float(x), float(y)) for x, y in loop.points()]
        for a, b in zip(points, [*points[1:], points[0]], strict=True):
            off = any(abs(a[0] - x) < 1e-6 and abs(b[0] - x) < 1e-6 for x in broken)
            if not (off or (low is not None and abs(a[1] - low) < 1e-6 and abs(b[1] - low) < 1e-6)):
                items.append(Item(role, Path.through([a, b])))
    return items
