"""Commented files to start from, as they lie in a package: `starter.toml` in inches, `starter-mm.toml`."""

from __future__ import annotations

import json
import re
from importlib.resources import files
from typing import Literal


def starter_text(package: str, units: str, what: Literal["job", "kit"]) -> str:
    """The starter of a package, in "in" or "mm", with a line by which an editor finds the schema of such files.

    `#:schema` before the first key is what editors of TOML look for (common practice, no source); others read a
    comment.
    """
    text = (files(package) / f"starter{'-mm' if units == 'mm' else ''}.toml").read_text("utf-8")
    head, rest = text.split("\n\n", 1)
    schema = f"{what}.schema.json"
    return (
        f"{head}\n# Editors that know JSON Schema check as you type, after: jigcam schema {what} > {schema}\n"
        f"#:schema ./{schema}\n\n{rest}"
    )


def starter_for(text: str, kit: str) -> str:
    """A starter of a job with another kit named in it: a name, or a path from the job's folder."""
    named = f"kit   = {json.dumps(kit, ensure_ascii=False)}"
    said = f"{named:<31} # the tools: `jigcam kit` and this name, or path, lists them"
    return re.sub(r"(?m)^kit\s*=.*$", lambda _: said, text, count=1)


def starter_says(text: str) -> str:
    """What a starter is for: the first sentence of its opening comment, without the full stop."""
    comment = " ".join(line.removeprefix("#").strip() for line in text.split("\n\n", 1)[0].splitlines())
    return comment.partition(". ")[0]
