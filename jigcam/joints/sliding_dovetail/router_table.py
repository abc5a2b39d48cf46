"""The tail on a router table: which settings of bit and fence cut it, on plain numbers. mm, rad.

The board stands on its end, a face against the fence, and runs past a dovetail bit that comes up out of the table, its
tip and widest place uppermost. *Proud*: how far the cutting edge at the tip stands out of the fence's face where it
stands out most; the shoulder beside the tail gets as wide as that, whatever the bit's height. At the table, where the
end of the tail runs, the bit is thinner and takes less. *Shim*: a strip between board and fence at one edge, which
keeps the cut shallower there and so gives a taper.
"""

from __future__ import annotations

from math import ceil, tan
from typing import Literal

from jigcam.errors import InputError
from jigcam.values import dataclass

TableFace = Literal["outside", "inside"]
TableEdge = Literal["lower", "upper"]

LANE = 0.9
"""Share of the bit's width at the table by which passes beside each other are apart: no thread of wood stays."""
SAME = 1e-3
"""Settings that are this near are one, mm: no fence is set finer."""


@dataclass(frozen=True, slots=True)
class TableBit:
    """A dovetail bit in a router table. diameter: at its tip. angle: of its flank. height: of its tip above the table.

    Raises InputError where nothing of it is left at the table.
    """

    diameter: float
    angle: float
    height: float

    def __post_init__(self) -> None:
        if self.neck <= 0.0:
            raise InputError(
                "the bit has no width at the table",
                found=f"{self.height:g} mm of height at {self.diameter:g} mm of diameter",
                wanted=f"less than {self.diameter / 2.0 / tan(self.angle):g} mm",
            )

    @property
    def lean(self) -> float:
        """How much thinner each side of it is at the table than at its tip."""
        return self.height * tan(self.angle)

    @property
    def neck(self) -> float:
        """Its width at the table."""
        return self.diameter - 2.0 * self.lean


@dataclass(frozen=True, slots=True)
class FenceCut:
    """The cuts along one face of the tail board, that face against the fence.

    proud: settings of the fence, the last of which leaves the shoulder. shim: thickness of a strip at `shim_edge`, 0
    where there is no taper.
    """

    face: TableFace
    proud: tuple[float, ...]
    shim: float = 0.0
    shim_edge: TableEdge = "lower"

    @property
    def last(self) -> float:
        """The setting that leaves the shoulder."""
        return self.proud[-1]

    def shoulder(self, edge: TableEdge) -> float:
        """Width of the shoulder that it leaves at an edge of the board."""
        return self.last - (self.shim if edge == self.shim_edge else 0.0)


@dataclass(frozen=True, slots=True)
class TableTail:
    """A tail as a router table cuts it. thickness: of its board. cuts: one face, then the other.

    enters: the edge of the board that goes in last, where the tail is widest. notch: how much of the tail is sawn off
    at `notch_edge`, on the shoulder; 0 where nothing is.
    """

    bit: TableBit
    thickness: float
    cuts: tuple[FenceCut, FenceCut]
    enters: TableEdge = "lower"
    notch: float = 0.0
    notch_edge: TableEdge = "lower"

    @property
    def one_setting(self) -> bool:
        """Whether both faces are cut at the same settings, the board only turned round between them."""
        one, other = self.cuts
        return one.proud == other.proud

    def neck(self, edge: TableEdge) -> float:
        """Width of the tail at its shoulders, at an edge of its board."""
        return self.thickness - sum(cut.shoulder(edge) for cut in self.cuts)

    def end(self, edge: TableEdge) -> float:
        """Width of the tail at its end, which is what a calliper measures, at an edge of its board."""
        return self.thickness - sum(max(0.0, cut.shoulder(edge) - self.bit.lean) for cut in self.cuts)


def table_tail(
    bit: TableBit,
    thickness: float,
    outside: tuple[float, float],
    inside: tuple[float, float],
    *,
    enters: TableEdge = "lower",
    notch: float = 0.0,
    notch_edge: TableEdge = "lower",
) -> TableTail:
    """The cuts that leave these shoulders. outside, inside: of each face, at the board's lower and upper edge.

    The face with the straight flank comes first, so that the fence moves outward only. Raises InputError where a
    shoulder has no width, or no neck is left between two.
    """
    for low, high in (outside, inside):
        if min(low, high) <= 0.0:
            raise InputError(
                "a router table cuts no tail without shoulders",
                found=f"{min(low, high):g} mm",
                wanted="a tail board thicker than the neck",
            )
    if max(outside) + max(inside) >= thickness:
        raise InputError(
            "nothing is left of the tail between its shoulders",
            found=f"{max(outside) + max(inside):g} mm of shoulders",
            wanted=f"less than {thickness:g} mm",
        )
    cuts = [_cut(bit, "outside", outside), _cut(bit, "inside", inside)]
    first, second = sorted(cuts, key=lambda cut: cut.shim)
    if abs(first.last - second.last) < SAME:
        second = FenceCut(second.face, first.proud, second.shim, second.shim_edge)
    return TableTail(bit, thickness, (first, second), enters, notch, notch_edge)


def _cut(bit: TableBit, face: TableFace, shoulders: tuple[float, float]) -> FenceCut:
    low, high = shoulders
    proud = fence_passes(bit, max(low, high))
    if abs(low - high) < SAME:
        return FenceCut(face, proud)
    return FenceCut(face, proud, abs(low - high), "lower" if low < high else "upper")


def fence_passes(bit: TableBit, shoulder: float) -> tuple[float, ...]:
    """How far the bit stands out of the fence, pass by pass, until a shoulder of that width is clean.

    One pass does where the bit, at the table too, reaches back to the fence's face.
    """
    first = bit.neck + bit.lean
    if shoulder <= first:
        return (shoulder,)
    more = ceil((shoulder - first) / (LANE * bit.neck))
    step = (shoulder - first) / more
    return (*(first + k * step for k in range(more)), shoulder)
