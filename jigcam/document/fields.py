"""Types of fields for the models of kit and job: text to mm and radians, ranges, names, choices.

Numbers are converted only when a file is read, that is when pydantic validates with a context; the context's "units"
("in" or "mm") says what bare numbers are. A model that is made in Python takes mm, radians, mm/min and mm/s² as they
are. Ranges hold for both. Every fault is an `InputError` with what was found and what is wanted.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import Annotated, Any, Final, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    ModelWrapValidatorHandler,
    ValidationError,
    ValidationInfo,
    model_validator,
)

from jigcam.document.positions import Key
from jigcam.document.reading import Misfit, unknown_key
from jigcam.errors import InputError, unknown_name
from jigcam.units import format_length, parse_angle, parse_length, parse_slope
from jigcam.units.parse import shown

SMALLEST: Final = 0.01
"""mm; a size below this is a slip of the pen."""
LARGEST: Final = 10_000.0
"""mm; and so is one above this."""
LONGEST_NAME: Final = 80
"""Letters in a name."""


class Model(BaseModel):
    """Base of all models that come from files: frozen, hashable, no key goes unread."""

    model_config = ConfigDict(frozen=True, extra="forbid", validate_by_name=True, validate_by_alias=True)

    @model_validator(mode="wrap")
    @classmethod
    def _every_key_is_read(cls, data: Any, handler: ModelWrapValidatorHandler[Self], info: ValidationInfo) -> Self:
        if isinstance(data, cls):
            return data
        if not isinstance(data, dict):
            raise InputError("not a table", found=shown(data), wanted="a table of keys: " + ", ".join(cls.keys()))
        known_keys = {*cls.keys(), *(cls.model_fields if info.context is None else ())}
        unread = [((key,), unknown_key(key, cls.keys())) for key in data if key not in known_keys]
        if not unread:
            return handler(data)
        try:
            handler({key: value for key, value in data.items() if key in known_keys})
        except ValidationError as rest:
            raise Misfit(*unread, rest=rest) from rest
        raise Misfit(*unread)

    @classmethod
    def keys(cls) -> tuple[str, ...]:
        """The keys as they are written in a file."""
        return tuple(info.alias or name for name, info in cls.model_fields.items())


Convert = Callable[[Any, "str | None"], float]
"""From what a file says, and the unit of its bare numbers, to the number inside."""


def _number(wanted: str, convert: Convert, low: float, high: float, show: Callable[[float, str], str]) -> BeforeValidator:
    """A validator of numbers from `low` to `high`, both allowed. show: a limit as text in the units of the file."""

    def check(value: Any, info: ValidationInfo) -> float:
        units = (info.context or {}).get("units")
        if info.context is not None:
            made = convert(value, units)
        elif isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            raise InputError(f"not {wanted}", found=shown(value), wanted=wanted)
        else:
            made = float(value)
        if not low <= made <= high:
            what = "zero or negative" if made <= 0 < low else "too small" if made < low else "too large"
            limits = f"{show(low, units or 'mm')} to {show(high, units or 'mm')}"
            raise InputError(f"{what} for {wanted}", found=shown(value), wanted=f"{wanted} from {limits}",
                             mend="is the unit right?" if what.startswith("too") and units else "")
        return made

    return BeforeValidator(check)


def _plain(value: Any, _: str | None) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise InputError("not a number", found=shown(value), wanted="a plain number")
    return float(value)


def _whole(value: Any, _: str | None) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise InputError("not a whole number", found=shown(value), wanted="a whole number")
    return value


def _per(time: str) -> Convert:
    """A length for each minute or second squared; text may end in "/min" or "/s2"."""

    def convert(value: Any, units: str | None) -> float:
        return parse_length(value.strip().removesuffix(time).strip() if isinstance(value, str) else value, units)

    return convert


def _show_plain(value: float, _: str) -> str:
    return f"{value:g}"


def _show_degrees(value: float, _: str) -> str:
    return f"{math.degrees(value):g}°"


def a_length(wanted: str, low: float = SMALLEST, high: float = LARGEST) -> BeforeValidator:
    """A validator of lengths in mm from `low` to `high`."""
    return _number(wanted, parse_length, low, high, format_length)


def an_angle(wanted: str, low_deg: float, high_deg: float) -> BeforeValidator:
    """A validator of angles in radians, between limits in degrees."""
    return _number(wanted, lambda value, _: parse_angle(value), math.radians(low_deg), math.radians(high_deg), _show_degrees)


def a_number(wanted: str, low: float, high: float) -> BeforeValidator:
    """A validator of numbers without a unit."""
    return _number(wanted, _plain, low, high, _show_plain)


def a_whole_number(wanted: str, low: int, high: int) -> BeforeValidator:
    """A validator of whole numbers."""
    return _number(wanted, _whole, low, high, _show_plain)


def a_list(count: int | None, wanted: str) -> BeforeValidator:
    """A validator of lists with `count` items, or with any number of them."""

    def check(value: Any) -> Any:
        if not isinstance(value, list | tuple) or (count is not None and len(value) != count):
            raise InputError("not such a list", found=shown(value), wanted=wanted)
        return tuple(value)

    return BeforeValidator(check)


def a_known(kind: str, context_key: str) -> BeforeValidator:
    """A validator of names that must be among those in the context, in any case; without a context any name will do."""

    def check(value: Any, info: ValidationInfo) -> str:
        name = _name(value)
        if info.context is None:
            return name
        names: Iterable[str] = info.context.get(context_key, ())
        by_folded = {each.casefold(): each for each in names}
        if name in names:
            return name
        if name.casefold() not in by_folded:
            raise unknown_name(kind, name, by_folded.values())
        return by_folded[name.casefold()]

    return BeforeValidator(check)


def _name(value: Any) -> str:
    wanted = f"a name in quotes, of 1 to {LONGEST_NAME} letters"
    if not isinstance(value, str):
        raise InputError("not a name", found=shown(value), wanted=wanted)
    if not value.strip():
        raise InputError("an empty name", found=shown(value), wanted=wanted)
    if len(value) > LONGEST_NAME:
        raise InputError("too long a name", found=shown(value), wanted=wanted)
    return value


def _flag(value: Any) -> bool:
    if not isinstance(value, bool):
        raise InputError("neither true nor false", found=shown(value), wanted="true or false, without quotes")
    return value


def repeated(tables: Any, kind: str, key: str = "name") -> list[tuple[Key, InputError]]:
    """The faults of raw `tables` of which several bear the same name; each with its place in the list."""
    first: dict[str, int] = {}
    out: list[tuple[Key, InputError]] = []
    for number_, table in enumerate(tables if isinstance(tables, list) else ()):
        name = table.get(key) if isinstance(table, dict) else None
        if isinstance(name, str) and first.setdefault(name, number_) != number_:
            out.append(((number_, key), InputError(f"two {kind} have the same name", found=shown(name),
                                                   wanted="a name of its own for each")))
    return out


Name = Annotated[str, BeforeValidator(_name)]
Flag = Annotated[bool, BeforeValidator(_flag)]
Size = Annotated[float, a_length("a size")]
Position = Annotated[float, a_length("a place", -LARGEST, LARGEST)]
Slope = Annotated[float, _number("a slope", lambda value, _: parse_slope(value), math.atan(1 / 100), math.atan(1.0),
                                lambda value, _: f"1:{1 / math.tan(value):g}")]
Rpm = Annotated[float, a_number("a speed in rpm", 1, 200_000)]
Feed = Annotated[float, _number("a feed per minute", _per("/min"), 1.0, 200_000.0, format_length)]
Acceleration = Annotated[float, _number("an acceleration per second squared", _per("/s2"), 0.1, 200_000.0, format_length)]
