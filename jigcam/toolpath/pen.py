"""The way of a pen through the strokes of a letter: with few lifts, as going over a line again is often quicker.

Words: strokes meet in *junctions*: where their ends lie on each other, or one ends within another. A *leg* is what lies
of a stroke between two of them. A *way* goes along legs without a lift, along some of them twice.

Each leg has to be gone along once: the route inspection problem (M.-K. Kwan, Chinese Mathematics 1 (1962), from
memory). A way begins and ends where an odd number of legs meet; the other odd junctions are joined in pairs, by going
back along legs or by a lift, whichever is the shorter. Letters have so few that all pairings are tried.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

LIFT_AS = 25.0
"""A lift takes as long as so many units of the font beyond its way over: 6 mm where capitals are 5 mm high, which takes
small machines between 0.3 and 0.4 s, as do up, down and the stops between (tried out with their accelerations)."""
NEAR = 0.5
"""Units of the font; an end so near to another stroke was meant to lie on it, and is drawn out to it."""
MOST_ODD = 8
"""Odd junctions that are paired in every manner: 420 of them; a letter with more is written stroke by stroke."""
Points = npt.NDArray[np.float64]


class Leg(NamedTuple):
    """A part of a stroke, gone along from `start` to `end`: numbers of its points, with parts of the chord between."""

    stroke: int
    start: float
    end: float

    @property
    def turned(self) -> Leg:
        """The same the other way."""
        return Leg(self.stroke, self.end, self.start)


Way = tuple[Leg, ...]


def drawn_out(strokes: Sequence[Points]) -> list[Points]:
    """The strokes, each (n, 2), with ends that all but lie on another stroke moved onto it, in units of the font."""
    out = [stroke.copy() for stroke in strokes]
    for number, stroke in enumerate(out):
        for end in (0, -1):
            feet = [foot for other, each in enumerate(strokes) if other != number for foot in _feet(each, stroke[end])]
            if feet:
                stroke[end] = min(feet, key=lambda foot: float(np.hypot(*(foot[1] - stroke[end]))))[1]
    return out


def ways(strokes: Sequence[Points]) -> tuple[Way, ...]:
    """How the strokes of a letter, each (n, 2) in units of the font and drawn out, are written with few lifts."""
    web = _Web.of(strokes)
    out: list[Way] = []
    for part in web.parts():
        out += web.written(part)
    return tuple(out)


def _feet(stroke: Points, point: Points) -> Iterator[tuple[float, Points]]:
    """Where a point all but lies within a stroke, apart from its ends: the number along it, and the place."""
    for k, (a, b) in enumerate(pairwise(stroke)):
        chord = b - a
        share = float((point - a) @ chord / (chord @ chord))
        if 0.0 < share < 1.0 or (share == 0.0 and k):
            foot = a + share * chord
            if float(np.hypot(*(foot - point))) < NEAR:
                yield k + share, foot


class _Web:
    """The legs of a letter and the junctions that they join.

    ends: of each leg, the numbers of both junctions. lengths: of legs. places: of junctions.
    """

    def __init__(self, strokes: Sequence[Points]) -> None:
        self.strokes = strokes
        self.legs: list[Leg] = []
        self.ends: list[tuple[int, int]] = []
        self.lengths: list[float] = []
        self.places: list[complex] = []

    @classmethod
    def of(cls, strokes: Sequence[Points]) -> _Web:
        web = cls(strokes)
        tips = [tip for stroke in strokes for tip in (stroke[0], stroke[-1])]
        for number, stroke in enumerate(strokes):
            within = {along for tip in tips for along, foot in _feet(stroke, tip) if np.allclose(foot, tip)}
            stations = [0.0, *sorted(within), float(len(stroke) - 1)]
            for start, end in pairwise(stations):
                web._add(Leg(number, start, end))
        return web

    def _add(self, leg: Leg) -> None:
        through = along(self.strokes[leg.stroke], leg)
        self.legs.append(leg)
        self.ends.append((self._junction(through[0]), self._junction(through[-1])))
        self.lengths.append(float(np.hypot(*np.diff(through, axis=0).T).sum()))

    def _junction(self, point: Points) -> int:
        place = complex(*point)
        for number, other in enumerate(self.places):
            if abs(other - place) < 1e-6:
                return number
        self.places.append(place)
        return len(self.places) - 1

    def parts(self) -> list[list[int]]:
        """The numbers of the legs that hang together, part by part."""
        parts: list[tuple[set[int], list[int]]] = []
        for number, ends in enumerate(self.ends):
            touched = [part for part in parts if part[0] & set(ends)]
            parts = [part for part in parts if part not in touched]
            joined = set(ends).union(*(part[0] for part in touched))
            parts.append((joined, sorted([number, *(leg for part in touched for leg in part[1])])))
        return [legs for _, legs in parts]

    def written(self, part: Sequence[int]) -> list[Way]:
        """The ways along legs that hang together, in the order in which they are gone."""
        odd = [node for node in range(len(self.places)) if sum(self.ends[k].count(node) for k in part) % 2]
        if len(odd) > MOST_ODD:
            return [(self.legs[k],) for k in part]
        back, far = self._ways_back(part)
        cost = {(a, b): min(far[a][b], LIFT_AS + abs(self.places[a] - self.places[b])) for a in odd for b in odd}
        (start, _), pairs = min(_pairings(odd), key=lambda each: math.fsum(cost[pair] for pair in each[1]))
        # Each way that is open: a leg and both its junctions; a lift has no leg.
        open_ways: list[tuple[int | None, int, int]] = [(k, *self.ends[k]) for k in part]
        for a, b in pairs:
            if far[a][b] <= cost[a, b]:
                open_ways += [(k, *self.ends[k]) for k in _retraced(back, self.ends, a, b)]
            else:
                open_ways.append((None, a, b))
        trail = self._trail(start if odd else self.ends[part[0]][0], None, open_ways)
        assert trail is not None, "all junctions but two are even"
        return _lifted(trail)

    def _ways_back(self, part: Sequence[int]) -> tuple[dict[tuple[int, int], int], list[list[float]]]:
        """The first leg of the shortest way from junction to junction, and its length (Floyd and Warshall)."""
        nodes = range(len(self.places))
        far = [[0.0 if a == b else math.inf for b in nodes] for a in nodes]
        first: dict[tuple[int, int], int] = {}
        for k in part:
            for a, b in (self.ends[k], self.ends[k][::-1]):
                if self.lengths[k] < far[a][b]:
                    far[a][b], first[a, b] = self.lengths[k], k
        for m in nodes:
            for a in nodes:
                for b in nodes:
                    if far[a][m] + far[m][b] < far[a][b]:
                        far[a][b], first[a, b] = far[a][m] + far[m][b], first[a, m]
        return first, far

    def _trail(
        self, at: int, heading: complex | None, left: list[tuple[int | None, int, int]]
    ) -> list[Leg | None] | None:
        """A trail from a junction along all that is left, as straight on as it goes; None where there is none."""
        if not left:
            return []
        choices: list[tuple[float, int, Leg | None, int]] = []
        for number, (k, a, b) in enumerate(left):
            for near, there, turned in ((a, b, False), (b, a, True)):
                if near != at:
                    continue
                leg = None if k is None else self.legs[k].turned if turned else self.legs[k]
                choices.append((self._turn(heading, leg), number, leg, there))
        for _, number, leg, there in sorted(choices, key=lambda each: each[:2]):
            out = None if leg is None else self._headings(leg)[1]
            rest = self._trail(there, out, left[:number] + left[number + 1 :])
            if rest is not None:
                return [leg, *rest]
        return None

    def _turn(self, heading: complex | None, leg: Leg | None) -> float:
        """How far the pen turns into a leg, rad; a lift counts as half a turn."""
        if leg is None:
            return math.pi
        return 0.0 if heading is None else abs(cmath.phase(self._headings(leg)[0] / heading))

    def _headings(self, leg: Leg) -> tuple[complex, complex]:
        """Ways at both ends of a leg."""
        through = along(self.strokes[leg.stroke], leg)
        return complex(*(through[1] - through[0])), complex(*(through[-1] - through[-2]))


def along(stroke: Points, leg: Leg) -> Points:
    """The points (n, 2) of a leg of a stroke, with both its ends."""
    low, high = sorted((leg.start, leg.end))
    inner = stroke[math.floor(low) + 1 : math.ceil(high)]
    points: Points = np.vstack([_at(stroke, low), *inner, _at(stroke, high)])
    return points if leg.start < leg.end else points[::-1]


def _at(stroke: Points, number: float) -> Points:
    k = min(math.floor(number), len(stroke) - 2)
    place: Points = stroke[k] + (number - k) * (stroke[k + 1] - stroke[k])
    return place


Pair = tuple[int, int]


def _pairings(odd: Sequence[int]) -> Iterator[tuple[Pair, list[Pair]]]:
    """Every way to leave two junctions, where the pen begins and ends, and to pair the others."""
    if not odd:
        yield (-1, -1), []
    for i, start in enumerate(odd):
        for end in odd[i + 1 :]:
            for pairs in _paired([each for each in odd if each not in (start, end)]):
                yield (start, end), pairs


def _paired(odd: Sequence[int]) -> Iterator[list[Pair]]:
    if not odd:
        yield []
    for other in odd[1:]:
        for rest in _paired([each for each in odd[1:] if each != other]):
            yield [(odd[0], other), *rest]


def _retraced(first: dict[tuple[int, int], int], ends: Sequence[Pair], a: int, b: int) -> Iterator[int]:
    """The legs of the shortest way from a to b."""
    while a != b:
        leg = first[a, b]
        yield leg
        a = sum(ends[leg]) - a


def _lifted(trail: Iterable[Leg | None]) -> list[Way]:
    """The ways between lifts, legs of one stroke that go straight on made one."""
    out: list[list[Leg]] = [[]]
    for leg in trail:
        if leg is None:
            out.append([])
            continue
        before = out[-1][-1] if out[-1] else None
        onward = before and before.stroke == leg.stroke and before.end == leg.start
        if before and onward and (before.start < before.end) == (leg.start < leg.end):
            out[-1][-1] = Leg(leg.stroke, before.start, leg.end)
        else:
            out[-1].append(leg)
    return [tuple(way) for way in out if way]
