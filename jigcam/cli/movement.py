"""`jigcam movement`: how a board's width changes with the seasons."""

from __future__ import annotations

import click

from jigcam.cli.arguments import LENGTH, UNITS
from jigcam.cli.output import Command, say, say_json


@click.command(cls=Command, name="movement", short_help="Seasonal movement of a board.")
@click.option("--wood", required=True, help="A wood of profiles/woods.toml, as 'black cherry'.")
@click.option("--width", required=True, type=LENGTH, help="Across the grain, with its unit, as 11.25in.")
@click.option("--sawn", type=click.Choice(["quarter", "rift", "flat"]), default="flat", show_default=True,
              help="How the board is sawn.")
@click.option("--from", "start", nargs=2, type=float, default=(30.0, 21.0), show_default=True,
              metavar="RH°C", help="Driest air: relative humidity in % and temperature in °C.")
@click.option("--to", "end", nargs=2, type=float, default=(65.0, 21.0), show_default=True,
              metavar="RH°C", help="Dampest air: relative humidity in % and temperature in °C.")
@click.option("--moisture", nargs=2, type=float, default=None, metavar="M1 M2",
              help="Moisture contents in %, instead of the air's.")
@UNITS
def command(**arguments: object) -> None:
    """Seasonal movement of a board between two states of the air, and the gap that it needs.

    The moisture content follows Wood Handbook Eq. 4-5, the change Eq. 13-2 with the coefficients of Table 13-5 (USDA
    Forest Products Laboratory): averages of many boards, good for 6 to 14 %, and no promise for one board.
    """
