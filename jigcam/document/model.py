"""The base of all models that come from files."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar, Self

from pydantic import BaseModel, ConfigDict, ModelWrapValidatorHandler, ValidationError, ValidationInfo, model_validator

from jigcam.document.reading import Misfit, unknown_key
from jigcam.errors import InputError, nearest
from jigcam.units.parse import shown


class Model(BaseModel):
    """A frozen model, in which no key of a file goes unread.

    A key that is not known is a fault; where it is near to one that is absent, its value is checked as that one's, so
    that a slip of the pen is told once and not also as a missing key.

    Making one raises pydantic's ValidationError, a ValueError, where a key or its value cannot be; from a file,
    `Document.validate` makes Faults of it.
    """

    CALLED: ClassVar[Mapping[str, str]] = {}
    """Names that people bring along for a key, as from another kind of joint, and the key that is meant."""

    model_config = ConfigDict(frozen=True, extra="forbid", validate_by_name=True, validate_by_alias=True)

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
        meant = {key: cls.CALLED.get(key, "") or nearest(key, cls.keys()) for key in unread}
        written = {near: key for key, near in meant.items() if near and near not in data}
        faults = [((key,), unknown_key(key, cls.keys(), cls.CALLED.get(key, ""))) for key in unread]
        try:
            handler({key: data[key] for key in data if key in known} | {key: data[written[key]] for key in written})
        except ValidationError as rest:
            raise Misfit(*faults, rest=rest, written=written) from rest
        raise Misfit(*faults)
