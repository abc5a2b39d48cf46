"""Findings that rabbets have and other kinds do not."""

from __future__ import annotations

from jigcam.findings import Rule

RULES = {
    "thin-left": Rule(("stop",), "Less wood is left under it than holds.", "Less depth, or a thicker board."),
    "too-wide": Rule(("caution",), "It takes more than half of the board.", "Less width."),
}
