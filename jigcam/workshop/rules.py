"""Findings about an output folder as a whole."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "dry-run": Rule(
            ("stop",),
            "The dry run of a file is not safe above the stock.",
            "Report it with the job: no dry run should come out so.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
