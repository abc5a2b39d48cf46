"""Bow-tie keys: wood let in across a crack, widest at its ends, with its grain across the crack.

The outline has straight flanks from the ends to the waist. A bit of diameter d leaves it rounded: the four corners of
its ends at d/2, and the two at the waist at the offset o of the larger bushing; recess and key alike (see
`template.inlay`). Frame: that of the face, mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, pi, sin

import numpy as np

from jigcam.errors import Refused
from jigcam.findings import Finding, stops
from jigcam.geometry import Path, Region, offset, opening, polygon
from jigcam.job import Board, Face, Job
from jigcam.joints.key.entry import KeyEntry
from jigcam.units import format_angle, format_length
from jigcam.wood.band import sides
from jigcam.wood.practice import PRACTICE, SLACK
from jigcam.wood.solid import Cut, Prism
from jigcam.wood.taken import Taken

WEB = 12.0
"""Wood between two keys, mm (common practice, no source)."""
HOLDS = 0.75
"""A waist wider than this share of the ends holds little (common practice, no source)."""
STEEP = pi / 4.0
"""A key that runs nearer to the board's grain than this does not cross a crack, rad."""


@dataclass(frozen=True, slots=True)
class Key:
    """Keys as a job asks for them. angle: of their length and grain, rad; centres: of all of them, along the crack."""

    name: str
    board: Board
    face: Face
    centres: tuple[tuple[float, float], ...]
    angle: float
    length: float
    ends: float
    waist: float
    depth: float
    clearance: float
    findings: tuple[Finding, ...] = ()

    def outline(self, centre: tuple[float, float]) -> Region:
        """The bow tie as drawn, with sharp corners."""
        return polygon(self._corners(centre))

    def rounded(self, centre: tuple[float, float], bit: float, bushing: float) -> Region:
        """The recess that a bit (diameter) in a bushing (outside) makes of it."""
        o = (bushing - bit) / 2.0
        return offset(offset(opening(self.outline(centre), bit / 2.0), o), -o)

    def cut(self, bit: float, bushing: float, number: int = 0) -> Cut:
        """The recess of one key. Raises `Refused` where a finding stops the keys."""
        if stops(self.findings):
            raise Refused(f"{self.name}: the keys cannot be cut as drawn", self.findings)
        centre = self.centres[number]
        half = self.length / 2.0 * np.array([cos(self.angle), sin(self.angle)])
        middle = np.array(centre)
        return Cut(
            self.name,
            self.board,
            self.face,
            "as drawn",
            Prism(self.rounded(centre, bit, bushing), self.depth),
            Path.through([middle - half, middle + half]),
            self.waist,
            what="recess",
        )

    def taken(self) -> tuple[Taken, ...]:
        """The recesses as drawn."""
        return tuple(self._taken(self.outline(centre), centre) for centre in self.centres)

    def taken_by(self, bit: float, bushing: float) -> tuple[Taken, ...]:
        """The recesses that a bit (diameter) in a bushing (outside) makes of them."""
        return tuple(self._taken(self.rounded(centre, bit, bushing), centre) for centre in self.centres)

    def _taken(self, region: Region, centre: tuple[float, float]) -> Taken:
        x, y = centre
        dx, dy = (self.length / 2.0 * each for each in (cos(self.angle), sin(self.angle)))
        line = Path.through([(x - dx, y - dy), (x + dx, y + dy)])
        return Taken(self.name, self.board, self.face, Prism(region, self.depth), what="the recess", centreline=line)

    def _corners(self, centre: tuple[float, float]) -> np.ndarray:
        half, e, w = self.length / 2.0, self.ends / 2.0, self.waist / 2.0
        drawn = np.array([(-half, -e), (0.0, -w), (half, -e), (half, e), (0.0, w), (-half, e)])
        c, s = cos(self.angle), sin(self.angle)
        corners: np.ndarray = drawn @ np.array([[c, s], [-s, c]]) + np.array(centre)
        return corners


