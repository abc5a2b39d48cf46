"""`jigcam make`: all files of a job, or none."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from jigcam.cli.arguments import DISCARD_EDITS, JOB, JOINT, KIT, REPLACE, WHY
from jigcam.cli.screen import Command, has_done, progress_bar, say_json
from jigcam.cli.words import say_made


@click.command(cls=Command, name="make")
@JOB
@click.option(
    "-o",
    "--out",
    "folder",
    type=click.Path(path_type=Path),
    default=Path("out"),
    show_default=True,
    metavar="DIR",
    help="The output folder: a new one, or with --replace that of an earlier run.",
)
@KIT
@JOINT
@REPLACE
@DISCARD_EDITS
@click.option(
    "--paper",
    type=click.Choice(["letter", "a4"]),
    help="Also write each drawing as PDF in true size, on sheets of this paper to be joined, and setup sheets.",
)
@click.option(
    "--plan",
    is_flag=True,
    help="Also write plan.pdf: cover, drawings of the boards, templates in true size and setup sheets, on --paper or "
    "that of the kit.",
)
@click.option("--page", is_flag=True, help="Also write one HTML page that plays the cut, for any browser.")
@WHY
def command(
    job: Path,
    folder: Path,
    kit: str | None,
    joint: str | None,
    replace: bool,
    discard_edits: bool,
    paper: Literal["letter", "a4"] | None,
    plan: bool,
    page: bool,
    why: bool,
    as_json: bool,
) -> None:
    """Make the files of the JOB: G-code, dry runs, pictures, drawings, setup sheets and a manifest.

    The G-code is read back and cut virtually first. Files appear in DIR all together, or not at all.
    """
    from jigcam.workshop import calls

    with progress_bar() as progress:
        made = calls.make(
            job,
            kit,
            folder,
            joint=joint,
            replace=replace,
            discard_edits=discard_edits,
            paper=paper,
            plan=plan,
            page=page,
            progress=progress,
        )
    has_done(f"all files are written to {folder}")
    if as_json:
        say_json(made.manifest)
    else:
        say_made(made.built, folder, made.manifest, why=why)
