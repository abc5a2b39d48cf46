"""Marks: letters of single strokes, lines and dots, cut shallow along their middle.

Letters are cut along smooth curves, without a stop at each of the font's points, and the strokes of a word in one run,
between which the bit is lifted just clear of the sheet.

The letters are those of A. V. Hershey, drawn for the U.S. National Bureau of Standards and free to use, in a table of
their strokes (`letters.txt`) that was made from the package Hershey-Fonts (MIT). A vee bit cuts strokes as wide as
twice the depth times the tangent of its flank; a straight one cuts them as wide as itself.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from importlib import resources

import numpy as np
import numpy.typing as npt

from jigcam.geometry import Path
from jigcam.kit import Bit
from jigcam.toolpath.curve import smooth
from jigcam.toolpath.entry import zigzag
from jigcam.toolpath.program import Move
from jigcam.toolpath.track import AIR_GAP, Cutter, Run, Track, rounded

CAP_HEIGHT = 21.0
"""Units of the font from the base line to the top of a capital letter."""
BASE_LINE = 9.0
"""y of the base line in the font, whose y points down."""
DEPTH = 0.4
"""mm; deep enough to feel and to fill, shallow enough for any sheet (common practice, no source)."""
MEET = 1e-6
"""mm; strokes whose ends are nearer than this meet."""
LIFT = 0.5
"""mm above the sheet, at which the bit goes from stroke to stroke of a word, at feed (common practice, no source)."""
SPACE = 13.0
"""Units of the font; a gap as wide parts two words: letters stand 8 to 12 apart, and words 24."""
LetterStroke = npt.NDArray[np.float64]


def letters(
    string: str, x: float, y: float, height: float, angle: float = 0.0, room: float = math.inf
) -> list[LetterStroke]:
    """The strokes of a text, each (n, 2), mm.

    (x, y): left end of the base line. height: of a capital, mm. angle: of the base line, rad. room: along the base
    line, mm; a longer text is drawn narrower. Characters that the font does not have become a space.
    """
    return [stroke for word in words(string, x, y, height, angle, room) for stroke in word]


def words(
    string: str, x: float, y: float, height: float, angle: float = 0.0, room: float = math.inf
) -> list[list[LetterStroke]]:
    """The strokes of each word of a text; see `letters`."""
    plain = "".join(c if " " <= c <= "~" else " " for c in string)
    parts = _unit_words(plain)
    strokes = [stroke for part in parts for stroke in part]
    scale, cos, sin = height / CAP_HEIGHT, math.cos(angle), math.sin(angle)
    length = scale * max((float(stroke[:, 0].max()) for stroke in strokes), default=0.0)
    narrow = min(1.0, room / length) if length else 1.0
    turn = scale * np.array([[narrow * cos, narrow * sin], [-sin, cos]])
    return [joined([stroke @ turn + (x, y) for stroke in part]) for part in parts]


def written_width(string: str, height: float, room: float = math.inf) -> float:
    """How wide a text runs as it is cut, mm; see `letters`."""
    return max((float(stroke[:, 0].max()) for stroke in letters(string, 0.0, 0.0, height, room=room)), default=0.0)


@lru_cache(maxsize=256)
def _unit_strokes(string: str) -> tuple[LetterStroke, ...]:
    """In units of the font, base line at 0, y up, from the left edge of the first letter."""
    strokes, at = [], 0.0
    for width, letter in map(glyph, string):
        strokes += [stroke + np.array((at, 0.0)) for stroke in letter]
        at += width
    if not strokes:
        return ()
    left = min(float(stroke[:, 0].min()) for stroke in strokes)
    return tuple(np.column_stack([stroke[:, 0] - left, BASE_LINE - stroke[:, 1]]) for stroke in strokes)


@lru_cache(maxsize=128)
def glyph(character: str) -> tuple[float, tuple[LetterStroke, ...]]:
    """Width and strokes, each (n, 2), of a printable character of ASCII in units of the font, y down."""
    width, _, strokes = _table()[character].partition(" ")
    points = [[pair.split(",") for pair in stroke.split()] for stroke in strokes.split(";") if stroke]
    return float(width), tuple(np.array(stroke, dtype=float) for stroke in points)


@lru_cache(maxsize=256)
def _unit_words(string: str) -> tuple[tuple[LetterStroke, ...], ...]:
    """The strokes of each word, in units of the font."""
    parts: list[list[LetterStroke]] = []
    right = -math.inf
    # From left to right, so that a crossbar bridges the uprights that it joins.
    for stroke in sorted(_unit_strokes(string), key=lambda each: float(each[:, 0].min())):
        if not parts or float(stroke[:, 0].min()) - right > SPACE:
            parts.append([])
        parts[-1].append(stroke)
        right = max(right, float(stroke[:, 0].max()))
    return tuple(map(tuple, parts))


@lru_cache(maxsize=1)
def _table() -> dict[str, str]:
    """The line of each character in `letters.txt`, below its head and a blank line, without the character."""
    text = resources.files("jigcam.toolpath").joinpath("letters.txt").read_text("ascii")
    return {line[0]: line[2:] for line in text.partition("\n\n")[2].splitlines()}


def joined(strokes: Sequence[LetterStroke]) -> list[LetterStroke]:
    """The strokes with those that meet at an end made one, turned round where that helps: fewer lifts of the bit."""
    left = list(strokes)
    ends = np.array([(stroke[0], stroke[-1]) for stroke in left]).reshape(-1, 2, 2)
    free = np.ones(len(left), dtype=bool)
    out = []
    for number, first in enumerate(left):
        if not free[number]:
            continue
        free[number], chain = False, first
        while len(found := np.argwhere((np.abs(ends - chain[-1]).max(axis=2) < MEET) & free[:, None])):
            other, end = found[0]
            free[other] = False
            chain = np.vstack([chain, left[other][:: -1 if end else 1][1:]])
        out.append(chain)
    return out


def stroke_width(bit: Bit, depth: float = DEPTH) -> float:
    """Width of the stroke that a bit cuts at that depth, mm."""
    return 2.0 * float(bit.radius_at(depth))


def stroke_run(points: npt.ArrayLike, cutter: Cutter, depth: float = DEPTH) -> Run:
    """One stroke through the points (n, 2), to z = −depth: straight in if the bit may, else ramped to and fro.

    It may as well be cut from its other end.
    """
    return line_run(smooth(points), cutter, depth)


def line_run(line: Path, cutter: Cutter, depth: float = DEPTH) -> Run:
    """The same along a line that is smooth already."""
    there, back = _stroke(line, cutter, depth), _stroke(line.reversed(), cutter, depth)
    return replace(there, back=replace(back, back=there))


def word_run(lines: Sequence[Path], cutter: Cutter, depth: float = DEPTH) -> Run:
    """The lines of a word in one run, each next the nearest to where the last ends, from the first letter on or back.

    A word is short: the best order of all saves too little to be worth looking for.
    """
    left = [line_run(line, cutter, depth) for line in lines]
    if len(left) == 1:
        return left[0]
    runs = [left.pop(0)]
    while left:
        at = runs[-1].end
        both = [(k, run) for k, each in enumerate(left) for run in (each, each.back or each)]
        nearest, run = min(both, key=lambda one: math.dist(at, one[1].start))
        runs.append(run)
        left.pop(nearest)
    return replace(_chained(runs, cutter), back=_chained([each.back or each for each in reversed(runs)], cutter))


def _chained(runs: Sequence[Run], cutter: Cutter) -> Run:
    """The runs one after the other, with low lifts between them, as the sheet is flat over a word."""
    moves = list(runs[0].moves[:-1])
    across, up = min(cutter.machine.max_feed[:2]), cutter.machine.max_feed[2]
    for run in runs[1:]:
        x, y, _ = moves[-1].point
        moves += [Move("line", x, y, LIFT, rounded(up)), Move("line", *run.start, LIFT, rounded(across))]
        moves += run.moves[2:-1]  # it is where the way down at the approach height begins
    return Run((*moves, runs[-1].moves[-1]))


def _stroke(line: Path, cutter: Cutter, depth: float) -> Run:
    """Along a line from its start."""
    track = Track(cutter, *line.start)
    track.sink(AIR_GAP)
    if cutter.bit.plunges:
        track.line(*line.start, -depth, cutter.feeds.plunge)
    else:
        zigzag(track, line, -depth)
    track.follow(line, cutter.feeds.feed)
    return track.finished()


def dot_run(x: float, y: float, cutter: Cutter, depth: float = 2.0 * DEPTH) -> Run:
    """A dimple to start a drill in; a short stroke where the bit may not plunge."""
    if not cutter.bit.plunges:
        return stroke_run([(x - 0.5, y), (x + 0.5, y)], cutter, depth)
    track = Track(cutter, x, y)
    track.sink(AIR_GAP)
    track.line(x, y, -depth, cutter.feeds.plunge)
    return track.finished()
