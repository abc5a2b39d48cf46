"""What is cut from which board, end and face: the solids of a planned joint, each with the clamping it belongs to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from jigcam.dovetails import solids
from jigcam.dovetails.corners import InsideCorner, Opened, Relieved, inside_corners
from jigcam.dovetails.joint import Dovetail
from jigcam.dovetails.layout import Strip
from jigcam.dovetails.solids import Drafted, End, Face, Together
from jigcam.dovetails.undercut_pins import BREAK, OFF_FLOOR, STOCK, WEB, Stepped, beside_walls, off_the_wall, steps_down
from jigcam.dovetails.ways import FLANK_ROOM, FLOOR_ROOM, Setup, Way
from jigcam.job import Board
from jigcam.kit import Bit
from jigcam.wood.solid import Solid

Purpose = Literal["tails", "pins", "inside of tails", "inside of pins", "outside of pins"]
Matrix = tuple[tuple[float, float, float], tuple[float, float, float]]

INSIDE_SHARE, INSIDE_MOST = 0.25, 3.0
"""How deep the inside face is cleared first where a board lies flat: a quarter of the board, at most so many mm."""


@dataclass(frozen=True, slots=True)
class EndCut:
    """What one clamping takes from one end of a board.

    purpose: the joint's walls, or what is cut from the inside face before them. face: the one that is up
    where the board lies flat; "outside" upright, where it is toward the operator. solid: all that may go, in the face
    frame where flat, in (board y, depth from
    the outside face) upright; z from the face or the end grain. needed: what has to go, less corners that stay for
    the chisel and scallops. strips: the waste between the walls as they are cut, pare and clearance included; none
    where only a rabbet is cut. floor: how far from the end the waste reaches along the grain. depth: of the walls,
    from the face or the end grain. corners: inside corners that the bit cannot reach; relieved: whether it cuts
    past them. scallop: what terraces may leave on sloping walls, square to them; 0 where walls stand upright.
    rabbet: depth of the rabbet that is cut with them; rabbeted: of one that was cut before. cleared: what a
    straight bit takes first where a dovetail bit cuts the walls; None where it is not needed, or no bit fits. lap: what
    sockets leave at the outside face; 0 where they go through; reach: how
    far they then go in from the inside face; rounded: whether the tails are rounded to match their corners.
    steps: where a straight bit opens sockets for a dovetail bit, z of the bottoms; opened: what those steps took, for
    the clamping after them, in which the other face is up.
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
    strips: tuple[Strip, ...]
    floor: float
    depth: float
    corners: tuple[InsideCorner, ...]
    relieved: bool
    scallop: float
    rabbet: float
    rabbeted: float
    cleared: Solid | None
    lap: float = 0.0
    reach: float = 0.0
    rounded: bool = False
    steps: tuple[float, ...] = ()
    opened: Solid | None = None

    @property
    def bit(self) -> Bit:
        """The bit that finishes the walls."""
        assert self.way.bit, "cuts are only made of ways that are possible"
        return self.way.bit

    @property
    def of_tails(self) -> bool:
        """Whether the board is the one with the tails."""
        return self.purpose in ("tails", "inside of tails")

    @property
    def plumb(self) -> bool:
        """Whether all walls stand upright as the board is clamped, so that the section is the same at all depths."""
        sloping = self.purpose == ("tails" if self.setup == "upright" else "pins")
        return not sloping and not (self.rabbet and self.strips)

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


def end_cuts(joint: Dovetail, tails: Way | None, pins: Way) -> tuple[EndCut, ...]:
    """All cuts of a joint in the order in which they are made, corner by corner.

    tails: None where they are cut already. Inside faces come first, so that the pass through the board from outside
    has nothing left to break out.
    """
    return tuple(
        cut
        for tails_end, pins_end in joint.ends
        for cut in (*_tail_cuts(joint, tails, tails_end), *_pin_cuts(joint, pins, pins_end))
    )


def _tail_cuts(joint: Dovetail, way: Way | None, end: End) -> Iterator[EndCut]:
    if way is None:
        return
    board, pare, deep = joint.tail_board, joint.sizes.pare, joint.sizes.rabbet
    ledge = solids.rabbet(way.layout, deep, end=end, board_length=board.length) if deep else None
    strips = tuple(space.grown(-pare, way.layout.length) for space in way.layout.spaces)
    make = _Maker(joint, board, end, way, strips, floor=way.layout.length - pare)
    if way.setup == "upright":
        if ledge:
            yield make.cut("inside of tails", "flat", "inside", None, ledge)
        whole = solids.tails_upright(way.layout, board.thickness, pare)
        cleared = solids.tails_cleared(way.layout, board.thickness, pare, FLANK_ROOM, whole.depth - FLOOR_ROOM)
        yield make.cut("tails", "upright", "outside", whole, cleared=cleared if way.clearing else None)
        return

    def walls(face: Face, depth: float) -> Drafted:
        return solids.tails_flat(way.layout, depth, pare, end=end, face=face, board_length=board.length)

    inside = walls("inside", deep + _inside_depth(board.thickness - deep))
    yield make.cut("inside of tails", "flat", "inside", inside, ledge)
    yield make.cut("tails", "flat", "outside", walls("outside", board.thickness))


