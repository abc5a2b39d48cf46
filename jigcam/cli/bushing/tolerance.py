"""`jigcam bushing tolerance`: how a groove may come out."""

from __future__ import annotations

from pathlib import Path

import click

from jigcam.cli.arguments import JOB, JOINT, KIT, LENGTH, UNITS
from jigcam.cli.screen import Command, say_blocks, say_json, terminal_width


@click.command(cls=Command, name="tolerance")
@JOB
@JOINT
@KIT
@click.option("--cuts", type=int, default=100_000, show_default=True, help="Cuts that are simulated.")
@click.option("--seed", type=int, default=1, show_default=True, help="The same seed gives the same cuts.")
@click.option("--least", type=LENGTH, help="Least clearance that still goes together.  [default: 0]")
@click.option("--most", type=LENGTH, help="Most clearance that still holds.  [default: 0.25 mm or twice the drawn]")
@click.option("--held", is_flag=True, help="One side of the router's base always faces the same way.")
@click.option("--bit", type=LENGTH, help="Limit of the bit's diameter, ±; this and the next replace the kit's.")
@click.option("--bushing", type=LENGTH, help="Limit of the bushing's diameter, ±.")
@click.option("--opening", type=LENGTH, help="Limit of the template's opening, ±.")
@click.option("--concentricity", type=LENGTH, help="Largest distance of the axes; replaces one that was measured.")
@click.option("--stock", type=LENGTH, help="Limit of the thickness of what enters, ±.")
@click.option("--laying", type=LENGTH, help="Limit of the template's place on the board, ±.")
@click.option("--measuring", type=LENGTH, help="Limit of a difference that a test cut measured, ±.")
@UNITS
def command(
    job: Path,
    joint: str | None,
    kit: str | None,
    cuts: int,
    seed: int,
    least: float | None,
    most: float | None,
    held: bool,
    as_json: bool,
    **limits: float | None,
) -> None:
    """Spread of width, place and fit of the JOB's grooves: worst case, root of the sum of squares, simulated cuts.

    The sum of squares is that of JCGM 100 (GUM), the simulation that of JCGM 101. Limits come from the kit's table
    [tolerances], or have defaults whose source is shown. Lengths carry their unit, as in --stock 0.1mm.
    """
    from jigcam.bench.cut import bench_cuts
    from jigcam.bench.tolerance import joint_spread, tolerance_lines
    from jigcam.job import kit_for
    from jigcam.workshop.loading import load_job

    loaded = load_job(job)
    found = kit_for(loaded, kit)
    given = {key: value for key, value in limits.items() if value is not None}
    results = [
        joint_spread(
            each,
            found,
            given=given,
            turns=not held,
            least=least or 0.0,
            most=most,
            cuts=cuts,
            seed=seed,
            voice=loaded.voice,
        )
        for each in bench_cuts(loaded, joint)
    ]
    if as_json:
        say_json({"kit": found.name, "joints": [result.as_dict() for result in results]})
    else:
        say_blocks(tolerance_lines(result, loaded.voice, terminal_width()) for result in results)
