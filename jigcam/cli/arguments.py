"""Arguments that several commands share, and the step from their text to millimetres."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click


class Length(click.ParamType):
    """A length with its unit, `9.5mm` or `3/8in`; a bare number takes the unit of `--units`. Converts to mm."""

    name = "length"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Raise InputError, with the option named, for text that is no length."""
        from jigcam.errors import InputError
        from jigcam.units import parse_length

        if isinstance(value, float):
            return value
        units = ctx.params.get("units") if ctx else None
        try:
            return parse_length(value, units)
        except InputError as error:
            error.where = param.opts[0] if param else ""
            raise


LENGTH = Length()

UNITS = click.option(
    "--units", type=click.Choice(["in", "mm"]), is_eager=True, help="The unit of bare numbers, and of the answer."
)

JOB = click.argument("job", type=click.Path(path_type=Path))

KIT = click.option("--kit", metavar="KIT", help="A kit of profiles/, or the path of a kit file; overrides the job's.")

JOINT = click.option("--joint", metavar="NAME", help="Only this joint of the job.")
