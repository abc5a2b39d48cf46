"""`jigcam prove`: a file on disk against its job."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from jigcam.cli.arguments import JOINT, KIT, WHY
from jigcam.cli.screen import Command, finding_lines, ink, progress_bar, say, say_json, say_lines


@click.command(cls=Command, name="prove")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--job", type=click.Path(path_type=Path), required=True, help="The job that the file belongs to.")
@KIT
@JOINT
@WHY
@click.pass_context
def command(
    ctx: click.Context, file: Path, job: Path, kit: str | None, joint: str | None, why: bool, as_json: bool
) -> None:
    """Read a G-code FILE back, as made or as edited by hand, cut it virtually and compare it with the job.

    Exit status 1 if it is unsafe or does not cut what the job draws.
    """
    from jigcam.job import kit_for
    from jigcam.proof.wording import Wording
    from jigcam.units import Voice
    from jigcam.workshop.loading import load_job
    from jigcam.workshop.prove_file import prove_file

    loaded = load_job(job)
    with progress_bar() as progress:
        result = prove_file(file, loaded, kit_for(loaded, kit), joint, progress)
    refused = not result.proved
    if as_json:
        say_json({"proved": result.proved, **result.as_dict()})
    else:
        facts, wording = result.as_dict(), Wording(loaded.units)
        say(ink("refused", "stop", sys.stdout) if refused else ink("proved", "good", sys.stdout))
        say_lines(
            [
                f"{file}, taken for {facts['file']}: {result.proof.motions} motions",
                f"  deepest cut beyond the drawing {wording.length(facts['gouge_mm'])}, "
                f"thickest wood left {wording.length(facts['left_mm'])}",
                *(f"  {line}" for line in result.outcome.fit_lines(Voice(loaded.units))),
            ]
        )
        for line in finding_lines(result.findings, sys.stdout, why=why):
            say(line)
    if refused:
        ctx.exit(1)
