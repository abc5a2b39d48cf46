"""`jigcam bushing test`: a coupon with stepped openings, to try a groove before it is cut."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from jigcam.cli.arguments import DISCARD_EDITS, JOB, KIT, LENGTH, REPLACE, UNITS
from jigcam.cli.output import Command, finding_lines, has_done, progress_bar, say, say_json, say_lines
from jigcam.cli.words import file_lines, summary_lines


@click.command(cls=Command, name="test")
@JOB
@click.option("-o", "folder", type=click.Path(path_type=Path), required=True, metavar="DIR", help="A new folder.")
@click.option("--joint", metavar="NAME", help="Which groove of the job; needed where it has several.")
@KIT
@click.option("--steps", type=int, default=2, show_default=True, help="Grooves to either side of the wanted width.")
@click.option("--step", type=LENGTH, help="From groove to groove.  [default: 0.1 mm, or 0.004 in]")
@REPLACE
@DISCARD_EDITS
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
    as_json: bool,
) -> None:
    """Files for a test coupon of the JOB: openings whose grooves step past the wanted width, labelled.

    Mill it from an offcut, ride it in scrap, try the mate, measure one opening and its groove, and hand both to
    `jigcam bushing adjust`. The files are proved like any other, and appear all together or not at all.
    """
    from jigcam.workshop.folder import check_folder, write_folder

    seen = check_folder(folder, replace=replace, discard_edits=discard_edits)
    from jigcam.job import kit_for, load_job
    from jigcam.workshop.bench_coupon import build_coupon
    from jigcam.workshop.bench_cut import the_cut
    from jigcam.workshop.output import folder_content

    loaded = load_job(job)
    tools = kit_for(loaded, kit)
    with progress_bar() as progress:
        built = build_coupon(the_cut(loaded, joint), loaded, tools, steps=steps, step=step, progress=progress)
    files, manifest = folder_content(built)
    write_folder(folder, files, replace=replace, discard_edits=discard_edits, seen=seen)
    has_done(f"all files are written to {folder}")
    if as_json:
        say_json(manifest)
        return
    say_lines([*summary_lines(built), *file_lines(folder, manifest)])
    for line in finding_lines(built.findings, sys.stdout):
        say(line)