def key(entry: KeyEntry, job: Job) -> Key:
    """The keys of a job's entry, judged by the rules of the trade: see the findings."""
    board = job.board(entry.board)
    step = entry.spacing or 0.0
    # To the right of the key's direction: a quarter turn clockwise.
    way = (sin(entry.angle), -cos(entry.angle))
    centres = tuple((entry.at[0] + n * step * way[0], entry.at[1] + n * step * way[1]) for n in range(entry.count))
    made = Key(
        entry.name,
        board,
        entry.face,
        centres,
        entry.angle,
        entry.length,
        entry.ends,
        entry.waist,
        entry.depth,
        entry.clearance,
    )
    findings = tuple(_findings(made, entry, job.units))
    return Key(
        made.name,
        board,
        made.face,
        centres,
        made.angle,
        made.length,
        made.ends,
        made.waist,
        made.depth,
        made.clearance,
        findings,
    )


def _findings(made: Key, entry: KeyEntry, units: str) -> Iterator[Finding]:
    """What the trade has to say: place, depth, shape, grain."""
    yield from _place(made, units)
    yield from _spacing(made, entry.spacing if entry.count > 1 else None, units)
    yield from _depth(made, units)
    name, board = made.name, made.board
    if made.waist > HOLDS * made.ends:
        yield Finding(
            "caution",
            "weak-key",
            name,
            f"a waist of {format_length(made.waist, units)} on ends of {format_length(made.ends, units)} holds little: "
            f"{format_length(made.ends / 2.0, units)} is usual (common practice)",
        )
    if abs(sin(made.angle)) < sin(STEEP):
        yield Finding(
            "caution",
            "key-along-grain",
            name,
            f"the key runs at {format_angle(made.angle)} to the grain of {board.name}; cracks run with the grain, and "
            "a key lies square across one: 90°",
        )
    yield Finding(
        "note",
        "key-grain",
        name,
        "the grain of a key runs along its length, across the crack; where the crack still runs, drill a small hole at "
        "its end first",
    )


def _place(made: Key, units: str) -> Iterator[Finding]:
    """Keys that leave the board, or nearly do."""

    def says(mm: float) -> str:
        return format_length(mm, units)

    board = made.board
    for number, centre in enumerate(made.centres, 1):
        x0, y0, x1, y1 = made.outline(centre).bounds
        gaps = (x0, board.length - x1, y0, board.width - y1)
        least, side = min(zip(gaps, sides(made.face), strict=True))
        which = f"key {number}" if len(made.centres) > 1 else "the key"
        if least < -SLACK:
            yield Finding(
                "stop",
                "off-board",
                made.name,
                f"{which} runs {says(-least)} over the {side} of {board.name}: move it inward, or take a shorter one",
            )
        elif least < PRACTICE.short_grain - SLACK:
            yield Finding(
                "caution",
                "short-grain",
                made.name,
                f"{which} leaves only {says(max(least, 0.0))} of wood at the {side} of {board.name}: under "
                f"{says(PRACTICE.short_grain)} it may break out (common practice)",
            )


def _spacing(made: Key, spacing: float | None, units: str) -> Iterator[Finding]:
    """Keys too near to each other."""

    def says(mm: float) -> str:
        return format_length(mm, units)

    if spacing is None or spacing >= made.ends + WEB - SLACK:
        return
    yield Finding(
        "stop" if spacing <= made.ends else "caution",
        "keys-close",
        made.name,
        f"{says(made.ends)} wide and {says(spacing)} apart, they leave {says(max(0.0, spacing - made.ends))} between: "
        f"lay them at least {says(made.ends + WEB)} apart (common practice)",
    )


def _depth(made: Key, units: str) -> Iterator[Finding]:
    """Too deep a recess."""

    def says(mm: float) -> str:
        return format_length(mm, units)

    board, left = made.board, made.board.thickness - made.depth
    deep = f"the recess is {says(made.depth)} deep in {board.name} of {says(board.thickness)}"
    if left < PRACTICE.least_left - SLACK:
        yield Finding("stop", "too-deep", made.name, f"{deep}: at least {says(PRACTICE.least_left)} has to be left")
    elif made.depth > board.thickness * PRACTICE.deepest + SLACK:
        yield Finding(
            "caution",
            "deep",
            made.name,
            f"{deep}: a third to a half ({says(board.thickness / 2.0)}) is usual (common practice)",
        )
