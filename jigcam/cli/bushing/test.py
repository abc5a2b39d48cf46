"""`jigcam bushing test`: a coupon with stepped openings, to try a groove before it is cut."""

from __future__ import annotations

from pathlib import Path

import click

from jigcam.cli.arguments import DISCARD_EDITS, JOB, KIT, LENGTH, REPLACE, UNITS, WHY
from jigcam.cli.screen import Command, has_done, progress_bar, say_json
from jigcam.cli.words import say_made


@click.command(cls=Command, name="test")
@JOB
@click.option(
    "-o", "--out", "folder", type=click.Path(path_type=Path), required=True, metavar="DIR", help="A new folder."
)
@click.option("--joint", metavar="NAME", help="Which groove of the job; needed where it has several.")
@KIT
@click.option("--steps", type=int, default=2, show_default=True, help="Grooves to either side of the wanted width.")
@click.option("--step", type=LENGTH, help="From groove to groove.  [default: 0.1 mm, or 0.004 in]")
@REPLACE
@DISCARD_EDITS
@WHY
@UNITS
def command(
    job: Path,
    folder: Path,
    joint: str | None,
    kit: str | None,
    steps: int,
    step: float | None,
    replace: bool,
    discard_edits: bool,
    why: bool,
    as_json: bool,
) -> None:
    """Files for a test coupon of the JOB: openings whose grooves step past the wanted width, labelled.

    Mill it from an offcut, ride it in scrap, try the mate, measure one opening and its groove, and hand both to
    `jigcam bushing adjust`. The files are proved like any other, and appear all together or not at all.
    """
    from jigcam.workshop.folder import check_folder, write_folder

    seen = check_folder(folder, replace=replace, discard_edits=discard_edits)
    from jigcam.bench.coupon import build_coupon
    from jigcam.bench.cut import the_cut
    from jigcam.job import kit_for
    from jigcam.workshop.contents import folder_content
    from jigcam.workshop.loading import load_job

    loaded = load_job(job)
    tools = kit_for(loaded, kit)
    with progress_bar() as progress:
        built = build_coupon(the_cut(loaded, joint), loaded, tools, steps=steps, step=step, progress=progress)
    files, manifest = folder_content(built)
    write_folder(folder, files, replace=replace, discard_edits=discard_edits, seen=seen)
    has_done(f"all files are written to {folder}")
    if as_json:
        say_json(manifest)
    else:
        say_made(built, folder, manifest, why=why)
