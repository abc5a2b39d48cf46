"""A track: the moves of one bit as they are laid down, each with a feed that the machine can keep.

Words: a *run* is one stay of the bit in the stock: it starts with a rapid at the clear height to the entry, goes down,
cuts, and ends with a rapid up to the clear height, so that runs may follow each other in any order. The *approach
height* is a little above the stock: rapids go down to it and no further. Frame: of the file, z zero on the stock's top.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from jigcam.geometry import Path, arc_of
from jigcam.kit import Bit, Machine
from jigcam.toolpath.feeds import Feeds
from jigcam.toolpath.program import Move

APPROACH_HEIGHT = 1.5
"""mm above the stock, down to which rapids go, and on which short hops are made (common practice, no source)."""
SHORT_HOP = 25.0
"""mm; over so short a way within one operation the bit stays at the approach height: no clamp stands there."""
SKIP = 5e-4
"""mm; segments shorter than this are drawn into their neighbours: the writer's last digit is 1e-4."""
FLAT = 2e-5
"""mm; an arc that rises less than this above its chord is written as a line."""
AIR_GAP = 0.2
"""mm above a surface at which cutting feeds start."""


@dataclass(frozen=True, slots=True)
class Cutter:
    """A bit at work: its feeds in this material, the machine, and the height down to which rapids go, mm."""

    bit: Bit
    feeds: Feeds
    machine: Machine
    approach: float = APPROACH_HEIGHT

    @property
    def clear(self) -> float:
        """mm above the stock at which it travels."""
        return self.machine.clear_height

    @property
    def radius(self) -> float:
        """Of the bit, mm."""
        return self.bit.radius


@dataclass(frozen=True, slots=True)
class Run:
    """One stay of the bit in the stock; see the head of the module. back: the same run the other way, if it may be."""

    moves: tuple[Move, ...]
    back: Run | None = None

    @property
    def start(self) -> tuple[float, float]:
        """x, y of the entry."""
        return self.moves[0].x, self.moves[0].y

    @property
    def end(self) -> tuple[float, float]:
        """x, y where it leaves."""
        return self.moves[-1].x, self.moves[-1].y


def feed_limit(limits: tuple[float, float, float], dx: float, dy: float, dz: float) -> float:
    """The highest feed (mm/min along the way) at which no axis exceeds its own; inf for no motion."""
    length, least = math.sqrt(dx * dx + dy * dy + dz * dz), math.inf
    # Asked for every move, several times: written out, as a list of shares takes twice as long.
    if dx:
        least = limits[0] * length / abs(dx)
    if dy and (share := limits[1] * length / abs(dy)) < least:
        least = share
    if dz and (share := limits[2] * length / abs(dz)) < least:
        least = share
    return least


def round_limit(machine: Machine, radius: float) -> float:
    """The highest feed (mm/min) of the bit's centre on a circle of that radius (mm) that x and y can follow.

    The pull to the centre, v²/r, takes √½ of what the slower axis has: the rest is for speeding up (D).
    """
    return 60.0 * math.sqrt(math.sqrt(0.5) * min(machine.acceleration[:2]) * radius)


