"""Findings about the words of a file, as the reader's faults and remarks become them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Level, Rule
from jigcam.gcode.faults import OURS
from jigcam.gcode.faults import RULES as FAULTS

REMARKS: Final[Mapping[str, Level]] = MappingProxyType(
    {
        "block-delete": "caution",
        "after-end": "caution",
        "units-unstated": "stop",
        "units-changed": "stop",
        "position-unknown": "stop",
        "offset-unknown": "stop",
    }
)
"""Remarks, with the level that each has in a proof: a stop where the file can no longer be vouched for."""


def _rule(name: str) -> Rule:
    section, asks = FAULTS[name]
    cure = "Write the file without it." if section == OURS else f"Mend the line; section {section} of NISTIR 6556."
    return Rule((REMARKS.get(name, "stop"),), f"{asks[0].upper()}{asks[1:]}.", cure)


RULES: Final[Mapping[str, Rule]] = MappingProxyType({name: _rule(name) for name in FAULTS})
"""Rule → its levels, what the standard asks, how it is cured."""
