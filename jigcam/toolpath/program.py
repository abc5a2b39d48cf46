"""The moves of a tool: what a strategy plans and the RS-274 writer puts into text.

Words: a *move* goes in a straight line or an arc from where the last one ended; an *operation* is a named run of moves
with one bit at one speed; a *program* is what one file holds. All coordinates are absolute, in the file frame
(z zero on the top of the stock, z up), in mm; feeds in mm/min along the path.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field
from typing import Literal

from jigcam.kit import Bit
from jigcam.values import dataclass

Kind = Literal["rapid", "line", "arc"]
Clamping = Literal["flat", "upright", "template"]


@dataclass(frozen=True, slots=True)
class Move:
    """One motion to (x, y, z). An arc turns about (cx, cy) in the xy plane, at most half a turn, rising evenly in z."""

    kind: Kind
    x: float
    y: float
    z: float
    feed: float = 0.0
    cx: float = 0.0
    cy: float = 0.0
    ccw: bool = True

    @property
    def point(self) -> tuple[float, float, float]:
        """Where it ends."""
        return self.x, self.y, self.z


@dataclass(frozen=True, slots=True)
class Operation:
    """A named run of moves with one bit. The first move of every operation is a rapid at or above the clear height.

    note: what a machinist would want to read beside it (direction of cut, passes).
    """

    name: str
    bit: Bit
    rpm: float
    moves: Sequence[Move]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Program:
    """What one file holds, for one clamping of one piece.

    stock: its size along the file's x, y and z. zero: where the file's origin is, in words. placement: 2×3 affine
    matrix from the board's frame (face frame; for `upright` board y and depth from the outside face) to the file frame.
    clear_height: z of the plane on which the tool may travel freely.
    """

    name: str
    clamping: Clamping
    stock: tuple[float, float, float]
    zero: str
    placement: tuple[tuple[float, float, float], tuple[float, float, float]]
    operations: tuple[Operation, ...]
    clear_height: float
    comments: tuple[str, ...] = field(default=())

    @property
    def bits(self) -> tuple[Bit, ...]:
        """Each bit once, in order of use; its place in this tuple plus one is its tool number."""
        return tuple(dict.fromkeys(op.bit for op in self.operations))
