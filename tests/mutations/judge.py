"""An independent judge of changed files: does the part come out differently, or does the tool move unsafely?

It has its own small reader and uses pyclipper; it shares nothing with the proof, its reader or its geometry. It
compares a changed file with the file it was made from, slice by slice, and looks only at what the change can have
touched: lines before it are read once for all mutants, and so are those after it from where the machine is in the same
state again.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Iterable
from copy import copy
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import Literal

import pyclipper

SCALE = 1_000_000
"""Clipper counts in nanometres: with coarser numbers its offsets of curved paths grow spikes."""
ARC = 0.0005
"""Gap between arcs and chords, mm."""
HARM = 0.05
"""A difference thicker than this, mm, in a slice thicker than this, changes the part."""
NONE = 0.002
"""A difference thinner than this is none."""
SHARES = (0.0, 0.2, 0.4, 0.6, 0.8, 0.96, 0.99, 0.998)
"""Places in a slice, from its bottom, at which cuts are compared where motions slope."""
NEAR = 1.0
"""Rapids across stay this far above the stock, mm."""

Verdict = Literal["harmful", "harmless", "open"]
Point = tuple[float, float, float]
Key = tuple[Point, ...]
Polygons = list[list[tuple[int, int]]]
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
    down. spoil: how far below the stock it may go. free: rectangles x0, y0, x1, y1 in which no cut matters, but
    for the tabs.
    """

    stock: tuple[float, float, float, float, float]
    radius: Callable[[float], float]
    diameter: float
    flutes: int
    plunges: bool
    travel: tuple[float, float, float]
    max_feed: tuple[float, float, float]
    spindle: tuple[float, float]
    spoil: float = 0.5
    free: tuple[Box, ...] = ()
    tabs: Tabs | None = None


@dataclass
class Move:
    """One motion as points (arcs in chords), with the state of the machine."""

    line: int
    rapid: bool
    points: list[Point]
    feed: float
    spindle: str
    rpm: float

    @cached_property
    def key(self) -> Key:
        """What it cuts, to 0.1 µm."""
        return tuple((round(x, 4), round(y, 4), round(z, 4)) for x, y, z in self.points)

    @cached_property
    def known(self) -> bool:
        """Whether the place of all its points is known."""
        return not any(math.isnan(v) for p in self.points for v in p)

    @cached_property
    def least(self) -> Point:
        """Least of each coordinate that is known, infinity if none is."""
        x, y, z = (min((p[k] for p in self.points if not math.isnan(p[k])), default=math.inf) for k in range(3))
        return x, y, z

    @cached_property
    def most(self) -> Point:
        """Greatest of each coordinate that is known, −infinity if none is."""
        x, y, z = (max((p[k] for p in self.points if not math.isnan(p[k])), default=-math.inf) for k in range(3))
        return x, y, z

    @cached_property
    def path(self) -> list[tuple[int, int]]:
        """Seen from above, for clipper."""
        return [_whole(p) for p in self.points]

    @property
    def deep(self) -> bool:
        """Whether it is in the stock somewhere; while its height is not known it is not."""
        return self.points[0][2] < 0.0 or self.points[-1][2] < 0.0


class Broken(Exception):
    """A text that a machine would refuse, or that nobody can vouch for."""


@dataclass
class _State:
    at: Point = (math.nan, math.nan, math.nan)
    motion: str = "G0"
    unit: float = 0.0
    absolute: bool = True
    feed: float = 0.0
    rpm: float = 0.0
    spindle: str = "M5"
    exact: str = ""


@dataclass
class Program:
    """The motions of a text; before each of its lines up to the end the state, and how many motions came before."""

    lines: list[str]
    moves: list[Move] = field(default_factory=list)
    states: list[_State] = field(default_factory=list)
    counts: list[int] = field(default_factory=list)


def parse(text: str) -> Program:
    """Reads a text. Raises Broken."""
    program, state = Program(text.splitlines()), _State()
    for number, raw in enumerate(program.lines, start=1):
        program.states.append(copy(state))
        program.counts.append(len(program.moves))
        if _line(state, raw, number, program.moves):
            return program
    raise Broken("no end")


@dataclass
class Change:
    """A changed program: its first `before` and last `after` motions are those of the original, with their numbers of
    lines there."""

    moves: list[Move]
    before: int
    after: int


