"""`jigcam check`: everything but the writing."""

from __future__ import annotations

from pathlib import Path

import click

from jigcam.cli.arguments import JOB, JOINT, KIT, WHY
from jigcam.cli.screen import Command, progress_bar, say_json
from jigcam.cli.words import say_checked


@click.command(cls=Command, name="check")
@JOB
@KIT
@JOINT
@WHY
def command(job: Path, kit: str | None, joint: str | None, why: bool, as_json: bool) -> None:
    """Compute and prove the whole JOB; write nothing.

    Exit status 1 if a finding refuses it, 2 if the job or the kit cannot be read.
    """
    from jigcam.job import kit_for
    from jigcam.workshop.build import build_job
    from jigcam.workshop.loading import load_job

    loaded = load_job(job)
    with progress_bar() as progress:
        built = build_job(loaded, kit_for(loaded, kit), joint, progress)
    if as_json:
        say_json(built.as_dict())
    else:
        say_checked(built, job, kit=kit, joint=joint, why=why)
