"""What a joint takes away from a board: solids known by their sections, and the cuts that carry them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

from jigcam.geometry import Path, Region
from jigcam.job import Board

Hand = Literal["as drawn", "opposite"]


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
class Placed:
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
    """One solid to remove from one face of one board.

    centreline: from start to finish as drawn (extreme end to extreme end; not extended past an edge), face frame.
    width: square to the centreline. open_start, open_finish: that end runs off the board, and the solid with it.
    what: what a maker calls it.
    """

    joint: str
    board: Board
    face: Literal["outside", "inside"]
    hand: Hand
    solid: Solid
    centreline: Path
    width: float
    open_start: bool = False
    open_finish: bool = False
    what: Literal["groove", "recess"] = "groove"
