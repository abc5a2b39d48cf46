"""The wood that a joint takes from a board, before any tool is known, told alike whatever face or end it is cut from.

*Board frame*: the face frame of the outside face, and *depth* from that face into the wood, 0 to the thickness. mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from jigcam.geometry import Path, Region, mirror_x
from jigcam.job import Board
from jigcam.wood.solid import Hand, Solid

End = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Taken:
    """One solid that a joint takes from one board.

    joint: its name. face: in whose face frame `solid` is given (what is cut standing up is given as it is seen from a
    face). hand: of the board; of "opposite" the solid is the mirrored one. end: of the board, where the cut belongs to
    a joint that shows its end grain in the other board, as tails and pins do; None for what is cut into a face or an
    edge. what: as a maker calls it, with its article. apart: whether it is looked at beside other cuts of the same
    joint too, as the grooves of a row are. covered: of an end joint, whether the other board stands before the end
    grain of this one once the joint is together, as wood left before the ends of tails does, so that no hole in it is
    seen. Solids may reach off the board. centreline: as the job gives it, in the frame of `face`; None where a job
    gives a cut by something else. takes: the board that lies in the cut; "" where the job names none.
    """

    joint: str
    board: Board
    face: Literal["outside", "inside"]
    solid: Solid
    hand: Hand = "as drawn"
    end: End | None = None
    what: str = "the groove"
    apart: bool = False
    covered: bool = False
    centreline: Path | None = None
    takes: str = ""

    @property
    def depths(self) -> tuple[float, ...]:
        """The depths that matter in the board frame, within the board, ascending: faces, bottoms, ends of slopes."""
        thickness = self.board.thickness
        found = {self._depth(z) for z in self.solid.levels()}
        return tuple(sorted({min(max(depth, 0.0), thickness) for depth in found}))

    def section(self, depth: float) -> Region:
        """What is taken at a depth, board frame; empty beyond the solid's bottom. At a level itself it counts as in."""
        if self.face == "outside":
            return self.solid.section(-depth)
        region = self.solid.section(depth - self.board.thickness)
        return region.transformed(mirror_x(self.board.length))

    def _depth(self, z: float) -> float:
        """Depth in the board frame of a height of the solid's own frame."""
        return -z if self.face == "outside" else self.board.thickness + z
