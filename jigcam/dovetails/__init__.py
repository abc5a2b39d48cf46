"""Dovetailed corners, through and half blind: layout, hand work, solids, how the two boards meet, how they are cut.

The kinds that share them are rooms under `joints`; here nothing knows which of them asks. A corner is *through* where
the tails show on the outside of the pin board, and *half blind* where a *lap* of the pin board hides their ends. The
design imports no tools; ways, cuts and plan do, and are imported when there is a kit.
"""

from __future__ import annotations

from jigcam.dovetails.handwork import HandLayout, hand_layout
from jigcam.dovetails.joint import Dovetail, dovetail
from jigcam.dovetails.layout import Flank, Layout, Strip, even_layout, measured_layout, tail_width

__all__ = [
    "Dovetail",
    "Flank",
    "HandLayout",
    "Layout",
    "Strip",
    "dovetail",
    "even_layout",
    "hand_layout",
    "measured_layout",
    "tail_width",
]
