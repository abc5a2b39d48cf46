"""What a joint takes away from a board: solids known by their sections, and the cuts that carry them."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal, Protocol

from jigcam.geometry import Path, Region
from jigcam.job import Board
from jigcam.values import dataclass

Hand = Literal["as drawn", "opposite"]
Side = Literal["outside", "inside", "left end", "right end"]
"""A face of a board, or an end as it is seen: the outside face down, so that x runs along the board's width."""


class Solid(Protocol):
    """Wood to remove, in a face frame (x, y in mm as seen, z out of the face, 0 on it)."""

    @property
    def depth(self) -> float:
        """How far it reaches below the face, positive."""
        ...

    def section(self, z: float) -> Region:
        """The exact region removed at height z (−depth ≤ z ≤ 0); empty below the bottom."""
        ...

    def levels(self) -> tuple[float, ...]:
        """The heights that matter, descending from 0: faces, bottoms, and the ends of sloped walls."""
        ...


@dataclass(frozen=True, slots=True)
class Prism:
    """A solid of one section all the way down: a groove, a dado, a mortise, a rabbet."""

    region: Region
    depth: float

    def section(self, z: float) -> Region:
        """The region at every height down to the bottom, and nothing below it."""
        return self.region if -self.depth <= z <= 0.0 else Region.empty()

    def levels(self) -> tuple[float, ...]:
        """Face and bottom."""
        return 0.0, -self.depth


@dataclass(frozen=True, slots=True)
class PlacedSolid:
    """A solid carried from a board's frame into another one, such as that of a file; heights stay as they are.

    matrix: 2×3, affine.
    """

    solid: Solid
    matrix: tuple[tuple[float, float, float], tuple[float, float, float]]

    @property
    def depth(self) -> float:
        """As deep as the solid."""
        return self.solid.depth

    def section(self, z: float) -> Region:
        """The solid's section at z, carried over."""
        return self.solid.section(z).transformed(self.matrix)

    def levels(self) -> tuple[float, ...]:
        """Those of the solid."""
        return self.solid.levels()


@dataclass(frozen=True, slots=True)
class Cut:
    """One solid to remove from one face of one board, or from an end, which is then told as the face of a thick board.

    centreline: from start to finish as drawn (extreme end to extreme end; not extended past an edge), face frame.
    width: square to the centreline. open_start, open_finish: that end runs off the board, and the solid with it.
    what: what a maker calls it.
    """

    joint: str
    board: Board
    face: Side
    hand: Hand
    solid: Solid
    centreline: Path
    width: float
    open_start: bool = False
    open_finish: bool = False
    what: Literal["groove", "recess", "mortise", "socket"] = "groove"

    @property
    def on_end(self) -> bool:
        """Whether it goes into an end."""
        return self.face in ("left end", "right end")

    @property
    def toward_you(self) -> Literal["outside", "inside"]:
        """The face that is up; at an end, the one toward the operator."""
        return "inside" if self.face == "inside" else "outside"

    @property
    def side(self) -> str:
        """The face or the end, as a maker calls it."""
        return self.face if self.on_end else f"{self.face} face"

    @property
    def narrowest(self) -> float:
        """What a bit may be wide at the most, mm: a cut may be shorter than wide, and then its length decides.

        Of an open end only what lies on the board counts: a bit that is wider would leave nothing but its own round.
        """
        return self.width if self.open_start and self.open_finish else min(self.width, self.on_board)

    @property
    def on_board(self) -> float:
        """Length of the centreline on the board, an open end carried on to its edge, mm."""
        (x, y), (dx, dy), length = *self._way(), self.centreline.length
        low, high = -math.inf, math.inf
        for at, way, most in ((x, dx, self.board.length), (y, dy, self.board.width)):
            if abs(way) > 1e-9:
                near, far = sorted((-at / way, (most - at) / way))
                low, high = max(low, near), min(high, far)
        first = low if self.open_start else 0.0
        last = high if self.open_finish else length
        return max(0.0, last - first)

    def turned(self) -> Cut:
        """The same cut seen across, its length as its width: for a bar that is shorter than wide."""
        (x, y), (dx, dy) = self._way()
        length, half = self.centreline.length, 0.5 * self.width
        x, y = x + 0.5 * length * dx, y + 0.5 * length * dy
        across = Path.through([(x + half * dy, y - half * dx), (x - half * dy, y + half * dx)])
        return replace(self, centreline=across, width=length)

    def _way(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Start and direction of the centreline, a unit vector from end to end."""
        (x, y), (x1, y1) = self.centreline.start, self.centreline.end
        length = math.hypot(x1 - x, y1 - y)
        return (x, y), ((x1 - x) / length, (y1 - y) / length)
