"""What `--json` and the manifest say, held to their documented shape by a general-purpose validator."""

from __future__ import annotations

from functools import cache
from typing import Any

import jsonschema

from jigcam.workshop.results import results_schema


@cache
def _validator(name: str) -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator({"$ref": f"#/$defs/{name}", "$defs": results_schema()["$defs"]})


def shape_faults(name: str, result: Any) -> list[str]:
    """What departs from the shape of that name in `jigcam schema results`: a key too many, too few, or another type."""
    return [f"{each.json_path}: {each.message[:300]}" for each in _validator(name).iter_errors(result)]
