"""The judge's own reader: a text as motions, and a changed text read only where it can differ from the original."""

from __future__ import annotations

import math
import re
from copy import copy
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

from mutations.slices import ARC, whole

Point = tuple[float, float, float]
Key = tuple[Point, ...]


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
        return [whole(p) for p in self.points]

    @property
    def deep(self) -> bool:
        """Whether it is in the stock somewhere; while its height is not known it is not."""
        return self.points[0][2] < 0.0 or self.points[-1][2] < 0.0


BURNS = 1.25
"""Seconds that a bit may turn in one place in the wood, with some room for an estimate (common practice, no source)."""


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
    stood: float = 0.0
    length: float = 0.0


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
    if raw == "%" and number > 1:
        if state.spindle != "M5":
            raise Broken(f"line {number}: the file ends and the spindle turns on")
        return True
    words = _words(raw)
    if words is None:
        raise Broken(f"line {number}: {raw}")
    codes, values = list(words[0]), dict(words[1])
    if len(values) != len(words[1]) or not set(values) <= set("XYZIJFSTNPH"):
        raise Broken(f"line {number}: words")
    if not codes and not values:
        return False
    if "G4" in codes or "P" in values:
        if codes != ["G4"] or set(values) != {"P"} or values["P"] < 0.0:
            raise Broken(f"line {number}: dwell")
        state.stood += values["P"] if state.spindle != "M5" and state.at[2] < -1e-3 else 0.0
        if state.stood > BURNS:
            raise Broken(f"line {number}: the bit burns the wood")
        return False
    if "T" in values or "M6" in codes or "M60" in codes:
        raise Broken(f"line {number}: another bit, or another piece of wood")
    if codes in (["M0"], ["M1"]) and not values:
        if state.spindle != "M5" or state.at[2] < -1e-3:
            raise Broken(f"line {number}: a person at a bit that turns, or stands in the wood")
        return False
    if "H" in values and "G43" not in codes:
        raise Broken(f"line {number}: H without G43")
    _modes(state, codes, values, number)
    if any(letter in values for letter in "XYZ"):
        state.stood = 0.0
        moves.append(_move(state, values, number))
    elif any(letter in values for letter in "IJ"):
        raise Broken(f"line {number}: centre without an end")
    return "M2" in codes or "M30" in codes


def _modes(state: _State, codes: list[str], values: dict[str, float], number: int) -> None:
    motions = [code for code in codes if code in ("G0", "G1", "G2", "G3")]
    known = {
        "G17",
        "G20",
        "G21",
        "G40",
        "G43",
        "G49",
        "G54",
        "G80",
        "G90",
        "G91",
        "G94",
        "G61",
        "M2",
        "M30",
        "M3",
        "M4",
        "M5",
    }
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
        elif code in ("G43", "G49"):
            state.length = values.get("H", math.nan) if code == "G43" else 0.0
        elif code == "G80":
            state.motion = ""
    state.motion = motions[0] if motions else state.motion


def _move(state: _State, values: dict[str, float], number: int) -> Move:
    if not state.unit or not state.exact:
        raise Broken("units or path mode not stated")
    if not state.motion:
        raise Broken(f"line {number}: no motion in force")
    if state.length != 0.0:
        raise Broken(f"line {number}: a length offset for a bit that is set to zero by hand")
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
