"""Arguments that several commands share, and the step from their text to millimetres."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from jigcam.cli import completion

_ASKED = "jigcam.units asked for"
_SPOKEN = "jigcam.units of the first length"

if TYPE_CHECKING:
    from jigcam.units import Unit

    _ToNumber = click.ParamType[float]
else:  # not every click that we run with can be subscripted
    _ToNumber = click.ParamType


class Length(_ToNumber):
    """A length with its unit, `9.5mm` or `3/8in`; a bare number takes the unit of `--units`. Converts to mm."""

    name = "length"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Raise InputError, with the option named, for text that is no length."""
        from jigcam.errors import InputError
        from jigcam.units import parse_length

        if isinstance(value, float):
            return value
        try:
            length = parse_length(value, ctx.meta.get(_ASKED) if ctx else None)
        except InputError as error:
            error.where = param.opts[0] if param else ""
            raise
        if ctx:
            ctx.meta.setdefault(_SPOKEN, "mm" if "mm" in value else "in")
        return length


class Temperature(_ToNumber):
    """A temperature, `21`, `"21 C"` or `"70 F"`. Converts to °C."""

    name = "temperature"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Raise InputError, with the option named, for text that is no temperature."""
        from jigcam.errors import InputError
        from jigcam.units import parse_temperature

        if isinstance(value, float):
            return value
        try:
            return parse_temperature(value)
        except InputError as error:
            error.where = param.opts[0] if param else ""
            raise


def spoken_units(ctx: click.Context) -> Unit:
    """The units to answer in: those of `--units`, else those of the first length that was given."""
    units: Unit = ctx.meta.get(_ASKED) or ctx.meta.get(_SPOKEN, "in")
    return units


def _remember(ctx: click.Context, _: click.Parameter, value: str | None) -> str | None:
    ctx.meta[_ASKED] = value
    return value


LENGTH = Length()
TEMPERATURE = Temperature()

UNITS = click.option(
    "--units",
    type=click.Choice(["in", "mm"]),
    is_eager=True,
    callback=_remember,
    expose_value=False,
    help="The unit of bare numbers, and of the answer.",
)

JOB = click.argument("job", type=click.Path(path_type=Path))

KIT = click.option(
    "--kit",
    metavar="KIT",
    shell_complete=completion.kits,
    help="A kit of profiles/, or the path of a kit file; overrides the job's.",
)

REPLACE = click.option("--replace", is_flag=True, help="Write an output folder of an earlier run anew.")

DISCARD_EDITS = click.option(
    "--discard-edits", is_flag=True, help="With --replace: lose the changes that were made to its files by hand."
)

JOINT = click.option("--joint", metavar="NAME", help="Only this joint of the job.")

WHY = click.option("--why", is_flag=True, help="Also say why: the notes that explain choices.")
