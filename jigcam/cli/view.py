"""`jigcam view`: a job or a file as a picture of text."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from jigcam.cli.arguments import JOINT, KIT
from jigcam.cli.output import Command, colour_wanted, say, say_json, terminal_width, unicode_wanted


@click.command(cls=Command, name="view")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--job", type=click.Path(path_type=Path), help="For a G-code file: mark where it departs from this job.")
@KIT
@JOINT
@click.option("--width", type=click.IntRange(20, 400), help="Columns; the terminal's if left out.")
def command(file: Path, job: Path | None, kit: str | None, joint: str | None, width: int | None, as_json: bool) -> None:
    """Show a job FILE, or a G-code FILE, as a picture of text.

    A job shows each joint and its template; a G-code file shows the path of the cutter, and with --job what it cuts too
    much and what it leaves.
    """
    from jigcam.drawing import terminal
    from jigcam.workshop.viewing import drawings_of_file, drawings_of_job

    columns = width or terminal_width()
    if file.suffix.casefold() == ".toml":
        drawings = drawings_of_job(file, kit, joint)
    else:
        drawings = drawings_of_file(file, job, kit, joint)
    if as_json:
        pictures = [{"title": drawing.title, "text": terminal.render(drawing, columns)} for drawing in drawings]
        say_json({"drawings": pictures})
        return
    pictures = [
        terminal.render(drawing, columns, colour=colour_wanted(sys.stdout), unicode=unicode_wanted(sys.stdout))
        for drawing in drawings
    ]
    say("\n\n".join(picture.rstrip("\n") for picture in pictures))
