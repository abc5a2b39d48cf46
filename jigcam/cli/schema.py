"""`jigcam schema`: JSON Schema of a file, for editors."""

from __future__ import annotations

import click

from jigcam.cli.screen import Command, say_json


@click.command(cls=Command, name="schema")
@click.argument("file", type=click.Choice(["job", "kit"]))
def command(file: str, as_json: bool) -> None:
    """Print the JSON Schema (2020-12) of a job or a kit file, by which an editor completes and checks as you type.

    It is JSON with --json and without.
    """
    from jigcam.workshop.schema import job_schema, kit_schema

    say_json(job_schema() if file == "job" else kit_schema())
