"""`jigcam prove`: a file on disk against its job."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from jigcam.cli.arguments import JOINT, KIT
from jigcam.cli.output import Command, finding_lines, ink, progress_bar, say, say_json


@click.command(cls=Command, name="prove")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--job", type=click.Path(path_type=Path), required=True, help="The job that the file belongs to.")
@KIT
@JOINT
@click.pass_context
def command(ctx: click.Context, file: Path, job: Path, kit: str | None, joint: str | None, as_json: bool) -> None:
    """Read a G-code FILE back, as made or as edited by hand, cut it virtually and compare it with the job.

    Exit status 1 if it is unsafe or does not cut what the job draws.
    """
    from jigcam.findings import stops
    from jigcam.job import kit_for, load_job
    from jigcam.proof.wording import Wording
    from jigcam.workshop.prove_file import prove_file
    from jigcam.workshop.sheet import fit_lines

    loaded = load_job(job)
    with progress_bar() as progress:
        result = prove_file(file, loaded, kit_for(loaded, kit), joint, progress)
    refused = bool(stops(result.findings))
    if as_json:
        say_json({"proved": not refused, **result.as_dict()})
    else:
        facts, wording = result.as_dict(), Wording(loaded.units)
        say(f"{file}, taken for {facts['file']}: {result.proof.motions} motions")
        say(
            f"  deepest cut beyond the drawing {wording.length(facts['gouge_mm'])}, "
            f"thickest wood left {wording.length(facts['left_mm'])}"
        )
        for line in fit_lines(result.chain.fit, loaded.units):
            say(f"  {line}")
        for line in finding_lines(result.findings, sys.stdout):
            say(line)
        say(ink("refused", "stop", sys.stdout) if refused else "proved")
    if refused:
        ctx.exit(1)
