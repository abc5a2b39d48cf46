"""The tables of keys as a reader of the README sees them: from the models that read files, and from their schema."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from jigcam.document.keys import keys_told, models_in
from jigcam.job import Entry
from jigcam.job.job import Job
from jigcam.joints import kind, kind_names
from jigcam.kit.kit import Kit
from jigcam.workshop.schema import job_schema, kit_schema

_NEEDED = "**needed**"

PLACES = {
    "Job": "the job",
    "Board": "`[boards.NAME]`",
    "KeepOutBox": "`[[keep_out]]`, and `[[machine.keep_out]]` of a kit",
    "Climate": "`[climate]`, of a job or a kit",
    "Allowance": "`[allowance]`",
    "Air": "`dry`, `damp` and `shop` of `[climate]`",
    "Repeat": "`repeat` of a joint",
    "MateEntry": "`mate` of a mortise",
    "Kit": "the kit",
    "Router": "`[router]`",
    "Sheet": "`[sheet]`",
    "Machine": "`[machine]`",
    "Nut": "`nut` of the machine",
    "Upright": "`upright` of the machine",
    "Bit": "`[[bits]]`",
    "Bushing": "`[[bushings]]`",
    "Accuracy": "`[tolerances]`",
    "Measured": "`[[measured]]`, which `bushing adjust` writes",
}
"""Where the keys of a model stand in a file."""


def as_markdown() -> str:
    """A table for each place and each kind: key, what it is unless it is written, what it is for."""
    return "\n\n".join(_tables())


def _tables() -> Iterator[str]:
    job, kit = job_schema(), kit_schema()
    common = keys_told(Entry)
    yield _rows(
        "every joint", {key: (_NEEDED if key in ("name", "kind") else "", says) for key, says in common.items()}
    )
    entries = [kind(name).entry for name in kind_names()]
    places = {model.__name__: f"a `{name}`" for name, model in zip(kind_names(), entries, strict=True)}
    done: set[str] = set()
    for models, schema in ((models_in(Job), job), (entries, job), (models_in(Kit), kit)):
        for model in (part for each in models for part in models_in(each)):
            name = model.__name__
            if name not in done and name != "Entry":
                done.add(name)
                own = {key: says for key, says in keys_told(model).items() if common.get(key) != says or key == "way"}
                yield _table((PLACES | places)[name], schema["$defs"].get(name, schema), own)


def _table(place: str, schema: dict[str, Any], told: dict[str, str]) -> str:
    rows = {}
    for key, shape in schema["properties"].items():
        if key not in told:
            continue
        needed = schema.get("required", ()) or schema.get("anyOf", [{}])[0].get("required", ())
        default = _NEEDED if key in needed else _shown(shape.get("default"))
        # A kind without a way says so when it is asked for it; the table of kinds has the ways.
        choice = shape.get("enum", ()) if key != "way" else ()
        words = f": {', '.join(f'`{word}`' for word in choice)}" if choice else ""
        rows[key] = (default, told[key] + words if key != "way" else "how it is made")
    return _rows(place, rows)


def _rows(place: str, rows: dict[str, tuple[str, str]]) -> str:
    head = [f"| {place} | unless written | what it is |", "| --- | --- | --- |"]
    return "\n".join([*head, *(f"| `{key}` | {default} | {says} |" for key, (default, says) in rows.items())])


def _shown(default: Any) -> str:
    if default is None or default in ([], {}):
        return ""
    return f"`{str(default).lower() if isinstance(default, bool) else default}`"
