"""Findings that sliding dovetails have and other kinds do not."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "sliding-extended": Rule(
            ("caution",),
            "An open end is drawn within the board, and carried on over its edge.",
            "Draw it to the edge, or make it stopped.",
        ),
        "sliding-shallow": Rule(("note",), "The socket is shallower than is usual.", "More depth."),
        "sliding-neck": Rule(
            ("stop", "caution"), "The tail is so thin at its neck that it may snap.", "A wider base, or less depth."
        ),
        "sliding-shoulder": Rule(
            ("stop", "caution"),
            "The shoulders beside the tail are too thin to stand, or its board is too thin for the base.",
            "A base as wide as the board is thick, or one that leaves more.",
        ),
        "sliding-notch": Rule(
            ("note",), "How much of the tail is notched away before a stopped end.", "Nothing: cut it as said."
        ),
        "sliding-edges": Rule(
            ("note",), "The tail board is not as wide as the socket is long.", "Another width, or leave it so."
        ),
        "sliding-slope": Rule(
            ("caution", "note"),
            "The bit decides the angle of the flanks, and not the drawing.",
            "Draw the angle of a bit of the kit, or leave it out.",
        ),
        "sliding-preclear": Rule(
            ("caution", "note"),
            "Which straight bit goes before the dovetail bit, or that none does.",
            "A narrower straight bit, or a wider base.",
        ),
        "sliding-tail": Rule(
            ("stop",),
            "No machine can cut the tail board standing.",
            'Write `tail_way = "router-table"` or `tail_way = "hand"`.',
        ),
        "sliding-template": Rule(
            ("stop",),
            "No dovetail bit rides the socket in a guide bushing.",
            'A base a little wider than the bit, another bushing, or `way = "direct"` or `way = "hand"`.',
        ),
        "sliding-fit-off": Rule(
            ("caution",),
            "A gap of the joint, as cut, is not as drawn.",
            "Undo what was changed in the files, or try the joint in offcuts.",
        ),
        "sliding-taper": Rule(("caution",), "The socket narrows more than is usual.", "Less taper."),
        "sliding-clearance": Rule(
            ("caution",),
            "There is no clearance, or so much that a glue line may fail.",
            "Give each flank what is usual.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
