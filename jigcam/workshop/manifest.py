"""`manifest.json`: what the output folder holds, for other programs. Lengths in mm, angles in degrees."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from jigcam import __version__
from jigcam.characters import escaped
from jigcam.workshop.build import summary

if TYPE_CHECKING:
    from jigcam.workshop.build import Built
    from jigcam.workshop.outfile import OutFile


def manifest(built: Built, files: Iterable[OutFile]) -> dict[str, Any]:
    """Its content; the same job and kit give the same bytes."""
    facts = summary(built)
    return {
        "jigcam": __version__,
        "job": facts["job"],
        "kit": facts["kit"],
        "units": facts["units"],
        "files": [file.entry() for file in files],
        "findings": facts["findings"],
        "proof": facts["proof"],
    }


def manifest_bytes(content: dict[str, Any]) -> bytes:
    """As it is written."""
    return escaped(json.dumps(content, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode("utf-8")
