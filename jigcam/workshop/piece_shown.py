"""What there is to see of a piece as drawn, and to buy for it, before any tool is chosen."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from jigcam.piece.body import body_of
from jigcam.piece.order_of_work import work_order
from jigcam.piece.scene import bodies_of, piece_cuts, piece_drawings, taken_as_drawn
from jigcam.workshop.piece_order import seasons_of

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.piece.cut_list import CutList
    from jigcam.wood import Taken
    from jigcam.workshop.piece_account import PieceAccount


@dataclass(frozen=True)
class PieceShown:
    """Pictures and cut list of a piece."""

    account: PieceAccount

    @cached_property
    def _taken(self) -> list[Taken]:
        return taken_as_drawn(self.account.job)

    @cached_property
    def cuts(self) -> CutList:
        """How many of each board, how large, of which wood, and what is done to it."""
        job, piece = self.account.job, self.account.piece
        order = work_order(job, [body_of(each) for each in self._taken], assembled=piece)
        return piece_cuts(job, piece, order, seasons_of(job))

    @cached_property
    def drawings(self) -> tuple[Drawing, ...]:
        """Put together and pulled apart; none where no board meets another."""
        return tuple(piece_drawings(self.account.job, bodies_of(self._taken), self.account.parts).values())
