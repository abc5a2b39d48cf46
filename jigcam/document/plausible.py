"""Slips of units: a bare number that is surely in the other unit than the file's, as a board 229 in wide.

Only bare decimals are judged. Text with its unit beside it is taken as it stands, and a fraction is of an inch rule.
"""

from __future__ import annotations

import re
from typing import Any, Final

from pydantic import BeforeValidator, ValidationInfo

from jigcam.errors import InputError
from jigcam.units.parse import INCH, shown

_BARE: Final = re.compile(r"\s*[0-9]{1,9}(?:\.[0-9]{0,9})?\s*|\s*\.[0-9]{1,9}\s*")


def check_units(
    what: str, value: Any, info: ValidationInfo, *, most_in: float, least_mm: float, largest: float
) -> None:
    """Raises InputError for a bare number that is surely in the other unit, with the question whether that is meant.

    what: "a thickness". info: whose context has the units of the file; nothing is judged where it has none, or they
    are only a guess. most_in: bare
    numbers of an inch file above it (in) are surely millimetres. least_mm: those of a file in mm below it (mm), but
    nothing itself, are surely inches. largest: mm, that can be written with a unit beside it.
    """
    number = _bare(value)
    context = info.context or {}
    units = context.get("units") if context.get("units said", True) else None
    if number is None:
        return
    if units == "in" and number > most_in:
        meant = f'; or "{number:g} in", if that is meant' if number * INCH <= largest else ""
        raise _slip(what, number, "in", f"at most {most_in:g} in{meant}", shown(value))
    if units == "mm" and 0.0 < number < least_mm:
        raise _slip(what, number, "mm", f'at least {least_mm:g} mm; or "{number:g} mm", if that is meant', shown(value))


def no_slip_of_units(what: str, *, most_in: float, least_mm: float, largest: float) -> BeforeValidator:
    """A validator that goes before that of a length and hands on what it is given. It raises as `check_units`."""

    def check(value: Any, info: ValidationInfo) -> Any:
        check_units(what, value, info, most_in=most_in, least_mm=least_mm, largest=largest)
        return value

    return BeforeValidator(check)


def _bare(value: Any) -> float | None:
    """A number without a unit beside it; None for all else."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return None
    if isinstance(value, str):
        return float(value) if _BARE.fullmatch(value) else None
    return float(value) if abs(value) < 1e9 else None


def _slip(what: str, number: float, unit: str, wanted: str, found: str) -> InputError:
    other, spelt = ("mm", "inches") if unit == "in" else ("in", "millimetres")
    return InputError(
        f"{what} that is surely not in {spelt}",
        found=f'{found}, in a file of units = "{unit}"',
        wanted=wanted,
        mend=f'did you mean "{number:g} {other}"? where all numbers of the file are so, write units = "{other}"',
    )
