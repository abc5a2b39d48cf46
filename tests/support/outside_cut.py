"""A second opinion on an output folder: what its G-code cuts, from the text of file, job and manifest alone.

It shares no code with jigcam: its own small reading of G-code and of lengths, its own sum for a groove, and discs and
strips, one for each motion or edge, that shapely unites; never a buffer. Frames and signs are those of the contract: a
groove is drawn in the frame of its board's face, `placement` in the manifest carries face points to file points, z is 0
on top of the stock.

Accuracy: facets of arcs and discs lie within `CHORD` of the curve, on its inner side. A sweep is up to 2 · CHORD too
small; a ride adds two bands along an edge, so that it errs by at most 5 · CHORD, 1 µm.
"""

from __future__ import annotations

import json
import math
import re
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from shapely import Polygon

CHORD = 2e-4
"""Sagitta of facets, mm."""
GRID = 1e-6
"""mm: grid on which shapes that have been grown or shrunk lie."""
WIDEST = 10.0
"""Radius of the widest bit for which facets of arcs are fine enough, mm."""
SWEEP_ERROR = 2 * CHORD
RIDE_ERROR = 5 * CHORD
FAR = 2000.0
"""How far an open end is carried on, mm."""

Shape = shapely.Geometry
Matrix = Sequence[Sequence[float]]


# ---- lengths and the groove, from the text of a job


def millimetres(value: Any, units: str) -> float:
    """A length of a job file: a bare number, or text such as "1-3/8 in", "7/16", "9.5 mm"."""
    text = str(value).strip()
    match = re.fullmatch(r"(.*?)\s*(mm|in|\")?", text)
    assert match is not None
    number, unit = match[1], match[2] or units
    parts = re.fullmatch(r"(?:(\d+)[- ])?(\d+)/(\d+)", number)
    amount = Fraction(int(parts[1] or 0)) + Fraction(int(parts[2]), int(parts[3])) if parts else Fraction(number)
    return float(amount * (1 if unit == "mm" else Fraction(254, 10)))


