"""What a groove asks of the board that enters it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mate:
    """The entering board's needs, mm.

    board: its name, or "" where the groove only names a width. thickness: of the entering edge. clearance: in all,
    across the groove; negative is interference. enters: how far it goes in (the groove's depth). edge_radius: to which
    its ends within the groove are rounded from both faces so that they seat in round ends (half its thickness); 0 where
    no end needs it. length: of the groove, on the board. stopped: how many of the groove's ends are. size: of the board
    that enters, along the groove; None where it is not known. by_end: that size lies across its grain. floats: it is
    not glued. room: that stays free before the bottom of each of the two grooves in which its edges lie, as it grows.
    """

    board: str
    thickness: float
    clearance: float
    enters: float
    edge_radius: float
    length: float
    stopped: int = 0
    size: float | None = None
    by_end: bool = True
    floats: bool = False
    room: float = 0.0

    @property
    def captured(self) -> bool:
        """Whether the groove holds it at both ends."""
        return self.stopped == 2

    @property
    def longest(self) -> float:
        """What goes between the groove's ends: the clearance holds there too, or it would have to be forced in."""
        return self.length - max(self.clearance, 0.0) if self.captured else self.length

    @property
    def tongue(self) -> float:
        """Length, along the groove, of the part that enters: all of the board, or what notching leaves of it."""
        return self.longest if self.size is None else min(self.size, self.longest)

    @property
    def notch(self) -> float:
        """What has to come off its entering end, in all, at stopped ends; 0 where it fits or its size is not known."""
        return max(0.0, self.size - self.longest) if self.size is not None and self.stopped else 0.0
