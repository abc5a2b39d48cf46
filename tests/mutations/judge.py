"""An independent judge of changed files: does the part come out differently, or does the tool move unsafely?

It has its own small reader and uses pyclipper; it shares nothing with the proof, its reader or its geometry. It
compares a changed file with the file it was made from, slice by slice, and looks only at what the change can have
touched: lines before it are read once for all mutants, and so are those after it from where the machine is in the same
state again.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import pyclipper
from mutations.bearing import WORK, Build, chip_of
from mutations.reading import Broken, Change, Move, Point, parse, reparse
from mutations.slices import ARC, Polygons, area, clip, rectangle, ring, sweep, thicker, whole, xor
from mutations.spoken import COMMENT, told_by

HARM = 0.05
"""A difference thicker than this, mm, in a slice thicker than this, changes the part."""
NONE = 0.002
"""A difference thinner than this is none."""
SHARES = (0.0, 0.01, 0.05, 0.2, 0.4, 0.6, 0.8, 0.96, 0.99, 0.998)
"""Places in a slice, from its bottom, at which cuts are compared where motions slope."""
DOUBT = 1.25
"""Loads are estimates: within this factor of the limit either way both answers stand."""
LAYERS = 6
"""Layers in which the volume that a motion removes is counted."""
NEAR = 1.0
"""Rapids across stay this far above the stock, mm."""

Verdict = Literal["harmful", "harmless", "open"]
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Tabs:
    """Bridges that hold a sheet. Below their tops their middles matter, also in waste, and their sloped ends do not."""

    top: float
    middles: tuple[Box, ...]
    ends: tuple[Box, ...] = ()


@dataclass(frozen=True)
class Shop:
    """What the judge knows of stock and tools.

    stock: x0, y0, x1, y1, thickness. radius: of the bit at heights above its tip. plunges: whether it may go straight
    down. light: a frame that takes half the depth. build: of the bit, None for one that does not bend. power: of the
    spindle, W. spoil: how far below the stock it may go. free: rectangles x0, y0, x1, y1 in which
    no cut matters, but for the tabs.
    """

    stock: tuple[float, float, float, float, float]
    radius: Callable[[float], float]
    diameter: float
    flutes: int
    plunges: bool
    travel: tuple[float, float, float]
    max_feed: tuple[float, float, float]
    spindle: tuple[float, float]
    power: float = math.inf
    spoil: float = 0.5
    free: tuple[Box, ...] = ()
    tabs: Tabs | None = None
    light: bool = False
    build: Build | None = None


class Judge:
    """Judges changes to one file, which is safe itself."""

    def __init__(self, text: str, shop: Shop) -> None:
        self.shop = shop
        self.original = parse(text)
        self.comments = Counter(COMMENT.findall(text))
        self.widest = shop.diameter / 2.0
        self.straight = shop.radius(0.0) == shop.radius(5.0)
        self.widens = shop.radius(0.0) <= shop.radius(2.0) <= shop.radius(4.0)
        self.made = Counter(move.key for move in self.original.moves)
        fault = self.unsafe(Change(self.original.moves, 0, 0))
        if fault:
            raise ValueError(fault)

    def verdict(self, text: str) -> tuple[Verdict, str]:
        """What a change does, and why: with block delete the worse of both ways to read it."""
        told, spoken = told_by(text, self.comments)
        if told == "harmful":
            return told, spoken
        lines = text.splitlines()
        if not any(line.startswith("/") for line in lines):
            verdict, why = self._read(text)
        else:
            off = "\n".join(line.removeprefix("/") for line in lines) + "\n"
            on = "\n".join(line for line in lines if not line.startswith("/")) + "\n"
            order = ("harmless", "open", "harmful")
            verdict, why = max((self._read(each) for each in (off, on)), key=lambda each: order.index(each[0]))
        return (verdict, why) if verdict != "harmless" else (told, spoken)

    def _read(self, text: str) -> tuple[Verdict, str]:
        try:
            change = reparse(text, self.original)
        except Broken as why:
            return "harmful", f"broken: {why}"
        unsafe = self.unsafe(change)
        if unsafe:
            return "harmful", unsafe
        strain, what = self._strain(change)
        if strain > DOUBT:
            return "harmful", what
        verdict, why = self._difference(change)
        if verdict == "harmless" and strain > 1.0 / DOUBT:
            return "open", what
        return verdict, why

    # --- the cut ------------------------------------------------------------------------------------------------

    def _tips(self, moves: Iterable[Move]) -> set[float]:
        """Heights at which the cut may change, rounded to 0.1 µm."""
        floor = -self.shop.stock[4]
        ends = [p[2] for m in moves for p in (m.points[0], m.points[-1]) if not math.isnan(p[2])]
        return {round(min(0.0, max(floor, z)), 4) for z in ends}

    def _only(self, change: Change) -> tuple[list[Move], list[Move]]:
        """The motions in the stock that only the original makes, and those that only the changed file makes."""
        old = self.original.moves[change.before : len(self.original.moves) - change.after]
        new = change.moves[change.before : len(change.moves) - change.after]
        made, makes = self.made, Counter(m.key for m in new)
        shared = made - Counter(m.key for m in old) if old else made
        gone = [m for m in old if m.deep and not makes[m.key] and not shared[m.key]]
        return gone, [m for m in new if m.deep and not made[m.key]]

    def _difference(self, change: Change) -> tuple[Verdict, str]:
        """Compares the two cuts where they can differ at all: near the motions that only one of them makes."""
        gone, come = self._only(change)
        changed = gone + come
        if not changed:
            return "harmless", ""
        window, lost = _bounds(changed, self.widest), {m.key for m in gone}
        both = [m for m in self._near(self.original.moves, window) if m.key not in lost]
        worst: Verdict = "harmless"
        for low, high in pairwise(sorted(self._tips(both) | self._tips(changed) | {0.0, -self.shop.stock[4]})):
            sloped = any(m.points[0][2] != m.points[-1][2] and _crosses(m, low, high) for m in changed)
            sloped |= not self.straight
            for share in SHARES if sloped else SHARES[:1]:
                z = low + max(min(1e-4, (high - low) / 2.0), share * (high - low))
                apart = self._apart(gone, come, both, z, window)
                if high - low > HARM and thicker(apart, HARM + 2.0 * ARC):
                    return "harmful", f"the cut differs at z {z:.4f}"
                if high - low > 2e-4 and thicker(apart, NONE + 2.0 * ARC):
                    worst = "open"
        return worst, ""

    def _apart(self, gone: list[Move], come: list[Move], both: list[Move], z: float, window: Box) -> Polygons:
        """What only one of two programs cuts at height z; both: the motions that both make."""
        before, after = self._cut(gone, z, window), self._cut(come, z, window)
        apart = xor(before, after)
        if not thicker(apart, NONE + 2.0 * ARC):
            # What both cut can only take from it.
            return []
        return clip(apart, self._cut(both, z, window), pyclipper.CT_DIFFERENCE)

    def _near(self, moves: Iterable[Move], window: Box) -> list[Move]:
        """The motions that can cut something within a window."""
        x0, y0, x1, y1 = window
        near = []
        for move in moves:
            r, (a0, b0, _), (a1, b1, _) = self.widest, move.least, move.most
            if move.deep and a0 - r <= x1 and a1 + r >= x0 and b0 - r <= y1 and b1 + r >= y0:
                near.append(move)
        return near

    def _cut(self, moves: Iterable[Move], z: float, window: Box) -> Polygons:
        """What is gone from the stock at height z within a window, free ground left out."""
        groups: dict[float, Polygons] = {}
        dots: dict[tuple[int, int], float] = {}
        for move in moves:
            for exact, path in self._runs(move, z):
                radius = round(exact, 4)
                if all(place == path[0] for place in path):
                    # Of discs round the same middle the widest holds the others.
                    dots[path[0]] = max(radius, dots.get(path[0], 0.0))
                else:
                    groups.setdefault(radius, []).append(path)
        swept: Polygons = [ring(middle, radius) for middle, radius in dots.items() if radius > 0.0]
        for radius, paths in groups.items():
            swept += sweep(paths, radius)
        for box in (self.shop.stock[:4], window):
            swept = clip(swept, [rectangle(*box)], pyclipper.CT_INTERSECTION)
        return clip(swept, self._free(z), pyclipper.CT_DIFFERENCE)

    def _free(self, z: float) -> Polygons:
        """Ground in which it does not matter what is cut at height z."""
        free, tabs = [rectangle(*box) for box in self.shop.free], self.shop.tabs
        if tabs is None or z >= tabs.top:
            return free
        ends = [rectangle(*box) for box in tabs.ends]
        return clip(free + ends, [rectangle(*box) for box in tabs.middles], pyclipper.CT_DIFFERENCE)

    def _runs(self, move: Move, z: float) -> Iterable[tuple[float, list[tuple[int, int]]]]:
        """Parts of a motion below z, with the radius at z: for bits with sloped sides in short pieces."""
        points, straight = move.points, self.straight
        if move.known and move.least[2] > z + 1e-9:
            return
        if move.known and move.most[2] <= z and (straight or move.least[2] == move.most[2]):
            yield max(0.0, self.shop.radius(z - move.least[2])), move.path
            return
        run: list[tuple[int, int]] = []
        for p, q in pairwise(points):
            if any(math.isnan(v) for v in (*p, *q)) or min(p[2], q[2]) > z + 1e-9:
                continue
            pieces = 1 if straight or p[2] == q[2] else 40
            for k in range(pieces):
                a, b = _between(p, q, k / pieces), _between(p, q, (k + 1) / pieces)
                if min(a[2], b[2]) > z + 1e-9:
                    continue
                if max(a[2], b[2]) > z and a[2] != b[2]:
                    t = (z - a[2]) / (b[2] - a[2])
                    a, b = (_between(a, b, t), b) if a[2] > z else (a, _between(a, b, t))
                pair = [whole(a), whole(b)]
                if straight and run and run[-1] == pair[0]:
                    run.append(pair[1])
                elif straight:
                    if run:
                        yield self.shop.radius(0.0), run
                    run = pair
                else:
                    yield max(0.0, self.shop.radius(z - (a[2] + b[2]) / 2.0)), pair
        if run:
            yield self.shop.radius(0.0), run

    # --- rules --------------------------------------------------------------------------------------------------

    def unsafe(self, change: Change) -> str:
        """The first rule that is broken, or "": motions before the change break none, as the original does not, and
        those after it only such as depend on what was cut before."""
        moves, shop = change.moves, self.shop
        if not moves:
            return "nothing moves"
        first, last = moves[0], moves[-1].points[-1]
        if not (first.rapid and first.points[-1][2] >= NEAR and all(math.isnan(v) for v in first.points[-1][:2])):
            return "the first move does not lift"
        if last[2] < NEAR - 1e-6:
            return "ends low"
        for axis in range(3):
            least, most = min(m.least[axis] for m in moves), max(m.most[axis] for m in moves)
            if most - least > shop.travel[axis] + 1e-3:
                return "beyond the travel"
            if axis == 2 and least < -shop.stock[4] - shop.spoil - 5e-3:
                return "too deep"
        for move in moves[change.before : len(moves) - change.after]:
            why = self._broken_rule(move)
            if why:
                return f"line {move.line}: {why}"
        return self._in_order(change)

    def _broken_rule(self, move: Move) -> str:
        shop = self.shop
        heights = [p[2] for p in move.points]
        if move.rapid and math.isnan(heights[0]) and not math.isnan(move.points[-1][0]):
            return "crosses over before it lifts"
        unknown = any(math.isnan(move.points[0][k]) and not math.isnan(move.points[-1][k]) for k in (0, 1))
        if move.rapid and unknown and min(heights) < NEAR - 1e-3:
            return "crosses near the stock from an unknown place"
        low = min((h for h in heights if not math.isnan(h)), default=0.0)
        if low < -1e-3 and (move.spindle == "M5" or move.rpm <= 0.0):
            return "spindle off in the stock"
        if (low < -1e-3 or not move.rapid) and move.spindle == "M4":
            return "spindle backwards"
        if not move.rapid and move.spindle == "M3" and move.rpm > 0.0:
            if not shop.spindle[0] * 0.999 <= move.rpm <= shop.spindle[1] * 1.001:
                return "spindle speed"
            if move.feed / (move.rpm * shop.flutes) > 3.0 * chip_of(shop.diameter) and low < 0.0:
                return "chip load"
        if not move.rapid:
            for p, q in pairwise(move.points):
                length = math.dist(p, q)
                if length > 0.0 and any(
                    move.feed * abs(q[k] - p[k]) / length > shop.max_feed[k] * 1.001 for k in range(3)
                ):
                    return "feed over the machine's"
        return ""

    def _in_order(self, change: Change) -> str:
        """Rapids in the stock, and plunges of a bit that cannot."""
        moves, end = change.moves, len(change.moves) - change.after
        gone = self.original.moves[change.before : len(self.original.moves) - change.after]
        x0, y0, x1, y1 = _bounds(gone, 2.0 * self.widest + HARM)
        for index, move in enumerate(moves[change.before :], start=change.before):
            (a0, b0, _), (a1, b1, _) = move.least, move.most
            if index > end and not (a0 <= x1 and a1 >= x0 and b0 <= y1 and b1 >= y0):
                # Nothing that was cut here is no longer.
                continue
            p, q = move.points[0], move.points[-1]
            if any(math.isnan(v) for v in (*p, *q)):
                continue
            low, across = move.least[2], math.hypot(q[0] - p[0], q[1] - p[1])
            if move.rapid:
                if across > 1e-3 and abs(q[2] - p[2]) > 1e-3 and low < NEAR - 1e-3:
                    return f"line {move.line}: a rapid aslant near the stock"
                # A lift from where a cut ended goes back through what the bit has just opened, if it is not undercut.
                lift = across < 1e-9 and q[2] > p[2] and not moves[index - 1].rapid
                if low < -1e-3 and not (lift and self.widens) and self._meets(moves[:index], move, low):
                    return f"line {move.line}: a rapid in wood"
                if across > 1e-3 and -1e-3 <= low < NEAR - 1e-3 and self._skims(moves[:index], move):
                    return f"line {move.line}: a rapid just above the wood"
            else:
                steep = p[2] - q[2] > math.tan(math.radians(10.0)) * max(across, 1e-9)
                if not self.shop.plunges and low < -1e-3 and steep and self._meets(moves[:index], move, low):
                    return f"line {move.line}: a plunge"
        return ""

    def _strain(self, change: Change) -> tuple[float, str]:
        """The greatest load that a motion takes which the change can have touched, as a share of what spindle and bit
        bear, and of which of them."""
        moves, end = change.moves, len(change.moves) - change.after
        gone = self.original.moves[change.before : len(self.original.moves) - change.after]
        x0, y0, x1, y1 = _bounds(gone, 2.0 * self.widest)
        worst, what = 0.0, ""
        for index, move in enumerate(moves[change.before :], start=change.before):
            (a0, b0, low), (a1, b1, _) = move.least, move.most
            near = index < end or (a0 <= x1 and a1 >= x0 and b0 <= y1 and b1 >= y0)
            if not (near and move.known and move.deep and not move.rapid and move.rpm > 0.0):
                continue
            # A slot as wide as the bit is more than any motion removes.
            depth = min(-low, self.shop.stock[4])
            if self._load(2.0 * self.widest * depth, move)[0] <= 1.0 / DOUBT:
                continue
            done = moves[:index]
            # All that the whole motion takes, taken on one stretch as long as the bit is wide.
            length = sum(math.dist(p, q) for p, q in pairwise(move.points))
            most = self._rate(done, move, depth) / move.feed * max(1.0, length / (2.0 * self.widest))
            if self._load(most, move)[0] <= 1.0 / DOUBT:
                continue
            for piece in _pieces(move, 2.0 * self.widest):
                load = self._load(self._rate(done, piece, depth) / move.feed, move)
                worst, what = max((worst, what), load)
                done = [*done, piece]
        return worst, what

    def _load(self, area: float, move: Move) -> tuple[float, str]:
        """What a cut of that area before the bit (mm²) asks for, as a share of what is borne, and of what."""
        shop, feed = self.shop, move.feed
        watts = area * feed / 60.0 * WORK
        deep = area / ((0.5 if shop.light else 1.0) * shop.diameter**2)
        most = min(chip_of(shop.diameter), 0.13 if shop.light else math.inf)
        chip = feed / (move.rpm * shop.flutes)
        loads = [(watts / shop.power, "the power of the spindle"), (deep * chip / most / 1.5, "too much wood at once")]
        loads.append((deep / 3.0, "buried"))
        if shop.build is not None:
            force = watts / (math.pi * shop.diameter / 1000.0 * move.rpm / 60.0)
            loads.append((force * shop.build.gives / 0.2, "the bit bends"))
        return max(loads)

    def _rate(self, earlier: list[Move], move: Move, depth: float) -> float:
        """What a motion removes, mm³/min, over at least the bit's radius of path."""
        window = _bounds([move], self.widest)
        near = self._near([m for m in earlier if not m.rapid], window)
        length = sum(math.dist(p, q) for p, q in pairwise(move.points))
        heights = [-depth * (k + 0.5) / LAYERS for k in range(LAYERS)]
        fresh = (
            clip(self._cut([move], z, window), self._cut(near, z, window), pyclipper.CT_DIFFERENCE) for z in heights
        )
        volume = sum(area(polygons) for polygons in fresh) * depth / LAYERS
        return volume / max(length, self.widest) * move.feed

    def _skims(self, earlier: list[Move], move: Move) -> bool:
        """Whether the cutter, as wide as it is, passes over wood that stands at the face."""
        window = _bounds([move], self.widest)
        done = self._cut(self._near([m for m in earlier if not m.rapid], window), -2e-3, window)
        path = [whole(p) for p in move.points]
        way = clip(sweep([path], self.widest), [rectangle(*self.shop.stock[:4])], pyclipper.CT_INTERSECTION)
        return thicker(clip(way, done, pyclipper.CT_DIFFERENCE), 0.06)

    def _meets(self, earlier: list[Move], move: Move, low: float) -> bool:
        """Whether the disc of a motion, taken as low as it goes, meets wood that stands."""
        window = _bounds([move], self.widest)
        near = self._near([m for m in earlier if not m.rapid], window)
        heights = [low] if self.straight else [low * k / 4.0 for k in (4, 3, 2, 1)]
        for z in heights:
            flat = Move(move.line, False, [(x, y, min(h, z)) for x, y, h in move.points], 1.0, "M3", 1.0)
            way, done = self._cut([flat], z + 1e-4, window), self._cut(near, z + 1e-4, window)
            if thicker(clip(way, done, pyclipper.CT_DIFFERENCE), 0.06):
                return True
        return False


