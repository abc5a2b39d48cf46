"""JSON Schema of job and kit files, from the models that read them, for editors that complete and check as one types.

A schema knows the keys, what each is for, their types and the words that they take; what several keys mean together
only `jigcam check` tells. Source: JSON Schema, draft 2020-12, and TOML as JSON data.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from pydantic.json_schema import GenerateJsonSchema

from jigcam.document.keys import keys_told, models_in
from jigcam.joints import kind, kind_names

if TYPE_CHECKING:
    from pydantic import BaseModel
    from pydantic_core import core_schema

DIALECT = "https://json-schema.org/draft/2020-12/schema"


class _InTextUnits(GenerateJsonSchema):
    """Defaults are written as a file may write them: with their unit, since those of the file are not known."""

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> dict[str, Any]:
        found = super().default_schema(schema)
        unit = found.pop("x-unit", "") or next(
            (each["x-unit"] for each in found.get("anyOf", ()) if "x-unit" in each), ""
        )
        default = found.get("default")
        if default is None:
            found.pop("default", None)  # TOML has no word for nothing: the key is left out
        elif unit and isinstance(default, int | float):
            shown = f"{math.degrees(default):g} deg" if unit == "rad" else f"{default:g} {unit}"
            found["default"] = shown
        return found


def job_schema() -> dict[str, Any]:
    """The schema of a job file; a joint is one of the kinds that there are."""
    from jigcam.job import Job

    whole = _schema_of(Job, "Job of jigcam")
    names = {name: kind(name).entry for name in kind_names()}
    parts: dict[str, Any] = whole["$defs"]
    parts.pop("Entry")
    for name, entry in names.items():
        own = _schema_of(entry, name)
        parts |= own.pop("$defs", {})
        own.pop("$schema")
        own["required"] = sorted({*own.get("required", ()), "kind"})
        parts[entry.__name__] = own
    by_kind = [
        {
            "if": {"properties": {"kind": {"const": name}}, "required": ["kind"]},
            "then": {"$ref": f"#/$defs/{entry.__name__}"},
        }
        for name, entry in names.items()
    ]
    joint = {"type": "object", "required": ["kind"], "properties": {"kind": {"enum": list(names)}}, "allOf": by_kind}
    whole["properties"]["joints"] = {"type": "array", "minItems": 1, "items": joint}
    board = parts["Board"]
    board["properties"].pop("name")  # it is the table's own
    sizes = [key for key in board.pop("required") if key != "name"]
    board["anyOf"] = [{"required": sizes}, {"required": ["like"]}]
    return whole


def kit_schema() -> dict[str, Any]:
    """The schema of a kit file."""
    from jigcam.kit.kit import Kit

    return _schema_of(Kit, "Kit of jigcam")


def _schema_of(model: type[BaseModel], title: str) -> dict[str, Any]:
    found = model.model_json_schema(by_alias=True, schema_generator=_InTextUnits, mode="validation")
    whole: dict[str, Any] = {"$schema": DIALECT, **_without_marks(found), "title": title}
    told = {each.__name__: keys_told(each) for each in models_in(model)}
    for name, part in {model.__name__: whole, **whole.get("$defs", {})}.items():
        for key, shape in part.get("properties", {}).items():
            if says := told.get(name, {}).get(key):
                shape["description"] = f"{says} ({shape['description']})" if "description" in shape else says
    return whole


def _without_marks(schema: Any) -> Any:
    """Without the marks of units, and without nothing among what a key may be."""
    if isinstance(schema, list):
        return [_without_marks(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    found = {key: _without_marks(value) for key, value in schema.items() if key != "x-unit"}
    choices = found.get("anyOf")
    if choices and {"type": "null"} in choices:
        rest = [each for each in choices if each != {"type": "null"}]
        del found["anyOf"]
        found |= rest[0] if len(rest) == 1 else {"anyOf": rest}
    return found
