"""What a groove asks of the board that enters it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mate:
    """The entering board's needs, mm.

    board: its name, or "" where the groove only names a width. thickness: of the entering edge. clearance: in all,
    across the groove; negative is interference. enters: how far it goes in (the groove's depth). edge_radius: to which
    its edges are rounded from both faces so that they seat in round ends (half the groove's width); 0 where no end
    needs it. length: of the entering edge, along the groove and on the board. notch: what has to come off the entering
    board's width, in all, so that it goes between the stopped ends; 0 where it fits or where its width is not known.
    """

    board: str
    thickness: float
    clearance: float
    enters: float
    edge_radius: float
    length: float
    notch: float
