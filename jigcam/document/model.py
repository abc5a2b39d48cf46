"""The base of all models that come from files."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar, Self, get_origin

from pydantic import BaseModel, ConfigDict, ModelWrapValidatorHandler, ValidationError, ValidationInfo, model_validator

from jigcam.document.keys import models_of
from jigcam.document.reading import Misfit, unknown_key
from jigcam.errors import InputError, nearest
from jigcam.units.parse import shown

SEVERAL = 2
"""Keys of one table that stand in another before its heading is taken to be missing; one alone is a slip."""


class Model(BaseModel):
    """A frozen model, in which no key of a file goes unread.

    A key that is not known is a fault; where it is near to one that is absent, its value is checked as that one's, so
    that a slip of the pen is told once and not also as a missing key.

    Making one raises pydantic's ValidationError, a ValueError, where a key or its value cannot be; from a file,
    `Document.validate` makes Faults of it.
    """

    CALLED: ClassVar[Mapping[str, str]] = {}
    """Names that people bring along for a key, as from another kind of joint, and the key that is meant."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", validate_by_name=True, validate_by_alias=True, defer_build=True
    )

    @classmethod
    def keys(cls) -> tuple[str, ...]:
        """The keys as they are written in a file."""
        return tuple(info.alias or name for name, info in cls.model_fields.items())

    @model_validator(mode="wrap")
    @classmethod
    def _every_key_is_read(cls, data: Any, handler: ModelWrapValidatorHandler[Self], info: ValidationInfo) -> Self:
        if isinstance(data, cls):
            return data
        if not isinstance(data, dict):
            raise InputError("not a table", found=shown(data), wanted="a table of keys: " + ", ".join(cls.keys()))
        known = {*cls.keys(), *(cls.model_fields if info.context is None else ())}
        unread = [key for key in data if key not in known]
        if not unread:
            return handler(data)
        headings = _lost_headings(cls, unread, info.context)
        meant = {key: "" if key in headings else cls.CALLED.get(key, "") or nearest(key, cls.keys()) for key in unread}
        written = {near: key for key, near in meant.items() if near and near not in data}
        faults = [
            ((key,), unknown_key(key, cls.keys(), cls.CALLED.get(key, ""))) for key in unread if key not in headings
        ]
        for heading in dict.fromkeys(headings.values()):
            lost = [key for key in unread if headings.get(key) == heading]
            faults.append(((lost[0],), _without_heading(lost, heading)))
        try:
            handler({key: data[key] for key in data if key in known} | {key: data[written[key]] for key in written})
        except ValidationError as rest:
            raise Misfit(*faults, rest=rest, written=written) from rest
        raise Misfit(*faults)


def _lost_headings(model: type[Model], unread: list[str], context: Mapping[str, Any] | None) -> dict[str, str]:
    """For keys that stand in a table of `model`, several at once: the heading under which others have them.

    context: has the model of the whole file under "file", where it is known.
    """
    found: dict[str, str] = {}
    for field, info in (context or {}).get("file", model).model_fields.items():
        several = get_origin(info.annotation) is tuple
        heading = f"[[{info.alias or field}]]" if several else f"[{info.alias or field}]"
        for part in models_of(info.annotation):
            names = set(part.keys()) if issubclass(part, Model) and part is not model else set()
            lost = [key for key in unread if key in names]
            if len(lost) >= SEVERAL:
                found |= dict.fromkeys(lost, heading)
    return found


def _without_heading(keys: list[str], heading: str) -> InputError:
    """The error for keys whose heading is missing, or stands elsewhere: one for all of them."""
    return InputError(
        f"keys that belong under {heading}",
        found=", ".join(keys),
        wanted=f"a line {heading} above {keys[0]}",
        mend=f"write the line {heading} above it, if it was lost",
    )
