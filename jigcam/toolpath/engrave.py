"""Marks: letters of single strokes, lines and dots, cut shallow along their middle.

Letters are cut along smooth curves, without a stop at each of the font's points, and a line of text in one run. Most
letters are written without a lift (`pen`); between them the bit is lifted just clear of the sheet.

The letters are those of A. V. Hershey, drawn for the U.S. National Bureau of Standards and free to use, in a table of
their strokes (`letters.txt`) that was made from the package Hershey-Fonts (MIT). A vee bit cuts strokes as wide as
twice the depth times the tangent of its flank; a straight one cuts them as wide as itself.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from importlib import resources
from itertools import pairwise, permutations, product

import numpy as np
import numpy.typing as npt

from jigcam.geometry import Path
from jigcam.kit import Bit
from jigcam.toolpath import pen
from jigcam.toolpath.curve import Row, smooth, smooth_chords
from jigcam.toolpath.entry import zigzag
from jigcam.toolpath.pen import Leg, Way
from jigcam.toolpath.program import Move
from jigcam.toolpath.track import AIR_GAP, Cutter, Run, Track, rounded

CAP_HEIGHT = 21.0
"""Units of the font from the base line to the top of a capital letter."""
BASE_LINE = 9.0
"""y of the base line in the font, whose y points down."""
DEPTH = 0.4
"""mm; deep enough to feel and to fill, shallow enough for any sheet (common practice, no source)."""
LIFT = 0.5
"""mm above the sheet, at which the bit goes from letter to letter of a text, at feed (common practice, no source): over
a sheet that is thicker by 0.2 mm, as fibreboard may be (EN 622-1, from memory), and bows by 0.3 mm besides."""
FEW = 3
"""Pens of one letter that are taken in every order; the letters of marks have two at the most."""
LetterStroke = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter to engrave, mm. drawn: its strokes; pens: the same as they are cut, with few lifts, some parts twice."""

    drawn: tuple[Path, ...]
    pens: tuple[Path, ...]


def letters(
    string: str, x: float, y: float, height: float, angle: float = 0.0, room: float = math.inf
) -> list[LetterStroke]:
    """The strokes of a text, each (n, 2), mm.

    (x, y): left end of the base line. height: of a capital, mm. angle: of the base line, rad. room: along the base
    line, mm; a longer text is drawn narrower. Characters that the font does not have become a space.
    """
    placed = _placed(string, x, y, height, angle, room)
    return [stroke @ turn + at for character, at, turn in placed for stroke in _written(character)[0]]


def written(string: str, x: float, y: float, height: float, angle: float = 0.0, room: float = math.inf) -> list[Letter]:
    """The letters of a text, from its first on; see `letters`."""
    out = []
    for character, at, turn in _placed(string, x, y, height, angle, room):
        strokes, ways = _written(character)
        places = [stroke @ turn + at for stroke in strokes]
        chords = [smooth_chords(points) for points in places]
        drawn = tuple(
            Path(np.array([*(row for rows in each for row in rows), (*points[-1].tolist(), 0.0)]))
            for each, points in zip(chords, places, strict=True)
        )
        out.append(Letter(drawn, _pens(drawn, chords, places, ways)))
    return out


def _pens(
    drawn: tuple[Path, ...], chords: Sequence[list[list[Row]]], places: Sequence[LetterStroke], ways: Sequence[Way]
) -> tuple[Path, ...]:
    """The strokes of a letter as the pen goes along them."""
    pens: list[Path] = []
    for way in ways:
        rows: list[npt.NDArray[np.float64]] = []
        for leg in way:
            part = _along(chords[leg.stroke], places[leg.stroke], leg)
            if part is None:  # a junction on a part that is round: nothing would be exact there
                return drawn
            rows = [*rows, part.vertices] if not rows else [*rows[:-1], rows[-1][:-1], part.vertices]
        pens.append(Path(np.vstack(rows)))
    return tuple(pens)


def _along(chords: list[list[Row]], points: LetterStroke, leg: Leg) -> Path | None:
    """The curve along a leg; None where it begins or ends within an arc."""
    low, high = sorted((leg.start, leg.end))
    first, last = math.floor(low), math.ceil(high)
    parted = [k for k, end in ((first, low), (last - 1, high)) if end % 1.0]
    if any(len(chords[k]) > 1 or chords[k][0][2] for k in parted):
        return None
    tip, end = (pen.along(points, Leg(leg.stroke, low, high))[k].tolist() for k in (0, -1))
    table = [row for rows in chords[first:last] for row in rows]
    path = Path(np.array([(*tip, table[0][2]), *table[1:], (*end, 0.0)]))
    return path if leg.start < leg.end else path.reversed()


