"""Findings that grooves have and other kinds do not."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "misses-board": Rule(
            ("stop",),
            "The groove does not touch its board.",
            "Check `from` and `angle`: they are as seen square at the named face.",
        ),
        "too-short": Rule(
            ("stop",),
            "A groove with round ends is too short for them: nowhere does it get as wide as drawn.",
            "Lengthen it, or draw it with square ends.",
        ),
        "open-end-extended": Rule(
            ("caution",),
            "An open end is drawn inside the board, and was carried on over the edge.",
            "Make that end stopped, if this is not meant.",
        ),
        "shallow": Rule(("caution", "note"), "The groove is shallow for a loaded shelf.", "Make it deeper."),
        "interference": Rule(
            ("stop",), "The entering board is thicker than the groove is wide.", "Leave `width` out, or widen it."
        ),
        "no-clearance": Rule(
            ("caution",), "The entering board has no clearance, and may seize when glue swells it.", "Give it a little."
        ),
        "round-the-edge": Rule(
            ("note",),
            "How to round the entering board where it lies in a round end.",
            "Round it, or draw the groove with square ends.",
        ),
        "notch": Rule(
            ("caution",),
            "The entering board is wider than the groove is long, so it does not go in as it is.",
            "Notch it as said, or make the groove longer or the board narrower.",
        ),
        "floating-panel": Rule(
            ("caution", "note"),
            "A panel that is not glued moves in and out of its grooves with the seasons.",
            "Leave it the room that is said, or make the grooves deeper.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