def reparse(text: str, original: Program) -> Change:
    """Reads a changed text: the same as reading it whole, but only from the first line that differs, and to where the
    rest of the lines is the same and the machine in the same state. Raises Broken."""
    lines, old = text.splitlines(), original.lines
    start = _alike(lines, old)
    if start >= len(original.states):
        return Change(original.moves, len(original.moves), 0)
    same = _alike(lines[::-1], old[::-1])
    moves, state = original.moves[: original.counts[start]], copy(original.states[start])
    before, shift = len(moves), len(lines) - len(old)
    for index in range(start, len(lines)):
        then = index - shift
        if len(lines) - same <= index and start <= then < len(original.states) and state == original.states[then]:
            rest = original.moves[original.counts[then] :]
            return Change(moves + rest, before, len(rest))
        if _line(state, lines[index], index + 1, moves):
            return Change(moves, before, 0)
    raise Broken("no end")


def _alike(some: list[str], others: list[str]) -> int:
    """How many lines are the same from the start."""
    pairs = zip(some, others, strict=False)
    return next((k for k, (a, b) in enumerate(pairs) if a != b), min(len(some), len(others)))


@lru_cache(maxsize=100_000)
def _words(raw: str) -> tuple[tuple[str, ...], tuple[tuple[str, float], ...]] | None:
    """Codes and other words of a line, None if it is not understood."""
    line = re.sub(r"\([^()]*\)", "", raw).replace(" ", "")
    words = [] if line == "%" else re.findall(r"([A-Z])([-+]?(?:\d+\.?\d*|\.\d+))", line)
    if line != "%" and "".join(letter + value for letter, value in words) != line:
        return None
    codes = tuple(f"{letter}{float(value):g}" for letter, value in words if letter in "GM")
    return codes, tuple((letter, float(value)) for letter, value in words if letter not in "GM")


def _line(state: _State, raw: str, number: int, moves: list[Move]) -> bool:
    """Takes one line; whether it ends the program."""
    words = _words(raw)
    if words is None:
        raise Broken(f"line {number}: {raw}")
    codes, values = list(words[0]), dict(words[1])
    if len(values) != len(words[1]) or not set(values) <= set("XYZIJFSTNP"):
        raise Broken(f"line {number}: words")
    if not codes and not values:
        return False
    if "G4" in codes or "P" in values:
        if codes != ["G4"] or set(values) != {"P"} or values["P"] < 0.0:
            raise Broken(f"line {number}: dwell")
        return False
    _modes(state, codes, values, number)
    if any(letter in values for letter in "XYZ"):
        moves.append(_move(state, values, number))
    elif any(letter in values for letter in "IJ"):
        raise Broken(f"line {number}: centre without an end")
    return "M2" in codes or "M30" in codes


def _modes(state: _State, codes: list[str], values: dict[str, float], number: int) -> None:
    motions = [code for code in codes if code in ("G0", "G1", "G2", "G3")]
    known = {"G17", "G20", "G21", "G40", "G49", "G54", "G80", "G90", "G91", "G94", "G61", "M2", "M30", "M3", "M4", "M5"}
    if len(motions) > 1 or not set(codes) <= known | set(motions) or {"G90", "G91"} <= set(codes):
        raise Broken(f"line {number}: codes")
    if {"G20", "G21"} <= set(codes) or sum(code in ("M3", "M4", "M5") for code in codes) > 1:
        raise Broken(f"line {number}: codes")
    if values.get("F", 0.0) < 0.0 or values.get("S", 0.0) < 0.0:
        raise Broken(f"line {number}: negative")
    if "F" in values:
        # The feed is taken before a change of units on the same line.
        state.feed = values["F"] * (state.unit or 1.0)
    state.rpm = values.get("S", state.rpm)
    for code in codes:
        if code in ("M3", "M4", "M5"):
            state.spindle = code
        elif code in ("G20", "G21"):
            state.unit = 25.4 if code == "G20" else 1.0
        elif code in ("G90", "G91"):
            state.absolute = code == "G90"
        elif code == "G61":
            state.exact = code
        elif code == "G80":
            state.motion = ""
    state.motion = motions[0] if motions else state.motion


def _move(state: _State, values: dict[str, float], number: int) -> Move:
    if not state.unit or not state.exact:
        raise Broken("units or path mode not stated")
    if not state.motion:
        raise Broken(f"line {number}: no motion in force")
    start, end = state.at, list(state.at)
    for axis, letter in enumerate("XYZ"):
        if letter in values:
            value = values[letter] * state.unit
            end[axis] = value if state.absolute else start[axis] + value
    state.at = (end[0], end[1], end[2])
    rapid = state.motion == "G0"
    if state.motion in ("G2", "G3"):
        i, j = (values.get(letter, 0.0) * state.unit for letter in "IJ")
        points = _arc(start, state.at, i, j, state, number)
        if not ("I" in values or "J" in values) or not ("X" in values or "Y" in values):
            raise Broken(f"line {number}: arc")
    else:
        if "I" in values or "J" in values:
            raise Broken(f"line {number}: centre without arc")
        points = [start, state.at]
    if not rapid and not state.feed > 0.0:
        raise Broken(f"line {number}: no feed")
    if not rapid and any(math.isnan(v) for p in points for v in p):
        raise Broken(f"line {number}: place unknown")
    return Move(number, rapid, points, 0.0 if rapid else state.feed, state.spindle, state.rpm)