@lru_cache(maxsize=128)
def _written(character: str) -> tuple[tuple[LetterStroke, ...], tuple[Way, ...]]:
    """The strokes of a character in units of the font, from its left edge and the base line, and the pen's ways."""
    strokes = pen.drawn_out([np.column_stack([each[:, 0], BASE_LINE - each[:, 1]]) for each in glyph(character)[1]])
    return tuple(strokes), pen.ways(strokes)


def _placed(
    string: str, x: float, y: float, height: float, angle: float, room: float
) -> list[tuple[str, LetterStroke, LetterStroke]]:
    """The characters that show, where the left edge of each is on the base line, and the 2×2 matrix of their points."""
    plain = "".join(c if " " <= c <= "~" else " " for c in string)
    left, right = _extent(plain)
    scale, cos, sin = height / CAP_HEIGHT, math.cos(angle), math.sin(angle)
    length = scale * (right - left)
    narrow = min(1.0, room / length) if length else 1.0
    turn = scale * np.array([[narrow * cos, narrow * sin], [-sin, cos]])
    out, at = [], -left
    for character in plain:
        if glyph(character)[1]:
            out.append((character, np.array((at, 0.0)) @ turn + (x, y), turn))
        at += glyph(character)[0]
    return out


@lru_cache(maxsize=256)
def _extent(string: str) -> tuple[float, float]:
    """Where the strokes of a text begin and end, in units of the font from the left edge of its first character."""
    lefts, rights, at = [0.0], [0.0], 0.0
    for width, strokes in map(glyph, string):
        if strokes:
            lefts.append(at + min(float(stroke[:, 0].min()) for stroke in strokes))
            rights.append(at + max(float(stroke[:, 0].max()) for stroke in strokes))
        at += width
    return (min(lefts[1:]), max(rights)) if len(lefts) > 1 else (0.0, 0.0)


def written_width(string: str, height: float, room: float = math.inf) -> float:
    """How wide a text runs as it is cut, mm; see `letters`."""
    plain = "".join(c if " " <= c <= "~" else " " for c in string)
    left, right = _extent(plain)
    return min(room, height / CAP_HEIGHT * (right - left))


@lru_cache(maxsize=128)
def glyph(character: str) -> tuple[float, tuple[LetterStroke, ...]]:
    """Width and strokes, each (n, 2), of a printable character of ASCII in units of the font, y down."""
    width, _, strokes = _table()[character].partition(" ")
    points = [[pair.split(",") for pair in stroke.split()] for stroke in strokes.split(";") if stroke]
    return float(width), tuple(np.array(stroke, dtype=float) for stroke in points)


@lru_cache(maxsize=1)
def _table() -> dict[str, str]:
    """The line of each character in `letters.txt`, below its head and a blank line, without the character."""
    text = resources.files("jigcam.toolpath").joinpath("letters.txt").read_text("ascii")
    return {line[0]: line[2:] for line in text.partition("\n\n")[2].splitlines()}


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


def text_run(text: Sequence[Letter], cutter: Cutter, depth: float = DEPTH) -> Run:
    """The letters of a text in one run, one after the other, from the first on or from the last.

    Of each letter the pens are taken in the order, and from the ends, that make the ways over the shortest of all.
    """
    pens = _turns([letter.pens for letter in text])
    both = [(_stroke(pen, cutter, depth), _stroke(pen.reversed(), cutter, depth)) for pen in pens]
    there = _chained([run for run, _ in both], cutter)
    return replace(there, back=replace(_chained([run for _, run in reversed(both)], cutter), back=there))


def _turns(letters: Sequence[Sequence[Path]]) -> list[Path]:
    """The paths of letter after letter, each letter's in the order and turned so that least is gone between them.

    Found letter by letter (R. Bellman's dynamic programming): the best way up to each manner of writing a letter.
    """
    best: list[tuple[float, list[Path]]] = [(0.0, [])]
    for pens in letters:
        found: list[tuple[float, list[Path]]] = []
        for order in permutations(pens) if len(pens) <= FEW else [pens]:
            for manner in product(*((each, each.reversed()) for each in order)):
                within = math.fsum(math.dist(a.end, b.start) for a, b in pairwise(manner))
                ways = [gone + math.dist(way[-1].end, manner[0].start) if way else 0.0 for gone, way in best]
                nearest = min(range(len(best)), key=ways.__getitem__)
                found.append((ways[nearest] + within, [*best[nearest][1], *manner]))
        best = found
    return min(best, key=lambda each: each[0])[1]


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
