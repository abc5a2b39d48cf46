"""`jigcam movement`: how a board's width changes with the seasons."""

from __future__ import annotations

from typing import Literal

import click

from jigcam.cli.arguments import LENGTH, TEMPERATURE, UNITS, spoken_units
from jigcam.cli.screen import Command, say_json, say_lines, tell

_AIR = "relative humidity in % and temperature, as 21, '21 C' or '70 F'"


@click.command(cls=Command, name="movement")
@click.option("--wood", required=True, help="As 'black cherry'; a wrong name lists those that are known.")
@click.option("--width", required=True, type=LENGTH, help="Across the grain, with its unit, as 11.25in.")
@click.option(
    "--sawn",
    type=click.Choice(["quarter", "rift", "flat"]),
    default="flat",
    show_default=True,
    help="How the board is sawn.",
)
@click.option(
    "--from",
    "dry",
    type=(float, TEMPERATURE),
    default=(30.0, 21.0),
    show_default=True,
    metavar="RH T",
    help=f"The driest air: {_AIR}.",
)
@click.option(
    "--to",
    "damp",
    type=(float, TEMPERATURE),
    default=(65.0, 21.0),
    show_default=True,
    metavar="RH T",
    help=f"The dampest air: {_AIR}.",
)
@click.option("--moisture", nargs=2, type=float, metavar="M1 M2", help="Moisture contents in % instead of the air's.")
@UNITS
@click.pass_context
def command(
    ctx: click.Context,
    wood: str,
    width: float,
    sawn: Literal["quarter", "rift", "flat"],
    dry: tuple[float, float],
    damp: tuple[float, float],
    moisture: tuple[float, float] | None,
    as_json: bool,
) -> None:
    """Seasonal movement of a board between two states of the air, and the gap that it needs.

    The moisture content follows Wood Handbook Eq. 4-5, the change Eq. 13-2 with the coefficients of Table 13-5 (USDA
    Forest Products Laboratory): averages of many boards, good for 6 to 14 %, and no promise for one board.
    """
    from jigcam.units import format_length
    from jigcam.wood.season import moisture_of_air, movement

    result = movement(wood, width, sawn, moisture or (moisture_of_air(*dry), moisture_of_air(*damp)))
    if as_json:
        say_json(result.as_dict())
        return
    unit = spoken_units(ctx)
    say_lines(
        [
            f"{result.wood}, {sawn}-sawn, {format_length(width, unit)} wide, "
            f"{result.dry:.1f} % to {result.damp:.1f} % moisture",
            f"  moves {'+' if result.change > 0 else ''}{format_length(result.change, unit)}: leave a gap of "
            f"{format_length(abs(result.change), unit)} in all where it is cut at the dry end",
        ]
    )
    if result.doubtful:
        tell("caution: the coefficients hold for 6 to 14 % moisture; beyond that this is a rough guess")