def _arc(start: Point, end: Point, i: float, j: float, state: _State, number: int) -> list[Point]:
    cx, cy = start[0] + i, start[1] + j
    r0, r1 = math.hypot(i, j), math.hypot(end[0] - cx, end[1] - cy)
    limit = 0.002 if state.unit == 1.0 else 0.0002 * 25.4
    if not r0 > 0.0 or not abs(r0 - r1) <= limit:
        raise Broken(f"line {number}: arc radii {r0:.4f} and {r1:.4f}")
    a0, a1 = math.atan2(start[1] - cy, start[0] - cx), math.atan2(end[1] - cy, end[0] - cx)
    sweep = (a1 - a0) % (2.0 * math.pi) if state.motion == "G3" else -((a0 - a1) % (2.0 * math.pi))
    if math.hypot(end[0] - start[0], end[1] - start[1]) < 1e-9:
        sweep = 2.0 * math.pi if state.motion == "G3" else -2.0 * math.pi
    count = max(2, math.ceil(abs(sweep) / (2.0 * math.acos(max(0.0, 1.0 - ARC / max(r0, ARC))))))
    points = []
    for k in range(count + 1):
        t = k / count
        r, a = r0 + (r1 - r0) * t, a0 + sweep * t
        points.append((cx + r * math.cos(a), cy + r * math.sin(a), start[2] + (end[2] - start[2]) * t))
    return points


class Judge:
    """Judges changes to one file, which is safe itself."""

    def __init__(self, text: str, shop: Shop) -> None:
        self.shop = shop
        self.original = parse(text)
        self.widest = shop.diameter / 2.0
        self.straight = shop.radius(0.0) == shop.radius(5.0)
        self.widens = shop.radius(0.0) <= shop.radius(2.0) <= shop.radius(4.0)
        self.made = Counter(move.key for move in self.original.moves)
        fault = self.unsafe(Change(self.original.moves, 0, 0))
        if fault:
            raise ValueError(fault)

    def verdict(self, text: str) -> tuple[Verdict, str]:
        """What a change does, and why."""
        try:
            change = reparse(text, self.original)
        except Broken as why:
            return "harmful", f"broken: {why}"
        unsafe = self.unsafe(change)
        if unsafe:
            return "harmful", unsafe
        return self._difference(change)

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
                if high - low > HARM and _thicker(apart, HARM + 2.0 * ARC):
                    return "harmful", f"the cut differs at z {z:.4f}"
                if high - low > 2e-4 and _thicker(apart, NONE + 2.0 * ARC):
                    worst = "open"
        return worst, ""

    def _apart(self, gone: list[Move], come: list[Move], both: list[Move], z: float, window: Box) -> Polygons:
        """What only one of two programs cuts at height z; both: the motions that both make."""
        before, after = self._cut(gone, z, window), self._cut(come, z, window)
        apart = _xor(before, after)
        if not _thicker(apart, NONE + 2.0 * ARC):
            # What both cut can only take from it.
            return []
        return _clip(apart, self._cut(both, z, window), pyclipper.CT_DIFFERENCE)

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
        swept: Polygons = [_ring(middle, radius) for middle, radius in dots.items() if radius > 0.0]
        for radius, paths in groups.items():
            swept += _sweep(paths, radius)
        for box in (self.shop.stock[:4], window):
            swept = _clip(swept, [_box(*box)], pyclipper.CT_INTERSECTION)
        return _clip(swept, self._free(z), pyclipper.CT_DIFFERENCE)

    def _free(self, z: float) -> Polygons:
        """Ground in which it does not matter what is cut at height z."""
        free, tabs = [_box(*box) for box in self.shop.free], self.shop.tabs
        if tabs is None or z >= tabs.top:
            return free
        ends = [_box(*box) for box in tabs.ends]
        return _clip(free + ends, [_box(*box) for box in tabs.middles], pyclipper.CT_DIFFERENCE)

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
                if max(a[2], b[2]) > z:
                    t = (z - a[2]) / (b[2] - a[2])
                    a, b = (_between(a, b, t), b) if a[2] > z else (a, _between(a, b, t))
                pair = [_whole(a), _whole(b)]
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
            if move.feed / (move.rpm * shop.flutes) > 3.0 * _chip(shop.diameter) and low < 0.0:
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

    def _skims(self, earlier: list[Move], move: Move) -> bool:
        """Whether the cutter, as wide as it is, passes over wood that stands at the face."""
        window = _bounds([move], self.widest)
        done = self._cut(self._near([m for m in earlier if not m.rapid], window), -2e-3, window)
        path = [_whole(p) for p in move.points]
        way = _clip(_sweep([path], self.widest), [_box(*self.shop.stock[:4])], pyclipper.CT_INTERSECTION)
        return _thicker(_clip(way, done, pyclipper.CT_DIFFERENCE), 0.06)

    def _meets(self, earlier: list[Move], move: Move, low: float) -> bool:
        """Whether the disc of a motion, taken as low as it goes, meets wood that stands."""
        window = _bounds([move], self.widest)
        near = self._near([m for m in earlier if not m.rapid], window)
        heights = [low] if self.straight else [low * k / 4.0 for k in (4, 3, 2, 1)]
        for z in heights:
            flat = Move(move.line, False, [(x, y, min(h, z)) for x, y, h in move.points], 1.0, "M3", 1.0)
            way, done = self._cut([flat], z + 1e-4, window), self._cut(near, z + 1e-4, window)
            if _thicker(_clip(way, done, pyclipper.CT_DIFFERENCE), 0.06):
                return True
        return False