def _pin_cuts(joint: Dovetail, way: Way, end: End) -> Iterator[EndCut]:
    board, stock = joint.pin_board, joint.sizes
    strips = way.layout.sockets(stock.clearance - stock.pare)
    make = _Maker(joint, board, end, way, strips, floor=stock.pin_length - stock.pare)
    if way.setup == "upright":
        walls = solids.pins_upright(way.layout, stock.clearance, stock.pin_length, stock.pare, stock.lap)
        yield make.cut("pins", "upright", "outside", walls)
        return
    if way.undercut:
        yield from _undercut_pin_cuts(joint, way, end)
        return
    inside = solids.pins_inside(
        way.layout,
        stock.clearance,
        stock.pin_length,
        stock.pare,
        end=end,
        board_length=board.length,
        depth=_inside_depth(board.thickness),
    )
    yield make.cut("inside of pins", "flat", "inside", inside)
    whole, least = (
        solids.pins_flat(
            way.layout, stock.clearance - less, stock.pin_length, stock.pare, end=end, board_length=board.length
        )
        for less in (0.0, joint.scallop)
    )
    yield make.cut("pins", "flat", "outside", whole, least=least)


def _undercut_pin_cuts(joint: Dovetail, way: Way, end: End) -> Iterator[EndCut]:
    """Steps from the outside face with the straight bit; then, inside face up, the web with it and the walls with the
    dovetail bit."""
    board, sizes, layout = joint.pin_board, joint.sizes, way.layout
    bit, straight = way.bit, way.clearing
    assert bit is not None, "cuts are only made of ways that are possible"
    assert straight is not None, "an undercut way has both bits"
    play, length = sizes.clearance - sizes.pare, layout.length
    strips, floor, steps = layout.sockets(play), sizes.pin_length - sizes.pare, steps_down(layout)

    def from_outside(stock: float) -> Drafted:
        whole = solids.pins_flat(
            layout, sizes.clearance - stock, sizes.pin_length, sizes.pare, end=end, board_length=board.length
        )
        return whole.down_to(-steps[-1])

    make = _Maker(joint, board, end, replace(way, bit=straight, clearing=None), strips, floor=floor)
    least = Stepped(from_outside(STOCK), steps)
    opened = make.cut("outside of pins", "flat", "outside", from_outside(STOCK), least=least)
    yield replace(opened, solid=least, scallop=0.0, corners=(), steps=steps)
    whole = solids.sockets_in(
        "inside", layout, sizes.clearance, sizes.pin_length, sizes.pare, end=end, board_length=board.length
    )
    cleared = layout.sockets(play - off_the_wall(strips, bit, length))
    beside = solids.undercut_beside(
        beside_walls(cleared, bit, length), layout, floor - bit.radius - OFF_FLOOR, end=end, board_length=board.length
    )
    web = solids.pins_inside(
        layout,
        sizes.clearance - STOCK,
        sizes.pin_length,
        sizes.pare,
        depth=WEB + BREAK,
        end=end,
        board_length=board.length,
    )
    make = _Maker(joint, board, end, way, strips, floor=floor)
    walls = make.cut("pins", "flat", "inside", whole, cleared=web)
    yield replace(walls, needed=beside, opened=solids.FromBehind(least, board.length, board.thickness))


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes the cuts of one end of a board."""

    joint: Dovetail
    board: Board
    end: End
    way: Way
    strips: tuple[Strip, ...]
    floor: float

    def cut(
        self,
        purpose: Purpose,
        setup: Setup,
        face: Face,
        walls: Drafted | None,
        ledge: Solid | None = None,
        *,
        least: Solid | None = None,
        cleared: Solid | None = None,
    ) -> EndCut:
        """walls: the waste between tails or pins; ledge: a rabbet. least: what has to go of sloping walls cut in
        terraces; all of `walls` if None."""
        assert self.way.bit, "cuts are only made of ways that are possible"
        radius = self.way.bit.radius
        relieved = self.joint.entry.corners == "relieved"
        lap = self.joint.sizes.lap if purpose == "pins" else 0.0
        corners: tuple[InsideCorner, ...] = ()
        if walls and setup == "flat":
            corners = inside_corners(walls, self.board.length, self.board.width)
        elif walls and lap:
            corners = inside_corners(walls, self.board.width, self.board.thickness)
        may: Solid | None = walls
        must: Solid | None = least or walls
        if walls and corners and relieved:
            may = Relieved(walls, radius, corners)
        elif must and corners:
            must = Opened(must, radius)
        return EndCut(
            self.joint.name,
            self.board,
            self.end,
            purpose,
            setup,
            face,
            _both(ledge, may),
            _both(ledge, must),
            way=self.way,
            strips=self.strips if walls else (),
            floor=self.floor,
            depth=walls.depth if walls else 0.0,
            corners=corners,
            relieved=relieved,
            scallop=self.joint.scallop if least else 0.0,
            rabbet=ledge.depth if ledge else 0.0,
            rabbeted=self.joint.sizes.rabbet if purpose == "tails" and setup == "upright" else 0.0,
            cleared=cleared,
            lap=lap,
            rounded=bool(lap) and self.joint.entry.corners == "rounded",
            reach=self.way.layout.length - self.joint.sizes.pare,
        )


def _both(ledge: Solid | None, walls: Solid | None) -> Solid:
    """A rabbet, walls, or both in one."""
    parts = tuple(part for part in (ledge, walls) if part is not None)
    return parts[0] if len(parts) == 1 else Together(parts)


def _inside_depth(thickness: float) -> float:
    return min(INSIDE_SHARE * thickness, INSIDE_MOST)
