"""`jigcam bushing pairs`: every bit and bushing of a kit, ranked for a cut."""

from __future__ import annotations

from pathlib import Path

import click

from jigcam.cli.arguments import KIT, LENGTH, UNITS, spoken_units
from jigcam.cli.screen import Command, say_blocks, say_json, terminal_width


@click.command(cls=Command, name="pairs")
@click.argument("job", required=False, type=click.Path(path_type=Path))
@click.option("--joint", metavar="NAME", help="Only this joint of the job.")
@click.option("--cut", type=LENGTH, help="Without a job: width of the cut, clearance included, as 1/2in or 12.2mm.")
@click.option("--radius", type=LENGTH, help="Without a job: the largest radius that an inside corner may keep.")
@click.option("--depth", type=LENGTH, help="Without a job: depth of the cut.  [default: 6 mm]")
@KIT
@UNITS
@click.pass_context
def command(
    ctx: click.Context,
    job: Path | None,
    joint: str | None,
    cut: float | None,
    radius: float | None,
    depth: float | None,
    kit: str | None,
    as_json: bool,
) -> None:
    """Rank every pair of bit and bushing for the grooves of a JOB, or for a cut given by --cut.

    Each pair comes with its opening, play, chip room, stack of lengths, corner radius and, for a job, how the base
    rests on the sheet; each that fails, with the reason; and for a sheet that several joints share, what makes all of
    its openings. Without a job and --kit, the kit is inch-shop or metric-shop.
    """
    if (job is None) == (cut is None):
        raise click.UsageError("Give a JOB, or --cut for a cut without a job.")
    if job is not None and (radius is not None or depth is not None):
        raise click.UsageError("--radius and --depth go with --cut; a JOB has its own.")
    if cut is not None and joint is not None:
        raise click.UsageError("--joint goes with a JOB.")
    from jigcam.bench.pairs import pair_lines, pairs_for_cut, pairs_for_width
    from jigcam.bench.sheet import SheetPairs, sheet_pairs

    sheets: list[SheetPairs] = []

    if job is None:
        from jigcam.kit import load_kit
        from jigcam.units import Voice

        assert cut is not None
        voice = Voice(spoken_units(ctx))
        found = load_kit(kit or ("inch-shop" if voice.inch else "metric-shop"))
        results = [pairs_for_width(found, cut, 6.0 if depth is None else depth, radius)]
    else:
        from jigcam.bench.cut import bench_cuts
        from jigcam.job import kit_for
        from jigcam.workshop.loading import load_job

        loaded = load_job(job)
        voice, found = loaded.voice, kit_for(loaded, kit)
        cuts = list(bench_cuts(loaded, joint))
        results = [pairs_for_cut(each, found, voice) for each in cuts]
        names = dict.fromkeys(each.sheet for each in cuts if each.sheet is not None)
        sheets = [sheet_pairs(loaded, name, found) for name in names]
    if as_json:
        say_json({"cuts": [result.as_dict() for result in results], "sheets": [each.as_dict() for each in sheets]})
    else:
        width = terminal_width()
        say_blocks([pair_lines(results, voice, width), *(each.lines(voice, width) for each in sheets)])
