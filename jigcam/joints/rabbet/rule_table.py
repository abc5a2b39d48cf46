"""Findings that rabbets have and other kinds do not."""

from __future__ import annotations

from jigcam.findings import Rule

RULES = {
    "stands-proud": Rule(
        ("caution",),
        "The board that lies in a rabbet is thicker than it is wide.",
        "A wider rabbet, or a thinner board.",
    ),
    "thin-left": Rule(("stop",), "Less wood is left under it than holds.", "Less depth, or a thicker board."),
    "too-wide": Rule(("caution",), "It takes more than half of the board.", "Less width."),
}
