"""`jigcam piece`: the boards of a job put together."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from jigcam.cli.arguments import JOB, WHY
from jigcam.cli.screen import Command, finding_lines, say, say_json, terminal_width


@click.command(cls=Command, name="piece")
@JOB
@WHY
@click.pass_context
def command(ctx: click.Context, job: Path, why: bool, as_json: bool) -> None:
    """Put the boards of the JOB together: which there are, how they meet, whether it closes, in which order.

    Sizes that are "to fit" follow from the joints. No kit is asked for. Exit status 1 where the boards do not go
    together.
    """
    from jigcam.findings import stops
    from jigcam.workshop.loading import load_job
    from jigcam.workshop.piece_account import PieceAccount

    account = PieceAccount.of(load_job(job))
    if as_json:
        say_json(account.as_dict())
    else:
        say("\n".join(account.lines(terminal_width())))
        told = finding_lines(account.findings, sys.stdout, why=why)
        if told:
            say("\n".join(["", *told]))
    if stops(account.findings):
        ctx.exit(1)