def _crosses(move: Move, low: float, high: float) -> bool:
    """Whether a motion is in a slice somewhere."""
    return min(p[2] for p in move.points) < high and max(p[2] for p in move.points) > low


def _pieces(move: Move, length: float) -> Iterable[Move]:
    """A motion in pieces of about a length."""
    points, way = [move.points[0]], 0.0
    for p, q in pairwise(move.points):
        count = max(1, math.ceil(math.dist(p, q) / length))
        for k in range(count):
            points.append(_between(p, q, (k + 1) / count))
            way += math.dist(points[-2], points[-1])
            if way >= 0.9 * length:
                yield Move(move.line, move.rapid, points, move.feed, move.spindle, move.rpm)
                points, way = points[-1:], 0.0
    if len(points) > 1:
        yield Move(move.line, move.rapid, points, move.feed, move.spindle, move.rpm)


def _bounds(moves: Iterable[Move], margin: float) -> Box:
    """Bounds of the motions whose place is known, and a margin."""
    placed = [m for m in moves if all(math.isfinite(v) for v in (*m.least[:2], *m.most[:2]))]
    if not placed:
        return 0.0, 0.0, 0.0, 0.0
    return (
        min(m.least[0] for m in placed) - margin,
        min(m.least[1] for m in placed) - margin,
        max(m.most[0] for m in placed) + margin,
        max(m.most[1] for m in placed) + margin,
    )


def _between(p: Point, q: Point, t: float) -> Point:
    return p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t, p[2] + (q[2] - p[2]) * t
