"""Findings about tool paths: the bit of a direct cut, the reach of the machine, what is left to the hand."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "no-bit": Rule(("stop",), "No bit of the kit can make the cut.", "Add a bit such as the finding asks for."),
        "bit-shank": Rule(
            ("stop",),
            "No collet of the machine takes the bit's shank.",
            "Take a bit with another shank, or add the collet to the kit.",
        ),
        "bit-choice": Rule(("note",), "Which bit was taken, and why.", "Name `bit` in the job for another one."),
        "bits-not-taken": Rule(("note",), "Why the other bits of the kit were not taken.", "None is needed."),
        "path-too-large": Rule(
            ("stop",),
            "The path needs more travel than the machine has.",
            "Move the joint nearer to an end of the board, or make it another way.",
        ),
        "corners-left": Rule(
            ("note",), "Inside corners keep the radius of the bit.", "Square them with a chisel, or round what goes in."
        ),
        "hole-by-hand": Rule(
            ("caution",), "No bit of the file can make holes of that size.", "Drill them by hand at the marks."
        ),
        "undercut-closed": Rule(
            ("stop",), "A socket that widens below has no way out for the bit.", "Let one end of it be open."
        ),
        "change-place": Rule(
            ("caution",),
            "The changing place of the kit is out of the machine's reach, and is passed over.",
            "Give `change_at` a place within the travel.",
        ),
        "zero-at-far-end": Rule(
            ("caution",),
            "Zero lies at the end from which the cut is not drawn, as the machine does not reach otherwise.",
            "Measure the board, and give its length as it is.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