def _crosses(move: Move, low: float, high: float) -> bool:
    """Whether a motion is in a slice somewhere."""
    return min(p[2] for p in move.points) < high and max(p[2] for p in move.points) > low


def _bounds(moves: Iterable[Move], margin: float) -> Box:
    """Bounds of the motions whose place is known, and a margin."""
    placed = [m for m in moves if all(math.isfinite(v) for v in (*m.least[:2], *m.most[:2]))]
    if not placed:
        return 0.0, 0.0, 0.0, 0.0
    return (
        min(m.least[0] for m in placed) - margin, min(m.least[1] for m in placed) - margin,
        max(m.most[0] for m in placed) + margin, max(m.most[1] for m in placed) + margin,
    )  # fmt: skip


def _chip(diameter: float) -> float:
    """Greatest usual chip load in MDF by diameter, mm (common practice, no source)."""
    table = ((3.2, 0.18), (6.35, 0.41), (9.5, 0.58), (12.7, 0.69))
    if diameter <= table[0][0]:
        return table[0][1]
    for (d0, c0), (d1, c1) in pairwise(table):
        if diameter <= d1:
            return c0 + (c1 - c0) * (diameter - d0) / (d1 - d0)
    return table[-1][1]


def _between(p: Point, q: Point, t: float) -> Point:
    return p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t, p[2] + (q[2] - p[2]) * t


def _whole(p: Point) -> tuple[int, int]:
    return round(p[0] * SCALE), round(p[1] * SCALE)


def _box(x0: float, y0: float, x1: float, y1: float) -> list[tuple[int, int]]:
    return [_whole((x, y, 0.0)) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]


def _sweep(paths: Polygons, radius: float) -> Polygons:
    """All within `radius` of paths that move."""
    if radius <= 0.0:
        return []
    offset = pyclipper.PyclipperOffset(2.0, ARC * SCALE)
    for path in {tuple(path): path for path in paths}.values():
        offset.AddPath([path[0]] + [b for a, b in pairwise(path) if a != b], pyclipper.JT_ROUND, pyclipper.ET_OPENROUND)
    return offset.Execute(radius * SCALE)


def _ring(middle: tuple[int, int], radius: float) -> list[tuple[int, int]]:
    x, y = middle
    return [(x + dx, y + dy) for dx, dy in _circle(radius)]


@lru_cache(maxsize=10_000)
def _circle(radius: float) -> list[tuple[int, int]]:
    count = 4 * math.ceil(math.pi / 4.0 / math.acos(1.0 - min(0.5, ARC / radius)))
    turns = [2.0 * math.pi * k / count for k in range(count)]
    return [(round(radius * SCALE * math.cos(a)), round(radius * SCALE * math.sin(a))) for a in turns]


def _clip(subject: Polygons, clip: Polygons, how: int) -> Polygons:
    if not subject:
        return []
    clipper = pyclipper.Pyclipper()
    clipper.AddPaths(subject, pyclipper.PT_SUBJECT, True)
    if clip:
        clipper.AddPaths(clip, pyclipper.PT_CLIP, True)
    elif how == pyclipper.CT_INTERSECTION:
        return []
    return clipper.Execute(how, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)


def _xor(a: Polygons, b: Polygons) -> Polygons:
    return _clip(a, b, pyclipper.CT_DIFFERENCE) + _clip(b, a, pyclipper.CT_DIFFERENCE)


def _thicker(polygons: Polygons, size: float) -> bool:
    """Whether a disc of diameter `size` fits somewhere."""
    if not polygons:
        return False
    offset = pyclipper.PyclipperOffset(2.0, ARC * SCALE)
    offset.AddPaths(polygons, pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
    return bool(offset.Execute(-size / 2.0 * SCALE))
