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
        "alone-on-sheet": Rule(
            ("note",),
            "A joint names a sheet, by the key `template`, that no other joint names.",
            "Give the other joints of the sheet the same name, or leave `template` out.",
        ),
        "whole-sheet": Rule(
            ("note",),
            "One joint was asked for, and it shares its sheet with others, so all of the sheet is made.",
            "None is needed; a joint without `template` has a sheet of its own.",
        ),
    }
)
"""Rule → its levels, what it means, how it is cured."""
