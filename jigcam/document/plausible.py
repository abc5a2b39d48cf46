"""Slips of units: a bare number that is surely in the other unit than the file's, as a board 229 in wide.

Text with its unit beside it is taken as it stands. A fraction is of an inch rule: in a file in inches it is not judged.
"""

from __future__ import annotations

import re
from typing import Any, Final

from pydantic import BeforeValidator, ValidationInfo

from jigcam.errors import InputError
from jigcam.units.parse import INCH, shown

_BARE: Final = re.compile(r"\s*[0-9]{1,9}(?:\.[0-9]{0,9})?\s*|\s*\.[0-9]{1,9}\s*")
_FRACTION: Final = re.compile(r"\s*(?:(?P<whole>[0-9]{1,9})-)?(?P<over>[0-9]{1,9})/(?P<under>[1-9][0-9]{0,8})\s*")


def check_units(
    what: str, value: Any, info: ValidationInfo, *, most_in: float, least_mm: float, largest: float
) -> None:
    """Raises InputError for a bare number that is surely in the other unit, with the question whether that is meant.

    what: "a thickness". info: whose context has the units of the file; nothing is judged where it has none, or they
    are only a guess. most_in: bare
    numbers of an inch file above it (in) are surely millimetres. least_mm: those of a file in mm below it (mm), but
    nothing itself, are surely inches. largest: mm, that can be written with a unit beside it.
    """
    context = info.context or {}
    units = context.get("units") if context.get("units said", True) else None
    number = _bare(value) if units == "in" else _bare(value) or _fraction(value)
    if number is None:
        return
    if units == "in" and number > most_in:
        meant = f'; or "{number:g} in", if that is meant' if number * INCH <= largest else ""
        raise _slip(what, value, "in", f"at most {most_in:g} in{meant}")
    if units == "mm" and 0.0 < number < least_mm:
        wanted = f'at least {least_mm:g} mm; or "{_as_written(value)} mm", if that is meant'
        raise _slip(what, value, "mm", wanted)


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


def _fraction(value: Any) -> float | None:
    """A number that is written as on an inch rule, without a unit; None for all else."""
    slip = _FRACTION.fullmatch(value) if isinstance(value, str) else None
    return int(slip["whole"] or 0) + int(slip["over"]) / int(slip["under"]) if slip else None


def _as_written(value: Any) -> str:
    number = _bare(value)
    return str(value).strip() if number is None else f"{number:g}"


def _slip(what: str, value: Any, unit: str, wanted: str) -> InputError:
    other, spelt = ("mm", "inches") if unit == "in" else ("in", "millimetres")
    return InputError(
        f"{what} that is surely not in {spelt}",
        found=f'{shown(value)}, in a file of units = "{unit}"',
        wanted=wanted,
        mend=f'did you mean "{_as_written(value)} {other}"? where all numbers of the file are so, write units = '
        f'"{other}"',
    )
