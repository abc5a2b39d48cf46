"""Types of fields for the models of kit and job: text to mm and radians, ranges, names, lists.

Numbers are converted only when a file is read, that is when pydantic validates with a context; the context's "units"
("in" or "mm") says what bare numbers are. A model that is made in Python takes mm, radians, mm/min and mm/s² as they
are. Ranges hold for both. Every fault is an `InputError` with what was found and what is wanted.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import Annotated, Any, Final

from pydantic import BeforeValidator, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import CoreSchema

from jigcam.document.plausible import check_units
from jigcam.document.positions import Key
from jigcam.errors import InputError, unknown_name
from jigcam.units import (
    INCH,
    format_angle,
    format_slope,
    length_text,
    parse_angle,
    parse_length,
    parse_power,
    parse_slope,
    parse_temperature,
)
from jigcam.units.parse import shown

SMALLEST: Final = 0.01
"""mm; a size below this is a slip of the pen."""
LARGEST: Final = 10_000.0
"""mm; and so is one above this."""
LONGEST_NAME: Final = 80
LONGEST_PATH: Final = 4096
"""Letters in a name."""
_ENDLESS: Final = 1e30  # no number of ours is near it; NaN and infinity are not below it

_Convert = Callable[[Any, "str | None"], float]  # what a file says, the unit of its bare numbers → the number inside
_Show = Callable[[float, "str | None"], str]  # a limit, and the unit of the file → text


@dataclass(frozen=True)
class ReadsText(BeforeValidator):
    """A validator of what a file may say in other types than the model keeps. says: JSON Schema of it; unit: the one
    that a default of the model is in, as text has it."""

    says: tuple[tuple[str, Any], ...] = ()
    unit: str = ""

    def __get_pydantic_json_schema__(self, core_schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        handler(core_schema)  # what it refers to is to be known
        says = {key: list(value) if isinstance(value, tuple) else value for key, value in self.says}
        return says | ({"x-unit": self.unit} if self.unit else {})


def a_length(wanted: str, low: float = SMALLEST, high: float = LARGEST) -> BeforeValidator:
    """A validator of lengths in mm from `low` to `high`, both allowed; it raises InputError for anything else."""
    return _number(wanted, parse_length, low, high, length_text, "mm")


def a_clearance(high: float) -> BeforeValidator:
    """A validator of clearances from nothing to `high`, in mm; it raises InputError for anything else.

    A bare number that is surely in the other unit is told as such: from 1 mm a mate falls about, and what is under a
    hundredth of it is nothing (common practice).
    """

    plain = _number("a clearance", parse_length, 0.0, high, length_text, "mm")

    def check(value: Any, info: ValidationInfo) -> Any:
        check_units("a clearance", value, info, most_in=0.04, least_mm=0.01, largest=high)
        return plain.func(value, info)  # type: ignore[call-arg]  # it takes both, see `_number`

    return ReadsText(check, says=plain.says, unit=plain.unit)


def an_angle(wanted: str, low_deg: float, high_deg: float) -> BeforeValidator:
    """A validator of angles in radians, between limits in degrees, both allowed; it raises InputError for others."""
    return _number(
        wanted,
        lambda value, _: parse_angle(value),
        math.radians(low_deg),
        math.radians(high_deg),
        lambda value, _: f"{math.degrees(value):g}°",
        "rad",
    )


def a_number(wanted: str, low: float, high: float) -> BeforeValidator:
    """A validator of numbers without a unit, from `low` to `high`, both allowed; it raises InputError for others."""
    return _number(wanted, _plain, low, high, lambda value, _: f"{value:g}")


def a_power(wanted: str, low: float, high: float) -> BeforeValidator:
    """A validator of powers in watts, from `low` to `high`, both allowed; it raises InputError for anything else."""
    return _number(wanted, lambda value, _: parse_power(value), low, high, lambda value, _: f"{value:g} W", "W")


def a_whole_number(wanted: str, low: int, high: int) -> BeforeValidator:
    """A validator of whole numbers from `low` to `high`, both allowed; it raises InputError for anything else."""
    return _number(wanted, _whole, low, high, lambda value, _: f"{value:g}")


def a_list(count: int | None, wanted: str) -> BeforeValidator:
    """A validator of lists with `count` items, or with any number of them; it raises InputError for anything else."""

    def check(value: Any) -> Any:
        if not isinstance(value, list | tuple) or (count is not None and len(value) != count):
            raise InputError("not such a list", found=shown(value), wanted=wanted)
        return tuple(value)

    return BeforeValidator(check)


def a_known(kind: str, context_key: str) -> BeforeValidator:
    """A validator of names among those in the context, in any case; without a context any name will do.

    What the context holds under "common" and the same key are everyday names with those that they may stand for.

    It raises InputError for what is no name, and with the nearest one for a name that is not among them.
    """

    def check(value: Any, info: ValidationInfo) -> str:
        name = _name(value)
        if info.context is None:
            return name
        names: Iterable[str] = info.context.get(context_key, ())
        if name in names:
            return name
        by_folded = {each.casefold(): each for each in names}
        if name.casefold() not in by_folded:
            common = info.context.get(f"common {context_key}")
            raise unknown_name(kind, name, by_folded.values(), common=common)
        return by_folded[name.casefold()]

    return BeforeValidator(check)


def repeated(tables: Any, kind: str) -> list[tuple[Key, InputError]]:
    """The faults of raw `tables` of which several bear the same `name`; each with its place in the list."""
    seen: set[str] = set()
    faults: list[tuple[Key, InputError]] = []
    for number, table in enumerate(tables if isinstance(tables, list) else ()):
        name = table.get("name") if isinstance(table, dict) else None
        if not isinstance(name, str):
            continue
        if name in seen:
            faults.append(
                (
                    (number, "name"),
                    InputError(
                        f"two {kind} have the same name", found=shown(name), wanted="a name of its own for each"
                    ),
                )
            )
        seen.add(name)
    return faults


def _number(wanted: str, convert: _Convert, low: float, high: float, show: _Show, unit: str = "") -> ReadsText:
    """unit: of the number inside, where a file may give it as text with a unit of its own."""

    def check(value: Any, info: ValidationInfo) -> float:
        units = None if info.context is None else info.context.get("units")
        made = _plain(value, None) if info.context is None else convert(value, units)
        if not low <= made <= high:
            raise InputError(
                f"{wanted} {_out_of_range(made, low)}",
                found=shown(value),
                wanted=_limits(low, high, show, units),
            )
        return made

    limits = f"{wanted}, from {show(low, None)} to {show(high, None)}"
    if not unit:
        kind = "integer" if convert is _whole else "number"
        return ReadsText(check, says=(("type", kind), ("minimum", low), ("maximum", high), ("description", limits)))
    text = f"{limits}; a number is in the file's units, text has its own" if unit.startswith("mm") else limits
    return ReadsText(check, says=(("type", ("number", "string")), ("description", text)), unit=unit)


def _out_of_range(made: float, low: float) -> str:
    if made < 0 <= low:
        return "cannot be negative"
    if made == 0 < low:
        return "cannot be zero"
    return f"too {'small' if made < low else 'large'} to be meant"


def _plain(value: Any, _: str | None) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < _ENDLESS:
        raise InputError("not a number", found=shown(value), wanted="a number, without quotes")
    return float(value)


def _whole(value: Any, _: str | None) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise InputError("not a whole number", found=shown(value), wanted="a whole number, without quotes")
    return value


def _per(time: str) -> _Convert:
    """A length for each minute or second squared; text may end in `time`, as in "120 in/min"."""

    def convert(value: Any, units: str | None) -> float:
        return parse_length(value.strip().removesuffix(time) if isinstance(value, str) else value, units)

    return convert


def said_length(value: float, info: ValidationInfo) -> str:
    """A length (mm) as the file that is read speaks of lengths; in mm for a model that is made in Python."""
    return length_text(value, None if info.context is None else info.context.get("units"))


def _limits(low: float, high: float, show: _Show, units: str | None) -> str:
    """Both limits as a file speaks of them; inches in three digits, which are within them."""
    if show is not length_text or units != "in":
        return f"from {show(low, units)} to {show(high, units)}"
    inches = [_within(limit / INCH, turn) for limit, turn in ((low, math.ceil), (high, math.floor))]
    return f"from {inches[0]:g} in to {inches[1]:g} in"


def _within(value: float, turn: Callable[[float], int]) -> float:
    """A number turned up or down in its third digit."""
    step = 10.0 ** (math.floor(math.log10(abs(value))) - 2) if value else 1.0
    return float(f"{turn(value / step * (1.0 + 1e-12)) * step:.12g}")


def _name(value: Any, most: int = LONGEST_NAME) -> str:
    wanted = f"a name in quotes, of 1 to {most} letters"
    if not isinstance(value, str):
        raise InputError("not a name", found=shown(value), wanted=wanted)
    if not value.strip():
        raise InputError("an empty name", found=shown(value), wanted=wanted)
    if len(value) > most:
        raise InputError("too long a name", found=shown(value), wanted=wanted)
    return value


def _flag(value: Any) -> bool:
    if not isinstance(value, bool):
        raise InputError("neither true nor false", found=shown(value), wanted="true or false, without quotes")
    return value


Name = Annotated[str, BeforeValidator(_name)]
"""Text that a person chose, kept as it is."""
NameOrPath = Annotated[str, BeforeValidator(partial(_name, most=LONGEST_PATH))]
"""The same, or the path of a file."""
Flag = Annotated[bool, BeforeValidator(_flag)]
Size = Annotated[float, a_length("a size")]
"""mm, more than nothing."""
Position = Annotated[float, a_length("a place", -LARGEST, LARGEST)]
"""mm, of either sign."""
Slope = Annotated[
    float,
    _number(
        "a slope",
        lambda value, _: parse_slope(value),
        math.atan(1 / 100),
        math.atan(1.0),
        lambda value, _: f"{format_slope(value)} ({format_angle(value)})",
        "rad",
    ),
]
"""Radians from the axis, written `1:n` or in degrees, `8 deg`."""
Temperature = Annotated[
    float,
    _number(
        "a temperature", lambda value, _: parse_temperature(value), -30.0, 120.0, lambda value, _: f"{value:g} C", "C"
    ),
]
"""°C, written as a number or as text, `"21 C"` or `"70 F"`."""
Rpm = Annotated[float, a_number("a speed in rpm", 1, 200_000)]
Feed = Annotated[float, _number("a feed per minute", _per("/min"), 1.0, 200_000.0, length_text, "mm/min")]
"""mm/min."""
Acceleration = Annotated[
    float, _number("an acceleration per second squared", _per("/s2"), 0.1, 200_000.0, length_text, "mm/s2")
]
"""mm/s²."""
