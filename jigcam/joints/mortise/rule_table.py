"""Findings that mortises have and other kinds do not."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "thin-cheek": Rule(
            ("stop", "caution"),
            "Little wood is left beside a mortise in an end, between it and a face.",
            "Make the mortise narrower, or move it to the middle of the thickness.",
        ),
        "tenon-share": Rule(
            ("caution",),
            "A loose tenon is much thicker or thinner than a third of the board in whose end it is.",
            "Make it a third of the thickness.",
        ),
        "mortises-close": Rule(
            ("stop", "caution"),
            "Two mortises of a row leave little wood between them, or none.",
            "Space them further apart.",
        ),
        "mates-askew": Rule(
            ("caution",),
            "With both mortises in line the boards would meet aslant.",
            "Check `angle` of both: each is as seen square at its own face or end.",
        ),
        "tenon-seizes": Rule(
            ("caution",),
            "The tenon has hardly any play, and seizes when glue swells it.",
            "Give it a little clearance.",
        ),
        "mortise-reach": Rule(
            ("note",),
            "How deep a mortise each bit of the kit can cut, by the way that was asked for.",
            "Make the mortise no deeper, or take a longer bit or a thinner sheet.",
        ),
        "end-not-held": Rule(
            ("stop",),
            "The machine cannot hold the board on end.",
            "Cut the end by hand, or on a machine whose vise takes the board.",
        ),
        "next-mortise": Rule(
            ("note",), "Where the template lies for the other mortises.", "Lay it by lines at those places."
        ),
        "mate-template": Rule(
            ("note",), "How the template lies for the mate, and which of its faces is up.", "Lay it as said."
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
