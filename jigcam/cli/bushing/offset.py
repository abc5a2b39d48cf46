"""`jigcam bushing offset`: the sums of one bit in one bushing."""

from __future__ import annotations

import click

from jigcam.cli.arguments import LENGTH, UNITS, spoken_units
from jigcam.cli.screen import Command, say_json, say_lines


@click.command(cls=Command, name="offset")
@click.option("--bit", required=True, type=LENGTH, help="The bit's cutting diameter, as 1/2in or 10mm.")
@click.option("--bushing", required=True, type=LENGTH, help="The bushing's outside diameter.")
@click.option("--opening", type=LENGTH, help="A size of the template's opening: how large is the cut?")
@click.option("--cut", type=LENGTH, help="A wanted size of the cut: how large is the opening?")
@click.option("--radius", type=LENGTH, help="Radius of the opening's inside corners.")
@click.option("--pattern", is_flag=True, help="The bushing runs around a pattern, not inside an opening.")
@UNITS
@click.pass_context
def command(
    ctx: click.Context,
    bit: float,
    bushing: float,
    opening: float | None,
    cut: float | None,
    radius: float | None,
    pattern: bool,
    as_json: bool,
) -> None:
    """Offset of a bit in a guide bushing, and with --cut or --opening the other of the two.

    A size of an opening holds two offsets, one at each wall. Lengths carry their unit, as in
    `jigcam bushing offset --bit 1/2in --bushing 3/4in --cut 4in`.
    """
    from jigcam.bench.offset import offset_lines, offset_sums
    from jigcam.units import Voice

    voice = Voice(spoken_units(ctx))
    result = offset_sums(bit, bushing, opening=opening, cut=cut, pattern=pattern, radius=radius, voice=voice)
    if as_json:
        say_json(result.as_dict())
    else:
        say_lines(offset_lines(result, voice))
