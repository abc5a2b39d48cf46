"""The mortises of one joint in one board: where they lie, and the wood that they take.

*Place frame*: the face frame of the face that is cut; at an end x is the distance from the board's lower edge, y the
depth from its outside face, and z comes out of the end grain. mm, radians.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import cos, hypot, pi, sin, sqrt

from jigcam.geometry import Path, Region, rectangle, slot
from jigcam.job.board import Board, Face
from jigcam.wood.band import sides
from jigcam.wood.solid import Cut, Prism, Side, Solid
from jigcam.wood.taken import End, Taken

STEPS = 8
"""Slabs in which the round side of a mortise in an end is told as it is seen from the face."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Bored:
    """A mortise in an end as it is seen from the outside face, in that face's frame, mm.

    p0, p1: ends of its core in the place frame of the end; radius: about it. start, finish: x in the face frame.
    """

    p0: Point
    p1: Point
    radius: float
    start: float
    finish: float

    @property
    def shallow(self) -> float:
        """Where it begins below the outside face."""
        return min(self.p0[1], self.p1[1]) - self.radius

    @property
    def depth(self) -> float:
        """Where it ends below the outside face."""
        return max(self.p0[1], self.p1[1]) + self.radius

    def section(self, z: float) -> Region:
        """The strip that is taken at a height."""
        across = self._across(-z)
        if across is None:
            return Region.empty()
        return rectangle(min(self.start, self.finish), across[0], max(self.start, self.finish), across[1])

    def levels(self) -> tuple[float, ...]:
        """Top, bottom, and steps between them, as its sides are round."""
        low, high = self.shallow, self.depth
        steps = (low + (high - low) * 0.5 * (1.0 - cos(pi * n / STEPS)) for n in range(STEPS + 1))
        return tuple(-step for step in steps)

    def _across(self, depth: float) -> tuple[float, float] | None:
        """From where to where it reaches at a depth; None where it is not, or only touches."""
        found = []
        for y, v in (self.p0, self.p1):
            square = self.radius**2 - (depth - v) ** 2
            if square > 0.0:
                found += [y - sqrt(square), y + sqrt(square)]
        (y0, v0), (y1, v1) = self.p0, self.p1
        long = hypot(y1 - y0, v1 - v0)
        ny, nv = -(v1 - v0) / long * self.radius, (y1 - y0) / long * self.radius
        for sign in (1.0, -1.0):
            a, b = v0 + sign * nv, v1 + sign * nv
            if min(a, b) < depth < max(a, b):
                found.append(y0 + sign * ny + (depth - a) / (b - a) * (y1 - y0))
        return (min(found), max(found)) if found and max(found) - min(found) > 1e-6 else None


@dataclass(frozen=True, slots=True)
class Row:
    """Mortises that are alike, in one face or one end of one board.

    at: the centre of the first. angle: of their length. pitch: from one to the next, (x, y). length, width: overall, as
    drawn. depth: below the face, or the end grain. as_seen: told in the frame of `seen`.
    """

    board: Board
    face: Face | None
    end: End | None
    at: Point
    angle: float
    pitch: Point
    count: int
    length: float
    width: float
    depth: float
    as_seen: bool = False

    @property
    def where(self) -> str:
        """The face or the end, as a maker calls it."""
        return f"{self.face} face" if self.face else f"{self.end} end"

    @property
    def size(self) -> Point:
        """Of the face or the end, along x and y."""
        board = self.board
        return (board.length, board.width) if self.face else (board.width, board.thickness)

    @property
    def into(self) -> float:
        """How deep the wood is below the face or the end grain."""
        return self.board.thickness if self.face else self.board.length

    @property
    def edges(self) -> tuple[str, str, str, str]:
        """What lies at x = 0, at the greatest x, at y = 0 and at the greatest y."""
        return sides(self.face or ("right end" if self.end == "right" and self.as_seen else "left end"))

    @property
    def mirrored(self) -> bool:
        """Whether the place frame is seen from behind: at the right end, where x runs to the left as it is seen."""
        return self.end == "right" and not self.as_seen

    @property
    def seen(self) -> Row:
        """The same as it is seen square at the face or the end, the outside face down: x runs to the right."""
        if not self.mirrored:
            return replace(self, as_seen=True)
        (x, y), (dx, dy) = self.at, self.pitch
        return replace(self, at=(self.size[0] - x, y), angle=pi - self.angle, pitch=(-dx, dy), as_seen=True)

    @property
    def side(self) -> Side:
        """The face or the end for those who lay a template on it."""
        if self.face:
            return self.face
        return "right end" if self.end == "right" else "left end"

    @property
    def stock(self) -> Board:
        """The board as it is cut: an end is a small face of a thick board."""
        board = self.board
        if self.face:
            return board
        sizes = {"length": board.width, "width": board.thickness, "thickness": board.length}
        return board.model_copy(update=sizes)

    @property
    def centres(self) -> tuple[Point, ...]:
        """Of the mortises in turn."""
        (x, y), (dx, dy) = self.at, self.pitch
        return tuple((x + n * dx, y + n * dy) for n in range(self.count))

    @property
    def along(self) -> Point:
        """Unit vector of their length."""
        return cos(self.angle), sin(self.angle)

    def centreline(self, number: int = 0) -> Path:
        """From extreme end to extreme end of one of them."""
        return Path.through(self._ends(number, self.length / 2.0))

    def region(self, number: int = 0) -> Region:
        """One of them, seen square at the face or the end."""
        return slot(*self._ends(number, self.length / 2.0), self.width)

    @property
    def solid(self) -> Prism:
        """All of them."""
        loops = tuple(loop for number in range(self.count) for loop in self.region(number).loops)
        return Prism(Region(loops), self.depth)

    def cuts(self, joint: str) -> tuple[Cut, ...]:
        """Each in the place frame, as a cut in a board that lies with the face, or stands with the end, up."""
        return tuple(
            Cut(
                joint,
                self.stock,
                self.side,
                "as drawn",
                Prism(self.region(number), self.depth),
                self.centreline(number),
                self.width,
                what="mortise",
            )
            for number in range(self.count)
        )

    def taken(self, joint: str) -> tuple[Taken, ...]:
        """The wood that each takes from the board."""
        face: Face = self.face or "outside"
        return tuple(
            Taken(
                joint,
                self.board,
                face,
                self._solid(number),
                what="the mortise",
                centreline=self.centreline(number) if self.face else None,
            )
            for number in range(self.count)
        )

    def _solid(self, number: int) -> Solid:
        if self.face:
            return Prism(self.region(number), self.depth)
        start = 0.0 if self.end == "left" else self.board.length
        inward = self.depth if self.end == "left" else -self.depth
        p0, p1 = self._ends(number, (self.length - self.width) / 2.0)
        return Bored(p0, p1, self.width / 2.0, start, start + inward)

    def _ends(self, number: int, half: float) -> tuple[Point, Point]:
        (x, y), (ux, uy) = self.centres[number], self.along
        return (x - half * ux, y - half * uy), (x + half * ux, y + half * uy)
