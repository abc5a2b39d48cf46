"""Findings that keys have and other kinds do not."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "keys-close": Rule(
            ("stop", "caution"), "Two keys leave little wood between them, or none.", "Space them further apart."
        ),
        "weak-key": Rule(
            ("caution",),
            "The waist is nearly as wide as the ends, so the key holds little.",
            "Make the waist narrower, or the ends wider.",
        ),
        "key-along-grain": Rule(
            ("caution",),
            "The key runs along the grain of its board, and so along the crack.",
            "Lay it square across the grain.",
        ),
        "key-grain": Rule(
            ("note",),
            "The grain of a key runs along its length.",
            "Lay out its stock so, and drill the end of a crack that still runs.",
        ),
        "season-key": Rule(
            ("note",),
            "How much the board moves over the length of a key, which does not move along its own grain.",
            "Take shorter keys, and leave the rest of the board free to move.",
        ),
        "no-inlay": Rule(
            ("stop",),
            "No bit with two bushings makes recess and key from one opening.",
            "Add two bushings to the kit whose outsides differ by two bit diameters.",
        ),
        "inlay": Rule(
            ("note",),
            "Which bit and which two bushings make recess and key.",
            "Name `bit`, `bushing` and `plug` in the job for others.",
        ),
        "inlay-corners": Rule(
            ("note",), "The radii that recess and key get at their corners.", "None is needed: both have the same."
        ),
        "inlay-gap": Rule(
            ("caution", "note"),
            "The key comes out narrower or wider than its recess by other than the wanted clearance.",
            "Pare the key where it is wider; where it is narrower glue fills it.",
        ),
        "cut-the-key": Rule(("note",), "How a key is cut from its stock.", "Follow it."),
        "next-key": Rule(
            ("note",), "Where the template lies for the other keys.", "Lay it by its centreline at those places."
        ),
        "try-the-key": Rule(
            ("note",),
            "No test cut has shown the true difference of the tools.",
            "Cut one key and its recess in an offcut first.",
        ),
        "no-key": Rule(
            ("stop",),
            "Nothing is left of the key, as its waist is too narrow.",
            "Make the waist wider, or take a smaller bit.",
        ),
        "key-and-recess": Rule(
            ("stop",),
            "Key and recess, as cut, differ from what is meant.",
            "Undo what was changed in the files, or make them anew.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
