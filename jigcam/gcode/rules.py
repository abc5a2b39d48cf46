"""Findings about the words of a file, as the reader's faults and remarks become them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Level, Rule
from jigcam.gcode.faults import FAULTS, OURS

REMARKS: Final[Mapping[str, Level]] = MappingProxyType(
    {
        "block-delete": "caution",
        "after-end": "caution",
        "units-unstated": "stop",
        "units-changed": "stop",
        "position-unknown": "stop",
        "offset-unknown": "stop",
        "other-zero": "stop",
        "zero-moved": "stop",
    }
)
"""Remarks, with the level that each has in a proof: a stop where the file can no longer be vouched for."""

CURES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "too-many-faults": "Mend those before it first.",
        "arc-start-unknown": "Move to a given place before it.",
        "cycle-start-unknown": "Move to a given height before it.",
        "program-end-missing": "Take the whole file: it may have been cut off.",
        "after-end": "Take out what follows the end, or take out the end before it.",
        "block-delete": "Take the slash away, or the line.",
    }
)
"""What to do, where it is more than to mend a line."""


def _rule(name: str) -> Rule:
    section, wrong = FAULTS[name]
    cure = "Write the file without it." if section == OURS else f"Mend the line: section {section} of NISTIR 6556."
    cure = CURES.get(name, cure)
    return Rule((REMARKS.get(name, "stop"),), f"{wrong[0].upper()}{wrong[1:]}.", cure)


RULES: Final[Mapping[str, Rule]] = MappingProxyType({name: _rule(name) for name in FAULTS})
"""Rule → its levels, what is wrong, how it is cured."""
