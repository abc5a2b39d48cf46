"""Findings of the workshop: what a file is taken for."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from jigcam.findings import Rule

RULES: Final[Mapping[str, Rule]] = MappingProxyType(
    {
        "another-name": Rule(
            ("stop", "caution"),
            "The file has the name of one planned file and the comments of another.",
            "Give it its own name back, or prove it by the joint with `--joint`.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
