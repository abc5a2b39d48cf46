"""What is cut from which board, end and face: the solids of a planned joint, each with the clamping it belongs to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from jigcam.job import Board
from jigcam.joints.solid import Solid
from jigcam.joints.through_dovetail import solids
from jigcam.joints.through_dovetail.corners import Corner, Opened, Relieved, inside_corners
from jigcam.joints.through_dovetail.joint import ThroughDovetail
from jigcam.joints.through_dovetail.solids import Drafted, End, Face, Together
from jigcam.joints.through_dovetail.ways import Setup, Way
from jigcam.kit import Bit

Purpose = Literal["tails", "pins", "inside of tails", "inside of pins"]
Matrix = tuple[tuple[float, float, float], tuple[float, float, float]]

INSIDE_SHARE, INSIDE_MOST = 0.25, 3.0
"""How deep the inside face is cleared first where a board lies flat: a quarter of the board, at most so many mm."""


@dataclass(frozen=True, slots=True)
class EndCut:
    """What one clamping takes from one end of a board.

    purpose: the joint's walls, or what is cut from the inside face before them. face: the one that is up where the
    board lies flat; "outside" upright, where it is toward the operator. solid: all that may go, in the face frame
    where flat, in (board y, depth from the outside face) upright; z from the face or the end grain. needed: what has
    to go, less corners that stay for the chisel and scallops. corners: inside corners that the bit cannot reach;
    relieved: whether it cuts past them. rabbet, drafted: what `solid` is made of.
    """

    joint: str
    board: Board
    end: End
    purpose: Purpose
    setup: Setup
    face: Face
    solid: Solid
    needed: Solid
    way: Way
    corners: tuple[Corner, ...]
    relieved: bool
    rabbet: Solid | None
    drafted: Drafted | None

    @property
    def bit(self) -> Bit:
        """The bit that finishes the walls."""
        assert self.way.bit, "cuts are only made of ways that are possible"
        return self.way.bit

    @property
    def placement(self) -> Matrix:
        """2×3, from the frame of the solid to the file; flat boards have their zero at the lower left corner."""
        if self.setup == "upright" and self.end == "right":
            return (-1.0, 0.0, self.board.width), (0.0, 1.0, 0.0)
        return (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)

    @property
    def at_right(self) -> bool:
        """Whether the end lies on the right as the board is clamped flat."""
        return (self.end == "right") == (self.face == "outside")


def end_cuts(joint: ThroughDovetail, tails: Way | None, pins: Way) -> tuple[EndCut, ...]:
    """All cuts of a joint in the order in which they are made, corner by corner.

    tails: None where they are cut already. Inside faces come first, so that the pass through the board from outside
    has nothing left to break out.
    """
    return tuple(cut for tails_end, pins_end in joint.ends
                 for cut in (*_tail_cuts(joint, tails, tails_end), *_pin_cuts(joint, pins, pins_end)))


def _tail_cuts(joint: ThroughDovetail, way: Way | None, end: End) -> Iterator[EndCut]:
    if way is None:
        return
    board, pare, deep = joint.tail_board, joint.stock.pare, joint.stock.rabbet
    ledge = solids.rabbet(way.layout, deep, end=end, board_length=board.length) if deep else None
    if way.setup == "upright":
        if ledge:
            yield _cut(joint, board, end, "inside of tails", "flat", "inside", way, None, ledge)
        walls = solids.tails_upright(way.layout, board.thickness, pare)
        yield _cut(joint, board, end, "tails", "upright", "outside", way, walls)
        return

    def walls_of(face: Face, depth: float) -> Drafted:
        return solids.tails_flat(way.layout, depth, pare, end=end, face=face, board_length=board.length)

    inside = walls_of("inside", deep + _inside_depth(board.thickness - deep))
    yield _cut(joint, board, end, "inside of tails", "flat", "inside", way, inside, ledge)
    yield _cut(joint, board, end, "tails", "flat", "outside", way, walls_of("outside", board.thickness))


def _pin_cuts(joint: ThroughDovetail, way: Way, end: End) -> Iterator[EndCut]:
    board, stock = joint.pin_board, joint.stock
    if way.setup == "upright":
        walls = solids.pins_upright(way.layout, stock.clearance, stock.pin_length, stock.pare)
        yield _cut(joint, board, end, "pins", "upright", "outside", way, walls)
        return
    inside = solids.pins_inside(way.layout, stock.clearance, stock.pin_length, stock.pare, end=end,
                                board_length=board.length, depth=_inside_depth(board.thickness))
    yield _cut(joint, board, end, "inside of pins", "flat", "inside", way, inside)
    sockets = [solids.pins_flat(way.layout, stock.clearance - less, stock.pin_length, stock.pare, end=end,
                                board_length=board.length) for less in (0.0, joint.scallop)]
    yield _cut(joint, board, end, "pins", "flat", "outside", way, sockets[0], least=sockets[1])


def _cut(
    joint: ThroughDovetail, board: Board, end: End, purpose: Purpose, setup: Setup, face: Face, way: Way,
    walls: Drafted | None, ledge: Solid | None = None, *, least: Drafted | None = None,
) -> EndCut:  # fmt: skip
    """least: what has to go of sloping walls cut in terraces; all of `walls` if None."""
    assert way.bit, "cuts are only made of ways that are possible"
    relieved = joint.entry.corners == "relieved"
    corners = inside_corners(walls, board.length, board.width) if walls and setup == "flat" else ()
    may: Solid | None = walls
    must: Solid | None = least or walls
    if walls and corners and relieved:
        may = Relieved(walls, way.bit.radius, corners)
    elif must and corners:
        must = Opened(must, way.bit.radius)
    parts = [Together(tuple(part for part in (ledge, body) if part)) if ledge else body for body in (may, must)]
    solid, needed = parts
    assert solid is not None, "a cut has walls, a rabbet, or both"
    assert needed is not None, "what has to go is part of what may"
    return EndCut(joint.name, board, end, purpose, setup, face, solid, needed, way, corners, relieved, ledge, walls)


def _inside_depth(thickness: float) -> float:
    return min(INSIDE_SHARE * thickness, INSIDE_MOST)