@dataclass(slots=True)
class Track:
    """Lays down the moves of one run, from (x, y). Feeds are lowered where an axis could not follow."""

    cutter: Cutter
    x: float
    y: float
    z: float = field(init=False)
    moves: list[Move] = field(init=False)

    def __post_init__(self) -> None:
        self.moves = []
        self._rapid(self.x, self.y, self.cutter.clear)
        self._rapid(self.x, self.y, self.cutter.approach)

    @property
    def point(self) -> tuple[float, float]:
        """Where the bit is, x and y."""
        return self.x, self.y

    def finished(self) -> Run:
        """Lifts to the clear height and gives the run."""
        self.lift()
        return Run(tuple(self.moves))

    def lift(self, z: float | None = None) -> None:
        """Straight up to z, at rapid rate; left out, to the clear height."""
        self._rapid(self.x, self.y, self.cutter.clear if z is None else z)

    def drop(self, z: float) -> None:
        """Straight down to z, at rapid rate, in a hole that is already there."""
        self._rapid(self.x, self.y, z)

    def hop(self, x: float, y: float, *, low: bool = False) -> None:
        """Up, over to (x, y), and down to the approach height; up to the clear height unless it is near, or `low`."""
        low = low or math.dist(self.point, (x, y)) <= SHORT_HOP
        height = self.cutter.approach if low else self.cutter.clear
        self._rapid(self.x, self.y, height)
        self._rapid(x, y, height)
        self._rapid(x, y, self.cutter.approach)

    def sink(self, z: float) -> None:
        """Straight down to z where there is nothing to cut: in air, or to just above a floor that is already there."""
        if z < self.z:
            self.line(self.x, self.y, z, self.cutter.machine.max_feed[2])

    def line(self, x: float, y: float, z: float, feed: float) -> None:
        """Straight to (x, y, z) at a feed in mm/min. Does nothing where the way is shorter than the writer can say."""
        dx, dy, dz = x - self.x, y - self.y, z - self.z
        if math.sqrt(dx * dx + dy * dy + dz * dz) < SKIP:
            return
        limits = self.cutter.machine.max_feed
        # The level part alone counts too: with it no rounding of a short slope can ask too much of x or y.
        limit = min(feed_limit(limits, dx, dy, dz), feed_limit(limits, dx, dy, 0.0))
        self._put(Move("line", x, y, z, rounded(min(feed, limit))))

    def arc(self, x: float, y: float, z: float, cx: float, cy: float, ccw: bool, feed: float, length: float) -> None:
        """Round (cx, cy) to (x, y), evenly to z. length: of the arc seen from above, mm."""
        fx, fy, fz = self.cutter.machine.max_feed
        # On an arc the way may point along the slower of both axes.
        limit = min(fx, fy, feed_limit((min(fx, fy), min(fx, fy), fz), length, 0.0, z - self.z))
        self._put(Move("arc", x, y, z, rounded(min(feed, limit)), cx, cy, ccw))

    def follow(self, path: Path, feed: float, z: float | None = None) -> None:
        """Along an open path that starts here, or once round a closed one, evenly from the present height to z."""
        rows = tidied(path)
        lengths = _lengths(rows)
        z0, total, gone = self.z, float(lengths.sum()), 0.0
        z1 = z0 if z is None else z
        for (x0, y0, x1, y1, bulge), length in zip(rows.tolist(), lengths.tolist(), strict=True):
            gone += length
            height = z0 + (z1 - z0) * gone / total
            if abs(bulge) * math.hypot(x1 - x0, y1 - y0) < 2.0 * FLAT:
                self.line(x1, y1, height, feed)
            else:
                cx, cy, *_ = arc_of((x0, y0), (x1, y1), bulge)
                self.arc(x1, y1, height, cx, cy, bulge > 0.0, feed, length)

    def _rapid(self, x: float, y: float, z: float) -> None:
        if not self.moves or (x, y, z) != (self.x, self.y, self.z):
            self._put(Move("rapid", x, y, z))

    def _put(self, move: Move) -> None:
        self.moves.append(move)
        self.x, self.y, self.z = move.point


def rounded(feed: float) -> float:
    """A feed in tenths of a mm/min, never upward."""
    return math.floor(feed * 10.0 + 1e-6) / 10.0


def tidied(path: Path) -> np.ndarray:
    """The segments of a path as rows [x0, y0, x1, y1, bulge], those shorter than `SKIP` drawn into their neighbours.

    Both ends of an open path are kept. An end that is moved keeps the bulge, so the arc stays within `SKIP` / 2.
    """
    rows = path.segments()
    if len(rows) < 2:
        return rows
    kept: list[list[float]] = []
    for row in rows.tolist():
        if kept:
            row[0], row[1] = kept[-1][2], kept[-1][3]
        if math.hypot(row[2] - row[0], row[3] - row[1]) >= SKIP:
            kept.append(row)
    if not kept:
        return rows
    kept[-1][2], kept[-1][3] = rows[-1, 2], rows[-1, 3]
    kept[0][0], kept[0][1] = rows[0, 0], rows[0, 1]
    return np.array(kept)


def _lengths(rows: np.ndarray) -> np.ndarray:
    """Lengths along the segments."""
    chord = np.hypot(rows[:, 2] - rows[:, 0], rows[:, 3] - rows[:, 1])
    half = 2.0 * np.arctan(rows[:, 4])
    lengths: np.ndarray = chord / np.sinc(half / np.pi)
    return lengths
