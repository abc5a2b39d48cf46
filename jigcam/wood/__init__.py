"""Wood: what all kinds of joint share before any tool is known: solids, bands, mates, limits of the trade, movement."""

from __future__ import annotations

from jigcam.wood.band import Band
from jigcam.wood.mate import Mate
from jigcam.wood.solid import Cut, Hand, Placed, Prism, Solid

__all__ = ["Band", "Cut", "Hand", "Mate", "Placed", "Prism", "Solid"]
