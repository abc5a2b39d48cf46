"""Findings about wood that several kinds of joint, or a joint and the proof, have in common."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "off-board": Rule(
            ("stop",),
            "A part of the joint runs over the edge or the end of its board.",
            "Move it inward, shorten it, or let that end of it be open.",
        ),
        "too-deep": Rule(
            ("stop",), "It goes deeper than the wood allows.", "Make it shallower, or take a thicker board."
        ),
        "deep": Rule(
            ("caution",),
            "It is deeper than is usual in a board of that thickness, and weakens it.",
            "Make it shallower, or take a thicker board.",
        ),
        "short-grain": Rule(
            ("caution",),
            "So little wood is left beside the cut that it may break out.",
            "Move the cut, or make it in an over-long board and trim that afterwards.",
        ),
        "loose": Rule(
            ("caution",),
            "The mate has so much room that a glue line may fail.",
            "Give the joint less clearance, or make the mate thicker.",
        ),
        "season-binds": Rule(
            ("caution",),
            "At one end of the year a board has no room left in its joint: it is crushed, or splits the other one.",
            "Leave as much room as is said, let one end be open, or choose boards that move alike.",
        ),
        "season-opens": Rule(
            ("caution",),
            "At one end of the year a gap opens that is seen.",
            "Choose boards that move alike, or cover the gap: with a shoulder, or by a piece that is not glued.",
        ),
        "season-edges": Rule(
            ("caution", "note"),
            "Two boards that are joined move unlike: at one end of the year their edges are no longer flush.",
            "Choose boards of one wood, sawn alike, or let one of them stand back on purpose.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
