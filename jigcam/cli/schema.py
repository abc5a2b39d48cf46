"""`jigcam schema`: JSON Schema of a file, for editors."""

from __future__ import annotations

import click

from jigcam.cli.screen import Command, say_json


@click.command(cls=Command, name="schema")
@click.argument("file", type=click.Choice(["job", "kit", "results"]))
def command(file: str, as_json: bool) -> None:
    """Print the JSON Schema (2020-12) of a job or a kit file, by which an editor completes and checks as you type.

    With `results`: of what the commands print with --json, each under its name in $defs. It is JSON with --json and
    without.
    """
    from jigcam.workshop.results import results_schema
    from jigcam.workshop.schema import job_schema, kit_schema

    say_json({"job": job_schema, "kit": kit_schema, "results": results_schema}[file]())
