"""What the keys of a file are: told once, in the docstring of the model that reads them, as `key: words.`

`start (`from` in files): words.` tells a key that Python names otherwise; `a, b: words.` tells several.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator
from itertools import zip_longest
from typing import Any, get_args

from pydantic import BaseModel


def keys_told(model: type[BaseModel]) -> dict[str, str]:
    """The keys of a model as files write them, in its order, each with its words; "" where its docstring says none.

    What a model says goes before what the one that it is made from says.
    """
    fields = {name: field.alias or name for name, field in model.model_fields.items()}
    told: dict[str, str] = {}
    for each in reversed(model.__mro__):
        if each.__doc__ and issubclass(each, BaseModel) and each is not BaseModel:
            told |= dict(_told(inspect.cleandoc(each.__doc__), fields))
    return {key: told.get(name, "") for name, key in fields.items()}


def models_in(model: type[BaseModel]) -> list[type[BaseModel]]:
    """The model, and those that read the tables in its tables."""
    found = [model]
    for each in found:
        for field in each.model_fields.values():
            found += [part for part in models_of(field.annotation) if part not in found]
    return found


def models_of(annotation: Any) -> Iterator[type[BaseModel]]:
    """The models that an annotation names, in whatever they are held."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for part in get_args(annotation):
        yield from models_of(part)


def _told(text: str, fields: dict[str, str]) -> Iterator[tuple[str, str]]:
    """Names of fields and their words, paragraph by paragraph."""
    name = "|".join(sorted(map(re.escape, fields), key=len, reverse=True))
    one = rf"(?:{name})(?: \(`\w+` in files\))?"
    head = re.compile(rf"(?:(?<=[.:;] )|^)({one}(?:, {one})*): ")
    for paragraph in text.split("\n\n"):
        words = " ".join(paragraph.split())
        heads = list(head.finditer(words))
        for here, after in zip_longest(heads, heads[1:]):
            says = words[here.end() : after.start() if after else None].strip().rstrip(".;")
            for each in re.findall(rf"\b({name})\b(?! in files)", re.sub(r" \(.*?\)", "", here[1])):
                yield each, says
