"""Findings about tools that more than one part of the program has."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "no-machine": Rule(
            ("stop",),
            "The joint is to be cut on a machine, and the kit has none.",
            'Write `way = "hand"`, or `[machine]` into the kit, if the shop has one.',
        ),
        "no-router": Rule(
            ("stop",),
            "A template wants a hand-held router, and the kit has none.",
            'Write `way = "hand"`, or `[router]` into the kit, if the shop has one.',
        ),
        "no-sheet": Rule(
            ("stop",),
            "A template wants a sheet to be made of, and the kit has none.",
            'Write `way = "hand"`, or `[sheet]` into the kit, if the shop has one.',
        ),
        "no-bushings": Rule(
            ("stop",),
            "A template wants a guide bushing, and the kit has none.",
            'Write `way = "hand"`, or `[[bushings]]` into the kit, if the shop has one.',
        ),
        "bit-kind": Rule(
            ("stop",),
            "The bit is of a kind that does not make this cut.",
            "Name a straight bit, or leave the choice to the program.",
        ),
        "bit-too-wide": Rule(("stop",), "The bit is wider than the cut.", "Take a narrower bit, or widen the cut."),
        "bit-too-short": Rule(
            ("stop",),
            "The bit, or its edges, are too short for the depth.",
            "Take a longer bit, a shallower cut or a thinner sheet.",
        ),
        "bushing-binds": Rule(
            ("stop", "caution"),
            "The bushing has too little play in its opening, or none: it binds, or may bind once chips are in it.",
            "Widen the cut a little, or take a narrower bit.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
