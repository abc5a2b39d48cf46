"""The boards of a piece with all their joints together: what one joint does to another, as drawn and as cut."""

from __future__ import annotations

from jigcam.piece.closing import closing_findings
from jigcam.piece.copies import piece_of
from jigcam.piece.piece import CutBoard, Piece, PieceJoint
from jigcam.piece.rules import RULES
from jigcam.piece.together import drawn_stops, together_findings
from jigcam.piece.virtual_board import MadeTexts, as_cut

__all__ = [
    "RULES",
    "CutBoard",
    "MadeTexts",
    "Piece",
    "PieceJoint",
    "as_cut",
    "closing_findings",
    "drawn_stops",
    "piece_of",
    "together_findings",
]
