"""`jigcam check`: everything but the writing."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from jigcam.cli.arguments import JOB, JOINT, KIT
from jigcam.cli.output import Command, finding_lines, progress_bar, say, say_json, say_lines
from jigcam.cli.words import summary_lines


@click.command(cls=Command, name="check")
@JOB
@KIT
@JOINT
def command(job: Path, kit: str | None, joint: str | None, as_json: bool) -> None:
    """Compute and prove the whole JOB; write nothing.

    Exit status 1 if a finding refuses it, 2 if the job or the kit cannot be read.
    """
    from jigcam.job import kit_for, load_job
    from jigcam.workshop.build import build_job, summary

    loaded = load_job(job)
    with progress_bar() as progress:
        built = build_job(loaded, kit_for(loaded, kit), joint, progress)
    if as_json:
        say_json(summary(built))
        return
    say_lines(summary_lines(built))
    say("\n".join([*finding_lines(built.findings, sys.stdout), "proved; nothing was written"]))
