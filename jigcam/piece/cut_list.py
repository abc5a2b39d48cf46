"""The cut list of a piece: for each board how many, finished and as sawn out, of which wood, and what is done to it.

Sizes are length (along the grain) by width by thickness, mm. A board is sawn out larger by the job's allowance and its
thickness is the least that can be bought and planed down. Wood is bought by what is sawn out, not by what is finished.

Source: Wood Handbook of the Forest Products Laboratory, glossary, "board foot" (from memory): a board 12 in long, 12 in
wide and 1 in thick, or as much; lumber less than 1 in thick counts as 1 in. NIST Special Publication 811, appendix B.8
(from memory): 1 board foot is 2.359737e-3 m³.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

from jigcam.making.work_order import WorkOrder
from jigcam.units import INCH

if TYPE_CHECKING:
    from jigcam.job import Board
    from jigcam.job.allowance import Allowance
    from jigcam.units import Voice

BOARD_FOOT: Final = 144.0 * INCH**3
"""mm³."""
CUBIC_METRE: Final = 1e9
"""mm³."""
SAWN_TO: Final[Mapping[str, float]] = {"in": INCH / 8.0, "mm": 1.0}
"""Rough lengths and widths are said to so much, rounded up, mm."""
GRAIN: Final = "along the length"
"""How the grain runs in every board: that is what its length is."""

Sizes = tuple[float, float, float]


@dataclass(frozen=True)
class CutLine:
    """One line: all boards that are alike. count: of them; opposite: those of them for the opposite hand.

    rough: length, width and thickness as sawn out, mm. room: taken off its width as drawn, for its movement, mm.
    """

    board: Board
    count: int
    rough: Sizes
    work: WorkOrder
    opposite: int = 0
    room: float = 0.0

    @property
    def finished(self) -> Sizes:
        """Length, width and thickness, mm."""
        return self.board.length, self.board.width - self.room, self.board.thickness

    @property
    def wood(self) -> str:
        """Wood and how it is sawn, in words."""
        return wood_words(self.board)

    @property
    def board_feet(self) -> float:
        """Of all of them as sawn out."""
        return self.count * board_feet(*self.rough)

    @property
    def cubic_metres(self) -> float:
        """Of all of them as sawn out."""
        return self.count * math.prod(self.rough) / CUBIC_METRE


@dataclass(frozen=True)
class WoodTotal:
    """What the boards of one wood and one rough thickness come to, as sawn out."""

    wood: str
    thickness: float
    board_feet: float
    cubic_metres: float


@dataclass(frozen=True)
class CutList:
    """The boards of a piece, in the order of the job. allowance: what they are sawn larger by, none of it left out."""

    lines: tuple[CutLine, ...]
    allowance: Allowance
    voice: Voice

    @cached_property
    def totals(self) -> tuple[WoodTotal, ...]:
        """By wood, in the order of the job, and by thickness, the thinnest first."""
        woods = list(dict.fromkeys(line.wood for line in self.lines))
        groups: dict[tuple[int, float], list[CutLine]] = {}
        for line in self.lines:
            groups.setdefault((woods.index(line.wood), line.rough[2]), []).append(line)
        return tuple(
            WoodTotal(woods[wood], thickness, sum(x.board_feet for x in some), sum(x.cubic_metres for x in some))
            for (wood, thickness), some in sorted(groups.items(), key=lambda item: item[0])
        )

    def as_dict(self) -> list[dict[str, Any]]:
        """For programs, mm."""
        return [_as_dict(line) for line in self.lines]


def cut_list(
    boards: Iterable[Board],
    counts: Mapping[str, int],
    work: Mapping[str, WorkOrder],
    allowance: Allowance,
    voice: Voice,
    opposite: Mapping[str, int] | None = None,
    rooms: Mapping[str, float] | None = None,
) -> CutList:
    """The list of boards. counts: how many there are of each, by name, 1 where it says nothing; work: done to each;
    opposite: how many are for the opposite hand; rooms: what is taken off widths for movement, mm."""
    usual, mirrored, free = allowance.usual(voice.units), opposite or {}, rooms or {}
    lines = (
        CutLine(
            board,
            counts.get(board.name, 1),
            sawn_out(board, usual, voice),
            work.get(board.name, WorkOrder()),
            mirrored.get(board.name, 0),
            free.get(board.name, 0.0),
        )
        for board in boards
    )
    return CutList(tuple(lines), usual, voice)


def sawn_out(board: Board, allowance: Allowance, voice: Voice) -> Sizes:
    """Length, width and thickness as sawn out, mm; thicker than any stock, it is what it has to be: glued up.

    allowance: none of it left out.
    """
    step = SAWN_TO[voice.units]
    least = board.thickness + (allowance.thickness or 0.0)
    thick = next((size for size in allowance.stock or () if size >= least - 1e-6), least)
    length, width = (
        math.ceil((size + (more or 0.0)) / step - 1e-6) * step
        for size, more in ((board.length, allowance.length), (board.width, allowance.width))
    )
    return length, width, thick


def board_feet(length: float, width: float, thickness: float) -> float:
    """Board feet of one board, from mm; below an inch of thickness it counts as one.

    >>> round(board_feet(96 * 25.4, 6 * 25.4, 25.4), 6)
    4.0
    """
    return length * width * max(thickness, INCH) / BOARD_FOOT


def wood_words(board: Board) -> str:
    """Wood and how it is sawn."""
    if board.wood is None:
        return "wood not said"
    return f"{board.wood}, {board.sawn} sawn" if board.sawn else board.wood


def _as_dict(line: CutLine) -> dict[str, Any]:
    names = ("length_mm", "width_mm", "thickness_mm")
    return {
        "name": line.board.name,
        "count": line.count,
        "opposite_hand": line.opposite,
        "wood": line.board.wood,
        "sawn": line.board.sawn,
        "grain": GRAIN,
        **{name: round(size, 4) for name, size in zip(names, line.finished, strict=True)},
        **{f"rough_{name}": round(size, 4) for name, size in zip(names, line.rough, strict=True)},
        "board_feet": round(line.board_feet, 3),
        "cubic_metres": round(line.cubic_metres, 6),
        "work": [each.told for each in line.work.clampings],
    }
