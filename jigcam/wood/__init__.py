"""Wood: what all kinds of joint share before any tool is known.

Solids, what a joint takes from a board, bands, mates, limits of the trade, movement.
"""

from __future__ import annotations

from jigcam.wood.band import Band
from jigcam.wood.mate import Mate
from jigcam.wood.meeting import Meeting, Motion
from jigcam.wood.solid import Cut, Hand, PlacedSolid, Prism, Solid
from jigcam.wood.taken import End, Taken

__all__ = ["Band", "Cut", "End", "Hand", "Mate", "Meeting", "Motion", "PlacedSolid", "Prism", "Solid", "Taken"]
