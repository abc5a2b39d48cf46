"""`jigcam view`: a job or a file as a picture of text."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jigcam.cli.arguments import JOINT, KIT
from jigcam.cli.screen import (
    Command,
    colour_wanted,
    finding_lines,
    progress_bar,
    say,
    say_json,
    terminal_width,
    unicode_wanted,
)

if TYPE_CHECKING:
    from jigcam.findings import Finding


@click.command(cls=Command, name="view")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--job", type=click.Path(path_type=Path), help="For a G-code file: mark where it departs from this job.")
@KIT
@JOINT
@click.option("--width", type=click.IntRange(20, 400), help="Columns; the terminal's if left out.")
def command(file: Path, job: Path | None, kit: str | None, joint: str | None, width: int | None, as_json: bool) -> None:
    """Show a job FILE, or a G-code FILE, as pictures in this terminal.

    Of a job: the whole piece, where it is one, each joint and its template, and what joints do to each other in one
    board. Of a G-code file: the path of the cutter, and with --job what it cuts too much and what it leaves.
    """
    from jigcam.drawing import terminal
    from jigcam.workshop.viewing import drawings_of_file, view_of_job

    columns = width or terminal_width()
    together: list[Finding] = []
    with progress_bar() as progress:
        if file.suffix.casefold() == ".toml":
            drawings, together = view_of_job(file, kit, joint, progress)
        else:
            drawings = drawings_of_file(file, job, kit, joint, progress)
        look = {} if as_json else {"colour": colour_wanted(sys.stdout), "unicode": unicode_wanted(sys.stdout)}
        pictures = [terminal.render(drawing, columns, **look) for drawing in drawings]
    if as_json:
        titled = zip(drawings, pictures, strict=True)
        drawn = [{"title": drawing.title, "text": text} for drawing, text in titled]
        say_json({"drawings": drawn, **({"findings": [each.as_dict() for each in together]} if together else {})})
        return
    say("\n\n".join(picture.rstrip("\n") for picture in pictures))
    told = finding_lines(together, sys.stdout, why=False)
    if told:
        say("\n".join(["", *told]))
