"""`manifest.json`: what the output folder holds, for other programs. Lengths in mm, angles in degrees."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from jigcam import __version__
from jigcam.characters import escaped

if TYPE_CHECKING:
    from jigcam.making.built import Built
    from jigcam.making.made_file import MadeFile


def manifest(built: Built, files: Iterable[MadeFile], options: list[str]) -> dict[str, Any]:
    """Its content; the same job, kit and options, of `jigcam make`, give the same bytes."""
    facts = built.as_dict()
    return {
        "jigcam": __version__,
        "job": facts["job"],
        "job_file": built.job.path.name if built.job.path else "",
        "options": options,
        "kit": facts["kit"],
        "units": facts["units"],
        "files": [file.entry() for file in files],
        "findings": facts["findings"],
        "proof": facts["proof"],
    }


def manifest_bytes(content: dict[str, Any]) -> bytes:
    """As it is written."""
    return escaped(json.dumps(content, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode("utf-8")
