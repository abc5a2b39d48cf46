"""Findings that dovetailed corners have and other kinds do not."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "dovetail-ends": Rule(
            ("stop",),
            "The two ends cannot meet without turning a face inside out.",
            "Name the end that the finding says.",
        ),
        "dovetail-widths": Rule(
            ("stop",), "The boards of the corner are not equally wide.", "Plane them to one width."
        ),
        "dovetail-measured": Rule(
            ("stop",), "Tails cannot be as they were measured.", "Measure that tail again, from the lower edge upward."
        ),
        "dovetail-no-room": Rule(
            ("stop",), "The pins leave no room for the tails.", "Use fewer tails or narrower pins."
        ),
        "dovetail-tail-vanishes": Rule(
            ("stop",), "A tail narrows to nothing before the baseline.", "Use a flatter slope or fewer tails."
        ),
        "dovetail-pin-vanishes": Rule(
            ("stop",),
            "A pin has no width left at its narrow side.",
            "Use wider pins, a flatter slope, or measure again.",
        ),
        "dovetail-tail-narrow": Rule(
            ("stop", "caution"),
            "A tail is so narrow at its neck that it may snap, or cannot be cut.",
            "Use fewer tails or a flatter slope.",
        ),
        "dovetail-tail-under-pin": Rule(
            ("caution",), "A tail is narrower than a pin.", "Use fewer tails or narrower pins."
        ),
        "dovetail-pin-narrow": Rule(
            ("stop", "caution"), "A pin is delicate at its narrow side, or too thin to stand.", "Use wider pins."
        ),
        "dovetail-half-pin-splits": Rule(
            ("caution",), "A half pin is so narrow that the outer tail may split it off.", "Make `half_pin` wider."
        ),
        "dovetail-slope": Rule(
            ("stop", "caution"),
            "The slope is too flat to hold, or so steep that corners break off.",
            "Choose a slope within what is usual.",
        ),
        "dovetail-lap": Rule(
            ("stop", "caution"),
            "The lap that hides the ends of the tails is thinner or thicker than is usual, or too thin to stand.",
            "Choose a lap within what is usual, or a thicker pin board.",
        ),
        "dovetail-tail-short": Rule(
            ("caution",),
            "The tails are short for the thickness of their board.",
            "A thinner lap, or a thicker pin board.",
        ),
        "dovetail-rabbet": Rule(
            ("stop", "caution"),
            "The registration rabbet takes much of the tail board, or all of it.",
            "Make it shallower.",
        ),
        "dovetail-clearance": Rule(
            ("caution",),
            "There is no clearance, or so much that a glue line may fail.",
            "Give each flank what is usual.",
        ),
        "dovetail-pare": Rule(("stop",), "More is left to pare than a shaving.", "Make `pare` smaller."),
        "dovetail-way": Rule(
            ("note",),
            "Which way a board is cut, with which bit, and why.",
            "Name `tails_setup` or `pins_setup` for another.",
        ),
        "dovetail-way-refused": Rule(
            ("stop", "note"), "Why a board cannot be cut in a setup.", "Change the kit or the joint as the reasons say."
        ),
        "dovetail-setup": Rule(
            ("stop",),
            "The setup that was asked for does not work with the kit, and another would.",
            "Name the other, or leave the choice to the program.",
        ),
        "dovetail-bit": Rule(
            ("stop",), "The named bit is of a kind that cuts no dovetail.", "Name a straight or a dovetail bit."
        ),
        "dovetail-slope-changed": Rule(
            ("caution", "note"),
            "The bit decides the slope, and not the drawing.",
            "Draw the slope of the bit, or have the tails cut flat.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
