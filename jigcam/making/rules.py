"""Findings that the files of every kind of joint may have."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "cleared": Rule(
            ("note",),
            "The opening is cleared, although cutting round its waste would be quicker.",
            "None is needed: a loose core, or the stubs of its tabs, would spoil the edge.",
        ),
        "one-sheet": Rule(
            ("note",),
            "What is done once for several joints on one sheet, and would be anew for each on its own.",
            "None is needed.",
        ),
        "laid-again": Rule(
            ("note",),
            "Where else a sheet that several joints share is laid, and which of its openings are used there.",
            "Lay it as the setup sheet says.",
        ),
        "axes-apart": Rule(
            ("caution",),
            "Bushing and bit are not on one axis, as measured, and that may spoil the fit.",
            "Centre the bushing, or keep one side of the base facing the same way.",
        ),
        "dry-run": Rule(
            ("stop",),
            "The dry run of a file is not safe above the stock.",
            "Report it with the job: no dry run should come out so.",
        ),
        "fit-off": Rule(
            ("caution",),
            "A gap of a corner, as cut, is not as drawn.",
            "Undo what was changed in the files, or try the corner in offcuts.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
