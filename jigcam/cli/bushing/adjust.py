"""`jigcam bushing adjust`: the true difference of a pair, from a test cut, written into the kit."""

from __future__ import annotations

import datetime

import click

from jigcam.cli.arguments import LENGTH, UNITS
from jigcam.cli.screen import Command, has_done, say_json, say_lines


@click.command(cls=Command, name="adjust")
@click.argument("kit")
@click.option("--pair", required=True, metavar="BIT,BUSHING", help="Their names in the kit, with a comma between them.")
@click.option("--opening", required=True, type=LENGTH, help="The template's opening as measured across, as 0.756in.")
@click.option("--measured", required=True, type=LENGTH, help="The groove as measured across, at the same place.")
@click.option("--bit-diameter", type=LENGTH, help="The bit as measured over its edges: says which of the two is off.")
@click.option("--date", type=click.DateTime(["%Y-%m-%d"]), help="Of the test cut.  [default: today]")
@click.option("--dry", is_flag=True, help="Say what would be written, and leave the kit as it is.")
@UNITS
def command(
    kit: str,
    pair: str,
    opening: float,
    measured: float,
    bit_diameter: float | None,
    date: datetime.datetime | None,
    dry: bool,
    as_json: bool,
) -> None:
    """Correct a pair of a KIT file by a test cut: true bushing minus bit = opening minus groove.

    The kit keeps its comments and order; every later job uses the true difference and says so.
    """
    from jigcam.bench.adjust import adjust_kit, adjustment_lines

    day = date.date() if date is not None else datetime.date.today()
    result = adjust_kit(kit, pair, opening=opening, width=measured, date=day, diameter=bit_diameter, write=not dry)
    if not dry:
        has_done(f"the kit {kit} is written")
    if as_json:
        say_json(result.as_dict())
    else:
        say_lines(adjustment_lines(result))
