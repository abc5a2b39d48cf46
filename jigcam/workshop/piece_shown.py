"""What there is to see of a piece as drawn, and to buy for it, before any tool is chosen."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from jigcam.piece.scene import Bodies, bodies_as_drawn, piece_cuts, piece_drawings
from jigcam.workshop.piece_order import seasons_of

if TYPE_CHECKING:
    from jigcam.drawing import Drawing
    from jigcam.piece.cut_list import CutList
    from jigcam.workshop.piece_account import PieceAccount


@dataclass(frozen=True)
class PieceShown:
    """Pictures and cut list of a piece."""

    account: PieceAccount

    @cached_property
    def _bodies(self) -> Bodies:
        return bodies_as_drawn(self.account.job)

    @cached_property
    def cuts(self) -> CutList:
        """How many of each board, how large, of which wood, and what is done to it."""
        job = self.account.job
        return piece_cuts(job, self._bodies, self.account.piece, seasons=seasons_of(job))

    @cached_property
    def drawings(self) -> tuple[Drawing, ...]:
        """Put together and pulled apart; none where no board meets another."""
        return tuple(piece_drawings(self.account.job, self._bodies, self.account.parts).values())