@dataclass(frozen=True)
class Wanted:
    """A groove as its job draws it: extreme ends in its own frame (along, across), mm, and its board.

    low, high: stations of the ends from the drawn start, carried far off the board where open.
    """

    start: tuple[float, float]
    angle: float
    low: float
    high: float
    width: float
    depth: float
    round_ends: bool
    board: tuple[float, float, float]

    @classmethod
    def of(cls, job: dict[str, Any], joint: str) -> Wanted:
        """From a job's table."""
        units = job["units"]
        (entry,) = (each for each in job["joints"] if each["name"] == joint)
        board = job["boards"][entry["board"]]
        if "width" in entry:
            width = millimetres(entry["width"], units)
        else:
            clearance = millimetres(entry["clearance"], units) if "clearance" in entry else 0.1
            width = millimetres(job["boards"][entry["receives"]]["thickness"], units) + clearance
        return cls(
            (millimetres(entry["from"][0], units), millimetres(entry["from"][1], units)),
            math.radians(float(str(entry["angle"]).removesuffix("deg").removesuffix("°"))),
            -FAR if entry.get("start", "stopped") == "open" else 0.0,
            FAR if entry.get("finish", "stopped") == "open" else millimetres(entry["length"], units),
            width,
            millimetres(entry["depth"], units),
            entry.get("ends", "round") == "round",
            (
                millimetres(board["length"], units),
                millimetres(board["width"], units),
                millimetres(board["thickness"], units),
            ),
        )

    def opposite(self) -> Wanted:
        """On the mirrored board: x → length − x, so the direction turns to 180° − angle."""
        x, y = self.start
        return Wanted(
            (self.board[0] - x, y),
            math.pi - self.angle,
            self.low,
            self.high,
            self.width,
            self.depth,
            self.round_ends,
            self.board,
        )

    def distance(self, points: np.ndarray, corner: float = 0.0) -> np.ndarray:
        """Signed distances of face points (n, 2) from the groove's edge, mm, negative inside.

        A box, of which the corners are rounded by `corner`; round ends are a corner of half the width.
        """
        radius = self.width / 2 if self.round_ends else corner
        c, s = math.cos(self.angle), math.sin(self.angle)
        moved = points - np.array(self.start)
        along = moved @ np.array([c, s]) - (self.low + self.high) / 2
        across = moved @ np.array([-s, c])
        q = np.abs(np.column_stack([along, across])) - np.array([(self.high - self.low) / 2, self.width / 2]) + radius
        outside = np.hypot(*np.maximum(q, 0.0).T)
        return outside + np.minimum(q.max(axis=1), 0.0) - radius

    def outline(self, corner: float = 0.0) -> np.ndarray:
        """The groove's edge as face points, corners rounded by `corner`."""
        radius = self.width / 2 if self.round_ends else corner
        half = self.width / 2 - radius
        points: list[tuple[float, float]] = []
        count = 1 if radius == 0 else max(2, math.ceil(math.pi / 2 / (2 * math.acos(1 - CHORD / radius)))) + 1
        for (x, y), first in zip(
            [
                (self.high - radius, -half),
                (self.high - radius, half),
                (self.low + radius, half),
                (self.low + radius, -half),
            ],
            (-math.pi / 2, 0.0, math.pi / 2, math.pi),
            strict=True,
        ):
            turns = first + np.linspace(0.0, math.pi / 2 if radius else 0.0, count)
            points += [(x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns]
        c, s = math.cos(self.angle), math.sin(self.angle)
        return np.array(points) @ np.array([[c, s], [-s, c]]) + np.array(self.start)

    @property
    def middle(self) -> np.ndarray:
        """A point in the middle of what lies on the board."""
        along = np.array([math.cos(self.angle), math.sin(self.angle)])
        points = np.array(self.start) + np.linspace(self.low, self.high, 40001)[:, None] * along
        on = points[((points >= 0) & (points <= np.array(self.board[:2]))).all(axis=1)]
        middle: np.ndarray = on[len(on) // 2]
        return middle


# ---- G-code


@dataclass(frozen=True)
class Chain:
    """Points (n, 3) that a motion passes, mm, its line, the number of its bit, and the centre of an arc."""

    points: np.ndarray
    line: int
    bit: int
    centre: np.ndarray | None = None


def chains(text: str) -> Iterator[Chain]:
    """The motions of a plain file: G0 to G3 in the xy plane, absolute, inches or mm, modal. Nothing else is known but
    G81 and G83, a chain a hole."""
    here = np.array([math.nan] * 3)
    scale, motion, bit = 1.0, -1, 1
    held: dict[str, float] = {}  # of a run of holes: G98 or G99, what was said of Z, R, Q, and the height before
    for number, line in enumerate(text.splitlines(), 1):
        bare = re.sub(r"\([^)]*\)", "", line).replace(" ", "")
        words = re.findall(r"([A-Z])([-+]?[0-9.]+)", bare)
        assert "".join(letter + value for letter, value in words) == bare, f"line {number}: {line}"
        values = {letter: float(value) for letter, value in words if letter != "G"}
        if values.get("M") == 6:
            bit = int(values["T"])
        elif values.get("M") == 0:  # a pause in which the next bit is put in
            bit += 1
        codes = [float(value) for letter, value in words if letter == "G"]
        for code in codes:
            assert code not in (18, 19, 91, 92, 2.1, 3.1, 28, 30, 53, 82, *range(84, 90)), f"line {number}: {line}"
            if code in (20, 21):
                scale = 25.4 if code == 20 else 1.0
            elif code in (0, 1, 2, 3, 80, 81, 83):
                motion = int(code)
                held = {letter: held[letter] for letter in ("before", "G") if code > 80 and letter in held}
            elif code in (98, 99):
                held["G"] = code
        if not {"X", "Y", "Z"} & values.keys():
            assert not {"I", "J", "K", "R"} & values.keys(), f"line {number}: {line}"
            continue
        if motion in (81, 83):
            assert not {"I", "J", "K", "L", "P"} & values.keys(), f"line {number}: {line}"
            held = {"before": here[2]} | held | {each: values[each] * scale for each in values.keys() & set("ZRQ")}
            over = [values[axis] * scale if axis in values else here[i] for i, axis in enumerate("XY")]
            yield Chain(np.array([here, *([*over, z] for z in _drilled(here[2], held, motion == 83))]), number, bit)
            here = np.array([*over, max(held["before"], held["R"]) if held["G"] == 98 else held["R"]])
            continue
        to = np.array([values[axis] * scale if axis in values else here[i] for i, axis in enumerate("XYZ")])
        if motion in (2, 3):
            centre = here[:2] + np.array([values.get("I", 0.0), values.get("J", 0.0)]) * scale
            yield Chain(_arc(here, to, centre, motion == 3), number, bit, centre)
        else:
            assert motion in (0, 1), f"line {number}: no motion word"
            yield Chain(np.array([here, to]), number, bit)
        here = to


def _drilled(z: float, held: dict[str, float], pecks: bool) -> list[float]:
    """The heights at which the tip turns in a hole (NISTIR 6556, 3.5.16), from z over its place to the last time that
    it is back at R; 0.254 mm above the depth of a peck is where the next begins."""
    bottom, r = held["Z"], held["R"]
    assert z >= r >= bottom
    heights, depth = [z, r], r
    while pecks and depth - held["Q"] > bottom:
        assert held["Q"] > 0
        depth -= held["Q"]
        heights += [depth, r, depth + 0.254]
    return [*heights, bottom, r]


def _arc(start: np.ndarray, end: np.ndarray, centre: np.ndarray, ccw: bool) -> np.ndarray:
    a, b = start[:2] - centre, end[:2] - centre
    radius = math.hypot(*a)
    assert abs(math.hypot(*b) - radius) <= 0.002 + 1e-9  # NISTIR 6556, 3.5.3
    first, last = math.atan2(a[1], a[0]), math.atan2(b[1], b[0])
    sweep = (last - first) % (2 * math.pi) if ccw else -((first - last) % (2 * math.pi))
    if abs(sweep) < 1e-12:
        sweep = 2 * math.pi if ccw else -2 * math.pi
    count = max(1, math.ceil(abs(sweep) / _step(radius + WIDEST)))
    t = np.linspace(0.0, 1.0, count + 1)
    radii = radius + (math.hypot(*b) - radius) * t
    turns = first + sweep * t
    xy = centre + np.column_stack([radii * np.cos(turns), radii * np.sin(turns)])
    xy[0], xy[-1] = start[:2], end[:2]
    return np.column_stack([xy, start[2] + (end[2] - start[2]) * t])


def _below(points: np.ndarray, z: float) -> Iterator[np.ndarray]:
    """The stretches of a chain at or below z, as xy points."""
    run: list[np.ndarray] = []
    for p, q in pairwise(points):
        if p[2] <= z and q[2] <= z:
            run += [q[:2]] if run else [p[:2], q[:2]]
            continue
        if p[2] <= z < q[2] or q[2] <= z < p[2]:
            cross = p[:2] + (q[:2] - p[:2]) * ((z - p[2]) / (q[2] - p[2]))
            if p[2] <= z:
                run += [cross] if run else [p[:2], cross]
            else:
                run = [cross, q[:2]]
                continue
        if run:
            yield np.array(run)
            run = []
    if run:
        yield np.array(run)


@cache
def swept(
    text: str, radius: float, z: float, near: tuple[float, float, float, float] | None = None, bit: int = 1
) -> Shape:
    """What a straight bit of that radius has removed at depth z when a file has run, mm; rapids cut too.

    The union of a disc at each end of each motion's stretch below z, and of the strip between them. near: a box of
    x0, y0, x1, y1; what does not reach into it may be left out. bit: the number of the bit in the file.
    """
    pieces: list[Polygon] = []
    spots: set[tuple[float, float]] = set()
    for chain in chains(text):
        if chain.bit != bit or np.isnan(chain.points).any():
            continue  # another bit; the first moves, before every axis has a place, are at the clear height
        for run in _below(chain.points, z):
            if near and (
                (run.max(axis=0) < np.array(near[:2]) - radius).any()
                or (run.min(axis=0) > np.array(near[2:]) + radius).any()
            ):
                continue
            spots |= {(float(x), float(y)) for x, y in (run[0], run[-1])}
            strip = _strip(run, chain.centre, radius)
            if strip is not None:
                pieces.append(Polygon(strip))
    return shapely.union_all([shapely.make_valid(piece) for piece in [*pieces, *_discs(spots, radius)]])


def _discs(spots: Iterable[tuple[float, float]], radius: float) -> list[Polygon]:
    turns = np.arange(0.0, 2 * math.pi, _step(radius))
    circle = radius * np.column_stack([np.cos(turns), np.sin(turns)])
    return [Polygon(circle + spot) for spot in spots]


def _strip(run: np.ndarray, centre: np.ndarray | None, radius: float) -> np.ndarray | None:
    """What the disc covers between the ends of a stretch: a rectangle, or a sector of a ring."""
    if centre is None:
        along = run[-1] - run[0]
        length = math.hypot(*along)
        if length < 1e-9:
            return None
        side = np.array([-along[1], along[0]]) * (radius / length)
        return np.array([run[0] - side, run[-1] - side, run[-1] + side, run[0] + side])
    arms = run - centre
    lengths = np.hypot(*arms.T)[:, None]
    outer = centre + arms * ((lengths + radius) / lengths)
    inner = centre + arms * (np.maximum(lengths - radius, 0.0) / lengths)
    if math.hypot(*(run[0] - run[-1])) < 1e-9 and len(run) > 2:  # a whole turn: a ring, cut open by a hair
        outer[-1], inner[-1] = outer[0], inner[0]
    return np.vstack([outer, inner[::-1]])


def _step(radius: float) -> float:
    """The turn of a facet that lies within CHORD of a circle, radians."""
    return 2 * math.acos(max(0.5, 1 - CHORD / max(radius, CHORD)))


def lowest(text: str) -> float:
    """The lowest z of a file, mm."""
    return min(float(np.nanmin(chain.points[:, 2])) for chain in chains(text))


# ---- shapes


def grown(shape: Shape, by: float) -> Shape:
    """A shape grown by a distance, or shrunk by a negative one: strips along its edge, facets or discs at vertices."""
    radius = abs(by)
    shape = shapely.union_all([part for part in shapely.get_parts(shape) if part.area > 1e-9])  # mm²; less is noise
    pieces: list[Polygon] = []
    for ring in shapely.get_rings(shapely.get_parts(shape)):
        points = shapely.get_coordinates(shapely.remove_repeated_points(ring, 1e-7))[:-1]
        along = np.roll(points, -1, axis=0) - points
        sides = radius * np.column_stack([-along[:, 1], along[:, 0]]) / np.hypot(*along.T)[:, None]
        before = np.roll(sides, 1, axis=0)
        turns = np.hypot(*(sides - before).T) / radius
        pieces += [Polygon([p - n, p + d - n, p + d + n, p + n]) for p, d, n in zip(points, along, sides, strict=True)]
        pieces += _discs(map(tuple, points[turns > _step(radius)]), radius)
        for p, m, n in zip(points, before, sides, strict=True):
            pieces += [Polygon([p, p + m, p + n]), Polygon([p, p - m, p - n])]
    band = shapely.union_all(pieces)
    result = shape.union(band) if by > 0 else shape.difference(band)
    return shapely.set_precision(result, GRID)  # without hairs that rounding leaves along the edge


def moved(shape: Shape, matrix: Matrix) -> Shape:
    """A shape by a 2×3 matrix."""
    m = np.asarray(matrix, dtype=float)
    return shapely.transform(shape, lambda points: points @ m[:, :2].T + m[:, 2])


def back(shape: Shape, matrix: Matrix) -> Shape:
    """A shape by the inverse of a 2×3 matrix."""
    m = np.asarray(matrix, dtype=float)
    return shapely.transform(shape, lambda points: (points - m[:, 2]) @ np.linalg.inv(m[:, :2]).T)


def part_at(shape: Shape, point: np.ndarray) -> Polygon:
    """The part of a shape that holds a point."""
    (part,) = (each for each in shapely.get_parts(shape) if each.contains(shapely.Point(point)))
    return part


# ---- verdicts


@dataclass(frozen=True)
class Verdict:
    """gouge: how far the cut reaches beyond the drawing, over the board. left: how thick what it leaves is. mm."""

    gouge: float
    left: float


def compare(cut: Shape, wanted: Wanted, corner: float) -> Verdict:
    """A cut against a groove, both in the face frame. corner: radius that the bit leaves in square corners."""
    length, width, _ = wanted.board
    board = shapely.box(0.0, 0.0, length, width)
    edge = shapely.get_coordinates(shapely.segmentize(cut.intersection(board), 1.0))
    gouge = max(0.0, float(wanted.distance(edge).max())) if len(edge) else 0.0
    left = 0.0
    missing = Polygon(wanted.outline(corner)).intersection(board).difference(cut)
    for piece in shapely.get_parts(missing):
        if piece.area > 1e-9:  # mm²; less is noise of the difference
            points = shapely.points(shapely.get_coordinates(shapely.segmentize(piece, 1.0)))
            island = shapely.maximum_inscribed_circle(piece, CHORD).length
            left = max(left, float(shapely.distance(points, cut).max()), island)
    return Verdict(gouge, left)


def worst(verdicts: Sequence[Verdict]) -> Verdict:
    """The worst of both kinds."""
    return Verdict(max(v.gouge for v in verdicts), max(v.left for v in verdicts))


def direct(entry: dict[str, Any], text: str, wanted: Wanted) -> Verdict:
    """A file that cuts a groove in its board, looked at at several depths and just below its floor."""
    radius = entry["bit"]["diameter"] / 2
    verdicts = []
    for z in (-0.01, -wanted.depth / 3, -wanted.depth * 0.7, -wanted.depth + 1e-3):
        verdicts.append(compare(back(swept(text, radius, z), entry["placement"]), wanted, radius))
    assert lowest(text) >= -wanted.depth - 1e-4
    return worst(verdicts)


def mill(entry: dict[str, Any]) -> tuple[int, float]:
    """Number and diameter of the straight bit of a file."""
    bits = entry.get("bits", [entry["bit"]])
    ((number, bit),) = ((n, each) for n, each in enumerate(bits, 1) if each["kind"] == "straight")
    return number, bit["diameter"]


def ridden(entry: dict[str, Any], text: str, wanted: Wanted, placement: Matrix) -> Verdict:
    """A template's milling file: the opening that it leaves in the sheet, the bushing in it, the groove in the wood.

    placement: of the hand that is looked at, face frame → sheet as milled.
    """
    guide, thickness = entry["guide"], entry["stock"][2]
    radius, bushing = guide["bit"]["diameter"] / 2, guide["bushing"]["outside"] / 2
    assert math.isclose(guide["offset"], bushing - radius, abs_tol=1e-6)
    verdicts = []
    drawn = Polygon(wanted.outline()).intersection(shapely.box(0.0, 0.0, *wanted.board[:2]))
    x0, y0, x1, y1 = moved(drawn, placement).bounds
    room = bushing + wanted.width  # open ends of the opening reach past the board
    near = (x0 - room, y0 - room, x1 + room, y1 + room)
    for z in (-thickness / 3, -thickness + 0.02):
        number, diameter = mill(entry)
        milled = swept(text, diameter / 2, z, near, number)
        opening = part_at(back(milled, placement), wanted.middle)
        # Without any play the bushing is given what the accuracy of this calculation takes.
        reach = grown(opening, -bushing)
        if reach.area == 0.0:
            reach = grown(opening, RIDE_ERROR - bushing)
        assert reach.area > 0.0, f"the bushing does not go into the opening at z {z}"
        verdicts.append(compare(grown(reach, radius), wanted, radius))
    return worst(verdicts)


def opening_size(entry: dict[str, Any], text: str, wanted: Wanted) -> tuple[float, float, float]:
    """Width, length and end radius of a milled opening, mm; the radius is fitted to the points of one end."""
    milled = back(swept(text, entry["bit"]["diameter"] / 2, -entry["stock"][2] / 2), entry["placement"])
    c, s = math.cos(wanted.angle), math.sin(wanted.angle)
    edge = np.array(part_at(milled, wanted.middle).exterior.coords)
    local = (edge - np.array(wanted.start)) @ np.array([[c, -s], [s, c]])
    width, length = float(np.ptp(local[:, 1])), float(np.ptp(local[:, 0]))
    end = local[local[:, 0] > local[:, 0].max() - 0.8 * width / 2]
    rows = np.column_stack([2 * end, np.ones(len(end))])
    x, y, rest = np.linalg.lstsq(rows, (end**2).sum(axis=1), rcond=None)[0]
    return width, length, math.sqrt(rest + x * x + y * y)


def judge(folder: Path, job: Path) -> dict[str, Verdict]:
    """The verdict on every milling file of an output folder, by "file, hand"."""
    table = tomllib.loads(job.read_text("utf-8"))
    manifest = json.loads((folder / "manifest.json").read_text("utf-8"))
    verdicts = {}
    for entry in manifest["files"]:
        bits = entry.get("bits", [entry.get("bit", {})])
        if entry["kind"] != "gcode" or "straight" not in [bit["kind"] for bit in bits]:
            continue
        text = (folder / entry["file"]).read_text("ascii")
        for joint, guide in entry.get("guides", {}).items():  # a sheet that several joints share
            its, one = Wanted.of(table, joint), {**entry, "guide": guide}
            verdicts[f"{entry['file']}, {joint}, as drawn"] = ridden(one, text, its, entry["placement"])
            if turned := guide.get("turned_over_for_opposite_hand"):
                verdicts[f"{entry['file']}, {joint}, opposite"] = ridden(one, text, its.opposite(), turned)
        if "guides" in entry:
            continue
        wanted = Wanted.of(table, entry["joint"])
        if entry["setup"] == "template":
            verdicts[f"{entry['file']}, as drawn"] = ridden(entry, text, wanted, entry["placement"])
            turned = entry["guide"].get("turned_over_for_opposite_hand")
            if turned:
                verdicts[f"{entry['file']}, opposite"] = ridden(entry, text, wanted.opposite(), turned)
        else:
            mine = wanted.opposite() if entry["hand"] == "opposite" else wanted
            verdicts[f"{entry['file']}, {entry['hand']}"] = direct(entry, text, mine)
    return verdicts


# ---- undercuts: sockets and tails cut by a dovetail bit


def dovetailed(text: str, bit: dict[str, Any], depth: float, z: float) -> Shape:
    """What a dovetail bit has removed at height z of a file whose cuts all have their tip at −depth, mm.

    bit: of the manifest. Its radius at a height above its tip is D/2 − height · tan(angle) (trigonometry).
    """
    height = z + depth
    radius = bit["diameter"] / 2 - height * math.tan(math.radians(bit["angle_deg"]))
    return swept(text, radius, -depth + 1e-3)


def against(cut: Shape, may: Shape, must: Shape, board: tuple[float, float]) -> Verdict:
    """A cut at one height against what may go and what has to, all in one frame; `board` is a box at its origin."""
    stock = shapely.box(0.0, 0.0, *board)
    edge = shapely.points(shapely.get_coordinates(shapely.segmentize(cut.intersection(stock), 1.0)))
    gouge = max([0.0, *shapely.distance(edge, may)])
    left = 0.0
    for piece in shapely.get_parts(must.intersection(stock).difference(cut)):
        if piece.area > 1e-9:  # mm²; less is noise of the difference
            points = shapely.points(shapely.get_coordinates(shapely.segmentize(piece, 1.0)))
            left = max([left, *shapely.distance(points, cut)])
    return Verdict(float(gouge), float(left))


def lifted_within(text: str, radius: float, stock: tuple[float, float, float, float]) -> list[int]:
    """Lines on which a bit changes its height, below the face, where its rim at its widest is over the stock."""
    x0, y0, x1, y1 = stock
    lines = []
    for chain in chains(text):
        a, b = chain.points[0], chain.points[-1]
        if np.isnan(a).any() or a[2] == b[2] or min(a[2], b[2]) >= 0.0:
            continue
        away = max(x0 - b[0], b[0] - x1, y0 - b[1], b[1] - y1)
        if away < radius:
            lines.append(chain.line)
    return lines
